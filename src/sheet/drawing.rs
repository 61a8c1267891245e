//! The model: groups of plain shapes on layers with a meaning.

use crate::problem::Side;
use crate::train::Point;

/// A drawing at full size, mm, y up.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it is, in a few words.
    pub title: String,
    /// What it shows, in a sentence, for those who do not see it.
    pub about: String,
    /// All that must be on the paper.
    pub frame: Box2,
    /// What is drawn, from the back to the front.
    pub groups: Vec<Group>,
}

/// What belongs together: a gear, a dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What kind of thing.
    pub kind: Kind,
    /// Its name in sentences; empty where it has none.
    pub of: String,
    /// The states it is drawn in; all where there are none.
    pub states: Vec<String>,
    /// The side of the idler it is drawn with; both where there is none.
    pub side: Option<Side>,
    /// What it turns about.
    pub axis: Option<Point>,
    /// How far it stands to the right in some states, mm.
    pub moves: Vec<(String, f64)>,
    /// Its shapes.
    pub items: Vec<Item>,
}

/// Kinds of things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Kind {
    Gear,
    /// A gear as the drawing office has it: circles in place of teeth.
    Circles,
    Shaft,
    Sleeve,
    Dog,
    Bearing,
    Pin,
    Wall,
    Plate,
    Bar,
    Hole,
    Label,
    Count,
    Dimension,
    Datum,
    Power,
    Sense,
}

/// What a line means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Layer {
    Outline,
    Hidden,
    Centre,
    Pitch,
    Tip,
    Root,
    Bore,
    Hatch,
    Fill,
    Dimension,
    Text,
    Mark,
    Power,
    Sense,
}

/// A shape on its layer.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it means.
    pub layer: Layer,
    /// What it is.
    pub shape: Shape,
}

/// A corner of a path, reached from the one before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Where.
    pub at: Point,
    /// The arc that leads here; a straight line where there is none.
    pub arc: Option<Bend>,
}

/// An arc between two corners of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Its radius, mm.
    pub radius_mm: f64,
    /// The angle it turns, radians, counter-clockwise above 0.
    pub turn_rad: f64,
}

/// Where a text stands from its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// A shape, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// From one point to another.
    Line(Point, Point),
    /// A whole circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// Its radius, mm.
        radius_mm: f64,
    },
    /// Counter-clockwise from one angle to another.
    Arc {
        /// Its middle.
        centre: Point,
        /// Its radius, mm.
        radius_mm: f64,
        /// Where it begins, degrees from the x axis.
        from_deg: f64,
        /// Where it ends, degrees.
        to_deg: f64,
    },
    /// Corners joined by lines and arcs; closed from the last to the first by
    /// the arc of the first.
    Path {
        /// The corners.
        corners: Vec<Vertex>,
        /// Whether it is closed.
        closed: bool,
    },
    /// The outline of a gear: one tooth about (0, 0), repeated by turning, then
    /// turned and moved.
    Teeth {
        /// The corners of one tooth, counter-clockwise, the centre line along +x;
        /// the first is reached from the last of the tooth before.
        tooth: Vec<Vertex>,
        /// How many.
        times: u32,
        /// Where the axis is.
        at: Point,
        /// How far the first tooth is turned, degrees.
        turned_deg: f64,
    },
    /// A rectangle between two corners, the lower left first.
    Rect(Point, Point),
    /// Words.
    Text {
        /// What they say.
        words: String,
        /// Where their foot stands.
        at: Point,
        /// Size of the type, mm, as programs set it.
        size_mm: f64,
        /// Which part of them stands there.
        anchor: Anchor,
    },
}

/// A rectangle on the paper, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Box2 {
    /// Lower left.
    pub low: Point,
    /// Upper right.
    pub high: Point,
}

pub(super) const fn at(x_mm: f64, y_mm: f64) -> Point {
    Point { x_mm, y_mm }
}

impl Box2 {
    /// Between two corners in any order.
    pub const fn new(one: Point, other: Point) -> Self {
        Self {
            low: at(one.x_mm.min(other.x_mm), one.y_mm.min(other.y_mm)),
            high: at(one.x_mm.max(other.x_mm), one.y_mm.max(other.y_mm)),
        }
    }

    /// Wider by so much on every side.
    #[must_use]
    pub const fn grown(self, by_mm: f64) -> Self {
        Self {
            low: at(self.low.x_mm - by_mm, self.low.y_mm - by_mm),
            high: at(self.high.x_mm + by_mm, self.high.y_mm + by_mm),
        }
    }

