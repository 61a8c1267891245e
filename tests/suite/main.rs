//! Suite.
mod house;
mod laws;
mod nearest;
mod oracle;
mod published;
mod random;
mod witness;
