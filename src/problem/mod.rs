//! Problem file to [`Problem`].
//!
//! In: a file or a text, written by a person. Out: a [`Problem`] that later
//! stages never validate again, or [`Faults`] with everything that is wrong.
//! Assumed: nothing.
//!
//! `syntax` makes a tree that keeps places, `shape` holds it against the
//! description of the keys in `table`, `check` applies the rules that span
//! keys and promotes the rest.

mod arrangement;
mod asked;
mod check;
mod countable;
mod distances;
mod draft;
mod duty;
mod ease;
mod edit;
mod fault;
mod housing;
mod item;
mod keys;
mod layout;
mod made;
mod making;
mod materials;
mod mend;
mod model;
mod mounting;
mod path;
mod read;
mod render;
mod role;
mod save;
mod scalar;
mod schema;
mod series;
mod service;
mod shape;
mod shed;
mod sizes;
mod sizing;
mod stockist;
mod suggest;
mod syntax;
mod table;
mod targets;
mod teeth;
mod workplace;
mod workshop;

pub use arrangement::Arrangement;
pub use asked::{Asked, Law, RoadUnit};
pub use draft::{Draft, WORKSHOP_STARTER, Wishes, draft};
pub use duty::*;
pub use ease::GearLimit;
pub(crate) use ease::HUNDREDTH;
pub use edit::{Change, EditError, assignment, get, known_key, set};
pub use fault::{Fault, Faults, Place};
pub use layout::*;
pub use materials::{
    Class, Life, Line, Material, Materials, ROWS as MATERIAL_ROWS, Row as MaterialRow,
};
pub use mend::{parse_mended, read_text};
pub use model::*;
pub use mounting::*;
pub use read::{Source, parse, read};
pub use role::{Role, Seat};
pub use save::{save, save_with};
pub use schema::schema;
pub use series::Series;
pub use shed::{parse_workshop, read_workshop};
pub use sizes::near as modules_near;
pub use sizing::key_section;
pub use teeth::*;
pub use workshop::*;
