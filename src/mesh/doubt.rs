//! What becomes of a set over the whole of a measuring doubt.
//!
//! Each condition of a mesh holds over an interval of centre distances, so
//! that what holds at both ends of the doubt holds between them.

use super::pairs::{Fit, fit};
use crate::base::Length;
use crate::involute::GearSize;
use crate::problem::Problem;
use crate::train::{
    Matter, Misfit, Remark, ReverseGears, Role, Set, idler_closes, pairs_of, tips_clear,
};

/// A remark for each mesh of the set, and for reverse, that does not fit at an
/// end of the doubt with which its centre distance was measured.
pub fn doubts(problem: &Problem, set: &Set) -> Vec<Remark> {
    let doubt = problem.centre_distances().doubt();
    if doubt == Length::ZERO {
        return Vec::new();
    }
    let measured = set.centre_distance.steps();
    let ends = [(-doubt.steps(), false), (doubt.steps(), true)];
    let ends = ends.map(|(by, far)| (Length::from_steps(measured + by), far));
    let mut remarks = Vec::new();
    for (centres, far) in ends {
        let at_mm = centres.mm();
        remarks.extend(misfits(problem, set, centres).map(|(role, misfit)| Remark {
            role,
            gear: None,
            matter: Matter::Doubtful { at_mm, far, misfit },
        }));
    }
    remarks
}

fn misfits(problem: &Problem, set: &Set, centres: Length) -> impl Iterator<Item = (Role, Misfit)> {
    let pairs = pairs_of(problem, set).into_iter();
    let pairs = pairs.filter_map(move |(role, pair)| {
        let sum = pair.driver.get() + pair.driven.get();
        match fit(problem.gears(), pair.module, sum, centres) {
            Fit::Closes => None,
            Fit::Loose => Some((role, Misfit::Loose)),
            Fit::Binds => Some((role, Misfit::Tight)),
        }
    });
    let reverse = set.reverse.iter();
    let reverse = reverse.flat_map(move |gears| {
        let found = reverse_misfits(problem, *gears, centres);
        found.into_iter().map(|misfit| (Role::Reverse, misfit))
    });
    pairs.chain(reverse)
}

fn reverse_misfits(problem: &Problem, gears: ReverseGears, centres: Length) -> Vec<Misfit> {
    let shared = problem.gears();
    let beta = shared.helix_angle_deg().to_radians();
    let module = gears.module.of(problem);
    let size = |teeth| GearSize::new(shared.rack(), module, teeth, beta);
    let (driver, idler, driven) = (size(gears.driver), size(gears.idler), size(gears.driven));
    let a = centres.mm();
    let clearance = problem.reverse().map_or(0.0, |r| r.clearance().mm());
    let tips = (driver.tip_mm / 2.0, driven.tip_mm / 2.0);
    let to_driver = f64::midpoint(driver.pitch_mm, idler.pitch_mm);
    let to_driven = f64::midpoint(idler.pitch_mm, driven.pitch_mm);
    let mut found = Vec::new();
    if !tips_clear(tips, clearance, a) {
        found.push(Misfit::Tips);
    }
    if !idler_closes(a, to_driver, to_driven) {
        found.push(Misfit::Idler);
    }
    found
}
