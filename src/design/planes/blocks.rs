//! Which units there are, and which ways round each may stand.

use super::given::{Gearbox, ReverseForm};
use super::grid::Nm;
use super::idler::add_idler;
use super::part::PartId;
use super::unit::{Element, Frame, Unit};
use crate::train::Role;

/// One way round of a block: units one behind the other.
#[derive(Clone, Debug)]
pub(super) struct Variant {
    pub(super) units: Vec<usize>,
    /// Where each unit begins behind the first, as near as rules let them.
    pub(super) offsets: Vec<Nm>,
}

/// All that may be put in order.
#[derive(Debug, Default)]
pub(super) struct Space {
    pub(super) units: Vec<Unit>,
    /// How far behind the beginning of the first a later one must begin; none
    /// when it may not come later.
    pub(super) needs: Vec<Vec<Option<Nm>>>,
    pub(super) heads: Vec<Nm>,
    pub(super) tails: Vec<Nm>,
    pub(super) variants: Vec<Variant>,
    /// Ways round of the block that stands first, in line; none offset.
    pub(super) first: Vec<usize>,
    /// Ways round of each other block, in the order given.
    pub(super) blocks: Vec<Vec<usize>>,
    /// What was seen to meet.
    pub(super) clashes: Vec<(PartId, PartId)>,
}

/// Elements of the units of one variant.
type Shape = Vec<Vec<Element>>;

impl Space {
    pub(super) fn of(frame: &Frame) -> Self {
        let mut space = Self::default();
        let (first, blocks) = shapes(frame);
        space.first = first
            .iter()
            .filter_map(|s| space.variant(s, frame))
            .collect();
        for shapes in blocks {
            let variants = shapes.iter().filter_map(|s| space.variant(s, frame));
            let variants = variants.collect();
            space.blocks.push(variants);
        }
        space.settle_needs(frame);
        space
    }

    /// Takes a variant in, unless parts of it meet.
    fn variant(&mut self, shape: &Shape, frame: &Frame) -> Option<usize> {
        let mut units: Vec<Unit> = shape.iter().map(|elements| frame.unit(elements)).collect();
        add_idler(&mut units, frame);
        if let Some(clash) = units.iter().find_map(|unit| unit.clash(frame)) {
            self.clashes.push(clash);
            return None;
        }
        let mut offsets: Vec<Nm> = Vec::new();
        for (place, unit) in units.iter().enumerate() {
            let mut offset = 0;
            for (earlier, begins) in units.iter().take(place).zip(&offsets) {
                match earlier.need(unit, frame) {
                    Ok(need) => offset = offset.max(begins + need),
                    Err(clash) => {
                        self.clashes.push(clash);
                        return None;
                    }
                }
            }
            offsets.push(offset);
        }
        let from = self.units.len();
        self.units.extend(units);
        self.variants.push(Variant {
            units: (from..self.units.len()).collect(),
            offsets,
        });
        Some(self.variants.len() - 1)
    }

    fn settle_needs(&mut self, frame: &Frame) {
        self.heads = self.units.iter().map(|unit| unit.head(frame)).collect();
        self.tails = self.units.iter().map(|unit| unit.tail(frame)).collect();
        let mut clashes = Vec::new();
        let mut need = |one: &Unit, later: &Unit| {
            let need = one.need(later, frame);
            need.map_err(|clash| clashes.push(clash)).ok()
        };
        self.needs = self
            .units
            .iter()
            .map(|one| self.units.iter().map(|later| need(one, later)).collect())
            .collect();
        self.clashes.extend(clashes);
        self.clashes.sort_unstable();
        self.clashes.dedup();
    }
}

