//! Where the reverse idler may sit, as far as that depends on the reverse gears
//! alone: shafts, bearing bores, walls of the case.
//!
//! In: a checked [`Problem`] and the idler's distances from both shafts. Out:
//! its two places, and what is near each of them with the gap there is and the
//! gap asked for; how large gears may be that its pin passes. Assumed: the
//! reverse gears stand as near to the wall that holds the pin as they may.
//! Source: distances of circles in the plane across the shafts.
//!
//! [`Surroundings::admit`] and [`Surroundings::beside_pin`] are what the search
//! asks; which gears a box has is no matter of this room.

use crate::base::{LENGTH_SLACK_MM, Length, plain};
use crate::problem::{Arrangement, HeldIn, Problem, Shaft, Side};
use crate::train::{Point, idler_centres};

/// Something that the idler or its pin must keep clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// A shaft, from the idler's tips.
    Shaft(Shaft),
    /// The bearing bore of a shaft, from the pin's hole in the same wall.
    Bearing(Shaft),
    /// The inside of the case, from the idler's tips.
    Case,
}

impl Thing {
    /// Its name.
    pub fn words(self) -> String {
        match self {
            Self::Shaft(Shaft::Layshaft) => "layshaft".to_owned(),
            Self::Shaft(shaft) => format!("{} shaft", shaft.word()),
            Self::Bearing(shaft) => format!("{} bearing bore", shaft.word()),
            Self::Case => "inside of the case".to_owned(),
        }
    }
}

/// How near something is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// What is near.
    pub thing: Thing,
    /// The gap or the metal between, mm; negative where they overlap.
    pub gap_mm: f64,
    /// What is asked for, mm.
    pub least_mm: f64,
}

impl Gap {
    /// Whether it is as wide as asked.
    pub fn holds(&self) -> bool {
        self.gap_mm >= self.least_mm - LENGTH_SLACK_MM
    }

    /// What is too near, in words.
    pub fn words(&self) -> String {
        let (mm, asked) = (plain(self.gap_mm, 2), plain(self.least_mm, 2));
        let (thing, over) = (self.thing.words(), plain(-self.gap_mm, 2));
        match self.thing {
            Thing::Bearing(_) if self.gap_mm < 0.0 => {
                format!("pin hole cuts {over} mm into the {thing}")
            }
            Thing::Bearing(_) => format!("wall of {mm} mm to the {thing}; {asked} asked"),
            _ if self.gap_mm < 0.0 => format!("tips foul the {thing} by {over} mm"),
            _ => format!("tips {mm} mm from the {thing}; {asked} asked"),
        }
    }
}

/// The idler's size and its distances, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Idler {
    /// Tip radius.
    pub tip_mm: f64,
    /// From the driven gear's shaft (main) or, in an offset box, from the
    /// driving gear's (input): the upper shaft.
    pub upper_mm: f64,
    /// From the lower shaft.
    pub lower_mm: f64,
}

impl Idler {
    /// From the distances driver to idler and idler to driven gear.
    pub fn new(problem: &Problem, tip_mm: f64, distances_mm: [f64; 2]) -> Self {
        let [upper_mm, lower_mm] = problem.arrangement().upper_lower(distances_mm);
        Self {
            tip_mm,
            upper_mm,
            lower_mm,
        }
    }
}

/// What stands around the idler whatever the gears, in mm.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings {
    pin_radius_mm: f64,
    gap_mm: f64,
    min_wall_mm: f64,
    /// On the right, on the left.
    case_mm: [Option<f64>; 2],
    allowed: [bool; 2],
    /// Radii of the two shafts in the idler's plane, upper first.
    shafts_mm: [(Shaft, Option<f64>); 2],
    /// Radii of bearing bores in the walls that hold the pin: shaft, whether
    /// on the upper axis, radius.
    bearings_mm: [Option<(Shaft, bool, f64)>; 3],
}

