//! Every idler count on either side of the shafts.

use super::gaps::{Near, nearby};
use crate::base::{LENGTH_SLACK_MM, Teeth, plain};
use crate::design::Housed;
use crate::design::forces::{Flow, StateForces, Vector};
use crate::design::loaded::{gear_forces, pin_load, torque_n_m};
use crate::design::planes::{Gearbox, lay_out};
use crate::involute::Meshing;
use crate::making::{Refusal, Rules, gear_of};
use crate::place::{Gap, Idler, Surroundings};
use crate::problem::{Problem, Side};
use crate::train::{Form, Point, ReverseGears, Set, cutter_of, forms_of, reverse_lengths};

/// An error of the pin's place that backlash is told for, mm.
pub const ERROR_MM: f64 = 0.01;

/// A clear place.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Teeth of the idler.
    pub teeth: Teeth,
    /// Side of the shafts, seen from the input end.
    pub side: Side,
    /// The pin's axis: the upper shaft (main, or input of an offset box) at the
    /// origin.
    pub centre: Point,
    /// From the driver and from the driven gear, mm.
    pub distances_mm: [f64; 2],
    /// Shafts, bearing bores, case.
    pub gaps: Vec<Gap>,
    /// Other parts of the box, the nearest first.
    pub near: Vec<Near>,
    /// Force on the pin while the input drives, and while it is overrun.
    pub loads: [Vector; 2],
    /// What [`ERROR_MM`] lower adds to the transverse backlash with driver and
    /// with driven gear, mm.
    pub lower_mm: [f64; 2],
    /// The same of [`ERROR_MM`] to the right, mm.
    pub right_mm: [f64; 2],
    /// Whether its cutter is one that the set needs anyway.
    pub shares_cutter: bool,
}

/// Why an idler cannot sit there.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// It does not reach both gears; what is missing, mm.
    Short(f64),
    /// Driver and driven gear differ too much for it; by how much, mm.
    Flat(f64),
    /// A limit of the teeth refuses it.
    Limit(Refusal),
    /// Something is too near.
    Gap(Gap),
    /// A part of the box is too near, whatever the order of the planes.
    Box(String),
    /// A part of the box is too near in the order that is best.
    Near(Near, f64),
    /// The file wants the other side.
    Side,
}

impl Why {
    /// The reason in words; parts are named as in `gearbox`.
    pub fn words(&self, gearbox: &Gearbox) -> String {
        match self {
            Self::Short(mm) => format!(
                "too small: {} mm short of reaching both gears",
                plain(*mm, 2)
            ),
            Self::Flat(mm) => format!(
                "driver and driven gear differ too much: {} mm more than the shafts are apart",
                plain(*mm, 2)
            ),
            Self::Limit(refusal) => format!("refused for its teeth: {}", refusal.name()),
            Self::Gap(gap) => gap.words(),
            Self::Box(words) => words.clone(),
            Self::Near(near, least) => {
                let what = if near.from_pin { "pin" } else { "tips" };
                let part = near.part.name(gearbox);
                if near.gap_mm < 0.0 {
                    format!("{what} foul the {part} by {} mm", plain(-near.gap_mm, 2))
                } else {
                    format!(
                        "{what} {} mm from the {part}; {} asked",
                        plain(near.gap_mm, 2),
                        plain(*least, 2)
                    )
                }
            }
            Self::Side => "the file wants the other side".to_owned(),
        }
    }
}

/// An idler that is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// Its teeth.
    pub teeth: Teeth,
    /// The side; none where both are meant.
    pub side: Option<Side>,
    /// Every reason.
    pub why: Vec<Why>,
}

/// All places.
#[derive(Clone, Debug)]
pub struct Study {
    /// Torque on the input shaft that the loads are for, N m; 1 where the file
    /// gives no duty.
    pub torque_n_m: f64,
    /// Clear places, the best first: cutters that are needed anyway, then the
    /// least load while driving.
    pub places: Vec<Place>,
    /// All others.
    pub refused: Vec<Refused>,
    /// The box, for names of parts.
    pub gearbox: Gearbox,
}

