//! placeholder
pub mod base;
pub mod cli;
pub mod involute;
pub mod problem;
