//! How much more a tooth bears when it is loaded seldom.
//!
//! Source: ISO 6336-2:2006 table 2 and ISO 6336-3:2006 table 1, no pitting
//! allowed, from memory. What the norm promises nothing for (bronze, brass,
//! the file's own rows) takes the curve that promises least.

use crate::problem::Life;

/// A life factor against the number of loads: level, then two straight lines
/// on logarithmic scales, then level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Curve {
    corners: [(f64, f64); 3],
    slopes: [f64; 2],
}

/// Where every curve ends.
const LAST: (f64, f64) = (1e10, 0.85);

impl Curve {
    fn new(seldom: (f64, f64), endurance_cycles: f64) -> Self {
        let corners = [seldom, (endurance_cycles, 1.0), LAST];
        let slope = |i: usize| {
            let ((n0, y0), (n1, y1)) = (corners[i], corners[i + 1]);
            (y1 / y0).ln() / (n1 / n0).ln()
        };
        Self {
            corners,
            slopes: [slope(0), slope(1)],
        }
    }

    /// `Y_NT` of roots.
    pub fn root(life: Life) -> Self {
        match life {
            Life::Through => Self::new((1e4, 2.5), 3e6),
            Life::Case => Self::new((1e3, 2.5), 3e6),
            Life::Flat => Self::new((1e3, 1.6), 3e6),
        }
    }

    /// `Z_NT` of flanks.
    pub fn flank(life: Life) -> Self {
        match life {
            Life::Through | Life::Case => Self::new((1e5, 1.6), 5e7),
            Life::Flat => Self::new((1e5, 1.3), 2e6),
        }
    }

    /// The factor at a number of loads, 0 up.
    pub fn at(&self, cycles: f64) -> f64 {
        let [first, second, last] = self.corners;
        if cycles <= first.0 {
            first.1
        } else if cycles <= second.0 {
            first.1 * (cycles / first.0).powf(self.slopes[0])
        } else if cycles <= last.0 {
            second.1 * (cycles / second.0).powf(self.slopes[1])
        } else {
            last.1
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_meets_its_corners_and_never_rises() {
        for life in [Life::Through, Life::Case, Life::Flat] {
            for curve in [Curve::root(life), Curve::flank(life)] {
                for (cycles, factor) in curve.corners {
                    assert!((curve.at(cycles) - factor).abs() < 1e-12);
                    assert!((curve.at(cycles * (1.0 + 1e-12)) - factor).abs() < 1e-9);
                }
                assert!((curve.at(0.0) - curve.corners[0].1).abs() < 1e-15);
                assert!((curve.at(1e20) - 0.85).abs() < 1e-15);
                let powers = (0..48).map(|i| 10_f64.powf(f64::from(i) / 4.0));
                let factors: Vec<f64> = powers.map(|cycles| curve.at(cycles)).collect();
                assert!(factors.windows(2).all(|two| two[1] <= two[0]));
            }
        }
    }

    #[test]
    fn halfway_on_logarithmic_scales() {
        // Between 10⁴ (2.5) and 3·10⁶ (1.0): the root of both at the root of both.
        let middle = (1e4_f64 * 3e6).sqrt();
        let factor = Curve::root(Life::Through).at(middle);
        assert!((factor - 2.5_f64.sqrt()).abs() < 1e-12);
    }
}
