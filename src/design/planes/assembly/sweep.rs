//! Whether a ring that moves in a straight line meets one that stands.

use crate::base::LENGTH_SLACK_MM;
use crate::design::planes::given::{Gearbox, ReverseForm};
use crate::design::planes::part::{Part, PartId, axis};
use crate::train::{Role, Seat};

/// From where to where a part moves, as distances (x, y, z) from its final
/// place, mm: along the shafts, or across them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    pub(super) from_mm: [f64; 3],
    pub(super) to_mm: [f64; 3],
}

/// Whether the two meet anywhere on the way. Gears that work together may
/// overlap by their teeth while one slides along its axis; across, they may
/// come as near as they are in the end.
pub(super) fn meets(gearbox: &Gearbox, moving: &Part, still: &Part, way: Way) -> bool {
    let low_mm = moving.from_mm + way.from_mm[2].min(way.to_mm[2]);
    let high_mm = moving.to_mm + way.from_mm[2].max(way.to_mm[2]);
    let along_mm = high_mm.min(still.to_mm) - low_mm.max(still.from_mm);
    let axes = axis(gearbox, moving.shaft).zip(axis(gearbox, still.shaft));
    let Some((own, other)) = axes.filter(|_| along_mm > LENGTH_SLACK_MM) else {
        return false;
    };
    let rest_mm = [other.x_mm - own.x_mm, other.y_mm - own.y_mm];
    let apart_mm = rest_mm[0].hypot(rest_mm[1]);
    let across_mm = [way.to_mm[0] - way.from_mm[0], way.to_mm[1] - way.from_mm[1]];
    let way_mm = across_mm[0].hypot(across_mm[1]);
    if way_mm <= LENGTH_SLACK_MM && apart_mm <= LENGTH_SLACK_MM {
        // One inside the other's hole.
        let inner_mm = moving.inner_radius_mm.max(still.inner_radius_mm);
        let outer_mm = moving.outer_radius_mm.min(still.outer_radius_mm);
        return outer_mm - inner_mm > LENGTH_SLACK_MM;
    }
    let nearest_mm = nearest(rest_mm, way, across_mm, way_mm);
    let allowed_mm = if mates(gearbox, moving.id, still.id) {
        apart_mm
    } else {
        moving.outer_radius_mm + still.outer_radius_mm
    };
    nearest_mm < allowed_mm - LENGTH_SLACK_MM
}

