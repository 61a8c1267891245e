//! What a box is made of, before anything has a place.

use crate::problem::{Arrangement, Case};
use crate::train::{Point, Role};

/// An end of the box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// The side that the input shaft comes in; its wall's inner face is z = 0.
    Input,
    /// The side that the output leaves by.
    Output,
}

impl End {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Input => Self::Output,
            Self::Output => Self::Input,
        }
    }

    /// The words for its wall.
    pub const fn wall(self) -> &'static str {
        match self {
            Self::Input => "input wall",
            Self::Output => "output wall",
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Input => "input",
            Self::Output => "output",
        }
    }
}

/// A gear as a plain ring; all radii in mm, hole < root < tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    /// Radius over the tips.
    pub tip_radius_mm: f64,
    /// Radius at the bottom of the teeth.
    pub root_radius_mm: f64,
    /// How far its hole reaches from the axis, bush and keyway included.
    pub hole_radius_mm: f64,
}

/// Two gears in mesh: a geared speed, or the head.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// What it is there for; [`Role::Head`] for the head only.
    pub role: Role,
    /// Its name in sentences.
    pub name: String,
    /// Face width of both gears, mm, above 0.
    pub face_width_mm: f64,
    /// The one that drives: on the layshaft or the input shaft; of the head, on
    /// the input shaft.
    pub driver: Wheel,
    /// The one that is driven: on the main or output shaft; of the head, on the
    /// layshaft.
    pub driven: Wheel,
}

/// How reverse is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReverseForm {
    /// Driver, idler and a free driven gear always in mesh, in one plane.
    ConstantMesh,
    /// The driven gear turns with its shaft; the idler slides out of mesh.
    SlidingIdler {
        /// The side it slides to.
        towards: End,
        /// How far beyond its own width it slides, mm, 0 or more.
        gap_mm: f64,
    },
    /// The driver is the fixed gear of a speed; the idler spans from that
    /// plane to the driven gear's plane beside it.
    Shared {
        /// The speed whose fixed gear drives.
        with: Role,
    },
}

/// How the pin of the idler is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pin {
    /// In one wall alone; in a case of plates it stays in its plate.
    Stub(End),
    /// In both walls.
    Through,
}

/// The idler and its pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Idler {
    /// Its size.
    pub wheel: Wheel,
    /// Its axis across the shafts (see the head of [`planes`](super)).
    pub place: Point,
    /// Radius of its pin, mm, no more than its hole.
    pub pin_radius_mm: f64,
    /// How the pin is held.
    pub pin: Pin,
}

/// The reverse gearing.
#[derive(Clone, Debug, PartialEq)]
pub struct Reverse {
    /// Its name in sentences.
    pub name: String,
    /// How it is made.
    pub form: ReverseForm,
    /// Face width of its gears, mm, above 0.
    pub face_width_mm: f64,
    /// The gear that drives; ignored where the form shares a speed's.
    pub driver: Wheel,
    /// The gear between.
    pub idler: Idler,
    /// The gear on the main or output shaft.
    pub driven: Wheel,
}

/// Lengths and radii common to the box, mm, none negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Length of a dog ring beside its gear: the least; a ring is made longer
    /// where a sleeve or the cutter needs the room.
    pub dog_ring_length_mm: f64,
    /// Width of a sleeve.
    pub sleeve_width_mm: f64,
    /// Outside radius of a sleeve, its fork's groove included.
    pub sleeve_radius_mm: f64,
    /// From a sleeve in neutral to a dog ring that it engages.
    pub neutral_gap_mm: f64,
    /// How far a sleeve goes over a ring, at most the ring's length.
    pub dog_overlap_mm: f64,
    /// Outside radius of the dog rings; none is the largest that stays under
    /// the roots.
    pub dog_ring_radius_mm: Option<f64>,
    /// Least metal of a dog ring over the hole of its gear.
    pub least_ring_mm: f64,
    /// Thrust washer between neighbours that turn at different speeds, or
    /// between one and a wall.
    pub thrust_washer_mm: f64,
    /// Thickness of the circlip behind each washer; 0 where shoulders take the
    /// thrust.
    pub circlip_mm: f64,
    /// Play along the shaft beside each washer.
    pub end_float_mm: f64,
    /// Least gap between parts that must not touch.
    pub least_gap_mm: f64,
    /// Radius of the disc cutter that cuts the gears of the layshaft (of an
    /// offset box, of the input shaft).
    pub cutter_radius_mm: f64,
    /// Thickness of both walls, above 0.
    pub wall_mm: f64,
}

