//! Forward speeds that a law spaces.
//!
//! Sources: progressive law, i_n = i_z φ1^(z−n) φ2^((z−n)(z−n−1)/2),
//! Naunheimer and Lechner, Automotive Transmissions, from memory; geometric law
//! the same with φ2 = 1; arithmetic law, equal steps of the ratio, and harmonic
//! law, equal steps of road speed, a textbook on hybrid vehicles, p. 441;
//! preferred numbers, ISO 3.

use crate::base::{Decimal, Quotient};
use crate::problem::arrangement::Arrangement;
use crate::problem::asked::{Asked, Law};
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::model::{Geared, Speed};
use crate::problem::series::Series;
use crate::problem::targets::{MOST_SPACED, USUAL_FACTOR};

/// The speeds, from the lowest (largest ratio) to the highest.
pub(super) fn speeds(
    item: &Item,
    arrangement: Arrangement,
    tolerance_percent: Option<Decimal>,
    log: &mut Log,
) -> Option<Vec<Speed>> {
    let law = law(item);
    meaningless(item, law, log);
    let ratios = law.and_then(|law| ratios(item, law, log));
    let wanted = item.get("direct").is_some_and(|i| i.flag() == Some(true));
    let direct = match &ratios {
        Some(ratios) if wanted => direct(item, arrangement, ratios, log),
        _ => None,
    };
    let speed = |(place, &target): (usize, &Decimal)| {
        let geared = Geared {
            target,
            asked: Asked::Spacing(law?),
            tolerance_percent: tolerance_percent?,
            least: [None; 2],
            cut: None,
        };
        Some(Speed {
            name: (place + 1).to_string(),
            geared: (Some(place) != direct).then_some(geared),
        })
    };
    ratios?.iter().enumerate().map(speed).collect()
}

fn law(item: &Item) -> Option<Law> {
    let series = || match item.get("series") {
        Some(series) => Series::ALL
            .into_iter()
            .find(|s| series.word() == Some(s.word())),
        None => Some(Series::R20),
    };
    match item.get("law")?.word()? {
        "geometric" => Some(Law::Geometric),
        "progressive" => Some(Law::Progressive),
        "arithmetic" => Some(Law::Arithmetic),
        "harmonic" => Some(Law::Harmonic),
        _ => series().map(Law::Preferred),
    }
}

/// Keys of another law.
fn meaningless(item: &Item, law: Option<Law>, log: &mut Log) {
    let Some(law) = law else {
        return;
    };
    let preferred = matches!(law, Law::Preferred(_));
    for (key, only, meant) in [
        ("factor", "progressive", law == Law::Progressive),
        ("series", "preferred", preferred),
    ] {
        if let (Some(item), false) = (item.get(key), meant) {
            let what = format!("the {} law has none", law.word());
            let next = format!("remove this key, or set law to \"{only}\"");
            log.add(&item.span, &item.path, what, next);
        }
    }
}

fn ratios(item: &Item, law: Law, log: &mut Log) -> Option<Vec<Decimal>> {
    let count = item.get("count");
    if count.is_none() && !matches!(law, Law::Preferred(_)) {
        let key = format!("{}.count", item.path);
        let next = "add it: how many speeds".to_owned();
        log.add(&item.span, &key, "missing".to_owned(), next);
    }
    let (first, last) = (item.get("first")?, item.get("last")?);
    let ends = (first.number()?, last.number()?);
    if ends.0 <= ends.1 {
        // Wrong order is told already.
        if ends.0 == ends.1 {
            let what = format!("the same as {}: there is nothing between", first.path);
            let next = "make it smaller".to_owned();
            log.add(&last.span, &last.path, what, next);
        }
        return None;
    }
    if let Law::Preferred(series) = law {
        return preferred(item, series, ends, log);
    }
    let factor = match (law, item.get("factor")) {
        (Law::Progressive, Some(factor)) => factor.number()?,
        (Law::Progressive, None) => USUAL_FACTOR,
        _ => Decimal::whole(1),
    };
    let m = u32::try_from(count?.whole()?).ok()?.checked_sub(1)?;
    match law {
        Law::Arithmetic => in_order(item, m, |k| arithmetic(ends, k, m), log),
        Law::Harmonic => in_order(item, m, |k| harmonic(ends, k, m), log),
        _ => in_order(item, m, |k| progressive(ends, k, m, factor), log),
    }
}

