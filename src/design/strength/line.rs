//! The line that a shaft bends to, from its exact moments.
//!
//! In: bending moments, straight between the places where something acts; the
//! shaft's sections; what holds it. Out: slope and deflection anywhere, in the
//! planes of x-z and y-z. Assumed: Euler-Bernoulli (no shear), small angles,
//! rigid supports. Between two places curvature runs straight, so slope and
//! deflection are integrated exactly:
//!
//! v'' = M / (E I); θ₁ = θ₀ + h (κ₀ + κ₁) / 2;
//! v₁ = v₀ + θ₀ h + h² (2 κ₀ + κ₁) / 6 (handbooks).

use crate::design::forces::{Bending, Couple};
use std::f64::consts::PI;

/// A length of a shaft, round and of one diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Where it begins, mm.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// Its diameter, mm.
    pub outside_mm: f64,
    /// Diameter of the hole in it, mm; 0 for none.
    pub inside_mm: f64,
}

impl Section {
    /// I = π (D⁴ − d⁴) / 64, mm⁴.
    pub fn second_moment_mm4(&self) -> f64 {
        PI * (self.outside_mm.powi(4) - self.inside_mm.powi(4)) / 64.0
    }

    /// W = 2 I / D, mm³: that of torsion is twice as much.
    pub fn modulus_mm3(&self) -> f64 {
        2.0 * self.second_moment_mm4() / self.outside_mm
    }
}

/// What holds a shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hold {
    /// Two supports: where, mm, and how far each has given, mm (x, y).
    Two([(f64, [f64; 2]); 2]),
    /// A wall that lets it neither give nor lean.
    Wall(f64),
}

/// A stretch without a load, a step or a support inside.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    pub(super) from_mm: f64,
    pub(super) to_mm: f64,
    pub(super) section: Section,
    /// Moments at both ends, N mm, (x, y).
    pub(super) moments_n_mm: [[f64; 2]; 2],
}

/// Slope and deflection at one place.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bent {
    /// How far it gives, mm: x, y.
    pub deflection_mm: [f64; 2],
    /// How far it leans, rad: towards x and y along z.
    pub slope_rad: [f64; 2],
}

/// A bent shaft.
#[derive(Clone, Debug)]
pub struct Line {
    pieces: Vec<Piece>,
}

#[derive(Clone, Copy, Debug)]
struct Piece {
    from_mm: f64,
    to_mm: f64,
    start: Bent,
    curvatures: [[f64; 2]; 2],
}

impl Line {
    /// Of a shaft of modulus `elasticity_mpa`; `sections` ascending, not empty.
    pub fn new(
        bending: &[Bending],
        sections: &[Section],
        elasticity_mpa: f64,
        hold: Hold,
    ) -> Option<Self> {
        let mut pieces = Vec::new();
        let mut at = Bent::default();
        for stretch in stretches(bending, sections) {
            let stiffness = elasticity_mpa * stretch.section.second_moment_mm4();
            let piece = Piece {
                from_mm: stretch.from_mm,
                to_mm: stretch.to_mm,
                start: at,
                curvatures: stretch.moments_n_mm.map(|m| m.map(|m| m / stiffness)),
            };
            at = piece.after(stretch.to_mm - stretch.from_mm);
            pieces.push(piece);
        }
        let mut line = (!pieces.is_empty()).then_some(Self { pieces })?;
        line.hold(hold);
        Some(line)
    }

    /// Turns and moves the whole line so that it lies on its supports.
    fn hold(&mut self, hold: Hold) {
        let (anchor_mm, deflection, slope) = match hold {
            Hold::Wall(z_mm) => {
                let free = self.at(z_mm);
                let back = |v: [f64; 2]| v.map(|v| 0.0 - v);
                (z_mm, back(free.deflection_mm), back(free.slope_rad))
            }
            Hold::Two([(one_mm, one), (two_mm, two)]) => {
                let lacks = |z_mm: f64, given: [f64; 2]| {
                    let free = self.at(z_mm).deflection_mm;
                    [0, 1].map(|i| given[i] - free[i])
                };
                let (one, two) = (lacks(one_mm, one), lacks(two_mm, two));
                let slope = [0, 1].map(|i| (two[i] - one[i]) / (two_mm - one_mm));
                (one_mm, one, slope)
            }
        };
        for piece in &mut self.pieces {
            let ahead_mm = piece.from_mm - anchor_mm;
            for i in 0..2 {
                piece.start.deflection_mm[i] += deflection[i] + slope[i] * ahead_mm;
                piece.start.slope_rad[i] += slope[i];
            }
        }
    }

