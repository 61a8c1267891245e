//! What comes nearest, where no set fits.

use crate::base::{plain, signed};
use crate::cli::screen::paragraph;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{few, module, series};
use crate::export::AskedRecord;
use crate::mesh::Fit;
use crate::problem::{Closing, Geared, Problem, Reverse};
use crate::search::{HeadMiss, Nearest, ReverseMiss, SpeedAt, SumAt, Together};
use std::cmp::Ordering;

/// Tooth sums shown, those nearest to the shafts.
const SUMS: usize = 6;
/// Cases of speeds missing together shown.
const CASES: usize = 5;

/// The figures below the sentence.
pub(super) fn misses(problem: &Problem, nearest: &Nearest, width: usize) -> String {
    if nearest.closing_pairs == 0 {
        return sums(problem, nearest);
    }
    let mut out = nearest
        .head
        .as_ref()
        .map_or(String::new(), |miss| head(miss, width));
    out += &alone(problem, nearest);
    out += &nearest
        .reverse
        .as_ref()
        .map_or(String::new(), |miss| reverse(problem, miss, width));
    out + &together(nearest, width)
}

fn sums(problem: &Problem, nearest: &Nearest) -> String {
    let gap = |sum: &SumAt| (sum.standard_centre_distance_mm - sum.centre_distance_mm).abs();
    let mut sums = nearest.sums.clone();
    sums.sort_by(|a, b| {
        gap(a)
            .total_cmp(&gap(b))
            .then(a.tooth_sum.cmp(&b.tooth_sum))
    });
    sums.truncate(SUMS);
    if sums.is_empty() {
        return String::new();
    }
    let cells = |cell: &dyn Fn(&SumAt) -> String| sums.iter().map(cell).collect();
    let mut columns = vec![
        Column::right("module\nmm", cells(&|sum| module(sum.module_mm))),
        Column::right(
            "teeth of\nthe pair",
            cells(&|sum| sum.tooth_sum.to_string()),
        ),
        Column::right(
            "made for\ncentres, mm",
            cells(&|sum| plain(sum.standard_centre_distance_mm, 3)),
        ),
    ];
    if nearest.distances.total > 1 {
        let shafts = cells(&|sum| plain(sum.centre_distance_mm, 3));
        columns.push(Column::right("your shafts\nmm", shafts));
    }
    columns.push(Column::left(
        "on your shafts",
        cells(&|sum| sits(problem, sum)),
    ));
    lines(&Table::new(2, columns))
}

/// How a pair sits on the shafts, and what was allowed.
fn sits(problem: &Problem, sum: &SumAt) -> String {
    if let Closing::Shift { min, max } = problem.gears().closing() {
        let needs = sum.shift_sum.map_or_else(
            || "does not go in".to_owned(),
            |needs| format!("shifts of {} together", signed(needs, 2)),
        );
        let (least, most) = (2.0 * min.to_f64(), 2.0 * max.to_f64());
        let allowed = format!("; you allow {} to {}", signed(least, 2), signed(most, 2));
        return needs + if sum.fit == Fit::Closes { "" } else { &allowed };
    }
    let Some(backlash_mm) = sum.backlash_mm else {
        return "does not go in".to_owned();
    };
    let allowed = match problem.gears().closing() {
        Closing::Backlash { max, .. } if sum.fit == Fit::Loose => {
            format!("; you allow {}", plain(max.mm(), 2))
        }
        _ => String::new(),
    };
    if backlash_mm < 0.0 {
        format!("binds by {} mm", plain(-backlash_mm, 2))
    } else {
        format!("{} mm backlash{allowed}", plain(backlash_mm, 2))
    }
}

fn head(miss: &HeadMiss, width: usize) -> String {
    let Some((pair, ratio, _)) = &miss.nearest else {
        return String::new();
    };
    let text = format!(
        "None of the {} can be the head pair (input shaft to layshaft): the one nearest to the \
         range you allow is {}→{} ×{}, ratio {}.",
        few(
            usize::try_from(miss.closing).unwrap_or(usize::MAX),
            "pair",
            "pairs"
        ),
        pair.driver_teeth,
        pair.driven_teeth,
        module(pair.module_mm),
        plain(*ratio, 3)
    );
    format!("\n{}", paragraph(&text, 2, width))
}

/// A line of the table of speeds.
struct Line<'a> {
    name: &'a str,
    words: String,
    target: f64,
    tolerance_percent: f64,
    nearest: Option<&'a SpeedAt>,
    within: bool,
}

