//! `layshaft schema`: what editors check a problem file with.

use super::exit::{Exit, Failure};
use super::out;
use crate::problem;
use std::path::PathBuf;

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Write the schema to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    out::deliver_json(args.output.as_deref(), &problem::schema())?;
    Ok(Exit::Done)
}
