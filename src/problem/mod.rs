//! Problem file to [`Problem`].
mod model;
pub use model::*;
