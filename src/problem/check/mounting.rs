//! Shafts, the idler's pin: sizes that are not given follow from others,
//! once.

use super::optional;
use crate::base::{Decimal, Length};
use crate::problem::arrangement::Arrangement;
use crate::problem::duty::Duty;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Head, Reverse, Speed};
use crate::problem::mounting::{
    Bearing, HeldIn, IdlerPin, Origin, Rating, ShaftSize, Shafting, Side, Spigot, Turning,
};
use crate::problem::sizing;
use crate::problem::teeth::{Bore, Bores, Shaft};
use std::f64::consts::PI;

/// Wall of the bush of a free gear where holes follow from the shafts, mm
/// (common practice, no source).
const BUSH: Length = Length::from_mm(Decimal::from_millionths(1_500_000));

pub(super) fn input_turns(root: &Item) -> Option<Turning> {
    Some(match root.get("input_turns")?.word()? {
        "anticlockwise" => Turning::Anticlockwise,
        _ => Turning::Clockwise,
    })
}

pub(super) fn input_rpm(root: &Item) -> Option<Option<f64>> {
    let rpm = optional(root.get("input_rpm"), Item::number)?;
    Some(rpm.map(Decimal::to_f64))
}

/// Way of the vehicle in one turn of the output shaft, mm.
pub(super) fn road_way_mm(root: &Item) -> Option<Option<f64>> {
    optional(root.get("vehicle"), |vehicle| {
        let length = |name| optional(vehicle.get(name), Item::length);
        let rolled = match (length("rolling_circumference")?, length("wheel_diameter")?) {
            (Some(way), _) => way.mm(),
            (None, Some(diameter)) => PI * diameter.mm(),
            (None, None) => return None,
        };
        Some(rolled / vehicle.get("final_drive_ratio")?.number()?.to_f64())
    })
}

/// The largest torque of each shaft per torque on the input shaft.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steps {
    head: f64,
    output: f64,
}

impl Steps {
    /// As far as the ratios asked for tell. Where the head pair has no greatest
    /// ratio it is taken to do half of the work: the root of the largest ratio.
    pub(super) fn of(
        arrangement: Arrangement,
        head: &Head,
        speeds: &[Speed],
        reverse: Option<&Reverse>,
    ) -> Self {
        let most = |target: Decimal, tolerance: Decimal| {
            target.to_f64() * (1.0 + tolerance.to_f64() / 100.0)
        };
        let forward = speeds.iter().map(|speed| {
            let geared = speed.geared();
            geared.map_or(1.0, |g| most(g.target(), g.tolerance_percent()))
        });
        let backward = reverse.map(|r| most(r.target(), r.tolerance_percent()));
        let output = forward.chain(backward).fold(0.0, f64::max);
        let head = match arrangement {
            Arrangement::Offset => 1.0,
            Arrangement::InLine => head.max.map_or(output.max(1.0).sqrt(), Decimal::to_f64),
        };
        Self { head, output }
    }

    const fn to(self, shaft: Shaft) -> f64 {
        match shaft {
            Shaft::Input | Shaft::Idler => 1.0,
            Shaft::Layshaft => self.head,
            Shaft::Main | Shaft::Output => self.output,
        }
    }
}

/// Tells of sizes of what the arrangement has not.
pub(super) fn foreign(root: &Item, arrangement: Arrangement, log: &mut Log) {
    let Some(given) = root.get("shafts") else {
        return;
    };
    let known = |shaft: &Shaft| arrangement.shafts().contains(shaft);
    for shaft in Shaft::ALL.into_iter().filter(|shaft| !known(shaft)) {
        if let Some(own) = given.get(shaft.word()) {
            let what = format!("this box has no {} shaft", shaft.word());
            let next = "remove this key, or name another shaft".to_owned();
            log.add(&own.span, &own.path, what, next);
        }
    }
    if let (Arrangement::Offset, Some(own)) = (arrangement, given.get("spigot")) {
        let what = "an offset box has no spigot".to_owned();
        log.add(&own.span, &own.path, what, "remove this key".to_owned());
    }
}

