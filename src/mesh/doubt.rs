//! What becomes of a set over the whole of a measuring doubt.
//!
//! Each condition of a mesh holds over an interval of centre distances, so
//! that what holds at both ends of the doubt holds between them.

use super::pairs::{Fit, fit};
use crate::base::{LENGTH_SLACK_MM, Length};
use crate::involute::Meshing;
use crate::making::gear_of;
use crate::problem::Problem;
use crate::train::{
    Form, Matter, Misfit, Pair, Remark, ReverseGears, Role, Set, forms_of, idler_closes, pairs_of,
    reverse_gap, reverse_lengths,
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
    let forms = forms_of(problem, set);
    let made = pairs_of(problem, set).into_iter().enumerate();
    let pairs: Vec<_> = made
        .filter_map(|(i, (role, pair))| {
            let forms = [*forms.get(2 * i)?, *forms.get(2 * i + 1)?];
            Some((role, pair_misfit(problem, pair, forms, centres)?))
        })
        .collect();
    let reverse = set.reverse.iter();
    let reverse = reverse.flat_map(move |gears| {
        let found = reverse_misfits(problem, *gears, centres);
        found.into_iter().map(|misfit| (Role::Reverse, misfit))
    });
    pairs.into_iter().chain(reverse)
}

fn pair_misfit(problem: &Problem, pair: Pair, forms: [Form; 2], centres: Length) -> Option<Misfit> {
    let gears = problem.gears();
    if gears.closing().shifts() {
        // Cut for the distance measured: what is missing at another must come
        // from the thinning that is allowed.
        let gear = |teeth, form| gear_of(gears, pair.module.of(problem), teeth, form).ok();
        let mesh = Meshing::new(
            gear(pair.driver, &forms[0])?,
            gear(pair.driven, &forms[1])?,
            centres.mm(),
        );
        let play = mesh.map_or(f64::NEG_INFINITY, |mesh| mesh.backlash_mm());
        let missing = -play - 2.0 * gears.max_thinning().mm();
        return (missing > LENGTH_SLACK_MM).then_some(Misfit::Tight);
    }
    let sum = pair.driver.get() + pair.driven.get();
    match fit(gears, pair.module, sum, centres) {
        Fit::Closes => None,
        Fit::Loose => Some(Misfit::Loose),
        Fit::Binds => Some(Misfit::Tight),
    }
}

fn reverse_misfits(problem: &Problem, gears: ReverseGears, centres: Length) -> Vec<Misfit> {
    let ([to_driver, to_driven], [driver, driven]) = reverse_lengths(problem, gears);
    let a = centres.mm();
    let clearance = problem.reverse().map_or(0.0, |r| r.clearance().mm());
    let mut found = Vec::new();
    let shared_mm = problem.shared_addendum_mm(gears.module.of(problem));
    if !reverse_gap((driver, driven), shared_mm, clearance, a).1 {
        found.push(Misfit::Tips);
    }
    if !idler_closes(a, to_driver, to_driven) {
        found.push(Misfit::Idler);
    }
    found
}
