//! The least changes that let teeth hold: less asked of them, wider gears, less
//! load, stronger material. Less running time is never proposed: a box that
//! lasts shorter is not stronger.

use super::gears::rising_singles;
use super::strength::{LEAST_SAFETY, Shortfall};
use super::trial::{Trials, hundredths};
use super::way::{Axis, Step, Way};
use super::widths::widths;
use crate::base::Decimal;
use crate::problem::{Duty, MATERIAL_ROWS, get};
use serde_json::{Value, json};

/// The load falls to no less than one such part.
const LEAST_LOAD: i64 = 100;
/// Materials proposed at most, the weakest that will do first.
const MOST_MATERIALS: usize = 2;

/// The least step of each kind that lets sets hold.
pub(super) fn singles(trials: &Trials<'_>) -> Vec<Step> {
    let lists = vec![
        safeties(trials, Axis::LeastSafety),
        safeties(trials, Axis::FlankSafety),
        widths(trials),
        loads(trials),
    ];
    let mut steps = rising_singles(trials, lists);
    steps.extend(opening_materials(trials));
    steps
}

/// One step of each limit for a problem that has sets: a tenth of safety less, a
/// millimetre of width more.
pub(super) fn gains(trials: &Trials<'_>) -> Vec<Step> {
    if !trials.problem.asks_strength() {
        return Vec::new();
    }
    let kinds = [Axis::LeastSafety, Axis::FlankSafety];
    let lower = |axis| {
        let lowered = |step: &Step| {
            let by = step.now.map_or(0, Decimal::millionths) - step.to.millionths();
            by >= Decimal::SCALE / 10
        };
        safeties(trials, axis).into_iter().find(lowered)
    };
    let lower = kinds.into_iter().filter_map(lower);
    let wider = widths(trials).into_iter().find(|step| {
        let now = step.now.map_or(i64::MAX, Decimal::millionths);
        step.to.millionths().saturating_sub(now) >= Decimal::SCALE
    });
    lower.chain(wider).collect()
}

/// Two changes at once: a stronger material and wider gears where neither does
/// alone; both safeties where no single change does.
pub(super) fn pairs(trials: &Trials<'_>, shortfall: &Shortfall, ways: &[Way]) -> Vec<Vec<Step>> {
    let of_gears = [Axis::FaceWidth, Axis::MostWidth, Axis::Material];
    let is_of_gears = |way: &Way| way.steps.iter().any(|step| of_gears.contains(&step.axis));
    let mut pairs = Vec::new();
    if !ways.iter().any(is_of_gears) {
        pairs.extend(material_and_width(trials));
    }
    let strongest = shortfall.strongest.as_ref().filter(|_| ways.is_empty());
    pairs.extend(strongest.and_then(|strongest| both_safeties(trials, strongest.safety)));
    pairs
}

/// A step that gives the ratios, where it takes less safety too for sets to hold:
/// the two together.
pub(super) fn with_less_safety(trials: &Trials<'_>, step: &Step) -> Option<Vec<Step>> {
    let kinds = [Axis::LeastSafety, Axis::FlankSafety];
    let mut kinds = kinds.map(|axis| safeties(trials, axis)).into_iter();
    kinds.find_map(|list| first_beside(trials, step, &list))
}

/// Flanks at what the strongest set holds, and roots then as safe as can be.
fn both_safeties(trials: &Trials<'_>, best: Decimal) -> Option<Vec<Step>> {
    let mut flanks = safeties(trials, Axis::FlankSafety).into_iter();
    let flank = flanks.find(|step| step.to == best)?;
    first_beside(trials, &flank, &safeties(trials, Axis::LeastSafety))
}

/// The weakest material that does together with wider gears, and the least width
/// then.
fn material_and_width(trials: &Trials<'_>) -> Option<Vec<Step>> {
    let wider = widths(trials);
    let mut materials = materials(trials).into_iter();
    materials.find_map(|material| first_beside(trials, &material, &wider))
}

/// The step together with the first of a rising list that opens the problem
/// beside it.
fn first_beside(trials: &Trials<'_>, step: &Step, list: &[Step]) -> Option<Vec<Step>> {
    let places: Vec<usize> = (0..list.len()).collect();
    let both = |i: usize| [step.edits.clone(), list[i].edits.clone()].concat();
    let first = trials.first_of_rising(&places, both)?;
    Some(vec![step.clone(), list[first].clone()])
}

