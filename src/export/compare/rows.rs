//! What is compared, a row each, and which sets are best in it.

use super::Contender;
use super::tools::ToolRecord;
use crate::base::{plain, signed, thousands};
use crate::export::{CutterRecord, SpeedRecord};
use crate::problem::Problem;
use serde::Serialize;
use serde_json::{Value, json};

/// Which figures are the better ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Better {
    /// The smaller.
    Less,
    /// The larger.
    More,
    /// Neither: the row only tells.
    Neither,
}

/// What a set has in a row.
#[derive(Clone, Debug, PartialEq)]
struct Cell {
    /// The figure.
    value: Value,
    /// The figure as it is shown.
    shown: String,
    /// What it is judged by, in units of the last digit shown; none where there
    /// is no figure.
    digits: Option<i64>,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CompareRow {
    /// What it is called in programs.
    pub key: String,
    /// What it is called on screens, with its unit.
    pub name: String,
    /// What it is called in a sentence.
    pub word: String,
    /// Which figures are better.
    pub better: Better,
    /// The figures, in the order of the sets.
    pub values: Vec<Value>,
    /// The same as they are shown.
    pub shown: Vec<String>,
    /// Whether all sets show the same.
    pub alike: bool,
    /// Marks of the sets that none is better than; all of them where the figures
    /// are level, none where nothing is judged.
    pub best: Vec<String>,
    /// What the best one has before the next, as shown; none where it is not
    /// alone.
    pub lead: Option<String>,
}

/// A row's names.
struct Named<'a> {
    key: &'a str,
    name: String,
    word: &'a str,
    decimals: usize,
}

impl Cell {
    /// A figure with so many decimals.
    fn figure(value: f64, decimals: usize) -> Self {
        let shown = plain(value, decimals);
        Self {
            value: json!(value),
            digits: digits(&shown),
            shown,
        }
    }

    fn text(value: Value, shown: String, digits: Option<i64>) -> Self {
        Self {
            value,
            shown,
            digits,
        }
    }

    /// A list, judged by how many there are.
    fn list(value: Value, count: usize, listed: &str) -> Self {
        let shown = if listed.is_empty() {
            count.to_string()
        } else {
            format!("{count}: {listed}")
        };
        Self::text(value, shown, i64::try_from(count).ok())
    }

    /// A ratio with its error in percent, which it is judged by.
    fn ratio(ratio: f64, error_percent: f64) -> Self {
        let shown = format!("{} {}", plain(ratio, 3), signed(error_percent, 2));
        let size = digits(&plain(error_percent.abs(), 2));
        Self::text(json!(error_percent), shown, size)
    }
}

/// A decimal's digits as one number: `3.60` is 360.
fn digits(shown: &str) -> Option<i64> {
    shown.replace('.', "").parse().ok()
}

impl CompareRow {
    fn new(named: Named<'_>, better: Better, sets: &[Contender], cells: Vec<Cell>) -> Self {
        let (best, lead) = judged(better, &cells);
        let marks = sets.iter().zip(&cells);
        let best = marks
            .filter(|(_, cell)| best.is_some() && cell.digits == best)
            .map(|(set, _)| set.mark.clone())
            .collect();
        let alike = cells.windows(2).all(|two| match two {
            [one, other] => one.shown == other.shown,
            _ => true,
        });
        Self {
            key: named.key.to_owned(),
            name: named.name,
            word: named.word.to_owned(),
            better,
            alike,
            best,
            lead: lead.map(|digits| pointed(digits, named.decimals)),
            shown: cells.iter().map(|cell| cell.shown.clone()).collect(),
            values: cells.into_iter().map(|cell| cell.value).collect(),
        }
    }

    /// Whether any set is the best in it.
    pub fn judges(&self) -> bool {
        !self.best.is_empty()
    }

    /// Whether no set is better than another, though they may show different
    /// things.
    pub fn level(&self) -> bool {
        self.best.len() == self.shown.len()
    }

    /// Whether it tells sets apart.
    pub fn tells_apart(&self) -> bool {
        self.judges() && !self.level()
    }
}

