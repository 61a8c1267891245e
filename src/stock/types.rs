//! What is wanted, and what there is.

use crate::base::{Decimal, Length};
use crate::problem::{Bar, Problem};
use crate::train::{Gear, rough_length, rough_um};

/// Steps of a length in a micrometre.
const STEPS_PER_UM: i64 = 1_000_000;
/// What is shorter is no bar, steps.
const LEAST_ROOM: i64 = STEPS_PER_UM;

/// A material, by its place in [`Stock::materials`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Material(u16);

/// A piece to be cut off a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Piece {
    /// The thinnest bar that it can be made from.
    pub diameter: Length,
    /// How long it is cut.
    pub length: Length,
    /// What it must be made of; anything where none is said.
    pub material: Option<Material>,
}

/// A bar: one that is sold, or some alike on the rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rod {
    /// Its diameter.
    pub diameter: Length,
    /// Its whole length.
    pub length: Length,
    /// What it is made of.
    pub material: Material,
    /// Price in millionths of the currency; nothing on the rack.
    pub price_millionths: u64,
    /// How many there are; bars for sale never run out.
    pub count: usize,
}

/// Where a bar comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// The rack, by its place in [`Stock::rack`].
    Rack(usize),
    /// Bought, by its place in [`Stock::bars`].
    Bar(usize),
}

/// One bar and the pieces that are cut from it, by their places in the list
/// given.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Opened {
    /// Which bar.
    pub source: Source,
    /// Its pieces.
    pub pieces: Vec<usize>,
}

/// All there is, and how it is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    rack: Vec<Rod>,
    bars: Vec<Rod>,
    materials: Vec<String>,
    kerf: Length,
    grip: Length,
}

impl Stock {
    /// Of a width of cut, and an end of each bar that cannot be used; nothing
    /// on the rack or for sale yet.
    pub const fn new(kerf: Length, grip: Length) -> Self {
        Self {
            rack: Vec::new(),
            bars: Vec::new(),
            materials: Vec::new(),
            kerf,
            grip,
        }
    }

    /// What the workshop of a problem has and can buy.
    pub fn of(problem: &Problem) -> Self {
        let workshop = problem.workshop();
        let allowances = workshop.allowances();
        let mut stock = Self::new(allowances.kerf(), allowances.grip());
        for bar in workshop.rack() {
            let rod = stock.rod(bar, Decimal::whole(0), bar.count());
            stock.owns(rod);
        }
        for bar in workshop.bars() {
            let rod = stock.rod(bar, bar.price(), 1);
            stock.sells(rod);
        }
        stock
    }

    fn rod(&mut self, bar: &Bar, price: Decimal, count: usize) -> Rod {
        Rod {
            diameter: bar.diameter(),
            length: bar.length(),
            material: self.material(bar.material()),
            price_millionths: u64::try_from(price.millionths()).unwrap_or(0),
            count,
        }
    }

    /// The material of that name, new where it was not known.
    pub fn material(&mut self, name: &str) -> Material {
        let known = self.materials.iter().position(|known| known == name);
        let place = known.unwrap_or(self.materials.len());
        if known.is_none() {
            self.materials.push(name.to_owned());
        }
        Material(u16::try_from(place).unwrap_or(u16::MAX))
    }

    /// What gears must be made of, where the workshop of a problem says it.
    pub fn gear_material(&mut self, problem: &Problem) -> Option<Material> {
        let named = problem.workshop().gear_material();
        named.map(|name| self.material(name))
    }

    /// Puts a rod on the rack, as many as it says.
    pub fn owns(&mut self, rod: Rod) {
        self.rack.push(rod);
    }

    /// Offers a rod for sale, without end.
    pub fn sells(&mut self, rod: Rod) {
        self.bars.push(rod);
    }

    /// What is owned, in the order given.
    pub fn rack(&self) -> &[Rod] {
        &self.rack
    }

    /// What is sold, in the order given.
    pub fn bars(&self) -> &[Rod] {
        &self.bars
    }

    /// The bar of a source, where there is one.
    pub fn rod_of(&self, source: Source) -> Option<&Rod> {
        match source {
            Source::Rack(place) => self.rack.get(place),
            Source::Bar(place) => self.bars.get(place),
        }
    }

    /// Names of the materials.
    pub fn materials(&self) -> &[String] {
        &self.materials
    }

    /// The name of a material.
    pub fn name(&self, material: Material) -> &str {
        self.materials
            .get(usize::from(material.0))
            .map_or("", String::as_str)
    }

    /// Width of the cut between two pieces.
    pub const fn kerf(&self) -> Length {
        self.kerf
    }

    /// End of each bar that cannot be used.
    pub const fn grip(&self) -> Length {
        self.grip
    }

    /// What a piece takes of a bar: itself and one cut, in steps of length.
    pub const fn need(&self, piece: &Piece) -> i64 {
        piece.length.steps() + self.kerf.steps()
    }

    /// What a rod has for pieces, each with one cut, in steps of length. Without
    /// a grip the last piece may end with the bar and needs no cut, which is as
    /// if the bar were longer by one.
    pub const fn room(&self, rod: &Rod) -> i64 {
        let free = if self.grip.steps() == 0 {
            rod.length.steps() + self.kerf.steps()
        } else {
            rod.length.steps() - self.grip.steps()
        };
        if free < LEAST_ROOM { 0 } else { free }
    }

    /// Whether a piece may be cut from an untouched rod.
    pub fn yields(&self, rod: &Rod, piece: &Piece) -> bool {
        rod.suits(piece) && self.need(piece) <= self.room(rod)
    }
}

impl Rod {
    /// Whether it is thick enough for a piece, and of its material.
    pub fn suits(&self, piece: &Piece) -> bool {
        let alike = piece.material.is_none_or(|named| named == self.material);
        alike && piece.diameter <= self.diameter
    }
}

impl Piece {
    /// The piece that a gear of outside diameter `od_um` (µm) is made from.
    pub fn of_gear(problem: &Problem, gear: &Gear, od_um: u64, material: Option<Material>) -> Self {
        Self {
            diameter: Length::from_um(rough_um(problem, od_um)),
            length: rough_length(problem, gear.role, gear.seat, gear.face),
            material,
        }
    }
}