/// The shafts, and the spigot.
pub(super) fn shafting(
    root: &Item,
    arrangement: Arrangement,
    (bores, duty, pin): (&Bores, Option<&Duty>, Option<&IdlerPin>),
    steps: Option<Steps>,
) -> Option<Shafting> {
    let given = root.get("shafts");
    let mut shafting = Shafting::default();
    for &shaft in arrangement.shafts() {
        let own = given.and_then(|given| given.get(shaft.word()));
        // The bore of the input gear of an in-line box is the spigot's.
        let integral = shaft == Shaft::Input && arrangement == Arrangement::InLine;
        let bore = bores.on(shaft).filter(|_| !integral);
        let torque = duty.zip(steps).map(|(duty, steps)| (duty, steps.to(shaft)));
        shafting.by_shaft[shaft as usize] = size(own, bore, torque)?;
    }
    shafting.by_shaft[Shaft::Idler as usize] = pin.map(|pin| ShaftSize {
        diameter: pin.pin,
        origin: Origin::Given,
        bearing: None,
    });
    let spigot = given.and_then(|given| given.get("spigot"));
    if arrangement == Arrangement::InLine {
        shafting.spigot = spigot_of(spigot, shafting.of(Shaft::Main))?;
    }
    Some(shafting)
}

/// The size of one shaft: as given, by the bore of its gears, by the torque.
fn size(
    own: Option<&Item>,
    bore: Option<Bore>,
    torque: Option<(&Duty, f64)>,
) -> Option<Option<ShaftSize>> {
    let length = |name| optional(own.and_then(|own| own.get(name)), Item::length);
    let by_torque = || {
        let (duty, step) = torque?;
        let torque_n_m = duty.input_torque_n_m * step;
        let needed_mm = sizing::shaft_mm(torque_n_m * duty.shock(), duty.shaft_shear_mpa);
        let origin = Origin::Torque {
            torque_n_m,
            needed_mm,
        };
        Some((sizing::standard_diameter(needed_mm), origin))
    };
    let diameter = match (length("diameter")?, bore) {
        (Some(given), _) => Some((given, Origin::Given)),
        (None, Some(bore)) => Some((bore.diameter, Origin::Bore)),
        (None, None) => by_torque(),
    };
    let Some((diameter, origin)) = diameter else {
        return Some(None);
    };
    let seat = length("bearing_bore")?;
    let standard = sizing::bearing_for(seat.unwrap_or(diameter));
    let mut bearing = Bearing {
        bore: seat.or(standard.map(|s| s.bore)).unwrap_or(diameter),
        outside: length("bearing_outside")?
            .or(standard.map(|s| s.outside))
            .unwrap_or(Length::ZERO),
        width: length("bearing_width")?
            .or(standard.map(|s| s.width))
            .unwrap_or(Length::ZERO),
        rating: None,
    };
    let number = |name| {
        let given = optional(own.and_then(|own| own.get(name)), Item::number)?;
        Some(given.map(Decimal::to_f64))
    };
    let given = [number("dynamic_rating_n")?, number("static_rating_n")?];
    bearing.rating = rating(&bearing, standard, given);
    Some(Some(ShaftSize {
        diameter,
        origin,
        bearing: (bearing.outside > Length::ZERO).then_some(bearing),
    }))
}

/// As given; else that of the light ball bearing, where it is that one.
fn rating(
    bearing: &Bearing,
    standard: Option<sizing::Standard>,
    [dynamic_n, static_n]: [Option<f64>; 2],
) -> Option<Rating> {
    let same = |s: &sizing::Standard| {
        (s.bore, s.outside, s.width) == (bearing.bore, bearing.outside, bearing.width)
    };
    let usual = standard.filter(same);
    Some(Rating {
        dynamic_n: dynamic_n.or(usual.map(|s| s.dynamic_n))?,
        static_n: static_n.or(usual.map(|s| s.static_n))?,
        given: [dynamic_n, static_n].map(|given| given.is_some()),
    })
}

