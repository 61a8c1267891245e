//! A set's box as JSON: shafts, places, shift pattern, boring, motion.

use super::bench::tidy;
use super::object::object;
use crate::design::boring::{Boring, Hole, PinCheck, Trueness};
use crate::design::forces::{ForceFault, LoadFrom, StateForces, Support, Vector};
use crate::design::motion::{Hold, Motion, Rate, Shift, State, StateMotion};
use crate::design::planes::{Direction, End, FixedGear, Layout, Moved, PartId, Rod};
use crate::design::{Plan, torque_n_m};
use crate::problem::{Origin, Problem, Shaft};
use crate::train::{Role, Set};
use serde_json::{Value, json};

/// A plan with the names of what it is about.
#[derive(Debug)]
pub struct LayoutAnswer<'a> {
    /// The problem.
    pub problem: &'a Problem,
    /// The set.
    pub set: &'a Set,
    /// What the set is called.
    pub mark: &'a str,
    /// What was worked out.
    pub plan: &'a Plan<'a>,
}

impl LayoutAnswer<'_> {
    /// Everything, for programs.
    pub fn record(&self) -> Value {
        self.told(true)
    }

    /// The same without what meshes and bearings carry, which is half of it.
    pub fn record_less_forces(&self) -> Value {
        self.told(false)
    }

    fn told(&self, forces: bool) -> Value {
        let shafts = self.plan.housed.shafts().iter();
        let layout = match &self.plan.layout {
            Ok(layout) => self.layout(layout),
            Err(faults) => {
                let words = faults.iter().map(|fault| fault.words(&self.plan.gearbox));
                object!({ "impossible": words.collect::<Vec<_>>() })
            }
        };
        let of = self.problem.duty();
        let torque = of.map(crate::problem::Duty::input_torque_n_m);
        let motion = self.plan.motion.as_ref().ok();
        let motion = motion.map(|motion| self.motion(motion));
        // Values as they are: `json!` would copy them.
        let fields = [
            ("set", json!(self.mark)),
            ("centre_distance_mm", json!(self.set.centre_distance.mm())),
            ("input_turns", json!(self.problem.input_turns().word())),
            ("input_torque_n_m", json!(torque)),
            ("shafts", shafts.map(|&shaft| self.shaft(shaft)).collect()),
            (
                "idler_side",
                json!(self.set.reverse.map(|_| self.plan.side.word())),
            ),
            ("layout", layout),
            ("boring", self.boring(&self.plan.boring)),
            ("forces", if forces { self.forces() } else { Value::Null }),
            ("motion", motion.unwrap_or_default()),
        ];
        let fields = fields.into_iter();
        let fields = fields.filter(|(key, _)| forces || *key != "forces");
        let mut record =
            Value::Object(fields.map(|(key, value)| (key.to_owned(), value)).collect());
        tidy(&mut record);
        record
    }

    fn shaft(&self, shaft: Shaft) -> Value {
        let Some(size) = self.plan.housed.size(shaft) else {
            return Value::Null;
        };
        let (from, torque, needed) = match size.origin() {
            Origin::Given => ("given", None, None),
            Origin::Bore => ("bore", None, None),
            Origin::Assumed => ("assumed", None, None),
            Origin::Torque {
                torque_n_m,
                needed_mm,
            } => ("torque", Some(torque_n_m), Some(needed_mm)),
        };
        object!({
            "shaft": shaft.word(),
            "diameter_mm": size.diameter().mm(),
            "least_teeth": self.least_teeth(shaft),
            "from": from,
            "torque_n_m": torque,
            "needed_mm": needed,
            "bearing": size.bearing().map(|bearing| object!({
                "bore_mm": bearing.bore().mm(),
                "outside_mm": bearing.outside().mm(),
                "width_mm": bearing.width().mm(),
            })),
        })
    }

    /// Fewest teeth by module that the hole of the gears leaves.
    fn least_teeth(&self, shaft: Shaft) -> Vec<Value> {
        let modules = self.problem.gears().modules().iter();
        let least = self.plan.housed.least_teeth(shaft);
        modules
            .zip(least)
            .map(|(module, teeth)| object!({ "module_mm": module.mm(), "teeth": teeth }))
            .collect()
    }

    /// What a role is called.
    pub fn role(&self, role: Role) -> String {
        role.name(self.problem).to_owned()
    }

    /// What a dog locks when a rod engages `role`: direct has the head's dogs.
    pub fn engaged(&self, role: Role) -> String {
        if role != Role::Head {
            return self.role(role);
        }
        let direct = self
            .problem
            .speeds()
            .iter()
            .find(|speed| speed.geared().is_none());
        direct.map_or_else(|| "direct".to_owned(), |speed| speed.name().to_owned())
    }

    /// What a part is called.
    pub fn part(&self, part: PartId) -> String {
        part.name(&self.plan.gearbox)
    }

    fn layout(&self, layout: &Layout) -> Value {
        let parts = layout.parts.iter().map(|part| {
            object!({
                "part": self.part(part.id),
                "on": part.shaft.word(),
                "from_mm": part.from_mm,
                "to_mm": part.to_mm,
                "inner_diameter_mm": 2.0 * part.inner_radius_mm,
                "outer_diameter_mm": 2.0 * part.outer_radius_mm,
            })
        });
        let planes = layout.planes.iter().map(|plane| {
            object!({
                "role": self.role(plane.role),
                "from_mm": plane.from_mm,
                "to_mm": plane.to_mm,
                "middle_mm": plane.middle_mm,
            })
        });
        let sleeves = layout.sleeves.iter().map(|sleeve| {
            object!({
                "sleeve": self.part(PartId::Sleeve(sleeve.sleeve)),
                "middle_mm": sleeve.middle_mm,
                "travel_mm": sleeve.travel_mm,
                "dog_ring_diameter_mm": 2.0 * sleeve.ring_radius_mm,
            })
        });
        let assembly = match &layout.assembly {
            Ok(steps) => object!({ "steps": steps.iter().map(|step| object!({
                "parts": step.parts.iter().map(|part| self.part(*part)).collect::<Vec<_>>(),
                "direction": direction(step.direction),
                "from_mm": step.from_mm,
                "to_mm": step.to_mm,
                "words": step.words.as_str(),
            })).collect::<Vec<_>>() }),
            Err(obstacles) => object!({ "impossible": obstacles.iter().map(|obstacle| object!({
                "part": self.part(obstacle.part),
                "in_the_way": obstacle.in_the_way.map(|part| self.part(part)),
                "words": obstacle.words.as_str(),
            })).collect::<Vec<_>>() }),
        };
        object!({
            "length_mm": layout.length_mm,
            "chosen_by": if self.problem.layout().least_bending() { "least-bending" } else { "shortest" },
            "proved": true,
            "planes": planes.collect::<Vec<_>>(),
            "sleeves": sleeves.collect::<Vec<_>>(),
            "parts": parts.collect::<Vec<_>>(),
            "rods": layout.rods.iter().map(|rod| self.rod(rod)).collect::<Vec<_>>(),
            "fixed_gears": layout.fixed_gears.iter().map(|gear| self.fixed(gear, layout)).collect::<Vec<_>>(),
            "assembly": assembly,
        })
    }

    fn rod(&self, rod: &Rod) -> Value {
        let moves = match rod.moves {
            Moved::Sleeve(sleeve) => self.part(PartId::Sleeve(sleeve)),
            Moved::Idler => "idler".to_owned(),
        };
        let positions = rod.positions.iter().map(|position| {
            object!({
                "engages": position.engages.map(|role| self.engaged(role)),
                "towards": position.towards.map(End::word),
                "move_mm": position.move_mm,
                "notch_mm": position.notch_mm,
                "middle_mm": position.middle_mm,
            })
        });
        object!({ "moves": moves, "positions": positions.collect::<Vec<_>>() })
    }

    fn fixed(&self, gear: &FixedGear, layout: &Layout) -> Value {
        let beside = gear.beside.iter().map(|beside| {
            object!({
                "role": self.role(beside.role),
                "gap_mm": beside.gap_mm,
                "run_out_mm": beside.run_out_mm,
                "one_blank": beside.fits,
            })
        });
        let piece = layout.pieces.get(gear.piece).map_or(&[][..], Vec::as_slice);
        object!({
            "role": self.role(gear.role),
            "one_piece_with": piece.iter().filter(|role| **role != gear.role)
                .map(|role| self.role(*role)).collect::<Vec<_>>(),
            "beside": beside.collect::<Vec<_>>(),
        })
    }

    fn boring(&self, boring: &Boring) -> Value {
        let holes = |holes: &[Hole]| -> Vec<Value> {
            let hole = |hole: &Hole| {
                object!({
                    "for": hole.shaft.word(),
                    "x_mm": hole.place.x_mm,
                    "y_mm": hole.place.y_mm,
                    "x_in": hole.place.x_mm / 25.4,
                    "y_in": hole.place.y_mm / 25.4,
                    "diameter_mm": hole.diameter_mm,
                })
            };
            holes.iter().map(hole).collect()
        };
        let check = |check: &PinCheck| {
            object!({
                "between": check.shafts.map(Shaft::word),
                "pins_mm": check.pins_mm,
                "apart_mm": check.apart_mm,
                "outside_mm": check.outside_mm,
                "inside_mm": check.inside_mm,
            })
        };
        let trueness = |trueness: &Trueness| {
            object!({
                "set_by": self.role(trueness.role),
                "reached": trueness.reached,
                "closer_mm": trueness.closer_mm,
                "wider_mm": trueness.wider_mm,
                "normal_backlash_mm": object!({
                    "min": trueness.backlash_mm.0,
                    "max": trueness.backlash_mm.1,
                }),
            })
        };
        object!({
            "input_face": holes(&boring.input),
            "output_face": holes(&boring.output),
            "checks": boring.checks.iter().map(check).collect::<Vec<_>>(),
            "centres_tolerance": boring.shafts.as_ref().map(trueness),
            "idler_tolerance": boring.pin.as_ref().map(trueness),
            "growth": boring.growth.map(|growth| object!({
                "material": self.problem.layout().case_material().word(),
                "warmer_k": growth.warmer_k,
                "opens_mm": growth.opens_mm,
                "normal_backlash_mm": growth.backlash_mm,
            })),
        })
    }

    /// Speed of the vehicle in a state, km/h, signed as the output turns; none
    /// without vehicle or input speed.
    pub fn road_kmh(&self, state: &StateMotion) -> Option<f64> {
        let last = *self.plan.housed.shafts().last()?;
        let rpm = state.shaft(last)?.rpm?;
        // 60 minutes; 10⁶ mm to the kilometre.
        Some(rpm * self.problem.road_way_mm()? * 60.0 / 1e6)
    }

    /// What a state is called.
    pub fn state(&self, state: State) -> String {
        state_name(self.problem, state)
    }

    fn forces(&self) -> Value {
        let states = |states: &Option<Result<Vec<StateForces>, ForceFault>>| match states {
            Some(Ok(states)) => states.iter().map(|state| self.loaded(state)).collect(),
            _ => Value::Null,
        };
        object!({
            "input_torque_n_m": torque_n_m(self.problem),
            "torque_given": self.problem.duty().is_some(),
            "driving": states(&self.plan.driving),
            "overrun": states(&self.plan.overrun),
        })
    }

    fn loaded(&self, state: &StateForces) -> Value {
        let meshes = state.meshes.iter().map(|mesh| {
            object!({
                "driver": mesh.on_driver.gear.name(self.problem),
                "driven": mesh.on_driven.gear.name(self.problem),
                "tangential_n": mesh.tangential_n,
                "radial_n": mesh.radial_n,
                "axial_n": mesh.axial_n,
                "normal_n": mesh.normal_n,
                "on_driver_n": vector(mesh.on_driver.force),
                "on_driven_n": vector(mesh.on_driven.force),
            })
        });
        let shafts = state.shafts.iter().map(|shaft| {
            let loads = shaft.loads.iter().map(|load| {
                object!({
                    "from": match load.from {
                        LoadFrom::Gear(gear) => gear.name(self.problem),
                        LoadFrom::Spigot => "spigot".to_owned(),
                    },
                    "z_mm": load.z_mm,
                    "force_n": vector(load.force),
                })
            });
            let reactions = shaft.reactions.iter().map(|reaction| {
                object!({
                    "at": reaction.support.word(),
                    "z_mm": reaction.z_mm,
                    "force_n": vector(reaction.force),
                    "radial_n": reaction.radial_n,
                    "couple_n_m": object!({
                        "x": reaction.couple.x_n_m,
                        "y": reaction.couple.y_n_m,
                    }),
                })
            });
            object!({
                "shaft": shaft.shaft.word(),
                "torque_n_m": shaft.torque_n_m,
                "loads": loads.collect::<Vec<_>>(),
                "reactions": reactions.collect::<Vec<_>>(),
                "thrust": object!({
                    "size_n": shaft.thrust.size_n,
                    "towards": shaft.thrust.towards.map(End::wall),
                    "taken_by": shaft.thrust.taken_by.map(Support::word),
                }),
                "greatest_bending_n_m": shaft.greatest_bending_n_m,
            })
        });
        object!({
            "state": self.state(state.state),
            "input_torque_n_m": state.input_torque_n_m,
            "output_torque_n_m": state.output_torque_n_m,
            "case_torque_n_m": state.case_torque_n_m,
            "meshes": meshes.collect::<Vec<_>>(),
            "shafts": shafts.collect::<Vec<_>>(),
            "idler_pin_n": state.idler.as_ref().map(|idler| vector(idler.pin_load)),
            "idler_tilting_n_m": state.idler.as_ref().map(|idler| idler.tilting_n_m),
        })
    }

    fn motion(&self, motion: &Motion) -> Value {
        let state = |state: &StateMotion| {
            let shafts = state
                .shafts
                .iter()
                .map(|at| object!({ "shaft": at.shaft.word(), "turns": rate(&at.rate) }));
            let gears = state.gears.iter().map(|at| {
                object!({
                    "gear": at.gear.name(self.problem),
                    "hold": hold(at.hold),
                    "in_mesh": at.in_mesh,
                    "turns": rate(&at.rate),
                    "slip": at.slip.as_ref().map(rate),
                })
            });
            object!({
                "state": self.state(state.state),
                "path": state.words.as_str(),
                "road_speed_kmh": self.road_kmh(state),
                "output_taken_as_standing": state.output_taken_as_standing,
                "shafts": shafts.collect::<Vec<_>>(),
                "gears": gears.collect::<Vec<_>>(),
                "spigot_slip": state.spigot_slip.as_ref().map(rate),
            })
        };
        let shift = |shift: &Shift| {
            let name = |place: usize| self.problem.speeds()[place].name();
            object!({
                "from": name(shift.from),
                "to": name(shift.to),
                "difference": rate(&shift.difference),
                "difference_percent": shift.difference_percent,
                "input_after": rate(&shift.input_after),
            })
        };
        object!({
            "states": motion.states.iter().map(state).collect::<Vec<_>>(),
            "shifts": motion.shifts.iter().map(shift).collect::<Vec<_>>(),
        })
    }
}

/// What a state is called.
pub(super) fn state_name(problem: &Problem, state: State) -> String {
    match state {
        State::Neutral => "neutral".to_owned(),
        State::Speed(place) => problem.speeds()[place].name().to_owned(),
        State::Reverse => "reverse".to_owned(),
    }
}

fn vector(force: Vector) -> Value {
    object!({ "x": force.x_n, "y": force.y_n, "z": force.z_n })
}

fn rate(rate: &Rate) -> Value {
    object!({ "per_input_turn": rate.per_input_turn, "rpm": rate.rpm })
}

const fn hold(hold: Hold) -> &'static str {
    match hold {
        Hold::Fixed => "fixed",
        Hold::Free => "free",
        Hold::Locked => "locked",
    }
}

const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::TowardsInput => "towards the input",
        Direction::TowardsOutput => "towards the output",
        Direction::Down => "down",
        Direction::Right => "to the right",
        Direction::Left => "to the left",
        Direction::Stays => "stays",
    }
}
