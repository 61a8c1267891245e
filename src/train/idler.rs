//! Where a reverse idler sits, and whether the gears it joins keep apart.

use crate::base::LENGTH_SLACK_MM;

/// A place in the plane across the shafts, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right, seen from the input end.
    pub x_mm: f64,
    /// Up.
    pub y_mm: f64,
}

/// Whether an idler at `upper_mm` from one axle and `lower_mm` from the other,
/// the two `centres_mm` apart, has its own axle off the line of centres.
pub fn idler_closes(centres_mm: f64, upper_mm: f64, lower_mm: f64) -> bool {
    upper_mm + lower_mm > centres_mm + LENGTH_SLACK_MM
        && (upper_mm - lower_mm).abs() < centres_mm - LENGTH_SLACK_MM
}

/// The two mirror-image places of an idler's axle, the one to the right first;
/// none when it does not close off the line of centres ([`idler_closes`]).
///
/// `upper_mm` is its distance from the axle at the origin (the driven main
/// shaft of an in-line box, the driving input shaft of an offset box),
/// `lower_mm` that from the axle at (0, −`centres_mm`).
pub fn idler_centres(centres_mm: f64, upper_mm: f64, lower_mm: f64) -> Option<[Point; 2]> {
    if !idler_closes(centres_mm, upper_mm, lower_mm) {
        return None;
    }
    let (a, u, l) = (centres_mm, upper_mm, lower_mm);
    let y_mm = ((l - u) * (l + u) - a * a) / (2.0 * a);
    // Heron's product: closing makes every factor positive, so that no flat
    // triangle loses its height to rounding as √(u² − y²) would.
    let x_mm = ((u + l + a) * (u + l - a) * (a + u - l) * (a + l - u)).sqrt() / (2.0 * a);
    Some([x_mm, -x_mm].map(|x_mm| Point { x_mm, y_mm }))
}

/// The gap between tips that the outer gears of reverse leave, and whether all
/// keep `clearance_mm`; tip radii of driver and driven gear, mm.
///
/// In one plane the two pass each other. Where the driver is the gear of a
/// speed (`shared_addendum_mm`, its addendum), they stand side by side and the
/// idler spans both planes: its tips pass those of the gear that closes the
/// centres with the driver, of full teeth; and the driven gear must not reach
/// the driver's axis.
pub fn reverse_gap(
    (driver_mm, driven_mm): (f64, f64),
    shared_addendum_mm: Option<f64>,
    clearance_mm: f64,
    centres_mm: f64,
) -> (f64, bool) {
    let Some(addendum_mm) = shared_addendum_mm else {
        let clear = tips_clear((driver_mm, driven_mm), clearance_mm, centres_mm);
        return (centres_mm - (driver_mm + driven_mm), clear);
    };
    // The idler's tips are d₂ - r_a from the driven gear's axis: its pitch
    // radius less an addendum. The driver's mate reaches a - r + an addendum.
    let gap_mm = (driver_mm + driven_mm) - 4.0 * addendum_mm - centres_mm;
    let short = driven_mm + clearance_mm <= centres_mm + LENGTH_SLACK_MM;
    (gap_mm, short && gap_mm >= clearance_mm - LENGTH_SLACK_MM)
}

