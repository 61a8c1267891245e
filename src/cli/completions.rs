//! `layshaft completions`: a script for the shell.

use super::exit::{Exit, Failure};
use super::out;
use clap_complete::{Shell, generate};

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Whose script
    shell: Shell,
}

pub(super) fn run(args: &Args, command: &mut clap::Command) -> Result<Exit, Failure> {
    // Made in memory first: the generator panics when its writer fails.
    let mut script = Vec::new();
    generate(args.shell, command, "layshaft", &mut script);
    out::deliver(None, |to| to.write_all(&script))?;
    Ok(Exit::Done)
}
