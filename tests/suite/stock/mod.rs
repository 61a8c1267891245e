//! Pieces of bar and the money for them. All racks are invented.

mod cutting;
mod least;
mod racks;