/// Every hundredth below a least safety that is asked for.
fn safeties(trials: &Trials<'_>, axis: Axis) -> Vec<Step> {
    let duty = trials.problem.duty();
    let (key, now) = match axis {
        Axis::LeastSafety => ("duty.min_safety", duty.and_then(Duty::min_root_safety)),
        _ => (
            "duty.min_flank_safety",
            duty.and_then(Duty::min_flank_safety),
        ),
    };
    let Some(now) = now.and_then(Decimal::nearest) else {
        return Vec::new();
    };
    let below = (now.millionths() - 1).div_euclid(10_000);
    let free = trials.may_change(key);
    (LEAST_SAFETY..=below)
        .rev()
        .filter(|_| free)
        .map(|to| Step::of(axis, key, Some(now), hundredths(to)))
        .collect()
}

/// Less torque, or less power, in figures of two digits.
fn loads(trials: &Trials<'_>) -> Vec<Step> {
    let kinds = [
        (Axis::Torque, "duty.input_torque_n_m"),
        (Axis::Power, "duty.input_power_w"),
    ];
    let said = |key: &str| get(trials.text, key)?.as_f64().and_then(Decimal::nearest);
    let given = kinds.into_iter().find_map(|(axis, key)| {
        let now = said(key)?;
        trials.may_change(key).then_some((axis, key, now))
    });
    given.map_or_else(Vec::new, |(axis, key, now)| {
        let lower = two_digits_below(now.millionths());
        let to = |to| Step::of(axis, key, Some(now), Decimal::from_millionths(to));
        lower.into_iter().map(to).collect()
    })
}

/// Figures of two digits below `now`, the largest first.
fn two_digits_below(now: i64) -> Vec<i64> {
    let mut all = Vec::new();
    let mut last = now;
    loop {
        let mut unit = 1;
        while (last - 1) / unit >= 100 {
            unit *= 10;
        }
        last = (last - 1) / unit * unit;
        if last <= 0 || last < now / LEAST_LOAD {
            return all;
        }
        all.push(last);
    }
}

/// The first of the program's materials with stronger roots that let sets hold.
fn opening_materials(trials: &Trials<'_>) -> Vec<Step> {
    let steps = materials(trials);
    let places: Vec<usize> = (0..steps.len()).collect();
    let opens = |i: usize| trials.opens(&steps[i].edits);
    let found = trials.first_of(&places, MOST_MATERIALS, opens);
    found.into_iter().map(|i| steps[i].clone()).collect()
}

/// Materials with stronger roots for all gears, the weakest first; none where a
/// role has its own.
fn materials(trials: &Trials<'_>) -> Vec<Step> {
    let key = "gears.material";
    let role = ["head", "speeds", "reverse"];
    let own = |role: &&str| get(trials.text, role).is_some_and(|of| names_material(&of));
    if !trials.may_change(key) || role.iter().any(own) {
        return Vec::new();
    }
    let now = trials.problem.materials().head()[0].bending_mpa();
    let mut rows: Vec<_> = MATERIAL_ROWS
        .iter()
        .map(|row| (row.limits_mpa(), row.name))
        .filter(|([_, bending], _)| *bending > now)
        .collect();
    rows.sort_by(|([_, x], _), ([_, y], _)| x.total_cmp(y));
    // Of two that are as strong the first will do.
    rows.dedup_by_key(|(limits, _)| limits.map(f64::to_bits));
    let step = |([_, bending], name): ([f64; 2], &str)| {
        Some(Step {
            axis: Axis::Material,
            edits: vec![(key.to_owned(), json!(name))],
            now: Decimal::nearest(now),
            to: Decimal::nearest(bending)?,
        })
    };
    rows.into_iter().filter_map(step).collect()
}

/// Whether something in a role, or in a list of them, says what it is made of.
fn names_material(value: &Value) -> bool {
    match value {
        Value::Object(keys) => keys.keys().any(|key| key.ends_with("material")),
        Value::Array(list) => list.iter().any(names_material),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loads_fall_by_two_digits() {
        let all = two_digits_below(1_050_000);
        assert_eq!(all[..3], [1_000_000, 990_000, 980_000]);
        assert_eq!(all.last(), Some(&11_000));
        assert_eq!(two_digits_below(100)[0], 99);
        assert_eq!(two_digits_below(3), [2, 1]);
        assert_eq!(two_digits_below(1), [] as [i64; 0]);
        assert!(all.windows(2).all(|two| two[0] > two[1]));
    }

    #[test]
    fn materials_of_roles_are_found_in_lists_too() {
        assert!(names_material(
            &json!([{ "ratio": 2 }, { "driver_material": "S355" }])
        ));
        assert!(names_material(&json!({ "material": "S355" })));
        assert!(!names_material(&json!([{ "ratio": 2 }])));
    }
}
