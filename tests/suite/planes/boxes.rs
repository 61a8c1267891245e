//! Random boxes: invented figures of about the size of a small workshop's.

use super::Draw;
use layshaft::design::planes::{
    Blanks, End, Gearbox, Goal, Idler, InputShaft, Load, Pair, Pin, Reverse, ReverseForm,
    ShaftSize, Shafts, Sizes, Wheel,
};
use layshaft::problem::{Arrangement, Case};
use layshaft::train::{Point, Role};

/// Hundredths of a mm.
fn hundredths(draw: &mut Draw, low: u64, high: u64) -> f64 {
    milli(draw.whole(low, high) * 10)
}

fn milli(thousandths: u64) -> f64 {
    f64::from(u32::try_from(thousandths).unwrap()) / 1000.0
}

/// What gears are made from.
struct Teeth {
    module_mm: f64,
    sum: u64,
    fixed_mm: f64,
    free_mm: f64,
}

impl Teeth {
    fn wheel(&self, teeth: u64, hole_radius_mm: f64) -> Wheel {
        let pitch_mm = self.module_mm * milli(teeth * 1000) / 2.0;
        Wheel {
            tip_radius_mm: pitch_mm + self.module_mm,
            root_radius_mm: pitch_mm - 1.25 * self.module_mm,
            hole_radius_mm,
        }
    }

    fn centres_mm(&self, sum: u64) -> f64 {
        self.module_mm * milli(sum * 1000) / 2.0
    }

    fn pair(&self, draw: &mut Draw, role: Role, driver: u64) -> Pair {
        Pair {
            role,
            name: match role {
                Role::Speed(place) => format!("speed {}", place + 1),
                _ => "head".to_owned(),
            },
            face_width_mm: hundredths(draw, 600, 1200),
            driver: self.wheel(driver, self.fixed_mm),
            driven: self.wheel(self.sum - driver, self.free_mm),
        }
    }
}

/// The place to the right of an idler at these distances from the upper and
/// the lower axis.
fn idler_place(a: f64, upper: f64, lower: f64) -> Option<Point> {
    let y_mm = (lower * lower - upper * upper - a * a) / (2.0 * a);
    let square = upper * upper - y_mm * y_mm;
    (square > 1.0).then(|| Point {
        x_mm: square.sqrt(),
        y_mm,
    })
}

fn reverse(
    draw: &mut Draw,
    teeth: &Teeth,
    speeds: &[(u64, Pair)],
    offset: bool,
    form: ReverseForm,
) -> Option<Reverse> {
    let idler = draw.whole(14, 22);
    let (driver, driven) = if let ReverseForm::Shared { with } = form {
        let (driver, _) = speeds.iter().find(|(_, pair)| pair.role == with)?;
        (*driver, teeth.sum - driver + draw.whole(3, 6))
    } else {
        let driver = draw.whole(17, 20);
        let most = teeth.sum - driver;
        (driver, most.saturating_sub(draw.whole(5, 20)).max(18))
    };
    let from_driver = teeth.centres_mm(driver + idler);
    let from_driven = teeth.centres_mm(driven + idler);
    let (upper, lower) = if offset {
        (from_driver, from_driven)
    } else {
        (from_driven, from_driver)
    };
    let pin_radius_mm = hundredths(draw, 250, 500);
    Some(Reverse {
        name: "reverse".to_owned(),
        form,
        face_width_mm: hundredths(draw, 600, 1000),
        driver: teeth.wheel(driver, teeth.fixed_mm),
        idler: Idler {
            wheel: teeth.wheel(idler, pin_radius_mm + 0.5),
            place: idler_place(teeth.centres_mm(teeth.sum), upper, lower)?,
            pin_radius_mm,
            pin: draw.pick(&[
                Pin::Stub(End::Input),
                Pin::Stub(End::Output),
                Pin::Stub(End::Output),
                Pin::Through,
            ]),
        },
        driven: teeth.wheel(driven, teeth.free_mm),
    })
}

fn sizes(draw: &mut Draw) -> Sizes {
    let dog_ring_length_mm = hundredths(draw, 250, 400);
    Sizes {
        dog_ring_length_mm,
        sleeve_width_mm: hundredths(draw, 500, 1000),
        sleeve_radius_mm: hundredths(draw, 1300, 2700),
        neutral_gap_mm: hundredths(draw, 50, 100),
        dog_overlap_mm: hundredths(draw, 180, 250),
        dog_ring_radius_mm: None,
        least_ring_mm: 1.0,
        thrust_washer_mm: hundredths(draw, 0, 150),
        circlip_mm: draw.pick(&[0.0, 0.0, 1.0, 1.2]),
        end_float_mm: hundredths(draw, 5, 30),
        least_gap_mm: hundredths(draw, 20, 80),
        cutter_radius_mm: hundredths(draw, 1500, 3500),
        wall_mm: 12.0,
    }
}

