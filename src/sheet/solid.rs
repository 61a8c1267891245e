//! Bodies as triangles: prisms about axes, straight or twisted.

use crate::involute::outline;
use crate::train::Point;
use earcut::Earcut;
use std::f64::consts::{PI, TAU};

/// No chord of a body is further from its circle, mm: finer than printers are.
pub(super) const SOLID_CHORD_MM: f64 = 0.01;
/// Corners nearer to each other than this are one, mm: writers have as few
/// digits as that.
const APART_MM: f64 = 1e-3;

/// A closed body, mm: x and y as the end view has them, z towards the input
/// end, so that nothing is mirrored.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// What it is called.
    pub name: String,
    /// Its corners: x, y, z.
    pub corners_mm: Vec<[f64; 3]>,
    /// Triangles by their corners, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// Where a prism stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stand {
    /// Its axis.
    pub(super) axis: Point,
    /// From one end to the other, along z.
    pub(super) z_mm: [f64; 2],
    /// How far it is turned at z = 0.
    pub(super) turned_rad: f64,
    /// How far it turns a millimetre along z.
    pub(super) twist_rad_per_mm: f64,
}

impl Stand {
    /// Neither turned nor twisted.
    pub(super) const fn plain(axis: Point, z_mm: [f64; 2]) -> Self {
        Self {
            axis,
            z_mm,
            turned_rad: 0.0,
            twist_rad_per_mm: 0.0,
        }
    }

    /// Heights at which the outline is repeated: twisted flanks are straight
    /// between them.
    fn levels(&self, radius_mm: f64) -> Vec<f64> {
        let [from, to] = self.z_mm;
        let step = 2.0 * (1.0 - SOLID_CHORD_MM / radius_mm).clamp(-1.0, 1.0).acos();
        let wanted = ((to - from) * self.twist_rad_per_mm / step).abs().ceil();
        let layers = whole(wanted).max(1);
        let share = |k: u32| f64::from(k) / f64::from(layers);
        (0..=layers)
            .map(|k| from + (to - from) * share(k))
            .collect()
    }

    fn moved(&self, (x, y): (f64, f64), z: f64) -> [f64; 3] {
        let (sin, cos) = (self.turned_rad + self.twist_rad_per_mm * z).sin_cos();
        [
            self.axis.x_mm + cos * x - sin * y,
            self.axis.y_mm + sin * x + cos * y,
            z,
        ]
    }
}

/// The least whole number from `value`, which is not below 0.
fn whole(value: f64) -> u32 {
    (0..=10_000)
        .find(|k| f64::from(*k) >= value)
        .unwrap_or(10_000)
}

/// A circle as a polygon, counter-clockwise.
pub(super) fn round(radius_mm: f64) -> Vec<(f64, f64)> {
    let half = (1.0 - SOLID_CHORD_MM / radius_mm).clamp(-1.0, 1.0).acos();
    let corners = whole((PI / half).ceil()).max(24);
    let angle = |k: u32| TAU * f64::from(k) / f64::from(corners);
    (0..corners)
        .map(|k| (radius_mm * angle(k).cos(), radius_mm * angle(k).sin()))
        .collect()
}

/// The outline of a gear without corners that are as good as one.
pub(super) fn corners_of(outline: &outline::Outline) -> Vec<(f64, f64)> {
    let mut corners: Vec<(f64, f64)> = Vec::new();
    let apart = |one: (f64, f64), other: (f64, f64)| (one.0 - other.0).hypot(one.1 - other.1);
    for point in outline.points() {
        let own = (point.x_mm, point.y_mm);
        if corners
            .last()
            .is_none_or(|last| apart(*last, own) > APART_MM)
        {
            corners.push(own);
        }
    }
    corners
}

impl Solid {
    /// Every triangle: its corners, mm, and the direction outwards, of length 1.
    pub fn facets(&self) -> impl Iterator<Item = ([[f64; 3]; 3], [f64; 3])> {
        let corner = |k: u32| {
            let corner = usize::try_from(k).ok().and_then(|k| self.corners_mm.get(k));
            corner.copied().unwrap_or_default()
        };
        self.triangles.iter().map(move |triangle| {
            let corners = triangle.map(corner);
            (corners, outwards(corners))
        })
    }

