//! Problem file to [`Problem`].
mod model;
pub mod quick;
pub use model::*;
