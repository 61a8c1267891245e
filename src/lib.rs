//! placeholder
pub mod base;
pub mod involute;
pub mod problem;
pub mod mesh;
pub mod train;
pub mod search;