    /// A prism of an outline, counter-clockwise about (0, 0), with a round hole
    /// along its axis where `hole_mm`, the radius, is above 0.
    pub(super) fn prism(
        name: impl Into<String>,
        outline: &[(f64, f64)],
        hole_mm: f64,
        stand: &Stand,
    ) -> Self {
        let hole = if hole_mm > 0.0 {
            round(hole_mm)
        } else {
            Vec::new()
        };
        let section: Vec<(f64, f64)> = outline.iter().chain(&hole).copied().collect();
        let reach = outline.iter().map(|(x, y)| x.hypot(*y)).fold(0.0, f64::max);
        let levels = stand.levels(reach);
        let corners = levels
            .iter()
            .flat_map(|z| section.iter().map(|corner| stand.moved(*corner, *z)));
        let mut solid = Self {
            name: name.into(),
            corners_mm: corners.collect(),
            triangles: Vec::new(),
        };
        let count = |of: usize| u32::try_from(of).unwrap_or(u32::MAX);
        let (outer, all) = (count(outline.len()), count(section.len()));
        let last = count(levels.len().saturating_sub(1)) * all;
        for [a, b, c] in cap(&section, outer) {
            solid.triangles.push([a, c, b]);
            solid.triangles.push([last + a, last + b, last + c]);
        }
        for level in 1..count(levels.len()) {
            let (below, above) = ((level - 1) * all, level * all);
            for (a, b) in round_trip(0, outer) {
                solid.quad([below + a, below + b, above + b, above + a]);
            }
            for (a, b) in round_trip(outer, all) {
                solid.quad([below + b, below + a, above + a, above + b]);
            }
        }
        solid
    }

    /// Two triangles, corners counter-clockwise from outside.
    fn quad(&mut self, [a, b, c, d]: [u32; 4]) {
        self.triangles.extend([[a, b, c], [a, c, d]]);
    }

    /// A round part with a hole: radii of the hole, 0 for none, and outside.
    pub(super) fn ring(name: impl Into<String>, radii_mm: [f64; 2], stand: &Stand) -> Self {
        Self::prism(name, &round(radii_mm[1]), radii_mm[0], stand)
    }
}

/// Neighbours of a closed row of corners.
fn round_trip(from: u32, to: u32) -> impl Iterator<Item = (u32, u32)> {
    (from..to).map(move |a| (a, if a + 1 == to { from } else { a + 1 }))
}

/// The section as triangles, counter-clockwise; its hole begins at `hole`.
fn cap(section: &[(f64, f64)], hole: u32) -> Vec<[u32; 3]> {
    let has_hole = usize::try_from(hole).is_ok_and(|hole| hole < section.len());
    let holes: &[u32] = if has_hole { &[hole] } else { &[] };
    let mut corners = Vec::new();
    let points = section.iter().map(|(x, y)| [*x, *y]);
    Earcut::new().earcut(points, holes, &mut corners);
    let at = |k: u32| {
        usize::try_from(k)
            .ok()
            .and_then(|k| section.get(k))
            .copied()
            .unwrap_or_default()
    };
    let turned = |&[a, b, c]: &[u32; 3]| {
        let ((ax, ay), (bx, by), (cx, cy)) = (at(a), at(b), at(c));
        let twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay);
        if twice < 0.0 { [a, c, b] } else { [a, b, c] }
    };
    corners.as_chunks::<3>().0.iter().map(turned).collect()
}

/// The direction square to a triangle, of length 1; none of a triangle without
/// area.
fn outwards([a, b, c]: [[f64; 3]; 3]) -> [f64; 3] {
    let [u, v] = [b, c].map(|to| [to[0] - a[0], to[1] - a[1], to[2] - a[2]]);
    let square = [
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    ];
    let long = square.iter().map(|part| part * part).sum::<f64>().sqrt();
    square.map(|part| if long > 0.0 { part / long } else { 0.0 })
}
