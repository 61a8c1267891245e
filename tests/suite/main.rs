//! Suite.
mod published;

mod problem_file;
mod rejects;
