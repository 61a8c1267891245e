//! The fillet as a curve of the outline.

use super::{Cut, Point, Thinned};
use crate::involute::corner::{Corner, Stand};

/// How the rack stands when it cuts `cut`.
pub(super) fn stand(cut: &Cut) -> Stand {
    let cos_helix = cut.helix_rad.cos();
    let shift_mm = cut.profile_shift * cut.module_mm;
    let (deeper_mm, side_mm) = match cut.thinned {
        Thinned::ByDepth => {
            let tan = cut.rack.transverse_angle_rad(cut.helix_rad).tan();
            (cut.thinning_mm / (2.0 * tan), 0.0)
        }
        Thinned::BySide => (0.0, cut.thinning_mm / 2.0),
    };
    Stand {
        module_mm: cut.module_mm,
        cos_helix,
        radius_mm: cut.module_mm * f64::from(cut.teeth) / (2.0 * cos_helix),
        shift_mm: shift_mm - deeper_mm,
        side_mm,
    }
}

/// The curve that the rack's corner leaves. Parameter: the angle φ, radians,
/// between the corner's normal and the way down, in the normal section; 0 at
/// the root circle, 90° − α_n where the corner runs into the straight flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trochoid {
    corner: Corner,
    /// Polar angle of the middle of the space.
    space_rad: f64,
    from_rad: f64,
}

impl Trochoid {
    /// The curve of `corner` in the space at `space_rad`, begun at φ =
    /// `from_rad`.
    pub(super) fn new(corner: Corner, space_rad: f64, from_rad: f64) -> Self {
        Self {
            corner,
            space_rad,
            from_rad,
        }
    }

    pub(super) fn range(&self) -> (f64, f64) {
        (self.from_rad, 0.0)
    }

    pub(super) fn point(&self, phi_rad: f64) -> Point {
        let touch = self.corner.touch(phi_rad);
        self.turned(touch.rolled_rad, (touch.out_mm, touch.aside_mm))
    }

    /// Square to the normal; downwards, since φ falls from tip to root.
    pub(super) fn tangent(&self, phi_rad: f64) -> Point {
        let touch = self.corner.touch(phi_rad);
        self.turned(touch.rolled_rad, self.corner.heading(phi_rad))
    }

    fn turned(&self, rolled_rad: f64, (out, aside): (f64, f64)) -> Point {
        let (sin, cos) = (self.space_rad + rolled_rad).sin_cos();
        Point::new(out * cos + aside * sin, out * sin - aside * cos)
    }
}
