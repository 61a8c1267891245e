//! The idler study as JSON.

use super::bench::tidy;
use super::object::object;
use crate::design::forces::Vector;
use crate::design::idler::{ERROR_MM, Near, Place, Refused, Study, Why};
use crate::problem::{Problem, Side};
use crate::train::Set;
use serde_json::Value;

/// A study with the names of what it is about.
#[derive(Debug)]
pub struct IdlerAnswer<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// The set whose reverse it is.
    pub set: &'a Set,
    /// What the set is called.
    pub mark: &'a str,
    /// What was found.
    pub study: &'a Study,
}

impl IdlerAnswer<'_> {
    /// Everything, for programs.
    pub fn record(&self) -> Value {
        let Some(gears) = self.set.reverse else {
            return Value::Null;
        };
        let places: Vec<Value> = self.study.places.iter().map(|p| self.place(p)).collect();
        let refused: Vec<Value> = self.study.refused.iter().map(|r| self.refused(r)).collect();
        let mut record = object!({
            "set": self.mark,
            "centre_distance_mm": self.set.centre_distance.mm(),
            "module_mm": gears.module.of(self.problem).mm(),
            "driver_teeth": gears.driver.get(),
            "idler_teeth": gears.idler.get(),
            "driven_teeth": gears.driven.get(),
            "input_turns": self.problem.input_turns().word(),
            "input_torque_n_m": self.study.torque_n_m,
            "torque_given": self.problem.duty().is_some(),
            "places": places,
            "refused": refused,
        });
        tidy(&mut record);
        record
    }

    fn place(&self, place: &Place) -> Value {
        let gaps = place.gaps.iter().map(|gap| {
            object!({
                "to": gap.thing.words(),
                "gap_mm": gap.gap_mm,
                "asked_mm": gap.least_mm,
            })
        });
        let near = place.near.iter().map(|near| {
            object!({
                "from": if near.from_pin { "pin" } else { "idler" },
                "to": self.part(near),
                "gap_mm": near.gap_mm,
            })
        });
        let change =
            |[driver, driven]: [f64; 2]| object!({ "driver_mesh": driver, "driven_mesh": driven });
        object!({
            "idler_teeth": place.teeth.get(),
            "side": place.side.word(),
            "x_mm": place.centre.x_mm,
            "y_mm": place.centre.y_mm,
            "to_driver_mm": place.distances_mm[0],
            "to_driven_mm": place.distances_mm[1],
            "own_idler": self.is_own(place),
            "shares_cutter": place.shares_cutter,
            "nearest_gap_mm": self.nearest(place).map(|(_, gap)| gap),
            "gaps": gaps.collect::<Vec<_>>(),
            "near": near.collect::<Vec<_>>(),
            "pin_load": object!({
                "drive": load(place.loads[0]),
                "overrun": load(place.loads[1]),
            }),
            "backlash_change_mm": object!({
                "centre_error_mm": ERROR_MM,
                "lower": change(place.lower_mm),
                "to_the_right": change(place.right_mm),
            }),
        })
    }

    fn refused(&self, refused: &Refused) -> Value {
        object!({
            "idler_teeth": refused.teeth.get(),
            "side": refused.side.map(Side::word),
            "why": refused.why.iter().map(|why| self.why(why)).collect::<Vec<_>>(),
        })
    }

    /// Whether the place is for the set's own idler.
    pub fn is_own(&self, place: &Place) -> bool {
        self.set
            .reverse
            .is_some_and(|gears| gears.idler == place.teeth)
    }

    /// What is nearest to idler or pin, and its gap, mm.
    pub fn nearest(&self, place: &Place) -> Option<(String, f64)> {
        let near = place
            .near
            .first()
            .map(|near| (self.part(near), near.gap_mm));
        let gaps = place.gaps.iter().map(|gap| (gap.thing.words(), gap.gap_mm));
        let all = gaps.chain(near);
        all.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    fn part(&self, near: &Near) -> String {
        near.part.name(&self.study.gearbox)
    }

    /// A reason in words.
    pub fn why(&self, why: &Why) -> String {
        why.words(&self.study.gearbox)
    }
}

fn load(force: Vector) -> Value {
    object!({ "x_n": force.x_n, "y_n": force.y_n, "size_n": force.across_n() })
}
