//! The rating of a whole set.

use super::marks::meeting;
use super::{Gear, Role, Seat, Set, forms_of, gears_of};
use crate::base::Ratio;
use crate::involute::Meshing;
use crate::making::gear_of;
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
    let rater = Rater::of(problem)?;
    let (gears, forms) = (gears_of(problem, set), forms_of(problem, set));
    let made: Vec<_> = gears
        .iter()
        .zip(&forms)
        .map(|(gear, form)| {
            let module = gear.module.of(problem);
            gear_of(problem.gears(), module, gear.teeth, form).ok()
        })
        .collect();
    let head = set.head.map_or(1.0, |pair| {
        Ratio::of(pair.driven.get(), pair.driver.get()).to_f64()
    });
    let reverse = set.reverse.map(|gears| {
        let teeth = [gears.driver, gears.idler, gears.driven];
        rater.reverse_loads(head, teeth)
    });
    let mut loads = reverse.into_iter().flatten();
    let mut all = Vec::new();
    for (places, centres_mm) in meeting(problem, set, &gears) {
        let two = places.map(|place| gears[place]);
        let role = two[0].role;
        let load = match role {
            Role::Reverse => loads.next()?,
            role => rater.pair_load(role, head, two.map(|gear| gear.teeth)),
        };
        let [Some(first), Some(second)] = places.map(|place| made[place]) else {
            continue;
        };
        if let Ok(mesh) = Meshing::new(first, second, centres_mm) {
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
