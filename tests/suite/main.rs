//! Everything tested through the front door.

#![allow(
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do: by a panic"
)]

mod house;
mod laws;
mod nearest;
mod oracle;
mod problem_file;
mod published;
mod random;
mod rejects;
mod witness;