fn shaft(radius_mm: f64, draw: &mut Draw) -> ShaftSize {
    ShaftSize {
        radius_mm,
        bearing_bore_radius_mm: radius_mm - 1.0,
        bearing_outside_radius_mm: radius_mm + hundredths(draw, 300, 600),
        beyond_input_mm: hundredths(draw, 0, 3000),
        beyond_output_mm: hundredths(draw, 0, 3000),
    }
}

/// Random groups of one or two.
fn sleeves(draw: &mut Draw, mut roles: Vec<Role>) -> Vec<Vec<Role>> {
    let mut groups = Vec::new();
    while !roles.is_empty() {
        let mut group = Vec::new();
        for _ in 0..draw.whole(1, 2) {
            if !roles.is_empty() {
                let place = usize::try_from(draw.whole(0, roles.len() as u64 - 1)).unwrap();
                group.push(roles.remove(place));
            }
        }
        groups.push(group);
    }
    groups
}

fn loads(draw: &mut Draw, roles: &[Role], offset: bool) -> Vec<Load> {
    let mut force = || milli(draw.whole(0, 1_600_000)) - 800.0;
    let mut load = |&role: &Role| {
        let on_driver_n = [force(), force()];
        Load {
            role,
            on_driver_n,
            on_driven_n: on_driver_n.map(|part| -part),
            on_head_n: if offset { [0.0; 2] } else { [force(), force()] },
        }
    };
    roles.iter().map(&mut load).collect()
}

/// A random box of at most `most` speeds; often it has no layout.
pub(super) fn random_box(draw: &mut Draw, most: u64) -> Gearbox {
    let offset = draw.percent(45);
    let sum = draw.whole(52, 72);
    let teeth = Teeth {
        module_mm: draw.pick(&[1.0, 1.25, 1.5]),
        sum,
        fixed_mm: hundredths(draw, 500, 600),
        free_mm: hundredths(draw, 700, 750),
    };
    let speeds: Vec<(u64, Pair)> = (0..draw.whole(1, most))
        .map(|place| {
            let driver = draw.whole(20, sum - 21);
            let role = Role::Speed(usize::try_from(place).unwrap());
            (driver, teeth.pair(draw, role, driver))
        })
        .collect();
    let form = match draw.whole(0, 3) {
        0 => ReverseForm::ConstantMesh,
        1 => ReverseForm::SlidingIdler {
            towards: draw.pick(&[End::Input, End::Output]),
            gap_mm: hundredths(draw, 50, 150),
        },
        _ => ReverseForm::Shared {
            with: draw.pick(&speeds).1.role,
        },
    };
    let reverse = if draw.percent(70) {
        reverse(draw, &teeth, &speeds, offset, form)
    } else {
        None
    };
    let mut head = (!offset).then(|| {
        let driver = draw.whole(22, sum - 24);
        teeth.pair(draw, Role::Head, driver)
    });
    if let Some(head) = &mut head {
        head.driver.hole_radius_mm = 5.0;
        head.driven.hole_radius_mm = teeth.fixed_mm;
    }
    let speeds: Vec<Pair> = speeds.into_iter().map(|(_, pair)| pair).collect();
    let mut roles: Vec<Role> = speeds.iter().map(|pair| pair.role).collect();
    let slides = matches!(form, ReverseForm::SlidingIdler { .. });
    let mut loaded = roles.clone();
    if reverse.is_some() {
        loaded.push(Role::Reverse);
        roles.extend((!slides).then_some(Role::Reverse));
    }
    roles.extend((!offset && draw.percent(60)).then_some(Role::Head));
    let loads = loads(draw, &loaded, offset);
    Gearbox {
        arrangement: if offset {
            Arrangement::Offset
        } else {
            Arrangement::InLine
        },
        centre_distance_mm: teeth.centres_mm(sum),
        sleeves: sleeves(draw, roles),
        sizes: sizes(draw),
        shafts: Shafts {
            fixed: shaft(teeth.fixed_mm, draw),
            free: shaft(teeth.free_mm - 1.0, draw),
            input: (!offset).then(|| InputShaft {
                size: shaft(7.0, draw),
                spigot_radius_mm: 4.0,
                spigot_length_mm: head.as_ref().map_or(0.0, |head| {
                    if draw.percent(50) {
                        head.face_width_mm
                    } else {
                        5.0
                    }
                }),
            }),
        },
        head,
        speeds,
        reverse,
        blanks: draw.pick(&[Blanks::OnePiece, Blanks::Separate, Blanks::Auto]),
        goal: draw.pick(&[Goal::Shortest, Goal::LeastBending]),
        loads,
        case: draw.pick(&[Case::Plates, Case::Split, Case::Closed]),
    }
}
