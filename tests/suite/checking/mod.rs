//! `layshaft check`: every planted fault is found and told, the sound box is
//! sound.

mod boxes;
mod faults;
mod shown;
mod trial;
