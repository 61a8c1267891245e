//! Suite.
mod published;