/// Studies every idler count of the problem with the set's other gears; none
/// where the set has no reverse.
pub fn study(problem: &Problem, set: &Set) -> Option<Study> {
    let wanted = problem.reverse()?;
    study_of(problem, set, (wanted.idler_min(), wanted.idler_max()))
}

/// Studies the set's own idler on either side; none where it has none.
pub fn study_own(problem: &Problem, set: &Set) -> Option<Study> {
    let idler = set.reverse?.idler;
    study_of(problem, set, (idler, idler))
}

fn study_of(problem: &Problem, set: &Set, (least, most): (Teeth, Teeth)) -> Option<Study> {
    let own = set.reverse?;
    let mut study = Study {
        torque_n_m: torque_n_m(problem),
        places: Vec::new(),
        refused: Vec::new(),
        gearbox: Housed::new(problem, set).boxed(&[], Side::Right),
    };
    for teeth in (least.get()..=most.get()).map(Teeth::of) {
        let set = Set {
            reverse: Some(ReverseGears {
                idler: teeth,
                ..own
            }),
            ..set.clone()
        };
        candidate(problem, &set, &mut study);
    }
    let key = |place: &Place| (!place.shares_cutter, place.loads[0].across_n());
    study.places.sort_by(|a, b| {
        let ((a_new, a_n), (b_new, b_n)) = (key(a), key(b));
        a_new.cmp(&b_new).then(a_n.total_cmp(&b_n))
    });
    Some(study)
}

fn refuse(study: &mut Study, teeth: Teeth, side: Option<Side>, why: Vec<Why>) {
    study.refused.push(Refused { teeth, side, why });
}

/// One idler count on both sides.
fn candidate(problem: &Problem, set: &Set, study: &mut Study) {
    let Some(gears) = set.reverse else { return };
    let teeth = gears.idler;
    let counts = [gears.driver, teeth, gears.driven];
    let made =
        Rules::of(problem).map(|rules| rules.reverse(problem, gears.module.of(problem), counts));
    if let Some(Err(refusal)) = made {
        return refuse(study, teeth, None, vec![Why::Limit(refusal)]);
    }
    let (distances_mm, _) = reverse_lengths(problem, gears);
    let a = set.centre_distance.mm();
    let [driver, driven] = distances_mm;
    let housed = Housed::new(problem, set);
    let Some(centres) = housed.idler_places() else {
        let why = if driver + driven <= a {
            Why::Short(a - driver - driven)
        } else {
            Why::Flat((driver - driven).abs() - a)
        };
        return refuse(study, teeth, None, vec![why]);
    };
    let Some(candidate) = Candidate::new(problem, set, &housed, distances_mm) else {
        return;
    };
    for (side, centre) in Side::BOTH.into_iter().zip(centres) {
        match candidate.at(side, centre) {
            Ok(place) => study.places.push(place),
            Err(why) => refuse(study, teeth, Some(side), why),
        }
    }
}

/// An idler with what does not depend on the side.
struct Candidate<'a> {
    problem: &'a Problem,
    set: &'a Set,
    housed: &'a Housed<'a>,
    distances_mm: [f64; 2],
    tip_mm: f64,
    /// With driver, with driven gear; the idler second.
    meshes: [Meshing; 2],
    shares_cutter: bool,
}

impl<'a> Candidate<'a> {
    fn new(
        problem: &'a Problem,
        set: &'a Set,
        housed: &'a Housed<'a>,
        distances_mm: [f64; 2],
    ) -> Option<Self> {
        let gears = set.reverse?;
        let module = gears.module.of(problem);
        let forms = forms_of(problem, set);
        let [.., of_driver, of_idler, of_driven] = forms[..] else {
            return None;
        };
        let made = |teeth, form: &Form| gear_of(problem.gears(), module, teeth, form).ok();
        let idler = made(gears.idler, &of_idler)?;
        let outer = [
            made(gears.driver, &of_driver)?,
            made(gears.driven, &of_driven)?,
        ];
        let mesh = |i: usize| Meshing::new(outer[i], idler, distances_mm[i]).ok();
        let cutter = |(m, z), form: &Form| cutter_of(problem.gears(), m, z, form);
        let own = cutter((gears.module, gears.idler), &of_idler);
        let idler_place = forms.len() - 2;
        let mut others = set.gears().zip(&forms).enumerate();
        let shares_cutter =
            others.any(|(i, (gear, form))| i != idler_place && cutter(gear, form) == own);
        Some(Self {
            problem,
            set,
            housed,
            distances_mm,
            tip_mm: idler.tip_mm() / 2.0,
            meshes: [mesh(0)?, mesh(1)?],
            shares_cutter,
        })
    }