/// The best digits, and the lead of a set that has them alone.
fn judged(better: Better, cells: &[Cell]) -> (Option<i64>, Option<i64>) {
    if better == Better::Neither {
        return (None, None);
    }
    let mut all: Vec<i64> = cells.iter().filter_map(|cell| cell.digits).collect();
    all.sort_unstable();
    if better == Better::More {
        all.reverse();
    }
    let next = match all[..] {
        [first, second, ..] if first != second => first.checked_sub(second),
        _ => None,
    };
    (all.first().copied(), next.map(i64::abs))
}

/// [`digits`] turned back.
fn pointed(digits: i64, decimals: usize) -> String {
    let text = format!("{digits:0>width$}", width = decimals + 1);
    let (whole, part) = text.split_at(text.len() - decimals);
    if decimals == 0 {
        whole.to_owned()
    } else {
        format!("{whole}.{part}")
    }
}

/// Every row.
pub(super) fn rows(problem: &Problem, sets: &[Contender]) -> Vec<CompareRow> {
    let mut rows = Vec::new();
    if problem.centre_distances().len() > 1 {
        rows.push(figures(
            sets,
            Better::Neither,
            ("centre_distance_mm", "centres, mm", "centres"),
            3,
            |set| Some(set.set.centre_distance_mm),
        ));
    }
    rows.extend(speeds(problem, sets));
    rows.extend(reverse(sets));
    rows.push(figures(
        sets,
        Better::Less,
        ("worst_error_percent", "worst error, %", "worst error"),
        2,
        |set| Some(set.set.worst_error_percent),
    ));
    rows.extend(steps(sets));
    rows.extend(metal(sets));
    rows.extend(shop(problem, sets));
    rows.extend(boxed(sets));
    rows.extend(strength(sets));
    rows
}

/// A row of plain figures; those without one show "none".
fn figures(
    sets: &[Contender],
    better: Better,
    (key, name, word): (&str, &str, &str),
    decimals: usize,
    figure: impl Fn(&Contender) -> Option<f64>,
) -> CompareRow {
    let cell = |set: &Contender| {
        let none = || Cell::text(Value::Null, "none".to_owned(), None);
        figure(set).map_or_else(none, |value| Cell::figure(value, decimals))
    };
    row(sets, better, (key, name, word), decimals, cell)
}

fn row(
    sets: &[Contender],
    better: Better,
    (key, name, word): (&str, &str, &str),
    decimals: usize,
    cell: impl Fn(&Contender) -> Cell,
) -> CompareRow {
    let named = Named {
        key,
        name: name.to_owned(),
        word,
        decimals,
    };
    CompareRow::new(named, better, sets, sets.iter().map(cell).collect())
}

fn speeds(problem: &Problem, sets: &[Contender]) -> Vec<CompareRow> {
    let of = |place: usize| {
        let speed = problem.speeds().get(place)?;
        let target = speed.geared()?.target().to_f64();
        let name = format!("{}: {}, %", speed.name(), plain(target, 3));
        let key = format!("speeds.{place}.error_percent");
        let word = format!("speed {}", speed.name());
        Some(row(
            sets,
            Better::Less,
            (&key, &name, &word),
            2,
            |set| match set.set.speeds.get(place) {
                Some(SpeedRecord::Geared {
                    ratio,
                    error_percent,
                    ..
                }) => Cell::ratio(*ratio, *error_percent),
                _ => Cell::text(Value::Null, "direct".to_owned(), None),
            },
        ))
    };
    (0..problem.speeds().len()).filter_map(of).collect()
}

fn reverse(sets: &[Contender]) -> Option<CompareRow> {
    let target = sets.first()?.set.reverse.as_ref()?.target;
    let name = format!("reverse: {}, %", plain(target, 3));
    let names = ("reverse.error_percent", name.as_str(), "reverse");
    Some(row(sets, Better::Less, names, 2, |set| {
        match &set.set.reverse {
            Some(reverse) => Cell::ratio(reverse.ratio, reverse.error_percent),
            None => Cell::text(Value::Null, "none".to_owned(), None),
        }
    }))
}

