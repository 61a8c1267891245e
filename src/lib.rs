//! placeholder
pub mod base;
pub mod involute;
pub mod problem;
pub mod train;