/// A shaft; radii in mm, bearing bore ≤ bearing outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftSize {
    /// Radius between the walls.
    pub radius_mm: f64,
    /// Radius of the bearings' bore, and of the shaft in the walls; no more
    /// than the radius between the walls.
    pub bearing_bore_radius_mm: f64,
    /// Outside radius of the bearings, and of their holes in the case.
    pub bearing_outside_radius_mm: f64,
    /// How far it stands out of the input wall, mm, 0 or more.
    pub beyond_input_mm: f64,
    /// How far it stands out of the output wall, mm, 0 or more.
    pub beyond_output_mm: f64,
}

/// The input shaft of an in-line box, whose gear holds the main shaft's end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InputShaft {
    /// Its size; what stands out of the output wall is ignored.
    pub size: ShaftSize,
    /// Radius of the main shaft's end in the input gear (the spigot); no more
    /// than the hole of that gear.
    pub spigot_radius_mm: f64,
    /// How far the main shaft's end reaches into the input gear, mm, above 0
    /// and at most the gear's face width.
    pub spigot_length_mm: f64,
}

/// The shafts of a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shafts {
    /// The layshaft; of an offset box, the input shaft.
    pub fixed: ShaftSize,
    /// The main shaft; of an offset box, the output shaft. In line, what
    /// stands out of the input wall is ignored.
    pub free: ShaftSize,
    /// The input shaft of an in-line box.
    pub input: Option<InputShaft>,
}

/// How the gears of the layshaft (of an offset box, of the input shaft) are
/// joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Blanks {
    /// All of one piece: gaps widen to what the cutter needs.
    OnePiece,
    /// Each keyed or bonded on its own: gaps stay.
    Separate,
    /// Gaps stay, and as many gears as these gaps allow are of one piece.
    Auto,
}

/// What a layout is chosen by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// The shortest box; ties: most gears of one piece, then least bending,
    /// then the order as given.
    Shortest,
    /// The least bending moment; ties: the shortest box, then most gears of
    /// one piece, then the order as given.
    LeastBending,
}

/// Forces across the shafts while one pair carries, N, as (x, y).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The pair: a geared speed, or reverse.
    pub role: Role,
    /// On the gear of the layshaft or input shaft.
    pub on_driver_n: [f64; 2],
    /// On the gear of the main or output shaft.
    pub on_driven_n: [f64; 2],
    /// On the layshaft's gear of the head; 0 in an offset box.
    pub on_head_n: [f64; 2],
}

/// A box whose parts are known and whose places are not.
#[derive(Clone, Debug, PartialEq)]
pub struct Gearbox {
    /// How the shafts lie.
    pub arrangement: Arrangement,
    /// Between the two shafts, mm, above 0.
    pub centre_distance_mm: f64,
    /// The head pair; in line always, offset never.
    pub head: Option<Pair>,
    /// The geared speeds.
    pub speeds: Vec<Pair>,
    /// Reverse, if there is one.
    pub reverse: Option<Reverse>,
    /// Which one or two gears each sleeve serves; [`Role::Head`] is direct
    /// drive by the dogs of the input gear.
    pub sleeves: Vec<Vec<Role>>,
    /// Lengths and radii common to the box.
    pub sizes: Sizes,
    /// The shafts.
    pub shafts: Shafts,
    /// How fixed gears are joined.
    pub blanks: Blanks,
    /// What the layout is chosen by.
    pub goal: Goal,
    /// Loads per state; a state that is not named loads nothing.
    pub loads: Vec<Load>,
    /// How the case comes apart.
    pub case: Case,
}

impl Gearbox {
    /// The name of a pair, or of reverse.
    pub fn name(&self, role: Role) -> &str {
        let pairs = self.head.iter().chain(&self.speeds);
        let mut names = pairs.filter(|pair| pair.role == role);
        match (names.next(), &self.reverse) {
            (Some(pair), _) => &pair.name,
            (None, Some(reverse)) if role == Role::Reverse => &reverse.name,
            _ => "unknown",
        }
    }
}
