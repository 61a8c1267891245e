//! Options to outcome.
mod best;
mod control;
mod count;
mod front;
mod gears;
mod head;
mod least;
mod mask;
mod nearby;
mod order;
mod outlook;
mod rank;
mod scale;
mod share;
mod solve;
mod space;
mod store;

pub use control::Control;
pub use count::Counts;
pub use solve::{Bounds, Outcome, Request, Status, solve};

/// Temporary entry.
pub fn probe(problem: &crate::problem::Problem, threads: usize) {
    let c = Control::default();
    let n = std::env::var("TOP").map_or(20, |s| s.parse().unwrap());
    let o = solve(problem, Request { top: n, trains: 0, threads }, &c);
    eprintln!("{:?} sets {} trains {} front {} nodes {}", o.status, o.counts.sets, o.counts.trains, o.front.len(), c.nodes());
    for s in o.front.iter().take(3).chain(o.sets.iter().take(3)) { let f = crate::train::Figures::of(problem, s);
        eprintln!("{:.6} {:.3} {}", 100.0*f.worst_error, f.blank_volume_mm3, f.distinct_cutters); }
}