impl Surroundings {
    /// What `problem` says; none where it has no `idler` block.
    pub fn of(problem: &Problem) -> Option<Self> {
        let pin = problem.idler_pin()?;
        let sizes = problem.shafting();
        let radius = |shaft| sizes.of(shaft).map(|size| size.diameter().mm() / 2.0);
        let [upper, lower] = problem.arrangement().upper_lower(problem.shafts(false));
        let bearing = |shaft, is_upper| {
            let bearing = sizes.of(shaft)?.bearing()?;
            Some((shaft, is_upper, bearing.outside().mm() / 2.0))
        };
        let in_input = pin.held_in() != HeldIn::OutputWall;
        let in_output = pin.held_in() != HeldIn::InputWall;
        // Of an in-line box the upper bearings of the two walls are of two
        // shafts; of an offset box one shaft has a like bearing in either.
        let in_line = problem.arrangement() == Arrangement::InLine;
        Some(Self {
            pin_radius_mm: pin.pin().mm() / 2.0,
            gap_mm: pin.gap().mm(),
            min_wall_mm: pin.min_wall().mm(),
            case_mm: Side::BOTH.map(|side| pin.case(side).map(Length::mm)),
            allowed: Side::BOTH.map(|side| pin.may_sit(side)),
            shafts_mm: [upper, lower].map(|shaft| (shaft, radius(shaft))),
            bearings_mm: [
                bearing(upper, true).filter(|_| in_output || !in_line),
                bearing(lower, false),
                bearing(Shaft::Input, true).filter(|_| in_input && in_line),
            ],
        })
    }

    /// Every gap of an idler on `side`, in a fixed order.
    pub fn gaps<'a>(
        &'a self,
        idler: &'a Idler,
        side: Side,
        place: Point,
    ) -> impl Iterator<Item = Gap> + 'a {
        let to = |is_upper: bool| {
            if is_upper {
                idler.upper_mm
            } else {
                idler.lower_mm
            }
        };
        let shafts = self.shafts_mm.into_iter().zip([true, false]);
        let shafts = shafts.filter_map(move |((shaft, radius_mm), is_upper)| {
            Some(Gap {
                thing: Thing::Shaft(shaft),
                gap_mm: to(is_upper) - idler.tip_mm - radius_mm?,
                least_mm: self.gap_mm,
            })
        });
        let bearings = self.bearings_mm.into_iter().flatten();
        let bearings = bearings.map(move |(shaft, is_upper, radius_mm)| Gap {
            thing: Thing::Bearing(shaft),
            gap_mm: to(is_upper) - self.pin_radius_mm - radius_mm,
            least_mm: self.min_wall_mm,
        });
        let case = self.case_mm[side as usize].map(|inside_mm| Gap {
            thing: Thing::Case,
            gap_mm: inside_mm - place.x_mm.abs() - idler.tip_mm,
            least_mm: self.gap_mm,
        });
        shafts.chain(bearings).chain(case)
    }

    /// The largest tip radii, on the upper and on the lower axis, that the pin is
    /// clear of, mm.
    pub fn beside_pin(&self, idler: &Idler) -> [f64; 2] {
        [idler.upper_mm, idler.lower_mm]
            .map(|apart| apart - self.pin_radius_mm - self.gap_mm + LENGTH_SLACK_MM)
    }

    /// Whether the pin may sit on that side at all.
    pub const fn allows(&self, side: Side) -> bool {
        self.allowed[side as usize]
    }

    /// Whether the idler is clear of all this on some side that is allowed.
    pub fn admit(&self, centres_mm: f64, idler: &Idler) -> bool {
        let Some(places) = idler_centres(centres_mm, idler.upper_mm, idler.lower_mm) else {
            return false;
        };
        Side::BOTH.into_iter().zip(places).any(|(side, place)| {
            self.allows(side) && self.gaps(idler, side, place).all(|gap| gap.holds())
        })
    }
}
