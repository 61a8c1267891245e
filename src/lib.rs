//! placeholder
pub mod base;
pub mod involute;
pub mod mesh;
pub mod problem;
pub mod search;
pub mod train;
pub mod verify;
