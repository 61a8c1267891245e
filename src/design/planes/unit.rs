//! What moves as one when planes are put in order: a sleeve with the planes it
//! serves, or a plane without a sleeve.

use super::across::{Across, Axis};
use super::given::{Blanks, Gearbox, Wheel};
use super::grid::{FAR_NM, Nm, nm, nm_up};
use super::part::PartId;
use super::rows::Row;
use super::run_out::run_out_mm;

/// A plane, by its row, or a sleeve, by its place in the list given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Element {
    Plane(usize),
    Sleeve(usize),
}

/// A length of the shafts, from the beginning of its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stretch {
    /// A row, or a sleeve's place.
    pub(super) of: usize,
    pub(super) from: Nm,
    pub(super) to: Nm,
}

/// A ring that nothing may meet, wherever its part moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body {
    pub(super) id: PartId,
    pub(super) axis: Axis,
    pub(super) radius_mm: f64,
    pub(super) from: Nm,
    pub(super) to: Nm,
    /// Rows whose gears it works with and may meet.
    pub(super) rows: [Option<usize>; 2],
}

/// A rigid part of the order; 0 is where its first element begins.
#[derive(Clone, Debug)]
pub(super) struct Unit {
    pub(super) length: Nm,
    pub(super) planes: Vec<Stretch>,
    pub(super) rings: Vec<Stretch>,
    /// Sleeves in neutral.
    pub(super) sleeves: Vec<Stretch>,
    pub(super) bodies: Vec<Body>,
}

/// All that placing needs to know of the box.
#[derive(Debug)]
pub(super) struct Frame<'a> {
    pub(super) gearbox: &'a Gearbox,
    pub(super) rows: Vec<Row>,
    pub(super) across: Across,
    /// Outer radius of the dog rings of each sleeve, mm.
    pub(super) ring_radii_mm: Vec<f64>,
    /// Whether a row has the idler's teeth beside it.
    pub(super) idler_at: Vec<bool>,
}

impl Frame<'_> {
    /// Between neighbours along a shaft: washer, circlip and play, or the least gap.
    pub(super) fn apart(&self) -> Nm {
        let sizes = &self.gearbox.sizes;
        let held = sizes.thrust_washer_mm + sizes.circlip_mm;
        nm(held + sizes.end_float_mm).max(self.gap())
    }

    pub(super) fn gap(&self) -> Nm {
        nm_up(self.gearbox.sizes.least_gap_mm)
    }

    /// The gap that cutting two gears of one blank needs, both ways.
    pub(super) fn run_out(&self, one: Wheel, other: Wheel) -> Nm {
        let radius_mm = self.gearbox.sizes.cutter_radius_mm;
        let needed_mm = run_out_mm(radius_mm, one.root_radius_mm, other.tip_radius_mm).max(
            run_out_mm(radius_mm, other.root_radius_mm, one.tip_radius_mm),
        );
        nm_up(needed_mm)
    }

    /// How long a dog ring must be for the engaged sleeve to clear what turns
    /// beside the gear.
    fn ring(&self, row: usize) -> Nm {
        let sizes = &self.gearbox.sizes;
        let sleeve = (Axis::Free, sizes.sleeve_radius_mm);
        let fixed = self.rows[row].fixed;
        let fixed = fixed.is_some_and(|w| self.across.meet(sleeve, (Axis::Fixed, w.tip_radius_mm)));
        let idler = self.gearbox.reverse.as_ref().is_some_and(|reverse| {
            let radius_mm = reverse.idler.wheel.tip_radius_mm;
            self.idler_at[row] && self.across.meet(sleeve, (Axis::Idler, radius_mm))
        });
        let beside = nm(sizes.dog_overlap_mm) + self.gap();
        let least = nm(sizes.dog_ring_length_mm);
        if fixed || idler {
            least.max(beside)
        } else {
            least
        }
    }

    /// What both rings between two planes grow by so that the cutter has room,
    /// first the left one's share.
    fn growth(&self, left: usize, right: usize, between: Nm) -> (Nm, Nm) {
        let pair = self.rows[left].fixed.zip(self.rows[right].fixed);
        let lacking = match (self.gearbox.blanks, pair) {
            (Blanks::OnePiece, Some((one, other))) => self.run_out(one, other) - between,
            _ => 0,
        };
        let lacking = lacking.max(0);
        (lacking - lacking / 2, lacking / 2)
    }

    /// The unit of these elements: a plane; a plane and a sleeve either way
    /// round; or a sleeve between two planes.
    pub(super) fn unit(&self, elements: &[Element]) -> Unit {
        let sizes = &self.gearbox.sizes;
        let (width, neutral) = (nm(sizes.sleeve_width_mm), nm(sizes.neutral_gap_mm));
        let grown = match *elements {
            [
                Element::Plane(left),
                Element::Sleeve(_),
                Element::Plane(right),
            ] => {
                let rings = self.ring(left) + self.ring(right);
                self.growth(left, right, rings + 2 * neutral + width)
            }
            _ => (0, 0),
        };
        let mut build = Build::new(self);
        for (place, element) in elements.iter().enumerate() {
            match *element {
                Element::Sleeve(sleeve) => build.sleeve(sleeve, width),
                Element::Plane(row) if elements.len() == 1 => build.plane(row),
                Element::Plane(row) if place == 0 => {
                    build.plane(row);
                    build.ring(row, self.ring(row) + grown.0);
                    build.unit.length += neutral;
                }
                Element::Plane(row) => {
                    build.unit.length += neutral;
                    build.ring(row, self.ring(row) + grown.1);
                    build.plane(row);
                }
            }
        }
        build.bodies(elements);
        build.unit
    }
}

