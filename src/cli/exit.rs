//! How a run ends.

use std::process::ExitCode;

/// What the caller is told. The numbers are part of the interface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done,
    /// The answer is no: no set, no clear place, a fault found.
    No,
    /// The command line or a file is wrong.
    BadInput,
    /// Something that should work did not.
    Failed,
    /// Stopped at a limit, with what is proved by then.
    Stopped,
    /// Stopped by the person.
    Interrupted,
}

impl Exit {
    /// The exit code.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::No => 1,
            Self::BadInput => 2,
            Self::Failed => 3,
            Self::Stopped => 4,
            Self::Interrupted => 130,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

/// Why a verb could not do its work, in words for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Failure {
    /// The command line or a file is wrong.
    BadInput(String),
    /// Something that should work did not.
    Failed(String),
}

impl Failure {
    /// The message.
    pub fn text(&self) -> &str {
        match self {
            Self::BadInput(text) | Self::Failed(text) => text,
        }
    }

    /// How the run ends.
    pub const fn exit(&self) -> Exit {
        match self {
            Self::BadInput(_) => Exit::BadInput,
            Self::Failed(_) => Exit::Failed,
        }
    }
}
