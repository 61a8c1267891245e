//! Settles the gears of a small constant-mesh gearbox before metal is cut.
//!
//! Data flows one way, room by room, in the order of the modules below:
//!
//! 1. [`base`] holds exact numbers: decimals as written, lengths, tooth counts,
//!    ratios.
//! 2. [`involute`] knows gears: sizes, profile shift, undercut, interference,
//!    contact, backlash, outlines, sizes to measure.
//! 3. [`problem`] turns a file into a [`problem::Problem`], or into every fault
//!    that the file has.
//! 4. [`making`] settles how the gears of a mesh are made, and which limit
//!    refuses them; [`inspect`] gives the sizes to cut and to measure; [`rating`]
//!    says how strong the teeth of a mesh are.
//! 5. [`train`] is the candidate everybody talks about: [`train::Set`], and its
//!    [`train::Figures`].
//! 6. [`stock`] knows pieces of bar and the least money for them; [`place`] says
//!    what stands near the reverse idler; [`mesh`] lists the pairs and reverse
//!    gearings that close a centre distance.
//! 7. [`search`] counts all sets exactly, finds the unbeaten ones and ranks:
//!    [`search::solve`] gives a [`search::Outcome`].
//! 8. [`verify`] derives every claim of a set again, from its tooth counts
//!    alone.
//! 9. [`design`] makes a box of a set: shafts, planes along them, the idler's
//!    places, bores, motion, forces, strength.
//! 10. [`examine`] looks over a gearbox that exists: what is wrong with it, and
//!     how to prove it by hand.
//! 11. [`shop`] turns a set into work: pieces of bar, a plan to cut them, set-ups,
//!     dividing.
//! 12. [`sheet`] draws: views, plans, gears, as shapes that every writer spells.
//! 13. [`export`] spells results as JSON and CSV, drawings as SVG and DXF,
//!     bodies as STL and 3MF.
//! 14. [`cli`] is the command line; only it prints.

pub mod base;
pub mod cli;
pub mod design;
pub mod examine;
pub mod export;
pub mod inspect;
pub mod involute;
pub mod making;
pub mod mesh;
pub mod place;
pub mod problem;
pub mod rating;
pub mod search;
pub mod sheet;
pub mod shop;
pub mod stock;
pub mod train;
pub mod verify;
