//! What to cut and to measure on every gear of a set.

use super::bench::{BenchWork, WorkedMesh};
use crate::inspect::{Aim, Bounds, Cutting, Measures, Tools, wanted_backlash};
use crate::involute::{Meshing, ShiftedGear};
use crate::making::gear_of;
use crate::problem::Problem;
use crate::train::{Form, Gear, Set, forms_of, gears_of, pairs_of, reverse_lengths};
use serde::Serialize;

/// The figures of one gear.
#[derive(Clone, Debug, Serialize)]
pub struct GearSheet {
    /// Its name by shaft and role.
    pub gear: String,
    /// Thinning of its teeth that the sizes aim at, mm.
    pub thinning: Aim,
    /// What to set on the machine.
    pub cutting: Cutting,
    /// What to read on the instrument.
    pub inspection: Measures,
}

/// A sheet for each gear of `set`, in the order of [`gears_of`]. A gear that
/// cannot be made has none, and one that also drives reverse has one.
pub fn gear_sheets(problem: &Problem, set: &Set) -> Vec<GearSheet> {
    let gears = gears_of(problem, set);
    let forms = forms_of(problem, set);
    let pairs = pairs_of(problem, set).len();
    let a = set.centre_distance.mm();
    let mut sheets = Vec::new();
    for i in 0..pairs {
        let places = 2 * i..2 * i + 2;
        let face_mm = gears[places.start].face.mm();
        let made = made(problem, &gears[places.clone()], &forms[places.clone()]);
        let work = made.and_then(|made| work(problem, (made, face_mm), &[([0, 1], a)]));
        sheets.extend(of(work, &gears[places], problem));
    }
    if let Some(reverse) = set.reverse {
        let first = gears.len() - 3;
        let ([to_driver, to_driven], _) = reverse_lengths(problem, reverse);
        let made = made(problem, &gears[first..], &forms[first..]);
        let meshes = [([0, 1], to_driver), ([1, 2], to_driven)];
        let face_mm = gears[first].face.mm();
        let work = made.and_then(|made| work(problem, (made, face_mm), &meshes));
        let of_reverse = of(work, &gears[first..], problem);
        // A driver that is the gear of a speed has its sheet there.
        let shared = usize::from(set.shared_place(problem).is_some());
        sheets.extend(of_reverse.into_iter().skip(shared));
    }
    sheets
}

fn made(problem: &Problem, gears: &[Gear], forms: &[Form]) -> Option<Vec<ShiftedGear>> {
    gears
        .iter()
        .zip(forms)
        .map(|(gear, form)| {
            let module = gear.module.of(problem);
            gear_of(problem.gears(), module, gear.teeth, form).ok()
        })
        .collect()
}

fn work(
    problem: &Problem,
    (gears, face_width_mm): (Vec<ShiftedGear>, f64),
    meshes: &[([usize; 2], f64)],
) -> Option<BenchWork> {
    let mut worked = Vec::new();
    for &([one, other], centres_mm) in meshes {
        worked.push(WorkedMesh {
            mesh: Meshing::new(gears[one], gears[other], centres_mm).ok()?,
            places: [one, other],
            split: None,
        });
    }
    let aim = aim(problem, &worked.first()?.mesh);
    Some(BenchWork {
        toothing: *gears.first()?.toothing(),
        gears,
        meshes: worked,
        refusal: None,
        closing: None,
        outer: None,
        bounds: Bounds::of(problem),
        tools: Tools {
            pins_mm: problem.inspection().pins_mm().to_vec(),
            span_teeth: None,
            face_width_mm: Some(face_width_mm),
        },
        aim,
    })
}

fn aim(problem: &Problem, mesh: &Meshing) -> Aim {
    Aim::at(mesh, wanted_backlash(problem, mesh), true)
}

fn of(work: Option<BenchWork>, gears: &[Gear], problem: &Problem) -> Vec<GearSheet> {
    let Some(work) = work else {
        return Vec::new();
    };
    let sheet = |(place, gear): (usize, &Gear)| GearSheet {
        gear: gear.name(problem),
        thinning: work.aim,
        cutting: Cutting::of(&work.gears[place], &work.aim),
        inspection: work.measures(place),
    };
    gears.iter().enumerate().map(sheet).collect()
}
