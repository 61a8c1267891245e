//! Everything that is tested from outside the crate, one module a subject.
#![allow(
    clippy::unwrap_used,
    reason = "a test that cannot go on says so by failing"
)]

mod explaining;
mod front_door;
mod python;
mod random;

mod alternatives;
mod bars;
mod certify;
mod changes;
mod checking;
mod command_line;
mod comparing;
mod dividing;
mod drawing;
mod explaining_strength;
mod field;
mod forces;
mod gear_verb;
mod gearing;
mod holding;
mod house;
mod idler;
mod judged;
mod laws;
mod layout;
mod manual;
mod measured;
mod motion;
mod nearest;
mod needs;
mod oracle;
mod outline;
mod passing;
mod picked;
mod places;
mod planes;
mod problem_file;
mod program;
mod published;
mod purchases;
mod rating;
mod rejects;
mod report;
mod shared;
mod sheets;
mod solving;
mod stock;
mod stock_verb;
mod strength;
mod strength_page;
mod sweeping;
mod targets;
mod witness;
mod worked;
mod workshop_file;
mod workshop_limits;
