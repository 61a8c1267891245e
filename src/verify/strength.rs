//! Whether every mesh holds what the duty asks for.

use super::breach::{Breach, Role};
use crate::problem::{Duty, Problem, Role as Meshes};
use crate::train::{Set, rate};

/// That roots and flanks of every mesh have the least safety, where one is
/// asked for.
pub(super) fn check(problem: &Problem, set: &Set, breaches: &mut Vec<Breach>) {
    if !problem.asks_strength() {
        return;
    }
    let root = problem.duty().and_then(Duty::min_root_safety);
    let flank = problem.duty().and_then(Duty::min_flank_safety);
    for mesh in rate(problem, set).unwrap_or_default() {
        let role = match mesh.role {
            Meshes::Head => Role::Head,
            Meshes::Speed(place) => Role::Speed(problem.speeds()[place].name().to_owned()),
            Meshes::Reverse => Role::Reverse,
        };
        let safeties = [
            (mesh.safety.least_root(), root, false),
            (mesh.safety.least_flank(), flank, true),
        ];
        for (safety, least, flank) in safeties {
            if let Some(least) = least.filter(|least| safety < *least) {
                let role = role.clone();
                breaches.push(Breach::Weak {
                    role,
                    safety,
                    least,
                    flank,
                });
            }
        }
    }
}
