//! The layout along the shafts, from outside.

mod boxes;
mod solid;
mod speed;
mod together;
mod twin;
mod worked;

use super::random::Draw;
