//! The curves that a flank is made of, each exact, with its own parameter.

use super::Trochoid;

/// A point of the transverse section, or a direction in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Along the centre line of tooth 0, outward, mm.
    pub x_mm: f64,
    /// A quarter turn counter-clockwise from x, mm.
    pub y_mm: f64,
}

impl Point {
    pub(super) fn new(x_mm: f64, y_mm: f64) -> Self {
        Self { x_mm, y_mm }
    }

    pub(super) fn polar(radius_mm: f64, angle_rad: f64) -> Self {
        let (sin, cos) = angle_rad.sin_cos();
        Self::new(radius_mm * cos, radius_mm * sin)
    }

    /// Mirrored in the centre line of tooth 0.
    pub(super) fn mirrored(self) -> Self {
        Self::new(self.x_mm, -self.y_mm)
    }

    /// Turned counter-clockwise by the angle whose cosine and sine are given.
    pub(super) fn turned(self, (cos, sin): (f64, f64)) -> Self {
        Self::new(
            cos * self.x_mm - sin * self.y_mm,
            sin * self.x_mm + cos * self.y_mm,
        )
    }

    pub(super) fn minus(self, other: Self) -> Self {
        Self::new(self.x_mm - other.x_mm, self.y_mm - other.y_mm)
    }

    pub(super) fn cross(self, other: Self) -> f64 {
        self.x_mm * other.y_mm - self.y_mm * other.x_mm
    }

    /// Distance from the gear's axis, mm.
    pub fn radius_mm(self) -> f64 {
        self.x_mm.hypot(self.y_mm)
    }

    /// Polar angle, radians, −π to π.
    pub fn angle_rad(self) -> f64 {
        self.y_mm.atan2(self.x_mm)
    }
}

/// An arc about the gear's axis. Parameter: polar angle, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Radius, mm.
    pub radius_mm: f64,
    pub(super) from_rad: f64,
    pub(super) to_rad: f64,
}

/// An involute that leaves its base circle at polar angle `base_angle_rad` and
/// leans clockwise. Parameter: roll angle ν = tan α_y, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Involute {
    /// Radius of the base circle r_b, mm.
    pub base_radius_mm: f64,
    /// Half the angle that the tooth spans on its base circle, radians.
    pub base_angle_rad: f64,
    pub(super) from_roll: f64,
    pub(super) to_roll: f64,
}

impl Involute {
    fn string(&self, roll: f64) -> (f64, f64) {
        (self.base_angle_rad - roll).sin_cos()
    }

    fn point(&self, roll: f64) -> Point {
        // Where the string leaves the base circle, then along the string.
        let (sin, cos) = self.string(roll);
        let r = self.base_radius_mm;
        Point::new(r * (cos - roll * sin), r * (sin + roll * cos))
    }

    /// Roll angle at radius `radius_mm`; 0 on the base circle and inside it.
    pub fn roll_at(&self, radius_mm: f64) -> f64 {
        let ratio = radius_mm / self.base_radius_mm;
        ((ratio - 1.0) * (ratio + 1.0)).max(0.0).sqrt()
    }

    /// Polar angle at radius `radius_mm`, radians; inside the base circle, the
    /// radial line below the involute's foot.
    pub fn angle_at(&self, radius_mm: f64) -> f64 {
        let roll = self.roll_at(radius_mm);
        self.base_angle_rad - (roll - roll.atan())
    }
}

/// One of the four parts of a half flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// Tip or root.
    Arc(Arc),
    /// The part that works.
    Involute(Involute),
    /// The fillet.
    Trochoid(Trochoid),
}

impl Curve {
    /// The parameters where the curve begins and ends, walking
    /// counter-clockwise around the gear: from tip to root.
    pub fn range(&self) -> (f64, f64) {
        match self {
            Self::Arc(arc) => (arc.from_rad, arc.to_rad),
            Self::Involute(involute) => (involute.from_roll, involute.to_roll),
            Self::Trochoid(trochoid) => trochoid.range(),
        }
    }

    /// The point at parameter `t`, which should lie in [`Curve::range`].
    pub fn point(&self, t: f64) -> Point {
        match self {
            Self::Arc(arc) => Point::polar(arc.radius_mm, t),
            Self::Involute(involute) => involute.point(t),
            Self::Trochoid(trochoid) => trochoid.point(t),
        }
    }

    /// The unit tangent at parameter `t`, along the walk from tip to root: the
    /// metal is on its left.
    pub fn tangent(&self, t: f64) -> Point {
        match self {
            Self::Arc(_) => Point::polar(1.0, t + std::f64::consts::FRAC_PI_2),
            Self::Involute(involute) => {
                let (sin, cos) = involute.string(t);
                Point::new(-cos, -sin)
            }
            Self::Trochoid(trochoid) => trochoid.tangent(t),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_involute_of_a_unit_circle_by_hand() {
        let involute = Involute {
            base_radius_mm: 1.0,
            base_angle_rad: 1.0,
            from_roll: 1.0,
            to_roll: 0.0,
        };
        let curve = Curve::Involute(involute);
        // Roll 1: the string points along +y from (1, 0), one long.
        let point = curve.point(1.0);
        assert!((point.x_mm - 1.0).abs() < 1e-15 && (point.y_mm - 1.0).abs() < 1e-15);
        let tangent = curve.tangent(1.0);
        assert!((tangent.x_mm + 1.0).abs() < 1e-15 && tangent.y_mm.abs() < 1e-15);
        assert!((involute.roll_at(2_f64.sqrt()) - 1.0).abs() < 1e-15);
        assert!((involute.angle_at(2_f64.sqrt()) - point.angle_rad()).abs() < 1e-15);
        // The foot, and nothing below it.
        assert!((curve.point(0.0).angle_rad() - 1.0).abs() < 1e-15);
        assert!((involute.angle_at(0.5) - 1.0).abs() < 1e-15);
    }
}