/// The shapes of the first block, and of the others.
fn shapes(frame: &Frame) -> (Vec<Shape>, Vec<Vec<Shape>>) {
    let gearbox = frame.gearbox;
    let row = |role: Role| frame.rows.iter().position(|row| row.role == role);
    let mut first = row(Role::Head).map(|head| vec![vec![vec![Element::Plane(head)]]]);
    let mut blocks: Vec<Vec<Shape>> = Vec::new();
    for (sleeve, served) in gearbox.sleeves.iter().enumerate() {
        let rows: Vec<usize> = served.iter().filter_map(|&role| row(role)).collect();
        let shapes = around(&rows, sleeve);
        if served.contains(&Role::Head) {
            let head = row(Role::Head).map(Element::Plane);
            let begins =
                |shape: &Shape| shape.first().and_then(|unit| unit.first()) == head.as_ref();
            first = Some(shapes.into_iter().filter(begins).collect());
        } else {
            blocks.push(shapes);
        }
    }
    if let (Some(own), true) = (row(Role::Reverse), slides(gearbox)) {
        blocks.push(vec![vec![vec![Element::Plane(own)]]]);
    }
    let mut first = first.unwrap_or_default();
    if let Some(Some((own, with))) = shares(gearbox).map(|with| row(Role::Reverse).zip(row(with))) {
        fuse(&mut first, &mut blocks, own, with);
    }
    (first, blocks)
}

/// The ways round of a sleeve and the planes it serves, as given first.
fn around(rows: &[usize], sleeve: usize) -> Vec<Shape> {
    let sleeve = Element::Sleeve(sleeve);
    match *rows {
        [one] => {
            let plane = Element::Plane(one);
            vec![vec![vec![plane, sleeve]], vec![vec![sleeve, plane]]]
        }
        [one, other] => {
            let (one, other) = (Element::Plane(one), Element::Plane(other));
            vec![
                vec![vec![one, sleeve, other]],
                vec![vec![other, sleeve, one]],
            ]
        }
        _ => Vec::new(),
    }
}

fn slides(gearbox: &Gearbox) -> bool {
    let form = gearbox.reverse.as_ref().map(|reverse| reverse.form);
    matches!(form, Some(ReverseForm::SlidingIdler { .. }))
}

fn shares(gearbox: &Gearbox) -> Option<Role> {
    match gearbox.reverse.as_ref()?.form {
        ReverseForm::Shared { with } => Some(with),
        _ => None,
    }
}

fn has(shapes: &[Shape], row: usize) -> bool {
    let plane = Element::Plane(row);
    let mut units = shapes.iter().flatten();
    units.any(|unit| unit.contains(&plane))
}

/// Makes one block of those of the two rows that share an idler, with the
/// planes beside each other.
fn fuse(first: &mut Vec<Shape>, blocks: &mut Vec<Vec<Shape>>, own: usize, with: usize) {
    let place = |blocks: &[Vec<Shape>], row| blocks.iter().position(|shapes| has(shapes, row));
    match (place(blocks, own), place(blocks, with)) {
        (Some(one), Some(other)) if one != other => {
            let later = blocks.remove(one.max(other));
            if let Some(earlier) = blocks.get_mut(one.min(other)) {
                let mut fused = joined(earlier, &later, (own, with));
                fused.extend(joined(&later, earlier, (own, with)));
                *earlier = fused;
            }
        }
        (Some(block), None) | (None, Some(block)) => {
            let later = blocks.remove(block);
            *first = joined(first, &later, (own, with));
        }
        _ => {}
    }
}

/// Shapes of `left` before shapes of `right` where the two rows come together.
fn joined(left: &[Shape], right: &[Shape], rows: (usize, usize)) -> Vec<Shape> {
    let ends = |shape: &Shape| {
        let elements = shape.iter().flatten();
        let mut planes = elements.filter_map(|element| match element {
            Element::Plane(row) => Some(*row),
            Element::Sleeve(_) => None,
        });
        let first = planes.next();
        (first, planes.next_back().or(first))
    };
    let mut all = Vec::new();
    for one in left {
        for other in right {
            let meeting = (ends(one).1, ends(other).0);
            if meeting == (Some(rows.0), Some(rows.1)) || meeting == (Some(rows.1), Some(rows.0)) {
                all.push(one.iter().chain(other).cloned().collect());
            }
        }
    }
    all
}
