//! One tooth: where its curves begin and end, or why there is none.

use super::cut::check;
use super::trochoid::stand;
use super::{Arc, Curve, Cut, Involute, OutlineFault, Trochoid};
use crate::involute::corner::{Corner, Stand};
use crate::involute::{inverse_involute, involute};
use std::f64::consts::{FRAC_PI_2, PI};

/// A tip narrower than this is a point, mm: nobody can make or measure it.
const NARROWEST_TIP_MM: f64 = 1e-6;

/// The exact shape of a tooth, transverse section.
#[derive(Clone, Debug, PartialEq)]
pub struct Tooth {
    cut: Cut,
    form_radius_mm: f64,
    undercut: bool,
    tip: Arc,
    involute: Involute,
    trochoid: Trochoid,
    root: Arc,
}

impl Tooth {
    /// The tooth that `cut` leaves.
    ///
    /// # Errors
    /// When a figure is out of its range, the rack cannot exist, or the tooth
    /// comes out pointed, severed or without an involute.
    pub fn new(cut: &Cut) -> Result<Self, OutlineFault> {
        check(cut)?;
        let stand = stand(cut);
        let corner = Corner::new(&cut.rack, stand);
        let m = cut.module_mm;
        let root_mm = stand.radius_mm + stand.shift_mm - cut.rack.dedendum * m;
        if root_mm <= 0.0 {
            let root_mm = 2.0 * root_mm;
            return Err(OutlineFault::Root { root_mm });
        }
        let tip_mm =
            stand.radius_mm + (cut.rack.addendum + cut.profile_shift + cut.tip_shortening) * m;
        let space_rad = PI / f64::from(cut.teeth);
        let mut flank = base_flank(cut, stand);
        flank.from_roll = flank.roll_at(tip_mm);
        let tip_rad = tip_half_angle(&flank, tip_mm)?;
        let from_rad = join(cut, stand, &mut flank, &corner)?;
        let form_radius_mm = flank.base_radius_mm * flank.to_roll.hypot(1.0);
        if flank.to_roll >= flank.from_roll {
            return Err(OutlineFault::Stunted {
                tip_mm: 2.0 * tip_mm,
                form_mm: 2.0 * form_radius_mm,
            });
        }
        Ok(Self {
            cut: *cut,
            form_radius_mm,
            undercut: corner.undercuts(),
            tip: arc(tip_mm, 0.0, tip_rad),
            involute: flank,
            trochoid: Trochoid::new(corner, space_rad, from_rad),
            root: arc(root_mm, space_rad - corner.land_rad(), space_rad),
        })
    }

    /// What the tooth was cut from.
    pub fn cut(&self) -> &Cut {
        &self.cut
    }

    /// Half of the outline of tooth 0 and its space, counter-clockwise from
    /// the middle of the tip to the middle of the space: tip, involute,
    /// trochoid, root.
    pub fn curves(&self) -> [Curve; 4] {
        [
            Curve::Arc(self.tip),
            Curve::Involute(self.involute),
            Curve::Trochoid(self.trochoid),
            Curve::Arc(self.root),
        ]
    }

    /// The tip arc, from the centre line to the flank.
    pub fn tip(&self) -> &Arc {
        &self.tip
    }

    /// The involute.
    pub fn involute(&self) -> &Involute {
        &self.involute
    }

    /// The fillet.
    pub fn trochoid(&self) -> &Trochoid {
        &self.trochoid
    }

    /// The root arc, from the fillet to the middle of the space.
    pub fn root(&self) -> &Arc {
        &self.root
    }

    /// Radius of the form circle, mm: below it there is fillet, above it
    /// involute.
    pub fn form_radius_mm(&self) -> f64 {
        self.form_radius_mm
    }

    /// Whether the rack's corner took away a piece of the involute.
    pub fn is_undercut(&self) -> bool {
        self.undercut
    }
}

fn arc(radius_mm: f64, from_rad: f64, to_rad: f64) -> Arc {
    Arc {
        radius_mm,
        from_rad,
        to_rad,
    }
}

/// The involute from its foot on the base circle, ends not set.
fn base_flank(cut: &Cut, stand: Stand) -> Involute {
    let alpha_t = cut.rack.transverse_angle_rad(cut.helix_rad);
    let m_t = cut.module_mm / stand.cos_helix;
    let thickness_mm = m_t * FRAC_PI_2 + 2.0 * stand.shift_mm * alpha_t.tan() - 2.0 * stand.side_mm;
    Involute {
        base_radius_mm: stand.radius_mm * alpha_t.cos(),
        base_angle_rad: thickness_mm / (2.0 * stand.radius_mm) + involute(alpha_t),
        from_roll: 0.0,
        to_roll: 0.0,
    }
}

