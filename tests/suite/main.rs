//! Suite.
mod oracle;
mod published;
mod random;
mod witness;
