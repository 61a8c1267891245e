//! How a result is spelled and where it goes, for verbs with two spellings.

use super::exit::Failure;
use super::out;
use super::screen::Screen;
use clap::ValueEnum;
use serde::Serialize;
use std::path::{Path, PathBuf};

/// The flags.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct Delivery {
    /// Spelling of the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// Spellings of the result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    Text,
    /// Everything, for programs
    Json,
}

/// Flags that say where the result goes.
pub(super) trait Delivers {
    /// The file to write to, if any.
    fn output(&self) -> Option<&Path>;
}

impl Delivers for Delivery {
    fn output(&self) -> Option<&Path> {
        self.output.as_deref()
    }
}

impl Delivery {
    /// Writes the one or the other.
    pub(super) fn write<T: Serialize>(
        &self,
        record: impl FnOnce() -> T,
        page: impl FnOnce(&Screen) -> String,
    ) -> Result<(), Failure> {
        match self.format {
            Format::Json => out::deliver_json(self.output(), &record()),
            Format::Text => {
                let screen = Screen::of(self.output());
                out::deliver_text(self.output(), &screen, &page(&screen))
            }
        }
    }
}
