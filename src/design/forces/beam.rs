//! A shaft as a beam on what carries it.

use super::{Couple, Vector};
use crate::base::FIGURE_SLACK;
use crate::train::Gear;

/// What loads a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadFrom {
    /// A gear's mesh.
    Gear(Gear),
    /// The end of the main shaft, in the input gear.
    Spigot,
}

/// A load on a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// What it comes from.
    pub from: LoadFrom,
    /// Where along the shafts, mm.
    pub z_mm: f64,
    /// From the shaft's axis, mm: x, y.
    pub offset_mm: [f64; 2],
    /// The force on the shaft.
    pub force: Vector,
}

/// What holds a shaft or the pin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// Its bearing (or, of a pin, its wall) nearer the input end.
    InputEnd,
    /// Its bearing (or, of a pin, its wall) nearer the output end; of a main
    /// shaft its one bearing.
    OutputEnd,
    /// The bore of the input gear, in which a main shaft's end runs.
    Spigot,
    /// The wall that a stub pin stands in.
    Wall,
}

impl Support {
    /// The words for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::InputEnd => "bearing at the input end",
            Self::OutputEnd => "bearing at the output end",
            Self::Spigot => "spigot in the input gear",
            Self::Wall => "wall of the pin",
        }
    }
}

/// What a support gives to the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reaction {
    /// Which.
    pub support: Support,
    /// Where, mm.
    pub z_mm: f64,
    /// The force on the shaft; along z the thrust that this support holds.
    pub force: Vector,
    /// The couple on the shaft; none but from the wall of a stub pin.
    pub couple: Couple,
    /// Size of the force across the shaft, N: the radial load of the bearing.
    pub radial_n: f64,
}

impl Reaction {
    pub(super) fn new(support: Support, z_mm: f64, force: Vector) -> Self {
        Self {
            support,
            z_mm,
            force,
            couple: Couple::ZERO,
            radial_n: force.across_n(),
        }
    }
}

/// Bending moments at one place, where a load or support acts: they jump
/// there when it acts off the axis. Each is the couple that all to the input
/// side gives about that place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bending {
    /// The place, mm.
    pub z_mm: f64,
    /// Just before it.
    pub before: Couple,
    /// Just behind it.
    pub behind: Couple,
    /// Size of the greater one, N m.
    pub size_n_m: f64,
}

/// Forces across the shaft that supports at `first_mm` and `second_mm` give
/// it, in the planes of x-z and y-z.
pub(super) fn two_supports(loads: &[Load], first_mm: f64, second_mm: f64) -> [Vector; 2] {
    let sum = total(loads).across();
    let about = |z_mm: f64| couple_about(loads, z_mm);
    // About the first support only the second turns: (z₂ − z₁)(−F_y, F_x).
    let span_m = (second_mm - first_mm) * super::vector::MM_IN_M;
    let couple = about(first_mm);
    let second = Vector {
        x_n: 0.0 - couple.y_n_m / span_m,
        y_n: couple.x_n_m / span_m,
        z_n: 0.0,
    };
    [-(sum + second), second]
}

/// What the wall at `z_mm` gives to a stub.
pub(super) fn wall(loads: &[Load], z_mm: f64) -> Reaction {
    let force = -total(loads);
    Reaction {
        couple: -couple_about(loads, z_mm),
        ..Reaction::new(Support::Wall, z_mm, force)
    }
}

/// Sum of the forces. Thrusts that cancel on paper, as those of an idler do,
/// leave no thrust: the last bits of doubles press on no wall.
pub(super) fn total(loads: &[Load]) -> Vector {
    let sum = loads.iter().fold(Vector::ZERO, |sum, at| sum + at.force);
    let sizes = loads.iter().map(|at| at.force.z_n.abs());
    if sum.z_n.abs() <= FIGURE_SLACK * sizes.fold(0.0, f64::max) {
        sum.across()
    } else {
        sum
    }
}

/// Couple of all loads about a place on the axis.
pub(super) fn couple_about(loads: &[Load], z_mm: f64) -> Couple {
    let of = |at: &Load| Couple::of(at.force, at.offset_mm, at.z_mm - z_mm);
    loads.iter().map(of).fold(Couple::ZERO, |sum, c| sum + c)
}

/// A force or couple on the shaft at a place.
#[derive(Clone, Copy, Debug)]
struct Action {
    z_mm: f64,
    offset_mm: [f64; 2],
    force: Vector,
    couple: Couple,
}

/// Bending moments wherever something acts, ascending by place. Between two
/// places the moment runs straight, so that its greatest size is at one of
/// them.
pub(super) fn bending(loads: &[Load], reactions: &[Reaction]) -> Vec<Bending> {
    let mut actions: Vec<Action> = loads
        .iter()
        .map(|load| Action {
            z_mm: load.z_mm,
            offset_mm: load.offset_mm,
            force: load.force,
            couple: Couple::ZERO,
        })
        .chain(reactions.iter().map(|held| Action {
            z_mm: held.z_mm,
            offset_mm: [0.0; 2],
            force: held.force,
            couple: held.couple,
        }))
        .collect();
    actions.sort_by(|a, b| a.z_mm.total_cmp(&b.z_mm));
    let mut places: Vec<f64> = actions.iter().map(|action| action.z_mm).collect();
    places.dedup_by(|a, b| a.total_cmp(b).is_eq());
    places
        .into_iter()
        .map(|z_mm| at_place(&actions, z_mm))
        .collect()
}

