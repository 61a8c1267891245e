//! Torque, shafts, the idler's pin and the layout: sizes that are not given
//! follow from others, once.

use super::optional;
use crate::base::{Decimal, Length};
use crate::problem::arrangement::Arrangement;
use crate::problem::fault::{Log, shown};
use crate::problem::item::Item;
use crate::problem::model::{Head, Reverse, Speed};
use crate::problem::mounting::{
    Bearing, Case, CaseMaterial, Duty, HeldIn, Holding, IdlerPin, Layout, Origin, ReverseForm,
    Served, ShaftSize, Shafting, Side, Spigot, Turning,
};
use crate::problem::sizing;
use crate::problem::teeth::{Bore, Bores, Shaft};
use std::f64::consts::PI;

/// Wall of the bush of a free gear where holes follow from the shafts, mm
/// (common practice, no source).
const BUSH: Length = Length::from_mm(Decimal::from_millionths(1_500_000));

/// A spigot is so much of the main shaft at most, in tenths (common practice,
/// no source).
const SPIGOT_TENTHS: i64 = 6;

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

pub(super) fn duty(root: &Item, log: &mut Log) -> Option<Option<Duty>> {
    optional(root.get("duty"), |item| {
        let number = |name| Some(item.get(name)?.number()?.to_f64());
        let torque = match (item.get("input_torque_n_m"), item.get("input_power_w")) {
            (Some(torque), _) => torque.number()?.to_f64(),
            (None, power) => {
                let rpm = root.get("input_rpm");
                if let (Some(power), None) = (power, rpm) {
                    let what = "needs input_rpm, which is missing".to_owned();
                    let next = "add \"input_rpm\" at the top of the file, or give input_torque_n_m";
                    log.add(&power.span, &power.path, what, next.to_owned());
                }
                let turns_a_second = rpm?.number()?.to_f64() / 60.0;
                power?.number()?.to_f64() / (2.0 * PI * turns_a_second)
            }
        };
        Some(Duty {
            input_torque_n_m: torque,
            from_power: item.get("input_torque_n_m").is_none(),
            shock: number("shock")?,
            shaft_shear_mpa: number("shaft_shear_mpa")?,
        })
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
        let needed_mm = sizing::shaft_mm(torque_n_m * duty.shock, duty.shaft_shear_mpa);
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
    let bearing = Bearing {
        bore: seat.or(standard.map(|s| s.bore)).unwrap_or(diameter),
        outside: length("bearing_outside")?
            .or(standard.map(|s| s.outside))
            .unwrap_or(Length::ZERO),
        width: length("bearing_width")?
            .or(standard.map(|s| s.width))
            .unwrap_or(Length::ZERO),
    };
    Some(Some(ShaftSize {
        diameter,
        origin,
        bearing: (bearing.outside > Length::ZERO).then_some(bearing),
    }))
}

fn spigot_of(own: Option<&Item>, main: Option<ShaftSize>) -> Option<Option<Spigot>> {
    let given = optional(own.and_then(|own| own.get("diameter")), Item::length)?;
    let usual = main.map(|main| {
        let most = Length::from_steps(main.diameter.steps() / 10 * SPIGOT_TENTHS);
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
        })
    })
}

/// How reverse is engaged; a helical idler cannot be slid into mesh.
pub(super) fn reverse_form(reverse: &Item, root: &Item, log: &mut Log) -> Option<ReverseForm> {
    let item = reverse.get("form")?;
    match item.word()? {
        "sliding-idler" => {}
        "shared-driver" => {
            sharing(item, root, log);
            return Some(ReverseForm::SharedDriver);
        }
        _ => return Some(ReverseForm::ConstantMesh),
    }
    let helix = root
        .get("gears")
        .and_then(|gears| gears.get("helix_angle_deg"));
    let helix = helix.and_then(Item::number);
    if helix.is_some_and(|helix| helix > Decimal::whole(0)) {
        let what = "an idler with helical teeth can't be slid into mesh".to_owned();
        let next = "use \"constant-mesh\", or set gears.helix_angle_deg to 0".to_owned();
        log.add(&item.span, &item.path, what, next);
    }
    Some(ReverseForm::SlidingIdler)
}

/// A driving gear serves two meshes only where it is made alike for both: a
/// split of shifts, or a tip turned down, is settled for one mesh alone.
fn sharing(form: &Item, root: &Item, log: &mut Log) {
    let within = |block: &str, name: &str| root.get(block).and_then(|block| block.get(name));
    let own = "or use \"constant-mesh\", where reverse has a driving gear of its own";
    if within("gears", "profile_shift").is_some() {
        let what = "with gears.profile_shift the gear of a speed is shifted for its own mate, \
                    not for the reverse idler"
            .to_owned();
        log.add(
            &form.span,
            &form.path,
            what,
            format!("remove gears.profile_shift, {own}"),
        );
    }
    if within("limits", "extra_tip_shortening").and_then(Item::flag) == Some(true) {
        let what = "with limits.extra_tip_shortening the gear of a speed is turned down for its \
                    own mate, not for the reverse idler"
            .to_owned();
        let next = format!("set limits.extra_tip_shortening to false, {own}");
        log.add(&form.span, &form.path, what, next);
    }
}