/// Whether two gears that do not mesh, with these tip radii on axles
/// `centres_mm` apart, keep `clearance_mm` between their tips.
pub fn tips_clear(tip_radii_mm: (f64, f64), clearance_mm: f64, centres_mm: f64) -> bool {
    tip_radii_mm.0 + tip_radii_mm.1 + clearance_mm <= centres_mm + LENGTH_SLACK_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Decimal, Module, Teeth};
    use crate::involute::{GearSize, Pairing, Rack};

    /// Places and distances in the frame of the rows: along the line of
    /// centres from the lower axle, and across it.
    fn from_lower(centres_mm: f64, point: Point) -> (f64, f64) {
        (centres_mm + point.y_mm, point.x_mm)
    }

    fn close(got: (f64, f64), expected: (f64, f64), within: f64) -> bool {
        (got.0 - expected.0).abs() <= within && (got.1 - expected.1).abs() <= within
    }

    fn teeth_centres(module_mm: f64, tooth_sum: u32) -> f64 {
        Pairing::new(&Rack::standard(20.0), module_mm, tooth_sum, 0.0).standard_centres_mm
    }

    /// Of the box of row 1.15: layshaft gear 18, main gear 38, tooth sum 60.
    fn reverse_of_the_example(module_mm: f64, idler: u32) -> (f64, f64, f64) {
        (
            teeth_centres(module_mm, 60),
            teeth_centres(module_mm, 38 + idler),
            teeth_centres(module_mm, 18 + idler),
        )
    }

    /// Angle between the directions `a` and `b`, degrees.
    fn angle_between(a: (f64, f64), b: (f64, f64)) -> f64 {
        let cross = a.0 * b.1 - a.1 * b.0;
        cross.atan2(a.0 * b.0 + a.1 * b.1).abs().to_degrees()
    }

    // Row 10.01: circle intersection (a 3-4-5 triangle): (18, ±24).
    #[test]
    fn two_circles_meet_where_geometry_says() {
        let [right, left] = idler_centres(50.0, 40.0, 30.0).unwrap();
        assert!(close(from_lower(50.0, right), (18.0, 24.0), 1e-9));
        assert!(close(from_lower(50.0, left), (18.0, -24.0), 1e-9));
        // The other way up: the nearer axle at the origin.
        let [right, _] = idler_centres(50.0, 30.0, 40.0).unwrap();
        assert!(close((right.x_mm, right.y_mm), (24.0, -18.0), 1e-9));
    }

    // Row 10.02: gear counts from 1.15 (an online course text), place
    // recomputed: 19 m and 29 m, idler at (7.0 m, 17.66352 m).
    #[test]
    fn reverse_idler_of_the_textbook_gearbox() {
        for (module_mm, place) in [(1.0, (7.0, 17.66352)), (2.0, (14.0, 35.32704))] {
            let (a, upper, lower) = reverse_of_the_example(module_mm, 20);
            assert!(close(
                (upper, lower),
                (29.0 * module_mm, 19.0 * module_mm),
                1e-9
            ));
            let [right, left] = idler_centres(a, upper, lower).unwrap();
            let (along, across) = from_lower(a, right);
            assert!(close((along, across), place, 1e-5 * module_mm));
            assert!(close(
                from_lower(a, left),
                (place.0, -place.1),
                1e-5 * module_mm
            ));

            let at_driver = angle_between((1.0, 0.0), (along, across));
            assert!((at_driver - 68.3817).abs() < 1e-4, "{at_driver}");
            let at_idler = angle_between((-along, -across), (a - along, -across));
            assert!((at_idler - 74.0948).abs() < 1e-4, "{at_idler}");
        }
    }

    // Row 10.04: the smallest idler of 10.02. The row's "collinear limit 4 T"
    // is twice the idler, whose teeth count on both sides:
    // (18 + z) + (z + 38) = 60 gives z = 2. Recomputed here: 2 refused, 3 not.
    #[test]
    fn smallest_idler_of_the_textbook_gearbox() {
        let closes = |idler| {
            let (a, upper, lower) = reverse_of_the_example(1.0, idler);
            idler_closes(a, upper, lower)
        };
        assert_eq!((1..=20).find(|&idler| closes(idler)), Some(3));
        assert!((3..=200).all(closes));
    }

    // Row 10.05: textbook claims adequate clearance; the tips of 18 T and
    // 38 T on a tooth sum of 60 just touch: 10 m + 20 m = 30 m, gap 0.
    #[test]
    fn touching_tips_are_refused_at_any_clearance() {
        let rack = Rack::standard(20.0);
        for module_mm in [1, 2, 3] {
            let module = Module::metric(Decimal::whole(module_mm));
            let radius = |teeth| GearSize::new(&rack, module, Teeth::new(teeth), 0.0).tip_mm / 2.0;
            let radii = (radius(18), radius(38));
            let a = teeth_centres(module.mm(), 60);
            assert!((radii.0 + radii.1 - a).abs() < 1e-12 * a);
            assert!(tips_clear(radii, 0.0, a));
            for clearance_mm in [0.000_001, 0.001, 0.5] {
                assert!(!tips_clear(radii, clearance_mm, a), "{clearance_mm}");
            }
            // One tooth less on either gear leaves half a module.
            let smaller = (radius(18), radius(37));
            assert!(tips_clear(smaller, 0.5 * module.mm(), a));
            assert!(!tips_clear(smaller, 0.5 * module.mm() + 1e-6, a));
        }
    }

    // Row 10.06: A-B 50, rA 15, rB 30: none, as 15 + 30 < 50.
    #[test]
    fn circles_that_do_not_cross_have_no_idler() {
        for (upper, lower) in [(15.0, 30.0), (30.0, 15.0)] {
            assert_eq!(idler_centres(50.0, upper, lower), None);
        }
    }

    #[test]
    fn an_idler_on_the_line_of_centres_is_refused() {
        // Between the axles, and beyond either of them.
        for (upper, lower) in [(20.0, 30.0), (60.0, 10.0), (10.0, 60.0)] {
            assert_eq!(idler_centres(50.0, upper, lower), None);
            let off_line = if upper + lower < 55.0 { 1e-8 } else { -1e-8 };
            let [right, left] =
                idler_centres(50.0, upper.max(lower) + off_line, upper.min(lower)).unwrap();
            assert!(right.x_mm > 0.0 && left.x_mm < 0.0);
        }
    }
}
