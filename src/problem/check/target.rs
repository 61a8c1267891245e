//! The ratio that a role asks for, in whatever words.
//!
//! Sources: speed of a vehicle, km/h = rpm · 60 · rolling circumference (mm) /
//! (ratio · final drive · 10⁶), from 60 minutes and 10⁶ mm; a mile is exactly
//! 1.609344 km (the international yard of 0.9144 m).

use super::own;
use crate::base::{Decimal, Quotient};
use crate::problem::arrangement::Arrangement;
use crate::problem::asked::{Asked, RoadUnit};
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::table::RATIO;
use crate::problem::targets::WORDS;

const KMH_OF_MPH: Decimal = Decimal::from_millionths(1_609_344);

/// What turns the words of targets into ratios.
#[derive(Debug)]
pub(super) struct Basis {
    input_rpm: Option<Decimal>,
    /// Way of the vehicle in one turn of the output shaft, mm.
    way_mm: Option<Quotient>,
    /// What the head's own teeth do; none where the head is not cut.
    pub(super) head: Option<Quotient>,
}

impl Basis {
    /// Tells what is missing that some target needs, once.
    pub(super) fn of(root: &Item, arrangement: Arrangement, log: &mut Log) -> Self {
        let speeds = root.get("speeds").and_then(Item::list).unwrap_or_default();
        let roles = speeds.iter().chain(root.get("reverse"));
        let words = roles.flat_map(|role| WORDS.iter().filter_map(|word| role.get(word)));
        let mut of_shafts = words.clone().filter(|item| !item.path.ends_with(WORDS[0]));
        let mut of_road = words.filter(|item| is_road(item));
        let input = root.get("input_rpm");
        let vehicle = root.get("vehicle");
        if let (Some(needy), None) = (of_shafts.next(), input) {
            let next = "add \"input_rpm\", the speed of the input shaft, at the top of the file";
            missing(needy, "input_rpm", next, log);
        }
        if let (Some(needy), None) = (of_road.next(), vehicle) {
            let next = "add \"vehicle\": { \"wheel_diameter_mm\": …, \"final_drive_ratio\": … } at \
                        the top of the file";
            missing(needy, "vehicle", next, log);
        }
        Self {
            input_rpm: input.and_then(Item::number),
            way_mm: vehicle.and_then(way_mm),
            head: own::head_ratio(root, arrangement),
        }
    }

    /// The ratio that the role asks for; none when it asks for none, or wrongly.
    pub(super) fn resolve(&self, role: &Item, log: &mut Log) -> Option<(Decimal, Asked)> {
        let word = WORDS.iter().find(|word| role.get(word).is_some())?;
        let item = role.get(word)?;
        let number = item.number()?;
        if *word == WORDS[0] {
            return Some((number, Asked::Ratio));
        }
        let input = self.input_rpm?;
        let of_road = |unit| {
            let speed = number;
            let asked = Asked::RoadSpeed { speed, unit, input };
            Some((self.of_road(speed, unit, input)?, asked))
        };
        let output = number;
        let (ratio, asked) = match *word {
            "road_speed_kmh" => of_road(RoadUnit::Kmh)?,
            "road_speed_mph" => of_road(RoadUnit::Mph)?,
            _ => (
                Quotient::from(input).over(output),
                Asked::OutputRpm { output, input },
            ),
        };
        Some((rounded(&ratio, item, log)?, asked))
    }

    fn of_road(&self, speed: Decimal, unit: RoadUnit, input: Decimal) -> Option<Quotient> {
        let kmh = match unit {
            RoadUnit::Kmh => Quotient::from(speed),
            RoadUnit::Mph => Quotient::from(speed).times(KMH_OF_MPH),
        };
        let mm_an_hour = self.way_mm.clone()?.times(input).times(Decimal::whole(60));
        Some(mm_an_hour.over(kmh.times(Decimal::whole(1_000_000))))
    }
}

/// The value by which a role asks for its ratio; the first, when several do.
pub(super) fn given(role: &Item) -> Option<&Item> {
    WORDS.iter().find_map(|word| role.get(word))
}

fn is_road(item: &Item) -> bool {
    WORDS[2..].iter().any(|word| item.path.ends_with(word))
}

fn missing(needy: &Item, key: &str, next: &str, log: &mut Log) {
    let what = format!("needs {key}, which is missing");
    log.add(&needy.span, &needy.path, what, next.to_owned());
}

fn way_mm(vehicle: &Item) -> Option<Quotient> {
    let length = |name| vehicle.get(name).map(Item::length);
    let rolled = match (length("rolling_circumference"), length("wheel_diameter")) {
        (Some(way), _) => Quotient::from(way?),
        (None, Some(diameter)) => Quotient::pi().times(diameter?),
        (None, None) => return None,
    };
    Some(rolled.over(vehicle.get("final_drive_ratio")?.number()?))
}

/// The ratio rounded half up to 6 decimals: that is the target.
fn rounded(ratio: &Quotient, item: &Item, log: &mut Log) -> Option<Decimal> {
    let target = ratio.root(1);
    let how = match target {
        Some(target) if RATIO.contains(target) => return Some(target),
        Some(target) if target < RATIO.low => "below",
        _ => "above",
    };
    let end = if how == "below" {
        RATIO.low
    } else {
        RATIO.high
    };
    let what = format!("the ratio for it is {how} {end}");
    let mut next = "correct it, or input_rpm".to_owned();
    if is_road(item) {
        next += ", or vehicle";
    }
    log.add(&item.span, &item.path, what, next);
    None
}