/// Steps are told where there are any, and compared where there are two.
fn steps(sets: &[Contender]) -> Vec<CompareRow> {
    let count = sets.first().map_or(0, |set| set.steps.len());
    let mut rows = Vec::new();
    if count > 0 {
        let names = ("steps", "steps", "steps");
        rows.push(row(sets, Better::Neither, names, 2, |set| {
            Cell::text(json!(set.steps), steps_shown(&set.steps), None)
        }));
    }
    if count > 1 {
        let names = ("step_evenness", "step unevenness", "evenness of the steps");
        rows.push(figures(sets, Better::Less, names, 2, |set| {
            set.set.step_evenness
        }));
    }
    rows
}

/// Few steps one by one, more by their ends.
fn steps_shown(steps: &[f64]) -> String {
    let shown: Vec<String> = steps.iter().map(|step| plain(*step, 2)).collect();
    if shown.len() <= 2 {
        return shown.join(" ");
    }
    let end = |choose: fn(f64, f64) -> f64| steps.iter().copied().reduce(choose).unwrap_or(1.0);
    format!("{}-{}", plain(end(f64::min), 2), plain(end(f64::max), 2))
}

fn metal(sets: &[Contender]) -> [CompareRow; 2] {
    let names = ("blank_volume_mm3", "metal, cm³", "metal");
    let volume = row(sets, Better::Less, names, 1, |set| {
        let volume = set.set.blank_volume_mm3;
        let shown = plain(volume / 1000.0, 1);
        let grouped = match shown.split_once('.') {
            Some((whole, tenth)) => format!("{}.{tenth}", thousands(whole)),
            None => shown.clone(),
        };
        Cell::text(json!(volume), grouped, digits(&shown))
    });
    let names = ("largest_blank_mm", "largest blank, mm", "largest blank");
    let largest = figures(sets, Better::Less, names, 2, |set| {
        Some(set.set.largest_blank_mm)
    });
    [volume, largest]
}

fn shop(problem: &Problem, sets: &[Contender]) -> Vec<CompareRow> {
    let money = match problem.workshop().currency() {
        "" => "to spend".to_owned(),
        currency => format!("to spend, {currency}"),
    };
    let spend = ("to_spend", money.as_str(), "money");
    let plates = ("not_divided_simply", "not divided simply", "dividing");
    let blanks = ("distinct_blanks", "different blanks", "different blanks");
    let mut rows = cutters(sets);
    rows.extend([
        figures(sets, Better::Less, spend, 2, |set| set.to_spend),
        row(sets, Better::Less, plates, 0, |set| {
            let count = set.not_divided_simply.len();
            Cell::list(json!(set.not_divided_simply), count, "")
        }),
        row(sets, Better::Less, blanks, 0, |set| {
            Cell::list(json!(set.distinct_blanks), set.distinct_blanks as usize, "")
        }),
    ]);
    rows
}

/// Cutters, and those to buy where some are at hand: else it is the same row.
fn cutters(sets: &[Contender]) -> Vec<CompareRow> {
    let cell = |set: &Contender, missing: bool| {
        let tools = set.cutters.iter();
        let some: Vec<&ToolRecord> = tools.filter(|tool| !(missing && tool.at_hand)).collect();
        Cell::list(json!(some), some.len(), &numbers(&some))
    };
    let all = |name| {
        row(sets, Better::Less, ("cutters", name, "cutters"), 0, |set| {
            cell(set, false)
        })
    };
    let mut tools = sets.iter().flat_map(|set| &set.cutters);
    if !tools.any(|tool| tool.at_hand) {
        return vec![all("cutters, to buy")];
    }
    let names = ("cutters_to_buy", "cutters to buy", "cutters to buy");
    let to_buy = row(sets, Better::Less, names, 0, |set| cell(set, true));
    vec![all("cutters"), to_buy]
}

/// Numbers of form cutters, by module where there are several.
fn numbers(tools: &[&ToolRecord]) -> String {
    let same = |a: &&ToolRecord, b: &&ToolRecord| a.module_mm.to_bits() == b.module_mm.to_bits();
    let groups: Vec<String> = tools
        .chunk_by(same)
        .map(|group| {
            let numbers = group.iter().filter_map(|tool| match tool.cutter {
                CutterRecord::Form { number, .. } => Some(number.to_string()),
                CutterRecord::OwnForm | CutterRecord::Generated => None,
            });
            numbers.collect::<Vec<_>>().join(" ")
        })
        .filter(|numbers| !numbers.is_empty())
        .collect();
    groups.join("; ")
}