/// Reverse can share the driving gear of a geared speed only where there is one.
pub(super) fn shared_with(
    root: &Item,
    speeds: Option<&[Speed]>,
    reverse: Option<ReverseForm>,
    log: &mut Log,
) {
    let shares = reverse == Some(ReverseForm::SharedDriver);
    let geared = speeds.is_none_or(|all| all.iter().any(|speed| speed.geared().is_some()));
    let form = root.get("reverse").and_then(|reverse| reverse.get("form"));
    if let (true, false, Some(form)) = (shares, geared, form) {
        let what = "there is no geared speed whose driving gear reverse could share".to_owned();
        let next = "add a speed with a ratio, or use \"constant-mesh\"".to_owned();
        log.add(&form.span, &form.path, what, next);
    }
}

/// The layout; every size has a usual one.
pub(super) fn layout(
    root: &Item,
    speeds: Option<&[Speed]>,
    reverse: Option<ReverseForm>,
    log: &mut Log,
) -> Option<Layout> {
    let item = root.get("layout")?;
    let length = |name| item.get(name)?.length();
    let maybe = |name| optional(item.get(name), Item::length);
    let word = |name| item.get(name)?.word();
    let pins = item.get("check_pins");
    let datum = |name| match item.get("datum") {
        Some(datum) => datum.get(name)?.length(),
        None => Some(Length::ZERO),
    };
    let mut check_pins = [None; 5];
    for shaft in Shaft::ALL {
        let own = pins.and_then(|pins| pins.get(shaft.word()));
        check_pins[shaft as usize] = optional(own, Item::length)?;
    }
    let (ring, overlap) = (item.get("dog_ring")?, item.get("dog_overlap")?);
    if overlap.exceeds(ring) {
        let what = format!("it exceeds {}", ring.path);
        let next = "dogs can't engage deeper than their ring is long".to_owned();
        log.add(&overlap.span, &overlap.path, what, next);
    }
    Some(Layout {
        least_bending: word("order")? == "least-bending",
        forks: forks(item.get("forks"), speeds?, reverse, log)?,
        holding: match word("layshaft")? {
            "one-piece" => Holding::OnePiece,
            "keyed" => Holding::Keyed,
            "bonded" => Holding::Bonded,
            _ => Holding::Auto,
        },
        left_hand: word("layshaft_hand")? == "left",
        case: match word("case")? {
            "split" => Case::Split,
            "closed" => Case::Closed,
            _ => Case::Plates,
        },
        case_material: match word("case_material")? {
            "cast iron" => CaseMaterial::CastIron,
            "steel" => CaseMaterial::Steel,
            _ => CaseMaterial::Aluminium,
        },
        wall: length("wall")?,
        dog_ring: length("dog_ring")?,
        dog_overlap: length("dog_overlap")?,
        dog_wall: length("dog_wall")?,
        dog_ring_outside: maybe("dog_ring_outside")?,
        neutral_gap: length("neutral_gap")?,
        sleeve_width: length("sleeve_width")?,
        sleeve_outside: maybe("sleeve_outside")?,
        washer: length("washer")?,
        end_float: length("end_float")?,
        cutter_radius: length("cutter_radius")?,
        gap: length("gap")?,
        input_span: maybe("input_span")?,
        datum: [datum("x")?, datum("y")?],
        check_pins,
    })
}

/// Which speeds share a sleeve. Where the file does not say: reverse has its
/// own, the direct speed shares with the speed before it, the others in pairs
/// from the first on.
fn forks(
    item: Option<&Item>,
    speeds: &[Speed],
    reverse: Option<ReverseForm>,
    log: &mut Log,
) -> Option<Vec<Vec<Served>>> {
    let dogged = reverse.is_some_and(|form| form != ReverseForm::SlidingIdler);
    let mut forks = Vec::new();
    let mut left: Vec<Served> = (0..speeds.len()).map(Served::Speed).collect();
    left.extend(dogged.then_some(Served::Reverse));
    for fork in item.map_or(Some([].as_slice()), Item::list)? {
        let mut served = Vec::new();
        for name in fork.list()? {
            let text = name.text()?;
            let known = |served: &Served| match served {
                Served::Speed(place) => speeds[*place].name() == text,
                Served::Reverse => text == "reverse",
            };
            if let Some(place) = left.iter().position(known) {
                served.push(left.remove(place));
            } else {
                let what = format!("\"{}\" is no speed that is left to engage", shown(text));
                let next = "name each speed once, as its name says; reverse is \"reverse\", \
                                and a sliding idler has no sleeve";
                log.add(&name.span, &name.path, what, next.to_owned());
            }
        }
        forks.push(served);
    }
    forks.extend(neighbours(&left, speeds));
    Some(forks)
}

fn neighbours(left: &[Served], speeds: &[Speed]) -> Vec<Vec<Served>> {
    let direct = |served: &Served| match served {
        Served::Speed(place) => speeds[*place].geared().is_none(),
        Served::Reverse => false,
    };
    let mut forward: Vec<Served> = left
        .iter()
        .copied()
        .filter(|served| *served != Served::Reverse)
        .collect();
    let mut forks = Vec::new();
    if let Some(place) = forward.iter().position(direct) {
        // The speed before the direct one, else the one after it.
        let before = place.checked_sub(1).unwrap_or(place + 1);
        let mut pair = vec![forward[place]];
        pair.extend(forward.get(before));
        forward.retain(|served| !pair.contains(served));
        forks.push(pair);
    }
    forks.extend(forward.chunks(2).map(<[Served]>::to_vec));
    if left.contains(&Served::Reverse) {
        forks.push(vec![Served::Reverse]);
    }
    forks
}
