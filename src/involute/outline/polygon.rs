//! The whole gear as a closed polygon, to a chord error.

use super::chords::{chords, whole};
use super::{Arc, Curve, OutlineFault, Point, Tooth};

/// The chord error to take where nobody names another, mm.
pub const CHORD_ERROR_MM: f64 = 0.001;

/// Finest chord error, mm: a nanometre, far below any machine.
const FINEST_MM: f64 = 1e-6;

/// Coarsest chord error, in modules: above it a tooth is no tooth any more.
const COARSEST: f64 = 0.05;

/// Points nearer than this are one point, mm.
const APART_MM: f64 = 1e-9;

/// A gear's outline: counter-clockwise, closed from the last point to the
/// first, vertices on the exact curves, mirrored in every tooth's centre line.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    points: Vec<Point>,
}

impl Tooth {
    /// The whole gear's outline. No chord lies further than `chord_error_mm`
    /// from the curve it stands for ([`CHORD_ERROR_MM`] where nothing asks for
    /// another).
    ///
    /// # Errors
    /// When the chord error is below 10⁻⁶ mm or above a twentieth of the
    /// module.
    pub fn outline(&self, chord_error_mm: f64) -> Result<Outline, OutlineFault> {
        let most = COARSEST * self.cut().module_mm;
        if !(FINEST_MM..=most).contains(&chord_error_mm) {
            return Err(OutlineFault::Figure {
                name: "the chord error in mm",
                value: chord_error_mm,
                least: FINEST_MM,
                most,
            });
        }
        let half = self.half(chord_error_mm);
        let bottom = self.bottom();
        let teeth = self.cut().teeth.get();
        let per_tooth = 2 * half.len() + usize::from(bottom.is_some());
        let mut points = Vec::with_capacity(per_tooth * teeth as usize);
        for tooth in 0..teeth {
            let turn = direction(2 * tooth, teeth);
            let (up, down) = (half.iter().rev(), half.iter());
            points.extend(up.map(|point| point.mirrored().turned(turn)));
            points.extend(down.map(|point| point.turned(turn)));
            if let Some(radius_mm) = bottom {
                points.push(Point::new(radius_mm, 0.0).turned(direction(2 * tooth + 1, teeth)));
            }
        }
        Ok(Outline { points })
    }

    /// Vertices of involute and fillet of tooth 0, counter-clockwise from the
    /// end of the tip to the beginning of the root, both with it: the arcs
    /// between them are [`Tooth::tip`] and [`Tooth::root`].
    pub fn flank(&self, chord_error_mm: f64) -> Vec<Point> {
        let curves = [
            Curve::Involute(*self.involute()),
            Curve::Trochoid(*self.trochoid()),
        ];
        let inner = curves
            .iter()
            .flat_map(|curve| chords(curve, chord_error_mm));
        let (land_rad, _) = Curve::Arc(*self.root()).range();
        let end = Point::polar(self.root().radius_mm, land_rad);
        inner.chain([end]).collect()
    }

    /// Vertices from tip to root of tooth 0, counter-clockwise. The middle
    /// chord of tip and root crosses the centre lines, so that no vertex lies
    /// on them.
    fn half(&self, chord_error_mm: f64) -> Vec<Point> {
        let mut half = Vec::new();
        let (_, tip_rad) = Curve::Arc(*self.tip()).range();
        half.extend(centred(self.tip(), 0.0, tip_rad, chord_error_mm));
        half.extend(self.flank(chord_error_mm));
        let (land_rad, space_rad) = Curve::Arc(*self.root()).range();
        let width = land_rad - space_rad;
        let root = centred(self.root(), space_rad, width, chord_error_mm);
        half.extend(root.into_iter().rev());
        half.dedup_by(|next, last| {
            let step = next.minus(*last);
            step.radius_mm() < APART_MM
        });
        if self.bottom().is_some() {
            half.pop();
        }
        half
    }

