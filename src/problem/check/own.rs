//! The target of gears that are cut and asked for nothing: the ratio that they
//! have.
//!
//! It is there where every pair that the power passes is cut; behind a head
//! pair that is still to be found the teeth of a speed have no ratio yet.

use super::target::Basis;
use crate::base::{Decimal, Quotient, Teeth};
use crate::problem::arrangement::Arrangement;
use crate::problem::asked::Asked;
use crate::problem::fault::Log;
use crate::problem::item::Item;
use crate::problem::table::RATIO;

/// Such a target is rounded to 6 decimals as all targets are: of the smallest
/// ratio that a file may have, half a step is 0.05 %.
const ROUNDED_PERCENT: Decimal = Decimal::from_millionths(100_000);

/// What the head pair does; 1 on offset shafts, none where it is not cut.
pub(super) fn head_ratio(root: &Item, arrangement: Arrangement) -> Option<Quotient> {
    let one = || Quotient::from(Decimal::whole(1));
    if arrangement == Arrangement::Offset {
        return Some(one());
    }
    let teeth = root.get("head")?.get("teeth")?.list()?;
    let [driver, driven] = teeth else {
        return None;
    };
    Some(
        one()
            .times(whole(driven.teeth()?))
            .over(whole(driver.teeth()?)),
    )
}

/// The ratio of a role's own gears, driver and driven, told as such; a fault
/// where there is none.
pub(super) fn target(
    basis: &Basis,
    role: &Item,
    [driver, driven]: [Teeth; 2],
    log: &mut Log,
) -> Option<(Decimal, Asked)> {
    let key = format!("{}.ratio", role.path);
    let at = role.get("teeth").unwrap_or(role);
    let Some(head) = basis.head.clone() else {
        let what = "missing: behind a head pair that is not cut these teeth have no ratio yet";
        let next = "add the ratio wanted, or head.teeth";
        log.add(&at.span, &key, what.to_owned(), next.to_owned());
        return None;
    };
    let ratio = head.times(whole(driven)).over(whole(driver)).root(1);
    let ratio = ratio.filter(|ratio| RATIO.contains(*ratio));
    if ratio.is_none() {
        let what = format!(
            "the teeth give a ratio outside {} to {}",
            RATIO.low, RATIO.high
        );
        log.add(&at.span, &key, what, "correct the teeth".to_owned());
    }
    Some((ratio?, Asked::OwnTeeth))
}

/// What a role may be off, percent: rounding alone never puts a target out of
/// reach of the teeth that it comes from.
pub(super) fn tolerance(asked: Asked, given: Decimal) -> Decimal {
    match asked {
        Asked::OwnTeeth => given.max(ROUNDED_PERCENT),
        _ => given,
    }
}

fn whole(teeth: Teeth) -> Decimal {
    Decimal::whole(i64::from(teeth.get()))
}