fn boxed(sets: &[Contender]) -> Vec<CompareRow> {
    let mut rows = Vec::new();
    let pairs = ("hunting_pairs", "hunting pairs", "hunting pairs");
    rows.push(row(sets, Better::More, pairs, 0, |set| {
        Cell::list(json!(set.hunting_pairs), set.hunting_pairs, "")
    }));
    let with_reverse = sets.iter().any(|set| set.reverse_form.is_some());
    if with_reverse {
        let names = ("idler_clear_sides", "idler clear on", "places of the idler");
        rows.push(row(sets, Better::More, names, 0, |set| {
            let sides = set.idler_clear_sides.clone().unwrap_or_default();
            let shown = match sides[..] {
                [] => "neither",
                [one] => one,
                _ => "both sides",
            };
            let count = i64::try_from(sides.len()).ok();
            Cell::text(json!(sides), shown.to_owned(), count)
        }));
    }
    let names = ("inside_length_mm", "box inside, mm", "length of the box");
    rows.push(figures(sets, Better::Less, names, 2, |set| {
        set.inside_length_mm
    }));
    rows
}

/// With a duty; widths where they tell sets apart.
fn strength(sets: &[Contender]) -> Vec<CompareRow> {
    let mut rows = Vec::new();
    if sets.iter().any(|set| set.set.least_safety.is_some()) {
        let names = ("least_safety", "least safety", "strength");
        rows.push(figures(sets, Better::More, names, 2, |set| {
            set.set.least_safety
        }));
    }
    let names = ("face_widths_mm", "face widths, mm", "face widths");
    let widths = row(sets, Better::Neither, names, 2, |set| {
        let all: Vec<f64> = set
            .set
            .gears
            .iter()
            .map(|gear| gear.face_width_mm)
            .collect();
        Cell::text(json!(all), widths_shown(&all), None)
    });
    if !widths.alike {
        rows.push(widths);
    }
    rows
}

/// The least and the most.
fn widths_shown(all: &[f64]) -> String {
    let end = |choose: fn(f64, f64) -> f64| all.iter().copied().reduce(choose).unwrap_or(0.0);
    let [least, most] = [f64::min, f64::max].map(|choose| plain(end(choose), 1));
    if least == most {
        least
    } else {
        format!("{least}-{most}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_ties_are_told_apart_by_the_digits_shown() {
        let cells = |values: &[f64]| {
            let cell = |value: &f64| Cell::figure(*value, 1);
            values.iter().map(cell).collect::<Vec<_>>()
        };
        let of = |values: &[f64], better| judged(better, &cells(values));
        let shown = cells(&[154.96, 155.04]);
        assert_eq!(shown[0].shown, shown[1].shown);
        assert_eq!(of(&[154.96, 155.04], Better::Less), (Some(1550), None));
        assert_eq!(of(&[154.94, 155.04], Better::Less), (Some(1549), Some(1)));
        assert_eq!(of(&[9.9, 10.0, 10.2], Better::More), (Some(102), Some(2)));
        assert_eq!(of(&[1.0, 2.0], Better::Neither), (None, None));
    }

    #[test]
    fn a_set_without_a_figure_is_never_best() {
        let none = Cell::text(Value::Null, "none".to_owned(), None);
        let cells = [none.clone(), Cell::figure(3.0, 2)];
        assert_eq!(judged(Better::Less, &cells), (Some(300), None));
        assert_eq!(judged(Better::Less, &[none.clone(), none]), (None, None));
    }

    #[test]
    fn errors_are_judged_by_their_size() {
        let cells = [Cell::ratio(3.0, -0.5), Cell::ratio(3.1, 0.4)];
        assert_eq!(cells[0].shown, "3.000 -0.50");
        assert_eq!(judged(Better::Less, &cells), (Some(40), Some(10)));
    }

    #[test]
    fn leads_are_spelled_like_their_figures() {
        assert_eq!(pointed(5, 2), "0.05");
        assert_eq!(pointed(1234, 1), "123.4");
        assert_eq!(pointed(7, 0), "7");
    }
}