    /// Slope and deflection at a place; beyond its ends the shaft is straight.
    pub fn at(&self, z_mm: f64) -> Bent {
        let within = self.pieces.iter().rev().find(|piece| piece.from_mm <= z_mm);
        let Some(piece) = within.or(self.pieces.first()) else {
            return Bent::default();
        };
        let ahead_mm = z_mm - piece.from_mm;
        let length_mm = piece.to_mm - piece.from_mm;
        let inside_mm = ahead_mm.clamp(0.0, length_mm);
        let mut bent = piece.after(inside_mm);
        for i in 0..2 {
            bent.deflection_mm[i] += bent.slope_rad[i] * (ahead_mm - inside_mm);
        }
        bent
    }
}

impl Piece {
    fn after(&self, h_mm: f64) -> Bent {
        let length_mm = self.to_mm - self.from_mm;
        let [from, to] = self.curvatures;
        let mut bent = self.start;
        for i in 0..2 {
            let there = from[i] + (to[i] - from[i]) * h_mm / length_mm;
            let slope = self.start.slope_rad[i];
            bent.slope_rad[i] = slope + h_mm * f64::midpoint(from[i], there);
            bent.deflection_mm[i] += slope * h_mm + h_mm * h_mm * (2.0 * from[i] + there) / 6.0;
        }
        bent
    }
}

/// The shaft cut wherever something acts or its diameter changes.
pub(super) fn stretches(bending: &[Bending], sections: &[Section]) -> Vec<Stretch> {
    let edges = sections.iter().flat_map(|s| [s.from_mm, s.to_mm]);
    let mut cuts: Vec<f64> = bending.iter().map(|at| at.z_mm).chain(edges).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|a, b| a.total_cmp(b).is_eq());
    let pairs = cuts.windows(2).map(|pair| (pair[0], pair[1]));
    pairs
        .filter_map(|(from_mm, to_mm)| {
            let middle_mm = f64::midpoint(from_mm, to_mm);
            Some(Stretch {
                from_mm,
                to_mm,
                section: section_at(sections, middle_mm)?,
                moments_n_mm: [from_mm, to_mm].map(|z_mm| moment_n_mm(bending, middle_mm, z_mm)),
            })
        })
        .collect()
}

/// The section at a place; where there is none, the nearest.
pub(super) fn section_at(sections: &[Section], z_mm: f64) -> Option<Section> {
    let away_mm = |s: &Section| (s.from_mm - z_mm).max(z_mm - s.to_mm).max(0.0);
    let nearest = sections
        .iter()
        .min_by(|a, b| away_mm(a).total_cmp(&away_mm(b)));
    nearest.copied()
}

/// The moment at `z_mm`, on the straight part of its line that holds
/// `inside_mm`; 0 beyond all that acts.
fn moment_n_mm(bending: &[Bending], inside_mm: f64, z_mm: f64) -> [f64; 2] {
    let part = bending
        .windows(2)
        .find(|pair| pair[0].z_mm <= inside_mm && inside_mm <= pair[1].z_mm);
    let Some([from, to]) = part.and_then(|pair| <&[Bending; 2]>::try_from(pair).ok()) else {
        return [0.0; 2];
    };
    let share = (z_mm - from.z_mm) / (to.z_mm - from.z_mm);
    let (one, two) = (as_moment(from.behind), as_moment(to.before));
    [0, 1].map(|i| one[i] + (two[i] - one[i]) * share)
}

/// The moment whose sign is that of the curvature in x-z and y-z, N mm: a push
/// along x or y from the input side bends the shaft that way behind it.
fn as_moment(couple: Couple) -> [f64; 2] {
    [0.0 - couple.y_n_m * 1e3, couple.x_n_m * 1e3]
}

#[cfg(test)]
mod tests {
    use super::*;

    const E: f64 = 206_000.0;

    fn at(z_mm: f64, before_n_m: f64, behind_n_m: f64) -> Bending {
        let couple = |y_n_m: f64| Couple {
            x_n_m: y_n_m,
            y_n_m: 0.0,
        };
        Bending {
            z_mm,
            before: couple(before_n_m),
            behind: couple(behind_n_m),
            size_n_m: before_n_m.abs().max(behind_n_m.abs()),
        }
    }

    fn round(from_mm: f64, to_mm: f64, outside_mm: f64) -> Section {
        Section {
            from_mm,
            to_mm,
            outside_mm,
            inside_mm: 0.0,
        }
    }

    fn near(got: f64, expected: f64) -> bool {
        (got - expected).abs() <= 1e-12 + 1e-9 * expected.abs()
    }

    const FREE: [f64; 2] = [0.0, 0.0];