struct Build<'a, 'b> {
    frame: &'a Frame<'b>,
    unit: Unit,
}

impl<'a, 'b> Build<'a, 'b> {
    fn new(frame: &'a Frame<'b>) -> Self {
        let unit = Unit {
            length: 0,
            planes: Vec::new(),
            rings: Vec::new(),
            sleeves: Vec::new(),
            bodies: Vec::new(),
        };
        Self { frame, unit }
    }

    /// The next `length` of the shafts.
    fn next(&mut self, of: usize, length: Nm) -> Stretch {
        let from = self.unit.length;
        let to = from + length;
        self.unit.length = to;
        Stretch { of, from, to }
    }

    fn plane(&mut self, row: usize) {
        let stretch = self.next(row, self.frame.rows[row].face);
        self.unit.planes.push(stretch);
    }

    fn ring(&mut self, row: usize, length: Nm) {
        let stretch = self.next(row, length);
        self.unit.rings.push(stretch);
    }

    fn sleeve(&mut self, sleeve: usize, width: Nm) {
        let stretch = self.next(sleeve, width);
        self.unit.sleeves.push(stretch);
    }

    fn bodies(&mut self, elements: &[Element]) {
        let frame = self.frame;
        let mut bodies = Vec::new();
        for plane in &self.unit.planes {
            let row = frame.rows[plane.of];
            let body = |id, axis, radius_mm| Body {
                id,
                axis,
                radius_mm,
                from: plane.from,
                to: plane.to,
                rows: [Some(plane.of), None],
            };
            if let Some(wheel) = row.fixed {
                bodies.push(body(row.fixed_id(), Axis::Fixed, wheel.tip_radius_mm));
            }
            bodies.push(body(row.free_id(), Axis::Free, row.free.tip_radius_mm));
        }
        let sleeve = self.unit.sleeves.first();
        for ring in &self.unit.rings {
            let radius_mm = sleeve.and_then(|s| frame.ring_radii_mm.get(s.of)).copied();
            bodies.push(Body {
                id: PartId::DogRing(frame.rows[ring.of].role),
                axis: Axis::Free,
                radius_mm: radius_mm.unwrap_or_default(),
                from: ring.from,
                to: ring.to,
                rows: [Some(ring.of), None],
            });
        }
        bodies.extend(sleeve.map(|sleeve| self.swept(*sleeve, elements)));
        self.unit.bodies = bodies;
    }