    /// The radius of the one root point in the middle of a space, where the
    /// rack has no land and both fillets end there.
    fn bottom(&self) -> Option<f64> {
        let (land_rad, space_rad) = Curve::Arc(*self.root()).range();
        let radius_mm = self.root().radius_mm;
        (2.0 * radius_mm * (space_rad - land_rad) < APART_MM).then_some(radius_mm)
    }
}

impl Outline {
    /// The vertices, counter-clockwise from the space below tooth 0.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// Area inside the polygon, mm².
    pub fn area_mm2(&self) -> f64 {
        let next = self.points.iter().cycle().skip(1);
        let twice: f64 = (self.points.iter().zip(next))
            .map(|(a, b)| a.cross(*b))
            .sum();
        0.5 * twice
    }
}

/// Cosine and sine of half pitch `half_pitches` of a gear, a full turn being
/// twice its teeth. Folded into one octant first: directions that mirror each
/// other have the same digits.
fn direction(half_pitches: u32, teeth: u32) -> (f64, f64) {
    let turn = half_pitches % (2 * teeth);
    let below = turn > teeth;
    let upper = if below { 2 * teeth - turn } else { turn };
    let left = 2 * upper > teeth;
    let quarter = if left { teeth - upper } else { upper };
    let steep = 4 * quarter > teeth;
    // In steps of a quarter pitch: `teeth` of them are a right angle.
    let steps = if steep {
        teeth - 2 * quarter
    } else {
        2 * quarter
    };
    let angle = std::f64::consts::FRAC_PI_2 * f64::from(steps) / f64::from(teeth);
    let (sin, cos) = angle.sin_cos();
    let (sin, cos) = if steep { (cos, sin) } else { (sin, cos) };
    (
        if left { -cos } else { cos },
        if below { -sin } else { sin },
    )
}

/// Vertices on one side of the middle of an arc that reaches `half_rad` to
/// either side of `middle_rad`, from the middle outwards, the end left out: an
/// odd number of chords for the whole arc.
fn centred(arc: &Arc, middle_rad: f64, half_rad: f64, chord_error_mm: f64) -> Vec<Point> {
    let widest = 2.0
        * (1.0 - chord_error_mm / arc.radius_mm)
            .clamp(-1.0, 1.0)
            .acos();
    // The least odd number that is enough.
    let odd = 2 * whole(half_rad.abs() / widest + 0.5) - 1;
    let part = |k: u32| half_rad * f64::from(2 * k + 1) / f64::from(odd);
    let inside = (0..odd / 2).map(|k| Point::polar(arc.radius_mm, middle_rad + part(k)));
    inside.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_are_those_of_half_pitches_and_mirror_exactly() {
        for teeth in [5, 6, 8, 13, 40] {
            for turn in 0..2 * teeth {
                let (cos, sin) = direction(turn, teeth);
                let angle = std::f64::consts::PI * f64::from(turn) / f64::from(teeth);
                let asked = (angle.cos(), angle.sin());
                assert!((cos - asked.0).abs() < 1e-15 && (sin - asked.1).abs() < 1e-15);
                let (other_cos, other_sin) = direction(2 * teeth - turn, teeth);
                assert_eq!(cos.to_bits(), other_cos.to_bits());
                assert!((sin + other_sin).abs() <= 0.0);
            }
        }
    }

    #[test]
    fn an_arc_takes_the_least_odd_number_of_chords() {
        let arc = Arc {
            radius_mm: 1.0,
            from_rad: 0.0,
            to_rad: 0.5,
        };
        // A whole arc of 1 radian in 5, 3, 5 and 1 chords of so many radians;
        // vertices inside one half of it.
        for (chord_rad, inside) in [(0.25_f64, 2), (0.34, 1), (0.2, 2), (1.01, 0)] {
            let error = 1.0 - (chord_rad / 2.0).cos() + 1e-12;
            assert_eq!(centred(&arc, 0.0, 0.5, error).len(), inside, "{chord_rad}");
        }
    }
}