fn at_place(actions: &[Action], z_mm: f64) -> Bending {
    let until = |within: &dyn Fn(f64) -> bool| {
        let inside = actions.iter().filter(|action| within(action.z_mm));
        inside.fold(Couple::ZERO, |sum, a| {
            sum + Couple::of(a.force, a.offset_mm, a.z_mm - z_mm) + a.couple
        })
    };
    let (before, behind) = (until(&|z| z < z_mm), until(&|z| z <= z_mm));
    Bending {
        z_mm,
        before,
        behind,
        size_n_m: before.size_n_m().max(behind.size_n_m()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn load(z_mm: f64, offset_mm: [f64; 2], x_n: f64, y_n: f64, z_n: f64) -> Load {
        Load {
            from: LoadFrom::Spigot,
            z_mm,
            offset_mm,
            force: Vector { x_n, y_n, z_n },
        }
    }

    fn held(loads: &[Load], first_mm: f64, second_mm: f64) -> Vec<Reaction> {
        let [first, second] = two_supports(loads, first_mm, second_mm);
        vec![
            Reaction::new(Support::InputEnd, first_mm, first),
            Reaction::new(Support::OutputEnd, second_mm, second),
        ]
    }

    fn near(got: f64, expected: f64) -> bool {
        (got - expected).abs() < 1e-9
    }

    // By hand: 100 N at 30 mm of a span of 100 mm leaves 70 and 30 N and bends
    // with 70 N · 30 mm = 2.1 N m.
    #[test]
    fn a_load_between_two_supports() {
        let loads = [load(40.0, [0.0, 0.0], 0.0, -100.0, 0.0)];
        let held = held(&loads, 10.0, 110.0);
        assert!(near(held[0].force.y_n, 70.0) && near(held[1].force.y_n, 30.0));
        let places = bending(&loads, &held);
        let sizes: Vec<f64> = places.iter().map(|at| at.size_n_m).collect();
        assert!(near(sizes[0], 0.0) && near(sizes[1], 2.1) && near(sizes[2], 0.0));
    }

    // By hand: 100 N, 20 mm outside of a span of 50 mm: the near bearing holds
    // 140 N, the far one pulls back with 40 N, and the near one is bent with
    // 2 N m.
    #[test]
    fn a_load_on_an_overhang() {
        let loads = [load(70.0, [0.0, 0.0], 100.0, 0.0, 0.0)];
        let held = held(&loads, 0.0, 50.0);
        assert!(near(held[0].force.x_n, 40.0) && near(held[1].force.x_n, -140.0));
        let places = bending(&loads, &held);
        assert!(near(places[1].z_mm, 50.0) && near(places[1].size_n_m, 2.0));
    }

    // By hand: a thrust of 60 N at 25 mm above the axis is a couple of 1.5 N m
    // on a span of 50 mm: 30 N up at one end, down at the other, and the moment
    // jumps by 1.5 N m at the gear, 0.6 N m before and 0.9 behind.
    #[test]
    fn a_thrust_off_the_axis_bends() {
        let loads = [load(20.0, [0.0, 25.0], 0.0, 0.0, 60.0)];
        let held = held(&loads, 0.0, 50.0);
        assert!(near(held[0].force.y_n, -30.0) && near(held[1].force.y_n, 30.0));
        let gear = bending(&loads, &held)[1];
        assert!(near(gear.before.size_n_m(), 0.6) && near(gear.behind.size_n_m(), 0.9));
        assert!(near(gear.size_n_m, 0.9));
        let jump = gear.behind.x_n_m - gear.before.x_n_m;
        assert!(near(jump, 1.5));
    }

    // By hand: 200 N at 15 mm before the wall, and two thrusts of 40 N that
    // cancel, 10 mm above and below the axis.
    #[test]
    fn a_stub_is_held_by_its_wall() {
        let loads = [
            load(85.0, [0.0, 10.0], 200.0, 0.0, 40.0),
            load(85.0, [0.0, -10.0], 0.0, 0.0, -40.0),
        ];
        let held = wall(&loads, 100.0);
        assert!(near(held.force.x_n, -200.0) && near(held.force.z_n, 0.0));
        assert!(near(held.couple.y_n_m, 3.0) && near(held.couple.x_n_m, -0.8));
        let places = bending(&loads, &[held]);
        let size = 3.0_f64.hypot(0.8);
        assert!(near(places[1].before.size_n_m(), size));
        assert!(near(places[1].behind.size_n_m(), 0.0));
    }
}