    /// A sleeve in all its positions.
    fn swept(&self, sleeve: Stretch, elements: &[Element]) -> Body {
        let sizes = &self.frame.gearbox.sizes;
        let travel = nm(sizes.neutral_gap_mm) + nm(sizes.dog_overlap_mm);
        let moves = |end: Option<&Element>| match end {
            Some(Element::Plane(_)) => travel,
            _ => 0,
        };
        Body {
            id: PartId::Sleeve(sleeve.of),
            axis: Axis::Free,
            radius_mm: sizes.sleeve_radius_mm,
            from: sleeve.from - moves(elements.first()),
            to: sleeve.to + moves(elements.last()),
            rows: [None, None],
        }
    }
}

impl Body {
    /// Whether two bodies on different axes must stay behind each other.
    pub(super) fn meets(&self, other: &Self, across: &Across) -> bool {
        let mates = self.rows.iter().flatten().any(|row| {
            let mut others = other.rows.iter().flatten();
            others.any(|mate| mate == row)
        });
        self.axis != other.axis
            && !mates
            && across.meet((self.axis, self.radius_mm), (other.axis, other.radius_mm))
    }
}

impl Unit {
    /// Two bodies of one unit that meet.
    pub(super) fn clash(&self, frame: &Frame) -> Option<(PartId, PartId)> {
        let gap = frame.gap();
        for (i, one) in self.bodies.iter().enumerate() {
            let near = |other: &&Body| one.from < other.to + gap && other.from < one.to + gap;
            let mut others = self.bodies.iter().skip(i + 1).filter(near);
            if let Some(other) = others.find(|other| one.meets(other, &frame.across)) {
                return Some((one.id, other.id));
            }
        }
        None
    }

    /// How far behind the beginning of `self` a later unit must begin, and
    /// which bodies say so when the answer is "nowhere".
    pub(super) fn need(&self, later: &Self, frame: &Frame) -> Result<Nm, (PartId, PartId)> {
        let mut need = self.length + frame.apart();
        for one in &self.bodies {
            for other in &later.bodies {
                if one.meets(other, &frame.across) {
                    if one.to >= FAR_NM || other.from <= -FAR_NM {
                        return Err((one.id, other.id));
                    }
                    need = need.max(one.to + frame.gap() - other.from);
                }
            }
        }
        Ok(need.max(self.cutting_need(later, frame)))
    }

    /// The same for cutting the gears of one blank.
    fn cutting_need(&self, later: &Self, frame: &Frame) -> Nm {
        let mut need = 0;
        if frame.gearbox.blanks == Blanks::OnePiece {
            for (one, wheel) in self.fixed(frame) {
                for (other, later_wheel) in later.fixed(frame) {
                    need = need.max(one.to + frame.run_out(wheel, later_wheel) - other.from);
                }
            }
        }
        need
    }

    /// The planes with a fixed gear, in order along the shaft.
    pub(super) fn fixed<'a>(
        &'a self,
        frame: &'a Frame,
    ) -> impl Iterator<Item = (Stretch, Wheel)> + 'a {
        let fixed = |plane: &Stretch| Some((*plane, frame.rows[plane.of].fixed?));
        self.planes.iter().filter_map(fixed)
    }

    /// Least distance of its beginning from the input wall.
    pub(super) fn head(&self, frame: &Frame) -> Nm {
        let idlers = self
            .idler()
            .map(|(from, _)| frame.gap() - from)
            .unwrap_or_default();
        frame.apart().max(idlers)
    }

    /// Least distance of the output wall from its beginning.
    pub(super) fn tail(&self, frame: &Frame) -> Nm {
        let idlers = self
            .idler()
            .map(|(_, to)| frame.gap() + to)
            .unwrap_or_default();
        (self.length + frame.apart()).max(idlers)
    }

    /// All that the idler sweeps.
    fn idler(&self) -> Option<(Nm, Nm)> {
        let mut bodies = self.bodies.iter();
        let idler = bodies.find(|b| b.axis == Axis::Idler && b.id != PartId::Pin)?;
        Some((idler.from, idler.to))
    }
}
