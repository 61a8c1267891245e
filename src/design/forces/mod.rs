//! Loads.