/// The least distance of a moving axis from a standing one, which is `rest_mm`
/// from the moving one's final place.
fn nearest(rest_mm: [f64; 2], way: Way, across_mm: [f64; 2], way_mm: f64) -> f64 {
    let start = [rest_mm[0] - way.from_mm[0], rest_mm[1] - way.from_mm[1]];
    let share = if way_mm > LENGTH_SLACK_MM {
        let along = start[0] * across_mm[0] + start[1] * across_mm[1];
        (along / (way_mm * way_mm)).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let at = |i: usize| start[i] - share * across_mm[i];
    at(0).hypot(at(1))
}

/// Whether the teeth of two gears work together.
pub(super) fn mates(gearbox: &Gearbox, one: PartId, other: PartId) -> bool {
    let (PartId::Gear(role, seat), PartId::Gear(other_role, other_seat)) = (one, other) else {
        return false;
    };
    let idlers = [seat, other_seat].contains(&Seat::Idler);
    if role == other_role {
        return idlers || role != Role::Reverse;
    }
    let form = gearbox.reverse.as_ref().map(|reverse| reverse.form);
    match form {
        Some(ReverseForm::Shared { with }) => {
            let driver = |role, seat| role == with && seat == Seat::Driver;
            idlers && (driver(role, seat) || driver(other_role, other_seat))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::planes::given::{
        Blanks, End, Goal, Idler, Pin, Reverse, ShaftSize, Shafts, Sizes, Wheel,
    };
    use crate::problem::{Arrangement, Case, Shaft};
    use crate::train::Point;

    /// Centres 30 mm, an idler's axis at (20, −15).
    fn gearbox() -> Gearbox {
        let wheel = Wheel {
            tip_radius_mm: 10.0,
            root_radius_mm: 8.0,
            hole_radius_mm: 5.0,
        };
        let shaft = ShaftSize {
            radius_mm: 5.0,
            bearing_bore_radius_mm: 4.0,
            bearing_outside_radius_mm: 9.0,
            beyond_input_mm: 0.0,
            beyond_output_mm: 0.0,
        };
        Gearbox {
            arrangement: Arrangement::Offset,
            centre_distance_mm: 30.0,
            head: None,
            speeds: Vec::new(),
            reverse: Some(Reverse {
                name: "reverse".to_owned(),
                form: ReverseForm::ConstantMesh,
                face_width_mm: 8.0,
                driver: wheel,
                idler: Idler {
                    wheel,
                    place: Point {
                        x_mm: 20.0,
                        y_mm: -15.0,
                    },
                    pin_radius_mm: 5.0,
                    pin: Pin::Stub(End::Output),
                },
                driven: wheel,
            }),
            sleeves: Vec::new(),
            sizes: Sizes {
                dog_ring_length_mm: 3.0,
                sleeve_width_mm: 7.0,
                sleeve_radius_mm: 9.0,
                neutral_gap_mm: 0.5,
                dog_overlap_mm: 2.5,
                dog_ring_radius_mm: None,
                least_ring_mm: 1.0,
                thrust_washer_mm: 1.0,
                circlip_mm: 0.0,
                end_float_mm: 0.2,
                least_gap_mm: 0.5,
                cutter_radius_mm: 25.0,
                wall_mm: 10.0,
            },
            shafts: Shafts {
                fixed: shaft,
                free: shaft,
                input: None,
            },
            blanks: Blanks::Separate,
            goal: Goal::Shortest,
            loads: Vec::new(),
            case: Case::Plates,
        }
    }

    fn ring(id: PartId, shaft: Shaft, z_mm: (f64, f64), radii_mm: (f64, f64)) -> Part {
        Part {
            id,
            shaft,
            from_mm: z_mm.0,
            to_mm: z_mm.1,
            inner_radius_mm: radii_mm.0,
            outer_radius_mm: radii_mm.1,
        }
    }

    fn moved(from_mm: [f64; 3]) -> Way {
        Way {
            from_mm,
            to_mm: [0.0; 3],
        }
    }

    #[test]
    fn a_hole_takes_a_shaft_that_is_no_thicker() {
        let gear = |hole_mm| {
            let id = PartId::Gear(Role::Speed(0), Seat::Driver);
            ring(id, Shaft::Input, (40.0, 48.0), (hole_mm, 12.0))
        };
        let id = PartId::Shaft(Shaft::Input);
        let shaft = ring(id, Shaft::Input, (0.0, 60.0), (0.0, 5.0));
        let along = moved([0.0, 0.0, -90.0]);
        assert!(!meets(&gearbox(), &gear(5.0), &shaft, along));
        assert!(meets(&gearbox(), &gear(4.99), &shaft, along));
        // From the side no hole helps.
        let across = moved([0.0, 80.0, 0.0]);
        assert!(meets(&gearbox(), &gear(5.0), &shaft, across));
    }

    #[test]
    fn a_ring_is_met_only_on_the_way() {
        let id = PartId::Sleeve(0);
        let still = ring(id, Shaft::Output, (20.0, 28.0), (5.0, 16.0));
        let id = PartId::Gear(Role::Speed(0), Seat::Driver);
        // Radii 16 and 15 on axes 30 apart.
        let beyond = ring(id, Shaft::Input, (40.0, 48.0), (5.0, 15.0));
        assert!(!meets(&gearbox(), &beyond, &still, moved([0.0, 0.0, 50.0])));
        assert!(meets(&gearbox(), &beyond, &still, moved([0.0, 0.0, -50.0])));
        let slim = ring(id, Shaft::Input, (40.0, 48.0), (5.0, 14.0));
        assert!(!meets(&gearbox(), &slim, &still, moved([0.0, 0.0, -50.0])));
    }

    #[test]
    fn going_down_meets_what_lies_above_the_end() {
        // The output shaft lies 30 below the input shaft.
        let id = PartId::Sleeve(0);
        let upper = ring(id, Shaft::Input, (20.0, 28.0), (5.0, 9.0));
        let id = PartId::Gear(Role::Speed(0), Seat::Driven);
        let lower = ring(id, Shaft::Output, (20.0, 28.0), (5.0, 12.0));
        assert!(meets(&gearbox(), &lower, &upper, moved([0.0, 90.0, 0.0])));
        assert!(!meets(&gearbox(), &lower, &upper, moved([90.0, 0.0, 0.0])));
        // Teeth that work together come no nearer than in the end: the idler,
        // 25 from both, goes down past the input shaft 20 aside of it.
        let idler = PartId::Gear(Role::Reverse, Seat::Idler);
        let idler = ring(idler, Shaft::Idler, (20.0, 28.0), (5.0, 14.0));
        let driver = PartId::Gear(Role::Reverse, Seat::Driver);
        let driver = ring(driver, Shaft::Input, (20.0, 28.0), (5.0, 12.0));
        assert!(meets(&gearbox(), &idler, &driver, moved([0.0, 90.0, 0.0])));
        assert!(!meets(&gearbox(), &idler, &driver, moved([90.0, 0.0, 0.0])));
        assert!(!meets(&gearbox(), &idler, &driver, moved([0.0, 0.0, 90.0])));
    }
}