    /// What is near it in the best box around it; or why there is no box. The
    /// side turns the forces, and so it may turn the order with least bending.
    fn near(&self, driving: &[StateForces], side: Side) -> Result<Vec<Near>, Vec<Why>> {
        let gearbox = self.housed.boxed(driving, side);
        match lay_out(&gearbox) {
            Ok(layout) => Ok(nearby(&gearbox, &layout)),
            Err(faults) => {
                let words = faults.iter().map(|fault| Why::Box(fault.words(&gearbox)));
                Err(words.collect())
            }
        }
    }

    fn at(&self, side: Side, centre: Point) -> Result<Place, Vec<Why>> {
        let mut why = Vec::new();
        let mut gaps = Vec::new();
        if let Some(room) = Surroundings::of(self.problem) {
            let idler = Idler::new(self.problem, self.tip_mm, self.distances_mm);
            if !room.allows(side) {
                why.push(Why::Side);
            }
            gaps = room.gaps(&idler, side, centre).collect();
            why.extend(
                gaps.iter()
                    .filter(|gap| !gap.holds())
                    .map(|gap| Why::Gap(*gap)),
            );
        }
        let driving = gear_forces(self.housed, side, Flow::Drives);
        let near = self.near(&driving, side).unwrap_or_else(|faults| {
            why.extend(faults);
            Vec::new()
        });
        let least_mm = self.problem.idler_pin().map_or(0.0, |pin| pin.gap().mm());
        let close = near
            .iter()
            .filter(|n| n.gap_mm < least_mm - LENGTH_SLACK_MM);
        why.extend(close.map(|n| Why::Near(*n, least_mm)));
        let overrun = gear_forces(self.housed, side, Flow::Overruns);
        let loads = pin_load(&driving).zip(pin_load(&overrun));
        let Some((drive, back)) = loads.filter(|_| why.is_empty()) else {
            return Err(why);
        };
        Ok(Place {
            teeth: self.teeth(),
            side,
            centre,
            distances_mm: self.distances_mm,
            gaps,
            near,
            loads: [drive, back],
            lower_mm: self.backlash_at(centre, (0.0, -ERROR_MM)),
            right_mm: self.backlash_at(centre, (ERROR_MM, 0.0)),
            shares_cutter: self.shares_cutter,
        })
    }

    fn teeth(&self) -> Teeth {
        self.meshes[0].gears()[1].teeth()
    }

    /// The axes of driver and driven gear.
    fn axes(&self) -> [Point; 2] {
        let upper = Point {
            x_mm: 0.0,
            y_mm: 0.0,
        };
        let lower = Point {
            x_mm: 0.0,
            y_mm: -self.set.centre_distance.mm(),
        };
        // Turning two about is undone by turning them about once more.
        self.problem.arrangement().upper_lower([upper, lower])
    }

    /// What moving the pin adds to the transverse backlash of both meshes, mm.
    fn backlash_at(&self, centre: Point, (dx, dy): (f64, f64)) -> [f64; 2] {
        let axes = self.axes();
        [0, 1].map(|i: usize| {
            let apart = (centre.x_mm + dx - axes[i].x_mm).hypot(centre.y_mm + dy - axes[i].y_mm);
            let [outer, idler] = *self.meshes[i].gears();
            let moved = Meshing::new(outer, idler, apart);
            moved.map_or(0.0, |m| m.backlash_mm() - self.meshes[i].backlash_mm())
        })
    }
}
