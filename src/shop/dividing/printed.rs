//! A plate that is printed for one count, and drilled.

use super::Turns;
use crate::problem::DividingHead;
use serde::Serialize;
use std::f64::consts::{PI, TAU};

/// Fewest holes of a printed circle: as many as the smallest circle of the
/// usual plates has (row 5.01), so that sector arms made for those can be set.
const FEWEST_HOLES: u32 = 15;
/// Least radius of the circle, mm: about that of the smallest circle of the
/// usual plates (common practice, no source), and in the crank's reach.
const LEAST_RADIUS_MM: f64 = 30.0;
/// Least distance of two holes along the circle, mm: half as much again as the
/// pin's hole leaves metal, or board, between.
const SPACING_MM: f64 = 4.5;
/// The crank's pin, mm (common practice, no source).
const PIN_MM: f64 = 3.0;
/// The hole for the head's hub, mm; taken, to be bored to fit.
const CENTRE_HOLE_MM: f64 = 16.0;
/// Width of A4, less 5 mm on either side that printers leave white.
const A4_MM: f64 = 200.0;
/// From the circle to the rim, mm.
const RIM_MM: f64 = 6.0;

/// The circle of holes that gives a count exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct PrintedCircle {
    /// Whole turns of the crank from tooth to tooth.
    pub whole_turns: u32,
    /// Holes to move beyond them.
    pub move_holes: u32,
    /// Holes of the circle.
    pub circle_holes: u32,
}

/// A hole, from the centre of the plate.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlateHole {
    /// Anticlockwise from the first, degrees.
    pub angle_deg: f64,
    /// To the right, mm.
    pub x_mm: f64,
    /// Up, mm.
    pub y_mm: f64,
}

/// A plate to print at full size, with everything that stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlateDrawing {
    /// Holes of its circle.
    pub circle_holes: u32,
    /// Radius of the circle, mm.
    pub radius_mm: f64,
    /// Radius of its rim, mm.
    pub rim_radius_mm: f64,
    /// Whether a sheet of A4 holds it.
    pub fits_a4: bool,
    /// Diameter of the holes, mm.
    pub pin_hole_mm: f64,
    /// Diameter of the hole in the middle, mm.
    pub centre_hole_mm: f64,
    /// The holes, the first on the right, anticlockwise; none where they are
    /// left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holes: Vec<PlateHole>,
    /// What stands on it, a line each.
    pub text: Vec<String>,
}

/// The smallest circle of at least 15 holes that gives `count` exactly with
/// this worm; none where whole turns do it.
pub fn printed(head: &DividingHead, count: u32) -> Option<PrintedCircle> {
    let turns = Turns::of(i64::from(head.worm()), count);
    let least = u32::try_from(turns.denominator()).ok()?;
    if least == 1 {
        return None;
    }
    let circle_holes = least.checked_mul(FEWEST_HOLES.div_ceil(least))?;
    let (whole_turns, move_holes) = turns.on_circle(circle_holes)?;
    Some(PrintedCircle {
        whole_turns,
        move_holes,
        circle_holes,
    })
}

impl PrintedCircle {
    /// Turns of the crank from tooth to tooth.
    pub fn crank_turns(&self) -> Turns {
        let whole = Turns::of(i64::from(self.whole_turns), 1);
        whole.and(Turns::of(i64::from(self.move_holes), self.circle_holes))
    }

    /// The move from tooth to tooth.
    fn words(&self) -> String {
        let holes = format!("{} of {} holes", self.move_holes, self.circle_holes);
        match self.whole_turns {
            0 => format!("move {holes}"),
            1 => format!("move 1 turn + {holes}"),
            turns => format!("move {turns} turns + {holes}"),
        }
    }

    /// Radius on which its holes are far enough apart, whole mm.
    pub fn radius_mm(&self) -> f64 {
        let needed = f64::from(self.circle_holes) * SPACING_MM / TAU;
        needed.ceil().max(LEAST_RADIUS_MM)
    }

    /// The plate to print for `count` teeth.
    pub fn drawing(&self, head: &DividingHead, count: u32) -> PlateDrawing {
        let radius_mm = self.radius_mm();
        PlateDrawing {
            circle_holes: self.circle_holes,
            radius_mm,
            rim_radius_mm: radius_mm + RIM_MM,
            fits_a4: 2.0 * (radius_mm + RIM_MM) <= A4_MM,
            pin_hole_mm: PIN_MM,
            centre_hole_mm: CENTRE_HOLE_MM,
            holes: (0..self.circle_holes)
                .map(|place| hole(place, self.circle_holes, radius_mm))
                .collect(),
            text: vec![
                format!("{count} teeth, worm {}:1", head.worm()),
                self.words(),
                format!("circle of radius {radius_mm:.0} mm, holes {PIN_MM:.0} mm"),
            ],
        }
    }
}

fn hole(place: u32, holes: u32, radius_mm: f64) -> PlateHole {
    let part = f64::from(place) / f64::from(holes);
    let (sin, cos) = (TAU * part).sin_cos();
    PlateHole {
        angle_deg: 360.0 * part,
        x_mm: radius_mm * cos,
        y_mm: radius_mm * sin,
    }
}

/// What a hole out of place does at the work.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AtWork {
    /// Angle, seconds of arc.
    pub arc_seconds: f64,
    /// Along the pitch circle, µm.
    pub pitch_circle_um: f64,
}

/// A hole `off_mm` along a circle of `plate_radius_mm` turns the work by so
/// much less as the worm's ratio; at a pitch circle of `pitch_radius_mm`.
pub fn plate_error(
    head: &DividingHead,
    off_mm: f64,
    plate_radius_mm: f64,
    pitch_radius_mm: f64,
) -> AtWork {
    at_work(
        off_mm / plate_radius_mm / f64::from(head.worm()),
        pitch_radius_mm,
    )
}

/// Turns of the crank at the work, at a pitch circle of `pitch_radius_mm`.
pub fn crank_error(head: &DividingHead, turns: Turns, pitch_radius_mm: f64) -> AtWork {
    at_work(TAU * turns.over(head.worm()).to_f64(), pitch_radius_mm)
}

fn at_work(angle_rad: f64, pitch_radius_mm: f64) -> AtWork {
    AtWork {
        arc_seconds: angle_rad * 180.0 * 3600.0 / PI,
        pitch_circle_um: 1000.0 * angle_rad * pitch_radius_mm,
    }
}