/// How near each speed comes when it is the only one.
fn alone(problem: &Problem, nearest: &Nearest) -> String {
    let words = |asked, target| AskedRecord::of(asked, target).words().unwrap_or_default();
    let wanted = problem.geared().map(Geared::asked);
    let speeds = nearest
        .speeds
        .iter()
        .zip(wanted)
        .map(|(speed, asked)| Line {
            name: &speed.name,
            words: words(asked, speed.target),
            target: speed.target,
            tolerance_percent: speed.tolerance_percent,
            nearest: speed.nearest.as_ref(),
            within: speed.within,
        });
    let wanted = problem.reverse().map(Reverse::asked);
    let reverse = nearest
        .reverse
        .iter()
        .zip(wanted)
        .map(|(reverse, asked)| Line {
            name: "reverse",
            words: words(asked, reverse.target),
            target: reverse.target,
            tolerance_percent: reverse.tolerance_percent,
            nearest: reverse.nearest.as_ref(),
            within: reverse.within,
        });
    let all: Vec<_> = speeds.chain(reverse).collect();
    let cells = |cell: &dyn Fn(&Line<'_>) -> String| all.iter().map(cell).collect();
    let at = |line: &Line<'_>, cell: &dyn Fn(&SpeedAt) -> String| {
        line.nearest.map_or_else(|| "-".to_owned(), cell)
    };
    let mut columns = vec![
        Column::left("each on its own", cells(&|line| line.name.to_owned())),
        Column::right("asked", cells(&|line| plain(line.target, 3))),
        Column::right("nearest", cells(&|line| at(line, &|at| plain(at.ratio, 3)))),
        Column::right(
            "off by",
            cells(&|line| at(line, &|at| format!("{} %", signed(at.error_percent, 2)))),
        ),
        Column::right(
            "allowed",
            cells(&|line| format!("{} %", plain(line.tolerance_percent, 2))),
        ),
        Column::left(
            "",
            cells(&|line| {
                if line.within {
                    "within"
                } else {
                    "out of reach"
                }
                .to_owned()
            }),
        ),
    ];
    if all.iter().any(|line| !line.words.is_empty()) {
        columns.insert(2, Column::right("as", cells(&|line| line.words.clone())));
    }
    lines(&Table::new(2, columns))
}

fn reverse(problem: &Problem, miss: &ReverseMiss, width: usize) -> String {
    let mut parts = Vec::new();
    if miss.refused_by_tips > 0 {
        let gap = miss.widest_gap_refused_mm;
        let gap = gap.map_or(String::new(), |gap| {
            format!(" (widest gap {} mm)", plain(gap, 2))
        });
        parts.push(format!(
            "{} because the tips come too close{gap}",
            miss.refused_by_tips
        ));
    }
    if miss.refused_by_idler > 0 {
        parts.push(format!(
            "{} because no idler has a place",
            miss.refused_by_idler
        ));
    }
    if miss.refused_by_limits > 0 {
        parts.push(format!(
            "{} because {}",
            miss.refused_by_limits,
            refusal(problem)
        ));
    }
    if miss.within || parts.is_empty() {
        return String::new();
    }
    let text = format!(
        "Reverse: of {} with the right ratio, {} drop out.",
        few(
            usize::try_from(miss.in_tolerance).unwrap_or(usize::MAX),
            "gearing",
            "gearings"
        ),
        parts.join(" and ")
    );
    format!("\n{}", paragraph(&text, 2, width))
}

/// What may refuse reverse gears that would have a place.
fn refusal(problem: &Problem) -> String {
    let of_teeth = match (problem.judges(), problem.wants_clear_place()) {
        (false, false) => "",
        (true, false) => "a limit of the teeth refuses them",
        (false, true) => "they leave no clear place for the idler",
        (true, true) => "a limit of the teeth refuses them or leaves no clear place for the idler",
    };
    match (of_teeth, problem.workshop_limits()) {
        (of_teeth, false) => of_teeth.to_owned(),
        ("", true) => "the workshop cannot make one of them".to_owned(),
        (of_teeth, true) => format!("{of_teeth}, or the workshop cannot make one of them"),
    }
}

/// Which speeds are missing under which heads, when each alone can be had.
fn together(nearest: &Nearest, width: usize) -> String {
    let all = nearest.speeds.iter().map(|speed| speed.within);
    let each_alone = all
        .chain(nearest.reverse.iter().map(|r| r.within))
        .all(|within| within);
    if !each_alone || nearest.together.is_empty() || nearest.head.is_none() {
        return String::new();
    }
    let text = "Each can be had on its own, but no head pair (input shaft to layshaft) serves them \
                all:";
    let mut out = format!("\n{}", paragraph(text, 2, width));
    for case in nearest.together.iter().take(CASES) {
        out += &paragraph(&case_text(case), 4, width);
    }
    let more = nearest.together.len().saturating_sub(CASES) + nearest.together_left_out;
    if more > 0 {
        out += &paragraph(&few(more, "further case", "further cases"), 4, width);
    }
    out
}

fn case_text(case: &Together) -> String {
    let names: Vec<_> = case.missing.iter().map(String::as_str).collect();
    let (low, high) = (
        plain(case.lowest_head_ratio, 3),
        plain(case.highest_head_ratio, 3),
    );
    let ratio = match low.cmp(&high) {
        Ordering::Equal => low,
        _ => format!("{low} to {high}"),
    };
    let verb = if names.len() == 1 { "is" } else { "are" };
    format!("head ratio {ratio}: {} {verb} missing", series(&names))
}

fn lines(table: &Table) -> String {
    let mut out = "\n".to_owned();
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out
}
