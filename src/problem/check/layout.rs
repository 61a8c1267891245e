//! The form of reverse and the layout along the shafts.

use super::optional;
use crate::base::{Decimal, Length};
use crate::problem::fault::{Log, shown};
use crate::problem::item::Item;
use crate::problem::layout::{
    Case, CaseMaterial, Dogs, DogsGiven, Holding, Layout, ReverseForm, Served,
};
use crate::problem::model::Speed;
use crate::problem::teeth::Shaft;

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
        log.add_of_box(&item.span, &item.path, what, next);
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
        log.add_of_box(&overlap.span, &overlap.path, what, next);
    }
    Some(Layout {
        least_bending: word("order")? == "least-bending",
        forks: forks(item.get("forks"), speeds?, reverse, log)?,
        holding: match word("layshaft")? {
            "one-piece" => Holding::OnePiece,
            "keyed" => Holding::Keyed,
            "bonded" => Holding::Bonded,
            "pressed" => Holding::Pressed,
            _ => Holding::Auto,
        },
        press_interference: maybe("press_interference")?,
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
        dogs: dogs(item.get("dogs")?)?,
        neutral_gap: length("neutral_gap")?,
        sleeve_width: length("sleeve_width")?,
        sleeve_outside: maybe("sleeve_outside")?,
        washer: length("washer")?,
        circlip: length("circlip")?,
        end_float: length("end_float")?,
        cutter_radius: length("cutter_radius")?,
        gap: length("gap")?,
        input_span: maybe("input_span")?,
        datum: [datum("x")?, datum("y")?],
        check_pins,
    })
}

/// Of a usual light box where the file does not say (common practice, no
/// source).
const USUAL_BACK_TAPER_DEG: f64 = 3.0;
const USUAL_DETENT_N: f64 = 40.0;

fn dogs(item: &Item) -> Option<Dogs> {
    let number = |name| Some(optional(item.get(name), Item::number)?.map(Decimal::to_f64));
    let length = |name| Some(item.get(name)?.length()?.mm());
    let (back_taper, detent) = (number("back_taper_deg")?, number("detent_n")?);
    Some(Dogs {
        count: u32::try_from(item.get("count")?.whole()?).ok()?,
        height_mm: length("height")?,
        width_mm: optional(item.get("width"), Item::length)?.map(Length::mm),
        play_mm: length("play")?,
        back_taper_deg: back_taper.unwrap_or(USUAL_BACK_TAPER_DEG),
        detent_n: detent.unwrap_or(USUAL_DETENT_N),
        given: DogsGiven {
            back_taper: back_taper.is_some(),
            detent: detent.is_some(),
        },
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
                // A speed that is there and on a sleeve already is a fault of
                // the box; a name of nothing is one of writing.
                let taken = speeds.iter().any(|speed| speed.name() == text) || text == "reverse";
                if taken {
                    log.add_of_box(&name.span, &name.path, what, next.to_owned());
                } else {
                    log.add(&name.span, &name.path, what, next.to_owned());
                }
            }
        }
        if let [_, _, third, ..] = fork.list()? {
            let what = "a sleeve has two sides, and both are taken".to_owned();
            let next = "give this speed a sleeve of its own".to_owned();
            log.add_of_box(&third.span, &third.path, what, next);
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
