//! Pieces of bar and the money for them. All racks are invented.

mod least;
mod racks;
