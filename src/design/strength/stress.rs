//! Stress and twist of round shafts.
//!
//! Sources: bending σ = M / W, torsion τ = T / (2 W), von Mises
//! σ_v = √(σ² + 3 τ²), which is √(M² + ¾ T²) / W; twist φ = T L / (G I_p)
//! (handbooks).

use super::line::{Section, section_at, stretches};
use super::material::SHEAR_ELASTICITY;
use crate::design::forces::Bending;

/// The bending moment that stresses a round shaft as much as bending and
/// torsion together, in the unit of both.
pub fn equivalent_moment(bending: f64, torque: f64) -> f64 {
    (bending * bending + 0.75 * torque * torque).sqrt()
}

/// Stress of a round section by von Mises, MPa.
pub fn von_mises_mpa(section: &Section, bending_n_m: f64, torque_n_m: f64) -> f64 {
    equivalent_moment(bending_n_m, torque_n_m) * 1e3 / section.modulus_mm3()
}

/// Shear of a round section by torsion alone, MPa.
pub fn torsion_mpa(section: &Section, torque_n_m: f64) -> f64 {
    torque_n_m.abs() * 1e3 / (2.0 * section.modulus_mm3())
}

/// Twist over the length of a section, rad.
pub fn twist_rad(section: &Section, torque_n_m: f64, shear_elasticity_mpa: f64) -> f64 {
    let polar_mm4 = 2.0 * section.second_moment_mm4();
    let length_mm = section.to_mm - section.from_mm;
    torque_n_m * 1e3 * length_mm / (shear_elasticity_mpa * polar_mm4)
}

/// Where a shaft is stressed most.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Peak {
    /// Where, mm.
    pub z_mm: f64,
    /// Diameter there, mm.
    pub diameter_mm: f64,
    /// Bending moment, shock left out, N m.
    pub bending_n_m: f64,
    /// Torque, shock left out, N m, 0 or more.
    pub torque_n_m: f64,
    /// Stress with shock and notches, MPa.
    pub stress_mpa: f64,
}

/// By what stresses are multiplied.
#[derive(Clone, Copy, Debug)]
pub(super) struct Raised {
    pub(super) shock: f64,
    /// Of notches, in bending and in torsion.
    pub(super) notches: [f64; 2],
}

/// The place of greatest stress: the moment runs straight and sections are
/// uniform between the cuts, so it is at one of them.
pub(super) fn peak(
    bending: &[Bending],
    sections: &[Section],
    torque: Option<((f64, f64), f64)>,
    raised: Raised,
) -> Peak {
    let (span_mm, torque_n_m) = torque.map_or(((0.0, 0.0), 0.0), |(span, t)| (span, t.abs()));
    let mut most = Peak::default();
    for stretch in stretches(bending, sections) {
        // A hub's middle may lie within a stretch, which then counts as turned
        // from end to end: too much rather than too little.
        let passes = stretch.to_mm > span_mm.0 && stretch.from_mm < span_mm.1;
        let torque_n_m = if passes { torque_n_m } else { 0.0 };
        for (z_mm, moment) in [stretch.from_mm, stretch.to_mm]
            .into_iter()
            .zip(stretch.moments_n_mm)
        {
            let bending_n_m = moment[0].hypot(moment[1]) * 1e-3;
            let (bent, turned) = (
                raised.notches[0] * bending_n_m,
                raised.notches[1] * torque_n_m,
            );
            let stress_mpa = raised.shock * von_mises_mpa(&stretch.section, bent, turned);
            if stress_mpa > most.stress_mpa {
                most = Peak {
                    z_mm,
                    diameter_mm: stretch.section.outside_mm,
                    bending_n_m,
                    torque_n_m,
                    stress_mpa,
                };
            }
        }
    }
    most
}

/// Twist between two places, rad, and the least diameter between them, mm.
pub(super) fn twist_between(
    sections: &[Section],
    (from_mm, to_mm): (f64, f64),
    torque_n_m: f64,
) -> (f64, f64) {
    let mut cuts: Vec<f64> = sections
        .iter()
        .flat_map(|s| [s.from_mm, s.to_mm])
        .filter(|z_mm| *z_mm > from_mm && *z_mm < to_mm)
        .chain([from_mm, to_mm])
        .collect();
    cuts.sort_by(f64::total_cmp);
    let parts = cuts.windows(2).filter_map(|pair| {
        let section = section_at(sections, f64::midpoint(pair[0], pair[1]))?;
        Some(Section {
            from_mm: pair[0],
            to_mm: pair[1],
            ..section
        })
    });
    parts.fold((0.0, f64::INFINITY), |(twist, least), part| {
        (
            twist + twist_rad(&part, torque_n_m, SHEAR_ELASTICITY.value).abs(),
            least.min(part.outside_mm),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::forces::Couple;

    fn round(from_mm: f64, to_mm: f64, outside_mm: f64) -> Section {
        Section {
            from_mm,
            to_mm,
            outside_mm,
            inside_mm: 0.0,
        }
    }

    fn bending(z_mm: f64, x_n_m: f64) -> Bending {
        let couple = Couple { x_n_m, y_n_m: 0.0 };
        Bending {
            z_mm,
            before: couple,
            behind: couple,
            size_n_m: x_n_m.abs(),
        }
    }

    // By hand: 10 N m at 40 mm between supports at 0 and 100; the shaft is 20
    // mm thick up to 60 and 10 mm beyond, where two thirds of the moment are
    // left: stress there is 8·2/3 of that at the load.
    #[test]
    fn a_thin_end_may_be_stressed_more_than_the_load_s_place() {
        let sections = [round(0.0, 60.0, 20.0), round(60.0, 100.0, 10.0)];
        let bent = [bending(0.0, 0.0), bending(40.0, 10.0), bending(100.0, 0.0)];
        let raised = Raised {
            shock: 1.5,
            notches: [2.0, 1.6],
        };
        let found = peak(&bent, &sections, None, raised);
        let modulus = std::f64::consts::PI * 1000.0 / 32.0;
        let by_hand = 1.5 * 2.0 * (10.0 * 2.0 / 3.0) * 1e3 / modulus;
        assert!((found.z_mm - 60.0).abs() < 1e-9 && (found.diameter_mm - 10.0).abs() < 1e-9);
        assert!((found.stress_mpa - by_hand).abs() < 1e-9);
        // Torque on the thick part alone stresses it less still.
        let turned = peak(&bent, &sections, Some(((0.0, 40.0), 5.0)), raised);
        assert_eq!(turned, found);
        let beyond = peak(&bent, &sections, Some(((40.0, 100.0), -5.0)), raised);
        assert!(beyond.stress_mpa > found.stress_mpa && beyond.torque_n_m > 4.9);
    }

    #[test]
    fn twist_adds_up_over_steps() {
        let sections = [round(0.0, 60.0, 20.0), round(60.0, 100.0, 10.0)];
        let (twist, least) = twist_between(&sections, (50.0, 80.0), 20.0);
        let polar = |d: f64| std::f64::consts::PI * d.powi(4) / 32.0;
        let by_hand = 20e3 / 79_300.0 * (10.0 / polar(20.0) + 20.0 / polar(10.0));
        assert!((twist - by_hand).abs() < 1e-12 && (least - 10.0).abs() < 1e-9);
    }
}
