//! Parts as plain rings along the shafts.

use super::given::{End, Gearbox};
use crate::problem::{Arrangement, Shaft};
use crate::train::{Point, Role, Seat};

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartId {
    /// A shaft between its ends.
    Shaft(Shaft),
    /// A gear. The fixed gear that a shared reverse takes its drive from is the
    /// speed's.
    Gear(Role, Seat),
    /// The dog ring of a gear; of [`Role::Head`], the input gear's.
    DogRing(Role),
    /// A sleeve, by its place in the list given.
    Sleeve(usize),
    /// The idler's pin.
    Pin,
    /// The bearing of a shaft in a wall.
    Bearing(Shaft, End),
}

/// A part or a length of it: a ring about one of the axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// What it is; a shaft of several radii has one entry for each.
    pub id: PartId,
    /// Whose axis it is on.
    pub shaft: Shaft,
    /// Where it begins, mm from the input wall's inner face.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// Radius of its hole, mm; 0 for none.
    pub inner_radius_mm: f64,
    /// Its outer radius, mm.
    pub outer_radius_mm: f64,
}

impl PartId {
    /// Its name in sentences.
    pub fn name(self, gearbox: &Gearbox) -> String {
        let fixed = fixed_shaft(gearbox.arrangement).word();
        let free = free_shaft(gearbox.arrangement).word();
        let named = |shaft: Shaft| match shaft {
            Shaft::Layshaft => "layshaft".to_owned(),
            other => format!("{} shaft", other.word()),
        };
        match self {
            Self::Shaft(shaft) => named(shaft),
            Self::Gear(_, Seat::Idler) => "idler".to_owned(),
            Self::Gear(Role::Head, Seat::Driver) => "input gear".to_owned(),
            Self::Gear(Role::Head, Seat::Driven) => "layshaft gear of the head".to_owned(),
            Self::Gear(role, Seat::Driver) => format!("{fixed} gear of {}", gearbox.name(role)),
            Self::Gear(role, Seat::Driven) => format!("{free} gear of {}", gearbox.name(role)),
            Self::DogRing(Role::Head) => "dog ring of the input gear".to_owned(),
            Self::DogRing(role) => format!("dog ring of {}", gearbox.name(role)),
            Self::Sleeve(place) => {
                let served = gearbox.sleeves.get(place).into_iter().flatten();
                let names: Vec<&str> = served
                    .map(|&role| match role {
                        Role::Head => "direct",
                        other => gearbox.name(other),
                    })
                    .collect();
                format!("sleeve of {}", names.join(" and "))
            }
            Self::Pin => "idler's pin".to_owned(),
            Self::Bearing(shaft, end) => format!("{} bearing of the {}", end.word(), named(shaft)),
        }
    }
}

impl PartId {
    /// What a gear sits on, in sentences.
    pub fn sits_on(self, gearbox: &Gearbox) -> String {
        let shaft = match self {
            Self::Gear(_, Seat::Idler) => return "the idler's pin".to_owned(),
            // A spigot of the main shaft turns in it.
            Self::Gear(Role::Head, Seat::Driver) => return "the main shaft's spigot".to_owned(),
            Self::Gear(Role::Head, Seat::Driven) | Self::Gear(_, Seat::Driver) => {
                fixed_shaft(gearbox.arrangement)
            }
            _ => free_shaft(gearbox.arrangement),
        };
        format!("the {}", Self::Shaft(shaft).name(gearbox))
    }
}

/// The shaft whose gears are all fixed.
pub const fn fixed_shaft(arrangement: Arrangement) -> Shaft {
    match arrangement {
        Arrangement::InLine => Shaft::Layshaft,
        Arrangement::Offset => Shaft::Input,
    }
}

/// The shaft that carries free gears and sleeves.
pub const fn free_shaft(arrangement: Arrangement) -> Shaft {
    match arrangement {
        Arrangement::InLine => Shaft::Main,
        Arrangement::Offset => Shaft::Output,
    }
}

/// Where a shaft's axis is across the shafts; none for an idler that is not
/// there.
pub fn axis(gearbox: &Gearbox, shaft: Shaft) -> Option<Point> {
    let upper = Point {
        x_mm: 0.0,
        y_mm: 0.0,
    };
    let lower = Point {
        x_mm: 0.0,
        y_mm: -gearbox.centre_distance_mm,
    };
    match shaft {
        Shaft::Input | Shaft::Main => Some(upper),
        Shaft::Layshaft | Shaft::Output => Some(lower),
        Shaft::Idler => gearbox.reverse.as_ref().map(|r| r.idler.place),
    }
}

/// From one axis to another, mm.
pub(super) fn apart_mm(one: Point, other: Point) -> f64 {
    (one.x_mm - other.x_mm).hypot(one.y_mm - other.y_mm)
}
