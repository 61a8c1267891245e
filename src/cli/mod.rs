//! The command line, one file a verb.
//!
//! In: arguments. Out: text for the two streams and an exit code; nothing is
//! printed here.

pub mod new;
