//! One mesh rated, with every figure behind it.

use super::factor::{Factor, Origin};
use super::lewis::Lewis;
use super::loads::MeshLoad;
use super::rater::Rater;
use super::strength::{MeshSafety, MeshStress};
use crate::involute::Meshing;
use crate::problem::{Role, Seat};

/// The rating of a mesh. Of each pair of figures the first is the driving gear's.
#[derive(Clone, Debug, PartialEq)]
pub struct Rated {
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

impl Rater<'_> {
    /// A mesh of a role as it is cut, under its load.
    pub fn rated(
        &self,
        (role, seats): (Role, [Seat; 2]),
        full: &Meshing,
        load: MeshLoad,
        width_mm: f64,
    ) -> Rated {
        let mesh = &self.as_cut(full);
        let strength = self.strength(role, seats, mesh);
        let action = strength.action(&load, width_mm);
        let carried_n = action.tangential_n * strength.service.shock.0;
        let lewis = |i: usize| {
            let load = (carried_n, action.speed_m_s, width_mm);
            Lewis::of(mesh, i, load, strength.gears[i].metal.yield_mpa)
        };
        let mut factors = of_duty(self, role, &load);
        factors.extend(strength.factors(&load, width_mm));
        if self.problem().sizes_faces() {
            let widths = factors.iter_mut().filter(|factor| factor.symbol == "b");
            widths.for_each(|width| width.origin = Origin::Derived);
        }
        Rated {
            load,
            width_mm,
            thinning_mm: mesh.gears()[0].thinning().normal_mm(),
            stress: strength.stress(&load, width_mm),
            safety: strength.under(&load, width_mm),
            factors,
            lewis: [lewis(0), lewis(1)],
        }
    }
}

/// Torque, speed, time and accuracy.
fn of_duty(rater: &Rater<'_>, role: Role, load: &MeshLoad) -> Vec<Factor> {
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
        figure(
            "share",
            share(rater, role),
            "%",
            "share of the time under load",
        ),
        figure("grade", grade, "", "accuracy of the teeth, ISO 1328"),
    ]
}

/// Share of the running time in which a role is loaded, percent.
fn share(rater: &Rater<'_>, role: Role) -> (f64, Origin) {
    let shares = rater.problem().shares();
    let own = match role {
        Role::Head => None,
        Role::Speed(place) => shares.speeds().get(place).copied(),
        Role::Reverse => shares.reverse(),
    };
    let origin = own.map_or(Origin::Derived, |share| Origin::of(&share));
    (rater.loads.share_percent(role), origin)
}
