//! What the limits of the teeth refused, in words.

use crate::cli::screen::paragraph;
use crate::cli::strength::least_asked;
use crate::cli::words::{counted, series};
use crate::export::{Answer, AskedSafety};
use crate::making::Refusal;
use crate::mesh::Tally;
use num_bigint::BigUint;

/// One paragraph on what was refused; nothing where nothing was.
pub(super) fn block(answer: &Answer<'_>, width: usize) -> String {
    let refused = &answer.outcome.refused;
    let kinds = [
        (refused.pairs, "pair", "pairs"),
        (refused.reverses, "reverse gearing", "reverse gearings"),
    ];
    let told: Vec<String> = kinds
        .iter()
        .filter(|(tally, ..)| tally.by_limits() > 0)
        .map(|(tally, one, many)| {
            let all = BigUint::from(tally.by_limits());
            format!("{} ({})", counted(&all, one, many), reasons(tally))
        })
        .collect();
    if told.is_empty() {
        return String::new();
    }
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    let text = format!("Limits of the teeth refused {}.", series(&told));
    format!("\n{}", paragraph(&text, 2, width))
}

/// How many sets the demand for a clear place took; nothing where it took none.
pub(super) fn without_place(answer: &Answer<'_>, width: usize) -> String {
    let Some(count) = &answer.outcome.without_place else {
        return String::new();
    };
    let (one, many) = (
        "more set would give the ratios but leaves",
        "more sets would give the ratios but leave",
    );
    if *count == BigUint::ZERO || no_room_for_pin(answer).is_some() {
        return String::new();
    }
    let text = format!(
        "{} no clear place for the idler.",
        counted(count, one, many)
    );
    paragraph(&text, 0, width)
}

/// That idler and pin shut every set out, where the pin passes other gears.
pub(super) fn no_room_for_pin(answer: &Answer<'_>) -> Option<String> {
    answer.problem.passed_by_pin()?;
    let none = shut_out(
        answer,
        answer.outcome.without_place.as_ref(),
        ["leaves no", "leaves a"],
    )?;
    Some(format!(
        "{none} clear place for the idler and a pin that passes other gears."
    ))
}

/// That sets give the ratios and none does more: what "it" and "none" do not do
/// follows. None where there are sets, or no others.
fn shut_out(
    answer: &Answer<'_>,
    others: Option<&BigUint>,
    [it, none]: [&str; 2],
) -> Option<String> {
    let count = others.filter(|count| **count > BigUint::ZERO && !answer.has_sets())?;
    let but = if *count == BigUint::from(1_u32) {
        format!("it {it}")
    } else {
        format!("none {none}")
    };
    let sets = counted(count, "set gives", "sets give");
    Some(format!("No set fits. {sets} the ratios, but {but}"))
}

/// How many sets the demand for strength took; nothing where it took none.
pub(super) fn without_strength(answer: &Answer<'_>, width: usize) -> String {
    let asked = least_asked(AskedSafety::of(answer.problem));
    let (Some(count), Some(asked)) = (&answer.outcome.without_strength, asked) else {
        return String::new();
    };
    if *count == BigUint::ZERO {
        return String::new();
    }
    let (one, many) = (
        "more set would give the ratios but does",
        "more sets would give the ratios but do",
    );
    let text = format!(
        "{} not hold a safety of {asked}.",
        counted(count, one, many)
    );
    paragraph(&text, 0, width)
}

/// That strength is what shuts every set out, where it is.
pub(super) fn too_weak(answer: &Answer<'_>) -> Option<String> {
    let others = answer.outcome.without_strength.as_ref();
    let none = shut_out(answer, others, ["does not hold", "holds"])?;
    let asked = least_asked(AskedSafety::of(answer.problem)).unwrap_or_default();
    Some(format!(
        "{none} {asked}: strength is what shuts every set out."
    ))
}

/// Which gears alone were looked at, where the workshop limits them.
pub(super) fn workshop(answer: &Answer<'_>, width: usize) -> String {
    let workshop = answer.problem.workshop();
    let only = match (workshop.only_dividable(), workshop.only_owned_cutters()) {
        (true, true) => "that the dividing head divides simply, and whose cutter is owned,",
        (true, false) => "that the dividing head divides simply",
        (false, true) => "whose cutter is owned",
        (false, false) => return String::new(),
    };
    paragraph(&format!("Only gears {only} were looked at."), 0, width)
}

/// Each limit with its count, the most frequent first.
fn reasons(tally: &Tally) -> String {
    let mut some: Vec<(u64, &str)> = Refusal::ALL
        .iter()
        .map(|limit| (tally.by(*limit), limit.name()))
        .filter(|(count, _)| *count > 0)
        .collect();
    some.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    let of = |(count, name): &(u64, &str)| counted(&BigUint::from(*count), name, name);
    let some: Vec<String> = some.iter().map(of).collect();
    some.join(", ")
}
