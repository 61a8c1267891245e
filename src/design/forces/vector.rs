//! Forces and couples as vectors.

use std::ops::{Add, Mul, Neg};

/// A force, N.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vector {
    /// To the right, seen from the input end.
    pub x_n: f64,
    /// Up.
    pub y_n: f64,
    /// Towards the output wall.
    pub z_n: f64,
}

impl Vector {
    /// No force.
    pub const ZERO: Self = Self {
        x_n: 0.0,
        y_n: 0.0,
        z_n: 0.0,
    };

    /// Its part across the shafts, N, 0 or more.
    pub fn across_n(self) -> f64 {
        self.x_n.hypot(self.y_n)
    }

    /// Its whole size, N, 0 or more.
    pub fn size_n(self) -> f64 {
        self.across_n().hypot(self.z_n)
    }

    pub(super) fn across(self) -> Self {
        Self { z_n: 0.0, ..self }
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            x_n: self.x_n + other.x_n,
            y_n: self.y_n + other.y_n,
            z_n: self.z_n + other.z_n,
        }
    }
}

impl Neg for Vector {
    type Output = Self;
    /// 0 − v rather than −v: no figure is to print as −0.
    fn neg(self) -> Self {
        Self {
            x_n: 0.0 - self.x_n,
            y_n: 0.0 - self.y_n,
            z_n: 0.0 - self.z_n,
        }
    }
}

/// A couple that bends a shaft or tilts a gear, N m: the sum of r × F,
/// component by component as if x, y, z were a right-handed frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Couple {
    /// y F_z − z F_y: in the plane of y and z.
    pub x_n_m: f64,
    /// z F_x − x F_z: in the plane of x and z.
    pub y_n_m: f64,
}

impl Couple {
    /// None.
    pub const ZERO: Self = Self {
        x_n_m: 0.0,
        y_n_m: 0.0,
    };

    /// Of a force that acts at `offset_mm` (x, y) from the axis and `ahead_mm`
    /// along it, about the place on the axis that `ahead_mm` counts from.
    pub(super) fn of(force: Vector, offset_mm: [f64; 2], ahead_mm: f64) -> Self {
        let [x_mm, y_mm] = offset_mm;
        Self {
            x_n_m: y_mm * force.z_n - ahead_mm * force.y_n,
            y_n_m: ahead_mm * force.x_n - x_mm * force.z_n,
        } * MM_IN_M
    }

    /// Its size, N m, 0 or more.
    pub fn size_n_m(self) -> f64 {
        self.x_n_m.hypot(self.y_n_m)
    }
}

/// Metres in a millimetre.
pub(super) const MM_IN_M: f64 = 1e-3;

impl Add for Couple {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            x_n_m: self.x_n_m + other.x_n_m,
            y_n_m: self.y_n_m + other.y_n_m,
        }
    }
}

impl Neg for Couple {
    type Output = Self;
    fn neg(self) -> Self {
        Self {
            x_n_m: 0.0 - self.x_n_m,
            y_n_m: 0.0 - self.y_n_m,
        }
    }
}

impl Mul<f64> for Couple {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self {
            x_n_m: self.x_n_m * by,
            y_n_m: self.y_n_m * by,
        }
    }
}