/// The ratio k speeds below the last, of m + 1, by the progressive law; exact
/// before it is rounded. With k = z − n and m = z − 1, φ1 follows from the
/// ends, and i = (first^k · last^(m−k))^(1/m) / φ2^(k(m−k)/2).
fn progressive(
    (first, last): (Decimal, Decimal),
    k: u32,
    m: u32,
    factor: Decimal,
) -> Option<Decimal> {
    let ends = Quotient::from(first).power(k);
    let ends = ends.times(Quotient::from(last).power(m - k)).power(2);
    let squeezed = Quotient::from(factor).power(m * k * (m - k));
    ends.over(squeezed).root(2 * m)
}

/// The same with equal steps of the ratio: (k·first + (m−k)·last) / m.
fn arithmetic((first, last): (Decimal, Decimal), k: u32, m: u32) -> Option<Decimal> {
    let sum = weighed((first, k), (last, m - k));
    Quotient::from(sum).over(whole(m)).root(1)
}

/// The same with equal steps of the speed, which is as 1/i:
/// m·first·last / (k·last + (m−k)·first).
fn harmonic((first, last): (Decimal, Decimal), k: u32, m: u32) -> Option<Decimal> {
    let product = Quotient::from(first).times(last).times(whole(m));
    product.over(weighed((last, k), (first, m - k))).root(1)
}

fn whole(n: u32) -> Decimal {
    Decimal::whole(i64::from(n))
}

/// Exact: ratios up to 1000, and no more than 32 of them.
fn weighed((a, times_a): (Decimal, u32), (b, times_b): (Decimal, u32)) -> Decimal {
    let part = |x: Decimal, times| x.millionths() * i64::from(times);
    Decimal::from_millionths(part(a, times_a) + part(b, times_b))
}

/// The m + 1 ratios, unless rounding or the law's factor turns two round.
fn in_order(
    item: &Item,
    m: u32,
    ratio: impl Fn(u32) -> Option<Decimal>,
    log: &mut Log,
) -> Option<Vec<Decimal>> {
    let all: Vec<Option<Decimal>> = (0..=m).rev().map(ratio).collect();
    let out_of_order = |two: &[Option<Decimal>]| two[0].is_none() || two[0] <= two[1];
    if let Some(place) = all.windows(2).position(out_of_order) {
        let what = format!(
            "speed {} would not be faster than speed {}",
            place + 2,
            place + 1
        );
        let next = "fewer speeds, ends further apart, or a factor nearer to 1".to_owned();
        let at = item.get("factor").unwrap_or(item);
        log.add(&at.span, &at.path, what, next);
        return None;
    }
    all.into_iter().collect()
}

fn preferred(
    item: &Item,
    series: Series,
    (first, last): (Decimal, Decimal),
    log: &mut Log,
) -> Option<Vec<Decimal>> {
    let members = series.members(first, last);
    let found = members.len();
    let has = format!(
        "{} has {found} {} from {first} to {last}",
        series.word(),
        if found == 1 { "member" } else { "members" }
    );
    if !(2..=MOST_SPACED).contains(&found) {
        let next = if found < 2 {
            "move first and last apart, or take a finer series".to_owned()
        } else {
            format!("move first and last together, or take a coarser series; at most {MOST_SPACED}")
        };
        log.add(&item.span, &item.path, has, next);
        return None;
    }
    if let Some(count) = item.get("count")
        && count.whole().is_some_and(|count| count != found)
    {
        let next = format!("set it to {found} or leave it out, or move first or last");
        log.add(&count.span, &count.path, has, next);
        return None;
    }
    Some(members)
}

/// The place of the speed that is locked instead of geared.
fn direct(
    item: &Item,
    arrangement: Arrangement,
    ratios: &[Decimal],
    log: &mut Log,
) -> Option<usize> {
    let at = item.get("direct").unwrap_or(item);
    if arrangement == Arrangement::Offset {
        let what = "offset shafts can't be locked together".to_owned();
        let next = "remove this key, or set arrangement to \"in-line\"".to_owned();
        log.add(&at.span, &at.path, what, next);
        return None;
    }
    let place = ratios.iter().position(|ratio| *ratio == Decimal::whole(1));
    if place.is_none() {
        let near = |ratio: &&Decimal| ratio.to_f64().ln().abs();
        let nearest = ratios.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
        let nearest = nearest.map_or_else(String::new, Decimal::to_string);
        let what = format!("no speed has a ratio of exactly 1; the nearest is {nearest}");
        let next = "make first or last 1, or remove this key".to_owned();
        log.add(&at.span, &at.path, what, next);
    }
    place
}
