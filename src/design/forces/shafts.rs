//! What every shaft bears, and what holds it.

use super::beam::{Bending, Load, LoadFrom, Reaction, Support, bending, total, two_supports, wall};
use super::mounting::{Bearings, Locating, MainMounting, Pin};
use super::{MeshForces, Vector};
use crate::design::planes::End;
use crate::problem::Shaft;

/// The thrust along a shaft: what its loads add up to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thrust {
    /// Its size, N, 0 or more.
    pub size_n: f64,
    /// Which wall it presses the shaft to; none without thrust.
    pub towards: Option<End>,
    /// Which support holds it; none without thrust.
    pub taken_by: Option<Support>,
}

/// What a shaft or the idler's pin bears in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct ShaftForces {
    /// Which.
    pub shaft: Shaft,
    /// Torque that it passes on, N m, positive clockwise seen from the input
    /// end: what its input side gives to it. 0 where no power goes through it,
    /// and of the pin.
    pub torque_n_m: f64,
    /// What loads it.
    pub loads: Vec<Load>,
    /// What holds it.
    pub reactions: Vec<Reaction>,
    /// Its thrust.
    pub thrust: Thrust,
    /// Its bending moments where anything acts, ascending by place.
    pub bending: Vec<Bending>,
    /// Greatest of their sizes, N m.
    pub greatest_bending_n_m: f64,
}

impl ShaftForces {
    fn new(shaft: Shaft, torque_n_m: f64, loads: Vec<Load>, held: Vec<Reaction>) -> Self {
        let thrust = thrust(total(&loads).z_n, &held);
        let bending = bending(&loads, &held);
        let sizes = bending.iter().map(|at| at.size_n_m);
        Self {
            shaft,
            torque_n_m,
            greatest_bending_n_m: sizes.fold(0.0, f64::max),
            loads,
            reactions: held,
            thrust,
            bending,
        }
    }

    /// A shaft in two bearings.
    pub(super) fn in_bearings(
        shaft: Shaft,
        torque_n_m: f64,
        loads: Vec<Load>,
        bearings: &Bearings,
    ) -> Self {
        let places = (bearings.input_end_mm, bearings.output_end_mm);
        let held = held(
            &loads,
            places,
            (Support::InputEnd, Support::OutputEnd),
            bearings.locating,
        );
        Self::new(shaft, torque_n_m, loads, held)
    }

    /// The main shaft of an in-line box.
    pub(super) fn main(torque_n_m: f64, loads: Vec<Load>, mounted: &MainMounting) -> Self {
        let locating = match mounted.locating {
            Locating::OutputEnd => Locating::OutputEnd,
            Locating::EitherEnd | Locating::InputEnd => Locating::EitherEnd,
        };
        let held = held(
            &loads,
            (mounted.spigot_mm, mounted.bearing_mm),
            (Support::Spigot, Support::OutputEnd),
            locating,
        );
        Self::new(Shaft::Main, torque_n_m, loads, held)
    }

    /// The pin of the idler.
    pub(super) fn pin(loads: Vec<Load>, pin: &Pin) -> Self {
        let held = match *pin {
            Pin::Stub { wall_mm } => vec![wall(&loads, wall_mm)],
            Pin::Through {
                input_end_mm,
                output_end_mm,
            } => held(
                &loads,
                (input_end_mm, output_end_mm),
                (Support::InputEnd, Support::OutputEnd),
                Locating::EitherEnd,
            ),
        };
        Self::new(Shaft::Idler, 0.0, loads, held)
    }

    /// What the main shaft's end does to the input gear.
    pub(super) fn spigot(&self) -> Option<Load> {
        let mut held = self.reactions.iter();
        let spigot = held.find(|at| at.support == Support::Spigot)?;
        Some(Load {
            from: LoadFrom::Spigot,
            z_mm: spigot.z_mm,
            offset_mm: [0.0; 2],
            force: -spigot.force,
        })
    }
}

/// The loads that meshes put on `shaft`.
pub(super) fn loads_on(shaft: Shaft, meshes: &[(MeshForces, [Shaft; 2])]) -> Vec<Load> {
    let both = meshes.iter().flat_map(|(mesh, shafts)| {
        let [on_driver, on_driven] = *shafts;
        [(on_driver, mesh.on_driver), (on_driven, mesh.on_driven)]
    });
    both.filter(|(on, _)| *on == shaft)
        .map(|(_, at)| at.load())
        .collect()
}

fn held(
    loads: &[Load],
    (first_mm, second_mm): (f64, f64),
    (first, second): (Support, Support),
    locating: Locating,
) -> Vec<Reaction> {
    let [at_first, at_second] = two_supports(loads, first_mm, second_mm);
    let thrust_n = total(loads).z_n;
    let first_takes = match locating {
        Locating::InputEnd => true,
        Locating::OutputEnd => false,
        Locating::EitherEnd => thrust_n < 0.0,
    };
    let (z_first, z_second) = if first_takes {
        (0.0 - thrust_n, 0.0)
    } else {
        (0.0, 0.0 - thrust_n)
    };
    let with = |across: Vector, z_n| Vector { z_n, ..across };
    vec![
        Reaction::new(first, first_mm, with(at_first, z_first)),
        Reaction::new(second, second_mm, with(at_second, z_second)),
    ]
}

fn thrust(along_n: f64, held: &[Reaction]) -> Thrust {
    let towards = match along_n {
        n if n > 0.0 => Some(End::Output),
        n if n < 0.0 => Some(End::Input),
        _ => None,
    };
    let takes = held.iter().find(|at| at.force.z_n.abs() > 0.0);
    Thrust {
        size_n: along_n.abs(),
        towards,
        taken_by: towards.and(takes.map(|at| at.support)),
    }
}