fn spigot_of(own: Option<&Item>, main: Option<ShaftSize>) -> Option<Option<Spigot>> {
    let given = optional(own.and_then(|own| own.get("diameter")), Item::length)?;
    let usual = main.map(|main| {
        let most = Length::from_steps(main.diameter.steps() / 10 * i64::from(Spigot::SHARE_TENTHS));
        sizing::standard_up_to(most)
    });
    let Some(diameter) = given.or(usual) else {
        return Some(None);
    };
    let Some(own) = own else {
        return Some(Some(Spigot {
            diameter,
            needle: false,
            wall: BUSH,
        }));
    };
    Some(Some(Spigot {
        diameter,
        needle: own.get("kind")?.word()? == "needle",
        wall: own.get("wall")?.length()?,
    }))
}

/// The holes that are not given, where they are to follow from the shafts.
pub(super) fn auto_bores(
    root: &Item,
    arrangement: Arrangement,
    shafting: &Shafting,
    pin: Option<&IdlerPin>,
    bores: &mut Bores,
    log: &mut Log,
) {
    let pin_hole = pin.map(|pin| Bore {
        diameter: pin.pin,
        bush: pin.bush,
        keyway: Length::ZERO,
    });
    let idler = &mut bores.by_shaft[Shaft::Idler as usize];
    *idler = idler.or(pin_hole.filter(|_| root.get("reverse").is_some()));
    let Some(item) = root.get("bores") else {
        return;
    };
    let auto = item.word() == Some("auto") || item.get("auto").and_then(Item::flag) == Some(true);
    if !auto {
        return;
    }
    for &shaft in arrangement.shafts() {
        let hole = &mut bores.by_shaft[shaft as usize];
        *hole = hole.or_else(|| auto_hole(arrangement, shaft, shafting));
    }
    if arrangement
        .shafts()
        .iter()
        .any(|shaft| bores.on(*shaft).is_none())
    {
        let what = "nothing says how thick the shafts are".to_owned();
        let next = "add \"duty\": { \"input_torque_n_m\": … }, or shafts with their diameters";
        log.add(&item.span, &item.path, what, next.to_owned());
    }
}

/// Free gears run on bushes, fixed ones are keyed; the input gear of an in-line
/// box has the spigot in it.
fn auto_hole(arrangement: Arrangement, shaft: Shaft, shafting: &Shafting) -> Option<Bore> {
    if shaft == Shaft::Input && arrangement == Arrangement::InLine {
        return shafting.spigot.map(|spigot| Bore {
            diameter: spigot.diameter,
            bush: spigot.wall,
            keyway: Length::ZERO,
        });
    }
    let diameter = shafting.of(shaft)?.diameter;
    let free = matches!(shaft, Shaft::Main | Shaft::Output);
    Some(Bore {
        diameter,
        bush: if free { BUSH } else { Length::ZERO },
        keyway: if free {
            Length::ZERO
        } else {
            sizing::hub_keyway(diameter)
        },
    })
}

/// The idler's pin.
pub(super) fn idler_pin(root: &Item, log: &mut Log) -> Option<Option<IdlerPin>> {
    optional(root.get("idler"), |item| {
        if root.get("reverse").is_none() {
            let what = "there is no reverse, so no idler".to_owned();
            let next = "remove this block, or add \"reverse\"".to_owned();
            log.add(&item.span, &item.path, what, next);
        }
        let length = |name| item.get(name)?.length();
        let word = item.get("held_in")?.word()?;
        let case = item.get("case");
        let inside = |name| optional(case.and_then(|case| case.get(name)), Item::length);
        Some(IdlerPin {
            pin: length("pin")?,
            bush: length("bush")?,
            held_in: HeldIn::ALL.into_iter().find(|h| h.word() == word)?,
            gap: length("gap")?,
            min_wall: length("min_wall")?,
            side: match item.get("side")?.word()? {
                "left" => Some(Side::Left),
                "right" => Some(Side::Right),
                _ => None,
            },
            case: [inside("right")?, inside("left")?],
            clear_place: item.get("clear_place")?.flag()?,
            clear_of_gears: true,
        })
    })
}
