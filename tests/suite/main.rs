//! Suite.

mod problem_file;
mod rejects;