fn tip_half_angle(flank: &Involute, tip_mm: f64) -> Result<f64, OutlineFault> {
    if tip_mm <= flank.base_radius_mm {
        return Err(OutlineFault::Stunted {
            tip_mm: 2.0 * tip_mm,
            form_mm: 2.0 * flank.base_radius_mm,
        });
    }
    let half = flank.angle_at(tip_mm);
    if 2.0 * half * tip_mm < NARROWEST_TIP_MM {
        return Err(OutlineFault::Pointed {
            tip_mm: 2.0 * tip_mm,
            point_mm: point_diameter_mm(flank),
        });
    }
    Ok(half)
}

/// Where the two flanks of a tooth meet, mm diameter.
fn point_diameter_mm(flank: &Involute) -> Option<f64> {
    if flank.base_angle_rad <= 0.0 {
        return None;
    }
    let alpha = inverse_involute(flank.base_angle_rad)?;
    Some(2.0 * flank.base_radius_mm / alpha.cos())
}

/// Ends the involute where the fillet begins: at the corner's end, or where an
/// undercut fillet crosses it. Gives the corner's φ there.
fn join(
    cut: &Cut,
    stand: Stand,
    flank: &mut Involute,
    corner: &Corner,
) -> Result<f64, OutlineFault> {
    if !corner.undercuts() {
        let sin = cut.rack.transverse_angle_rad(cut.helix_rad).sin();
        let depth_mm = cut.rack.straight_flank() * cut.module_mm - stand.shift_mm;
        // Along the line of action, from the base tangent point.
        flank.to_roll = (stand.radius_mm * sin - depth_mm / sin).max(0.0) / flank.base_radius_mm;
        return Ok(corner.full_rad());
    }
    let space_rad = PI / f64::from(cut.teeth);
    let neck = corner.neck_rad();
    let (neck_mm, half_space_rad) = corner.polar(neck);
    if half_space_rad >= space_rad {
        return Err(OutlineFault::Severed {
            neck_mm: 2.0 * neck_mm,
        });
    }
    let from = corner.cut_rad(neck, |radius| space_rad - flank.angle_at(radius));
    flank.to_roll = flank.roll_at(corner.polar(from).0);
    Ok(from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::involute::Rack;
    use crate::involute::outline::Thinned;

    fn plain(teeth: u16) -> Cut {
        Cut::plain(Rack::standard(20.0), 3.0, Teeth::new(teeth))
    }

    // Row 2.02, GMTH Table 4-1: spur m 3, z 24.
    #[test]
    fn circles_of_a_published_gear() {
        let tooth = Tooth::new(&plain(24)).unwrap();
        assert!((tooth.tip().radius_mm - 39.0).abs() < 1e-12);
        assert!((tooth.root().radius_mm - 32.25).abs() < 1e-12);
        assert!((tooth.involute().base_radius_mm - 67.6579 / 2.0).abs() < 1e-4);
        assert!(!tooth.is_undercut());
        // The rack's flank ends 2.9999 mm deep (h* = 0.99997): along the line of
        // action 8.7711 mm before the pitch point, 3.5416 mm past the base
        // circle.
        let form = (33.828_94_f64.powi(2) + 3.5416_f64.powi(2)).sqrt();
        assert!((tooth.form_radius_mm() - form).abs() < 1e-5);
    }

    #[test]
    fn thinning_by_depth_lowers_the_root_alone() {
        let thin = Cut {
            thinning_mm: 0.05,
            ..plain(24)
        };
        let [deep, aside] = [Thinned::ByDepth, Thinned::BySide]
            .map(|thinned| Tooth::new(&Cut { thinned, ..thin }).unwrap());
        let fall = 0.025 / 20_f64.to_radians().tan();
        assert!((deep.root().radius_mm - (32.25 - fall)).abs() < 1e-12);
        assert!((aside.root().radius_mm - 32.25).abs() < 1e-12);
        assert!((deep.tip().radius_mm - aside.tip().radius_mm).abs() < 1e-12);
        // The flanks are the same.
        let feet = [deep, aside].map(|tooth| tooth.involute().base_angle_rad);
        assert!((feet[0] - feet[1]).abs() < 1e-15);
    }
}
