//! How everything stands along the shafts, and what holds it. Part of the checked
//! problem.

use super::teeth::Shaft;
use crate::base::Length;

/// How reverse is engaged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReverseForm {
    /// The idler is always in mesh, a dog locks the driven gear.
    ConstantMesh,
    /// The idler slides into mesh; the driven gear is fixed to its shaft.
    SlidingIdler,
    /// Like constant mesh, but the driving gear is that of the first speed
    /// ([`Problem::shared_speed`](super::Problem::shared_speed)) and no gear of its own.
    SharedDriver,
}

impl ReverseForm {
    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::ConstantMesh => "constant-mesh",
            Self::SlidingIdler => "sliding-idler",
            Self::SharedDriver => "shared-driver",
        }
    }
}

/// How layshaft gears are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holding {
    /// As many as can be cut in one piece.
    Auto,
    /// All in one piece.
    OnePiece,
    /// Each keyed.
    Keyed,
    /// Each bonded.
    Bonded,
    /// Each pressed on.
    Pressed,
}

/// What holds the shafts, and how it comes apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Case {
    /// Two end plates on pillars; either comes off.
    Plates,
    /// Halves parted along the plane of the shafts.
    Split,
    /// One body with bearing holes, open at the top.
    Closed,
}

/// What a case is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CaseMaterial {
    /// Aluminium alloy.
    Aluminium,
    /// Grey cast iron.
    CastIron,
    /// Steel.
    Steel,
}

impl CaseMaterial {
    /// Growth per kelvin (from memory).
    pub const fn growth_per_k(self) -> f64 {
        match self {
            Self::Aluminium => 23.0e-6,
            Self::CastIron => 10.5e-6,
            Self::Steel => 11.5e-6,
        }
    }

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Aluminium => "aluminium",
            Self::CastIron => "cast iron",
            Self::Steel => "steel",
        }
    }
}

/// One gear that a sleeve serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Served {
    /// A forward speed, by its place among all; the direct one too.
    Speed(usize),
    /// Reverse.
    Reverse,
}

/// The dogs round each ring; the sleeve has as many between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dogs {
    /// How many on a ring, 2 or more.
    pub count: u32,
    /// How far each stands out of its ring, mm.
    pub height_mm: f64,
    /// Width along the ring at half the height, mm, when given.
    pub width_mm: Option<f64>,
    /// By how much a pocket is wider than the dog in it, mm.
    pub play_mm: f64,
    /// Angle of the flanks to the axis, degrees; under torque it draws the
    /// sleeve in.
    pub back_taper_deg: f64,
    /// Force along the rod that the detent holds, N.
    pub detent_n: f64,
    /// Keys that the file gives, the others are usual.
    pub given: DogsGiven,
}

/// Which figures of the dogs the file gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DogsGiven {
    /// The back taper.
    pub back_taper: bool,
    /// What the detent holds.
    pub detent: bool,
}

/// How everything stands along the shafts.
#[derive(Clone, Debug, PartialEq)]
#[allow(clippy::struct_excessive_bools, reason = "each is a key of the file")]
pub struct Layout {
    pub(super) least_bending: bool,
    pub(super) forks: Vec<Vec<Served>>,
    pub(super) holding: Holding,
    pub(super) press_interference: Option<Length>,
    pub(super) left_hand: bool,
    pub(super) case: Case,
    pub(super) case_material: CaseMaterial,
    pub(super) wall: Length,
    pub(super) dog_ring: Length,
    pub(super) dog_overlap: Length,
    pub(super) dog_wall: Length,
    pub(super) dog_ring_outside: Option<Length>,
    pub(super) dogs: Dogs,
    pub(super) neutral_gap: Length,
    pub(super) sleeve_width: Length,
    pub(super) sleeve_outside: Option<Length>,
    pub(super) washer: Length,
    pub(super) circlip: Length,
    pub(super) end_float: Length,
    pub(super) cutter_radius: Length,
    pub(super) gap: Length,
    pub(super) input_span: Option<Length>,
    pub(super) datum: [Length; 2],
    pub(super) check_pins: [Option<Length>; 5],
}

impl Layout {
    /// Whether least bending ranks orders, not the shortest box.
    pub const fn least_bending(&self) -> bool {
        self.least_bending
    }
    /// Which speeds share a sleeve: one or two each, every speed once.
    pub fn forks(&self) -> &[Vec<Served>] {
        &self.forks
    }
    /// How layshaft gears are held.
    pub const fn holding(&self) -> Holding {
        self.holding
    }
    /// By how much the shaft is larger than the holes of gears pressed on it, on
    /// the diameter, when given.
    pub const fn press_interference(&self) -> Option<Length> {
        self.press_interference
    }
    /// Whether layshaft gears (input gears of an offset box) are left-handed.
    pub const fn left_hand(&self) -> bool {
        self.left_hand
    }
    /// What holds the shafts.
    pub const fn case(&self) -> Case {
        self.case
    }
    /// What that is made of.
    pub const fn case_material(&self) -> CaseMaterial {
        self.case_material
    }
    /// Thickness of the walls.
    pub const fn wall(&self) -> Length {
        self.wall
    }
    /// Length of a dog ring.
    pub const fn dog_ring(&self) -> Length {
        self.dog_ring
    }
    /// How deep dogs engage.
    pub const fn dog_overlap(&self) -> Length {
        self.dog_overlap
    }
    /// Least thickness of a dog ring over the hole of its gear.
    pub const fn dog_wall(&self) -> Length {
        self.dog_wall
    }
    /// Outside diameter of the dog rings, when given.
    pub const fn dog_ring_outside(&self) -> Option<Length> {
        self.dog_ring_outside
    }
    /// The dogs of each ring.
    pub const fn dogs(&self) -> &Dogs {
        &self.dogs
    }
    /// Gap between sleeve and dog ring in neutral.
    pub const fn neutral_gap(&self) -> Length {
        self.neutral_gap
    }
    /// Width of a sleeve.
    pub const fn sleeve_width(&self) -> Length {
        self.sleeve_width
    }
    /// Outside diameter of a sleeve, when given.
    pub const fn sleeve_outside(&self) -> Option<Length> {
        self.sleeve_outside
    }
    /// Thickness of a thrust washer.
    pub const fn washer(&self) -> Length {
        self.washer
    }
    /// Thickness of the circlip behind each thrust washer.
    pub const fn circlip(&self) -> Length {
        self.circlip
    }
    /// End float of a free gear.
    pub const fn end_float(&self) -> Length {
        self.end_float
    }
    /// Outside radius of the disc cutter.
    pub const fn cutter_radius(&self) -> Length {
        self.cutter_radius
    }
    /// Least gap between parts that do not touch.
    pub const fn gap(&self) -> Length {
        self.gap
    }
    /// Between the two bearings of an in-line box's input shaft, when given.
    pub const fn input_span(&self) -> Option<Length> {
        self.input_span
    }
    /// Where the upper axis lies from the datum: to the right, and up.
    pub const fn datum(&self) -> [Length; 2] {
        self.datum
    }
    /// The pin that checks this shaft's centre, when given.
    pub const fn check_pin(&self, shaft: Shaft) -> Option<Length> {
        self.check_pins[shaft as usize]
    }
}
