//! The rating of a whole set, for print.

use super::factor::{Factor, Origin};
use super::lewis::Lewis;
use super::loads::MeshLoad;
use super::rater::Rater;
use super::strength::{MeshSafety, MeshStress};
use crate::base::Ratio;
use crate::involute::Meshing;
use crate::making::gear_of;
use crate::problem::{Material, Problem};
use crate::train::{Gear, Role, Set, forms_of, gears_of, meeting};

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
    /// What the mesh carries.
    pub load: MeshLoad,
    /// The face width that it is rated for, mm.
    pub width_mm: f64,
    /// How much is taken off each gear's teeth for backlash, normal arc, mm: so
    /// they are rated.
    pub thinning_mm: f64,
    /// Stresses and what they may be.
    pub stress: MeshStress,
    /// The safeties.
    pub safety: MeshSafety,
    /// Every figure behind them.
    pub factors: Vec<Factor>,
    /// The older rating beside it, where its table holds.
    pub lewis: [Option<Lewis>; 2],
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
        let load = match two[0].role {
            Role::Reverse => loads.next()?,
            role => rater.pair_load(role, head, two.map(|gear| gear.teeth)),
        };
        let [Some(first), Some(second)] = places.map(|place| made[place]) else {
            continue;
        };
        if let Ok(mesh) = Meshing::new(first, second, centres_mm) {
            all.push(rated(&rater, two, &rater.as_cut(&mesh), load));
        }
    }
    Some(all)
}

fn rated(rater: &Rater, gears: [Gear; 2], mesh: &Meshing, load: MeshLoad) -> RatedMesh {
    let problem = rater.problem();
    let width_mm = problem.gears().face_width().mm();
    let role = gears[0].role;
    let strength = rater.strength(role, gears.map(|gear| gear.seat), mesh);
    let materials = gears.map(|gear| material(problem, &gear).clone());
    let action = strength.action(&load, width_mm);
    let carried_n = action.tangential_n * strength.service.shock.0;
    let lewis = |i: usize| {
        let load = (carried_n, action.speed_m_s, width_mm);
        Lewis::of(mesh, i, load, materials[i].yield_mpa())
    };
    let mut factors = of_duty(rater, role, &load);
    factors.extend(strength.factors(&load, width_mm));
    RatedMesh {
        role,
        gears,
        load,
        width_mm,
        thinning_mm: mesh.gears()[0].thinning().normal_mm(),
        stress: strength.stress(&load, width_mm),
        safety: strength.under(&load, width_mm),
        factors,
        lewis: [lewis(0), lewis(1)],
        materials,
    }
}

/// What the gear is made of.
fn material<'a>(problem: &'a Problem, gear: &Gear) -> &'a Material {
    use crate::train::Seat;
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

/// Torque, speed, time and accuracy.
fn of_duty(rater: &Rater, role: Role, load: &MeshLoad) -> Vec<Factor> {
    let (loads, gears) = (&rater.loads, rater.problem().gears());
    let figure = |symbol, (value, origin), unit, what| Factor {
        symbol,
        gear: None,
        value,
        unit,
        origin,
        what,
        source: "the problem file",
    };
    let torque = (load.driver_torque_n_m, Origin::Derived);
    let speed = (load.driver_rpm, Origin::Derived);
    let hours = (loads.hours.value(), Origin::of(&loads.hours));
    let grade = (
        f64::from(gears.accuracy_grade()),
        Origin::given_if(gears.accuracy_given()),
    );
    vec![
        figure("T", torque, "N m", "torque on the driving gear"),
        figure("n_in", loads.rpm, "rpm", "speed of the input shaft"),
        figure("n", speed, "rpm", "speed of the driving gear"),
        figure("h", hours, "h", "running time of the box"),
        figure("share", share(rater, role), "%", "share of it under load"),
        figure("grade", grade, "", "accuracy of the teeth, ISO 1328"),
    ]
}

/// Share of the running time in which a role is loaded, percent.
fn share(rater: &Rater, role: Role) -> (f64, Origin) {
    let shares = rater.problem().shares();
    let own = match role {
        Role::Head => None,
        Role::Speed(place) => shares.speeds().get(place).copied(),
        Role::Reverse => shares.reverse(),
    };
    let origin = own.map_or(Origin::Derived, |share| Origin::of(&share));
    (rater.loads.share_percent(role), origin)
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
