//! The layout along the shafts, from outside.

mod boxes;
mod solid;
mod twin;

use super::random::Draw;
