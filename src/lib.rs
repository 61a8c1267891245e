//! placeholder
pub mod base;
pub mod cli;
pub mod export;
pub mod involute;
pub mod mesh;
pub mod problem;
pub mod search;
pub mod train;
