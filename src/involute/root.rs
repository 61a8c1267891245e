//! The section of a tooth's root that a load bends most.
//!
//! In: one gear. Out: chord, fillet radius and lever of the section where the
//! 30° tangent to the centre line touches the generated fillet. Source: ISO
//! 6336-3:2006 method B, from memory, with the geometry of the rack's rounded
//! corner: `tests` finds the same section on the exact outline by other means.
//! Lengths are in normal modules, of the virtual spur gear of a helical one.

use super::{ShiftedGear, involute};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

/// Steps of Newton's method; it doubles its digits in each.
const STEPS: usize = 12;
/// No lever is shorter than this, modules: a load at the very root bends
/// nothing, and the factors divide by the lever.
const SHORTEST_LEVER: f64 = 0.05;

/// The critical section of a tooth, and what a load above it needs to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootSection {
    /// Virtual teeth z_n = z / (cos² β_b cos β).
    virtual_teeth: f64,
    normal_angle_rad: f64,
    /// s_Fn.
    chord: f64,
    /// ρ_F.
    radius: f64,
    /// From the axis of the virtual gear to the section.
    height: f64,
    /// Half the angle that the tooth spans on the virtual base circle.
    base_angle_rad: f64,
    /// Way along the base tangent from base circle to tip.
    tip_length: f64,
}

/// A load on the flank, seen from the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bent {
    /// Lever h_F of the load over the section, modules.
    pub lever: f64,
    /// α_Fn between the load and the chord, radians.
    pub angle_rad: f64,
}

impl RootSection {
    /// The section of `gear`; thinning and shortened tips count.
    pub fn of(gear: &ShiftedGear) -> Self {
        let (toothing, m) = (gear.toothing(), gear.toothing().module_mm());
        let rack = toothing.rack();
        let normal_angle_rad = rack.pressure_angle_rad;
        let cos_base = toothing.base_helix_rad().cos();
        let z = f64::from(gear.teeth()) / (cos_base * cos_base * toothing.helix_rad().cos());
        // G and E of the norm: where the middle of the corner stands.
        let out = rack.fillet - rack.dedendum + gear.generating_shift();
        let aside = super::corner::half_land(rack) + gear.side_cut_mm() / m;
        let turn = touching(z, out, aside);
        let (sin, cos) = (FRAC_PI_3 - turn).sin_cos();
        let from_corner = out / turn.cos() - rack.fillet;
        let tip = f64::midpoint(z, (gear.tip_mm() - gear.reference_mm()) / m);
        let base = z * normal_angle_rad.cos() / 2.0;
        Self {
            virtual_teeth: z,
            normal_angle_rad,
            chord: z * sin + 3.0_f64.sqrt() * from_corner,
            radius: rack.fillet
                + 2.0 * out * out / (turn.cos() * (z * turn.cos() * turn.cos() - 2.0 * out)),
            height: f64::midpoint(z * cos, from_corner),
            base_angle_rad: gear.normal_thickness_mm() / (m * z) + involute(normal_angle_rad),
            tip_length: ((tip - base) * (tip + base)).max(0.0).sqrt(),
        }
    }

    /// Chord s_Fn of the section, modules.
    pub fn chord(&self) -> f64 {
        self.chord
    }

    /// Radius ρ_F of the fillet at the section, modules.
    pub fn radius(&self) -> f64 {
        self.radius
    }

    /// The load on the flank that touches `below_tip` modules before the tip,
    /// along the line of action of the virtual gear.
    pub fn bent(&self, below_tip: f64) -> Bent {
        let base = self.virtual_teeth * self.normal_angle_rad.cos() / 2.0;
        let roll = (self.tip_length - below_tip).max(0.0) / base;
        // The load is square to the flank: it touches the base circle.
        let angle_rad = roll - self.base_angle_rad;
        let lever = base / angle_rad.cos() - self.height;
        Bent {
            lever: lever.max(SHORTEST_LEVER),
            angle_rad,
        }
    }
}

