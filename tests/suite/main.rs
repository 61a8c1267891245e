//! Suite.
mod front_door;
mod published;

mod command_line;
mod problem_file;
mod rejects;
mod solving;