    /// Around both.
    #[must_use]
    pub const fn with(self, other: Self) -> Self {
        Self {
            low: at(
                self.low.x_mm.min(other.low.x_mm),
                self.low.y_mm.min(other.low.y_mm),
            ),
            high: at(
                self.high.x_mm.max(other.high.x_mm),
                self.high.y_mm.max(other.high.y_mm),
            ),
        }
    }

    /// Around a circle.
    pub const fn round(centre: Point, radius_mm: f64) -> Self {
        Self::new(centre, centre).grown(radius_mm)
    }

    /// From left to right, mm.
    pub const fn width_mm(&self) -> f64 {
        self.high.x_mm - self.low.x_mm
    }

    /// From bottom to top, mm.
    pub const fn height_mm(&self) -> f64 {
        self.high.y_mm - self.low.y_mm
    }
}

impl Group {
    /// A group that is always drawn and never moves.
    pub fn new(kind: Kind, of: impl Into<String>, items: Vec<Item>) -> Self {
        Self {
            kind,
            of: of.into(),
            states: Vec::new(),
            side: None,
            axis: None,
            moves: Vec::new(),
            items,
        }
    }
}

impl Layer {
    /// Every layer.
    pub const ALL: [Self; 14] = [
        Self::Outline,
        Self::Hidden,
        Self::Centre,
        Self::Pitch,
        Self::Tip,
        Self::Root,
        Self::Bore,
        Self::Hatch,
        Self::Fill,
        Self::Dimension,
        Self::Text,
        Self::Mark,
        Self::Power,
        Self::Sense,
    ];

    /// A shape on this layer.
    pub const fn draws(self, shape: Shape) -> Item {
        Item { layer: self, shape }
    }

    /// A line on this layer.
    pub const fn line(self, from: Point, to: Point) -> Item {
        self.draws(Shape::Line(from, to))
    }

    /// A circle on this layer.
    pub const fn circle(self, centre: Point, radius_mm: f64) -> Item {
        self.draws(Shape::Circle { centre, radius_mm })
    }

    /// A rectangle on this layer, corners in any order.
    pub const fn rect(self, one: Point, other: Point) -> Item {
        let Box2 { low, high } = Box2::new(one, other);
        self.draws(Shape::Rect(low, high))
    }

    /// Its name in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Outline => "outline",
            Self::Hidden => "hidden",
            Self::Centre => "centre",
            Self::Pitch => "pitch",
            Self::Tip => "tip",
            Self::Root => "root",
            Self::Bore => "bore",
            Self::Hatch => "hatch",
            Self::Fill => "fill",
            Self::Dimension => "dimension",
            Self::Text => "text",
            Self::Mark => "mark",
            Self::Power => "power",
            Self::Sense => "sense",
        }
    }
}

impl Kind {
    /// Its name in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Gear => "gear",
            Self::Circles => "circles",
            Self::Shaft => "shaft",
            Self::Sleeve => "sleeve",
            Self::Dog => "dog",
            Self::Bearing => "bearing",
            Self::Pin => "pin",
            Self::Wall => "wall",
            Self::Plate => "plate",
            Self::Bar => "bar",
            Self::Hole => "hole",
            Self::Label => "label",
            Self::Count => "count",
            Self::Dimension => "dimension",
            Self::Datum => "datum",
            Self::Power => "power",
            Self::Sense => "sense",
        }
    }
}

impl Bend {
    /// Whether the arc is longer than a half circle.
    pub fn is_large(&self) -> bool {
        self.turn_rad.abs() > std::f64::consts::PI
    }

    /// Whether it turns counter-clockwise.
    pub fn is_counter_clockwise(&self) -> bool {
        self.turn_rad > 0.0
    }

    /// The tangent of a quarter of its angle, as DXF has it.
    pub fn bulge(&self) -> f64 {
        (self.turn_rad / 4.0).tan()
    }
}

impl Vertex {
    /// Reached by a straight line.
    pub const fn corner(at: Point) -> Self {
        Self { at, arc: None }
    }

    /// Turned about (0, 0) by an angle, then moved.
    #[must_use]
    pub fn moved(self, turned_rad: f64, to: Point) -> Self {
        let (sin, cos) = turned_rad.sin_cos();
        let Point { x_mm, y_mm } = self.at;
        Self {
            at: at(
                to.x_mm + cos * x_mm - sin * y_mm,
                to.y_mm + sin * x_mm + cos * y_mm,
            ),
            ..self
        }
    }
}
