//! Suite.
mod house;
mod laws;
mod nearest;
mod oracle;
mod published;

mod problem_file;
mod rejects;
mod random;
mod witness;
