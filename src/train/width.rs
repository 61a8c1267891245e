//! How wide the gears of a set are.

use super::{Set, forms_of};
use crate::base::{Length, Teeth};
use crate::making::Form;
use crate::problem::{FaceWidth, Problem, Role};
use crate::rating::Rater;

/// Face width of each mesh of a set: head, geared speeds in file order, reverse,
/// as far as the set has them.
pub(super) fn face_widths(problem: &Problem, set: &Set) -> Vec<Length> {
    let meshes = set.head.iter().count() + set.pairs.len() + set.reverse.iter().count();
    let rater = match problem.gears().face() {
        FaceWidth::Given(width) => return vec![width; meshes],
        FaceWidth::Auto { .. } => Rater::of(problem),
    };
    let unit = problem.gears().face().unit();
    let Some(rater) = rater else {
        return vec![unit; meshes];
    };
    let forms = forms_of(problem, set);
    let geared = problem.speeds().iter().enumerate();
    let geared = geared.filter(|(_, speed)| speed.geared().is_some());
    let roles = geared.map(|(place, _)| Role::Speed(place));
    let roles = set.head.iter().map(|_| Role::Head).chain(roles);
    let pairs = set.head.iter().chain(&set.pairs);
    let mut widths: Vec<Length> = roles
        .zip(pairs)
        .zip(forms.chunks(2))
        .map(|((role, pair), forms)| {
            let gears = ([pair.driver, pair.driven], two(forms));
            let module = pair.module.of(problem);
            let strand = rater.pair(role, module, gears, set.centre_distance);
            strand.map_or(unit, |strand| rater.width(&strand))
        })
        .collect();
    if let (Some(gears), [.., driver, idler, driven]) = (set.reverse, &forms[..]) {
        let teeth: [Teeth; 3] = [gears.driver, gears.idler, gears.driven];
        let module = gears.module.of(problem);
        let strand = rater.reverse(module, teeth, [*driver, *idler, *driven]);
        widths.push(strand.map_or(unit, |strand| rater.width(&strand)));
    }
    widths
}

fn two(forms: &[Form]) -> [Form; 2] {
    match forms {
        [driver, driven, ..] => [*driver, *driven],
        _ => [Form::PLAIN; 2],
    }
}
