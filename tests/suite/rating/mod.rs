//! Strength of teeth: sets rated from problem files, and laws on random gears.

mod laws;
mod sets;