/// ϑ of the norm: ϑ = (2 G / z_n) tan ϑ − H, by Newton's method.
fn touching(z: f64, out: f64, aside: f64) -> f64 {
    let gap = 2.0 / z * (FRAC_PI_2 - aside) - FRAC_PI_3;
    let steep = 2.0 * out / z;
    let mut turn = FRAC_PI_3 / 2.0;
    for _ in 0..STEPS {
        let tan = turn.tan();
        let over = turn - steep * tan + gap;
        let step = over / (1.0 - steep * (1.0 + tan * tan));
        turn = (turn - step).clamp(-1.0, 1.5);
        if step.abs() < 1e-14 {
            break;
        }
    }
    turn
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::involute::outline::{Curve, Cut, Thinned, Tooth};
    use crate::involute::{Rack, Thinning, Toothing};

    /// Where `falls` changes its sign, by bisection.
    fn bisect(mut low: f64, mut high: f64, falls: impl Fn(f64) -> f64) -> f64 {
        let sign = falls(low).signum();
        assert!(sign * falls(high).signum() < 0.0);
        for _ in 0..200 {
            let middle = f64::midpoint(low, high);
            if falls(middle).signum() * sign > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// Chord, radius, and the section's height on the exact outline.
    fn on_outline(tooth: &Tooth) -> [f64; 3] {
        let fillet = Curve::Trochoid(*tooth.trochoid());
        let (from, to) = fillet.range();
        // The walk goes down the tooth: its tangent leans from the centre line.
        let lean = |t: f64| {
            let along = fillet.tangent(t);
            along.y_mm.atan2(-along.x_mm) - FRAC_PI_3 / 2.0
        };
        let at = bisect(from, to, lean);
        let point = fillet.point(at);
        // Radius from three points of the curve.
        let step = 1e-4;
        let [a, b] = [fillet.point(at - step), fillet.point(at + step)];
        let side = |p: crate::involute::outline::Point, q: crate::involute::outline::Point| {
            (p.x_mm - q.x_mm).hypot(p.y_mm - q.y_mm)
        };
        let (ab, ap, bp) = (side(a, b), side(a, point), side(b, point));
        let area = ((a.x_mm - point.x_mm) * (b.y_mm - point.y_mm)
            - (b.x_mm - point.x_mm) * (a.y_mm - point.y_mm))
            .abs();
        [2.0 * point.y_mm, ab * ap * bp / (2.0 * area), point.x_mm]
    }

    /// Where the load at the flank's radius crosses the centre line, and its
    /// angle to the chord.
    fn load_on_outline(tooth: &Tooth, radius: f64) -> [f64; 2] {
        let flank = Curve::Involute(*tooth.involute());
        let roll = tooth.involute().roll_at(radius);
        let (point, along) = (flank.point(roll), flank.tangent(roll));
        // Square to the tangent: (along.y, −along.x).
        let way = point.y_mm / along.x_mm;
        let crossing = point.x_mm + way * along.y_mm;
        [crossing, along.y_mm.abs().atan2(along.x_mm.abs())]
    }

    #[test]
    fn the_section_is_that_of_the_exact_outline() {
        let cases = [
            (20.0, 17, 0.0, 0.0, Thinning::NONE),
            (20.0, 40, 0.0, -0.1, Thinning::ByDepth(0.1)),
            (20.0, 24, 0.4, -0.05, Thinning::BySide(0.1)),
            (20.0, 100, -0.5, 0.0, Thinning::NONE),
            (20.0, 12, 0.35, 0.0, Thinning::ByDepth(0.05)),
            (25.0, 14, 0.1, 0.0, Thinning::NONE),
            (14.5, 40, 0.0, 0.0, Thinning::NONE),
            // Undercut.
            (20.0, 10, 0.0, 0.0, Thinning::NONE),
            (20.0, 14, -0.1, 0.0, Thinning::ByDepth(0.05)),
            (14.5, 20, 0.0, 0.0, Thinning::NONE),
        ];
        for (alpha, z, shift, tip_shortening, thinning) in cases {
            let rack = Rack::standard(alpha);
            let teeth = Teeth::new(z);
            let toothing = Toothing::new(rack, 1.0, 0.0).expect("a toothing");
            let gear = ShiftedGear::new(toothing, teeth, shift)
                .and_then(|gear| gear.with_tip_shortening(tip_shortening))
                .and_then(|gear| gear.with_thinning(thinning))
                .expect("a gear");
            let section = RootSection::of(&gear);
            let thinned = match thinning {
                Thinning::ByDepth(_) => Thinned::ByDepth,
                Thinning::BySide(_) => Thinned::BySide,
            };
            let cut = Cut {
                profile_shift: shift,
                tip_shortening,
                thinning_mm: thinning.normal_mm(),
                thinned,
                ..Cut::plain(rack, 1.0, teeth)
            };
            let tooth = Tooth::new(&cut).expect("a tooth");
            let [chord, radius, height] = on_outline(&tooth);
            let about = format!("{alpha} {z} {shift}: {chord} {radius} {section:?}");
            assert!((section.chord() - chord).abs() < 1e-9, "{about}");
            assert!((section.radius() - radius).abs() < 1e-4 * radius, "{about}");
            for below_tip in [0.0, 0.7, 1.6] {
                let length = gear.tip_length_mm() - below_tip;
                let at = (gear.base_mm() / 2.0).hypot(length);
                let [crossing, angle] = load_on_outline(&tooth, at);
                let bent = section.bent(below_tip);
                assert!((bent.lever - (crossing - height)).abs() < 1e-9, "{about}");
                assert!((bent.angle_rad - angle).abs() < 1e-9, "{about}");
            }
        }
    }

    #[test]
    fn a_helical_gear_is_bent_as_its_virtual_spur_gear() {
        // 20 teeth at 30° helix are z_n = 20 / (cos² β_b cos β) virtual teeth.
        let section = |teeth, helix: f64| {
            let toothing = Toothing::new(Rack::standard(20.0), 2.0, helix).expect("a toothing");
            RootSection::of(&ShiftedGear::new(toothing, Teeth::new(teeth), 0.2).expect("a gear"))
        };
        let helical = section(20, 30_f64.to_radians());
        let between = [section(29, 0.0), section(30, 0.0)];
        assert!((helical.virtual_teeth - 29.6).abs() < 0.1, "{helical:?}");
        assert!(helical.chord > between[0].chord && helical.chord < between[1].chord);
        let lever = |section: &RootSection| section.bent(1.0).lever;
        assert!(lever(&helical) < lever(&between[0]) + 0.01);
        assert!((lever(&helical) - lever(&between[1])).abs() < 0.01);
    }
}