    // Handbooks: F in the middle of a span gives F L³ / (48 E I) there and
    // F L² / (16 E I) of slope at the ends. 400 N down on 100 mm.
    #[test]
    fn a_load_in_the_middle() {
        let sections = [round(-10.0, 120.0, 12.0)];
        let bending = [at(0.0, 0.0, 0.0), at(50.0, 10.0, 10.0), at(100.0, 0.0, 0.0)];
        let hold = Hold::Two([(0.0, FREE), (100.0, FREE)]);
        let line = Line::new(&bending, &sections, E, hold).unwrap();
        let ei = E * sections[0].second_moment_mm4();
        let sag = 400.0 * 100.0_f64.powi(3) / (48.0 * ei);
        let lean = 400.0 * 100.0_f64.powi(2) / (16.0 * ei);
        assert!(near(line.at(50.0).deflection_mm[1], -sag));
        assert!(near(line.at(0.0).slope_rad[1], -lean));
        assert!(near(line.at(100.0).slope_rad[1], lean));
        assert!(near(line.at(50.0).deflection_mm[0], 0.0));
        // Straight beyond its bearings, and beyond its last section.
        assert!(near(line.at(110.0).deflection_mm[1], 10.0 * lean));
        assert!(near(line.at(140.0).deflection_mm[1], 40.0 * lean));
        assert!(near(line.at(-20.0).deflection_mm[1], 20.0 * lean));
    }

    // Handbooks: a stub with F at its end gives F L³ / (3 E I); here the wall
    // is on the output side, the couple of the wall takes the moment to 0.
    #[test]
    fn a_stub_in_its_wall() {
        let sections = [round(0.0, 60.0, 8.0)];
        let bending = [at(20.0, 0.0, 0.0), at(60.0, 4.0, 0.0)];
        let line = Line::new(&bending, &sections, E, Hold::Wall(60.0)).unwrap();
        let ei = E * sections[0].second_moment_mm4();
        let given = 100.0 * 40.0_f64.powi(3) / (3.0 * ei);
        assert!(near(line.at(20.0).deflection_mm[1], given));
        assert!(near(line.at(60.0).deflection_mm[1], 0.0));
        assert!(near(line.at(60.0).slope_rad[1], 0.0));
        let tip = given + 20.0 * 100.0 * 40.0_f64.powi(2) / (2.0 * ei);
        assert!(near(line.at(0.0).deflection_mm[1], tip));
    }

    // By hand, moment-area: half of the span twice as stiff: with M = F L / 4
    // at the step, v there is F L³ / 48 of the mean of both flexibilities.
    #[test]
    fn a_step_in_the_middle() {
        let sections = [round(0.0, 50.0, 10.0), round(50.0, 100.0, 12.0)];
        let bending = [at(0.0, 0.0, 0.0), at(50.0, 10.0, 10.0), at(100.0, 0.0, 0.0)];
        let hold = Hold::Two([(0.0, FREE), (100.0, FREE)]);
        let line = Line::new(&bending, &sections, E, hold).unwrap();
        let soft = |s: &Section| 1.0 / (E * s.second_moment_mm4());
        let mean = f64::midpoint(soft(&sections[0]), soft(&sections[1]));
        let sag = 400.0 * 100.0_f64.powi(3) / 48.0 * mean;
        assert!(near(line.at(50.0).deflection_mm[1], -sag));
    }

    #[test]
    fn an_unloaded_shaft_lies_straight_on_what_has_given() {
        let sections = [round(0.0, 100.0, 10.0)];
        let hold = Hold::Two([(0.0, [0.02, 0.0]), (80.0, [0.0, -0.04])]);
        let line = Line::new(&[], &sections, E, hold).unwrap();
        let middle = line.at(40.0);
        assert!(near(middle.deflection_mm[0], 0.01) && near(middle.deflection_mm[1], -0.02));
        assert!(near(middle.slope_rad[1], -0.0005));
        assert!(Line::new(&[], &[], E, hold).is_none());
    }

    #[test]
    fn a_hole_takes_little_and_the_nearest_section_holds_in_gaps() {
        let tube = Section {
            inside_mm: 10.0,
            ..round(0.0, 10.0, 20.0)
        };
        let solid = round(0.0, 10.0, 20.0);
        assert!(near(
            tube.second_moment_mm4() / solid.second_moment_mm4(),
            15.0 / 16.0
        ));
        let both = [round(0.0, 10.0, 5.0), round(20.0, 30.0, 7.0)];
        let at = |z_mm| section_at(&both, z_mm).unwrap().outside_mm;
        assert!(near(at(14.0), 5.0) && near(at(16.0), 7.0) && near(at(40.0), 7.0));
    }
}
