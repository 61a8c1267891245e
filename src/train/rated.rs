//! The rating of a whole set.

use super::meshing::{made_of, mesh_of, meshes_of};
use super::{Gear, Role, Seat, Set, forms_of, gears_of};
use crate::base::Ratio;
use crate::making::Form;
use crate::problem::{Material, Problem};
use crate::rating::{Rated, Rater};
use std::ops::Deref;

/// One mesh of a set, rated. Of each pair of figures the first is the driving
/// gear's.
#[derive(Clone, Debug, PartialEq)]
pub struct RatedMesh {
    /// What it is there for; reverse has two.
    pub role: Role,
    /// Driving and driven gear; in reverse one of them is the idler.
    pub gears: [Gear; 2],
    /// What they are made of.
    pub materials: [Material; 2],
    /// Load, stresses, safeties, factors.
    pub rated: Rated,
}

impl Deref for RatedMesh {
    type Target = Rated;

    fn deref(&self) -> &Rated {
        &self.rated
    }
}

/// A place of a mesh that may fail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spot {
    /// The root of a tooth breaks.
    Root,
    /// A flank pits.
    Flank,
}

impl Spot {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Root => "root",
            Self::Flank => "flank",
        }
    }
}

/// The weakest place of a set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// The mesh, by its place in the list.
    pub mesh: usize,
    /// The gear.
    pub gear: Gear,
    /// The place on it.
    pub spot: Spot,
    /// Its safety.
    pub safety: f64,
}

/// Every mesh of `set`, rated: head, speeds, the two of reverse. None without a
/// duty; a mesh whose gears cannot be, or cannot meet, is left out.
pub fn rate(problem: &Problem, set: &Set) -> Option<Vec<RatedMesh>> {
    problem.duty()?;
    let (gears, forms) = (gears_of(problem, set), forms_of(problem, set));
    rate_made(problem, set, (&gears, &forms))
}

/// [`rate`] a set whose gears and their forms, in the order of [`Set::gears`],
/// are known.
pub fn rate_made(
    problem: &Problem,
    set: &Set,
    (gears, forms): (&[Gear], &[Form]),
) -> Option<Vec<RatedMesh>> {
    let rater = Rater::of(problem)?;
    let made = made_of(problem, set, forms);
    let head = set.head.map_or(1.0, |pair| {
        Ratio::of(pair.driven.get(), pair.driver.get()).to_f64()
    });
    let reverse = set.reverse.map(|gears| {
        let teeth = [gears.driver, gears.idler, gears.driven];
        rater.reverse_loads(head, teeth)
    });
    let mut loads = reverse.into_iter().flatten();
    let mut all = Vec::new();
    for (places, centres_mm) in meshes_of(problem, set) {
        let two = places.map(|place| gears[place]);
        let role = two[0].role;
        let load = match role {
            Role::Reverse => loads.next()?,
            role => rater.pair_load(role, head, two.map(|gear| gear.teeth)),
        };
        if let Some(mesh) = mesh_of(&made, places, centres_mm) {
            let at = (role, two.map(|gear| gear.seat));
            all.push(RatedMesh {
                role,
                gears: two,
                materials: two.map(|gear| material_of(problem, &gear).clone()),
                rated: rater.rated(at, &mesh, load, two[0].face.mm()),
            });
        }
    }
    Some(all)
}

/// What a gear is made of.
pub fn material_of<'a>(problem: &'a Problem, gear: &Gear) -> &'a Material {
    let seat = match gear.seat {
        Seat::Driver => 0,
        Seat::Idler => 1,
        Seat::Driven => 2,
    };
    let of_pair = |pair: &'a [Material; 2]| &pair[usize::from(seat > 0)];
    match gear.role {
        Role::Head => of_pair(problem.materials().head()),
        Role::Reverse => problem.reverse_materials()[seat],
        Role::Speed(place) => {
            let before = &problem.speeds()[..place];
            let geared = before.iter().filter(|speed| speed.geared().is_some());
            of_pair(&problem.materials().speeds()[geared.count()])
        }
    }
}

/// The most hundredths of safety that are told apart.
pub const MOST_HUNDREDTHS: u32 = 9999;

/// The safety that so many hundredths stand for.
pub fn of_hundredths(count: u32) -> f64 {
    f64::from(count) / 100.0
}

/// The least safety of a set's teeth in whole hundredths, rounded down; the most
/// that are told where nothing is loaded, 0 without a duty.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped before"
)]
pub fn safety_hundredths(problem: &Problem, set: &Set) -> u32 {
    let Some(meshes) = rate(problem, set) else {
        return 0;
    };
    let least = meshes.iter().map(|mesh| mesh.safety.least());
    let least = least.fold(f64::INFINITY, f64::min);
    let most = f64::from(MOST_HUNDREDTHS);
    let mut count = (100.0 * least).floor().clamp(0.0, most) as u32;
    // The same comparison that limits make, to the last digit.
    if count < MOST_HUNDREDTHS && least >= of_hundredths(count + 1) {
        count += 1;
    }
    if count > 0 && least < of_hundredths(count) {
        count -= 1;
    }
    count
}

/// The weakest place of all; none where nothing is rated.
pub fn weakest(meshes: &[RatedMesh]) -> Option<Weakest> {
    let spots = meshes.iter().enumerate().flat_map(|(place, mesh)| {
        let of = move |spot, safety: [f64; 2]| {
            [0, 1].map(|i| Weakest {
                mesh: place,
                gear: mesh.gears[i],
                spot,
                safety: safety[i],
            })
        };
        let root = of(Spot::Root, mesh.safety.root);
        root.into_iter().chain(of(Spot::Flank, mesh.safety.flank))
    });
    spots.min_by(|a, b| a.safety.total_cmp(&b.safety))
}
