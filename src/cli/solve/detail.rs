//! One set gear by gear.

use super::alike::alike;
use super::list::only_module;
use crate::base::{plain, signed};
use crate::cli::screen::{columns, paragraph, strong, warning};
use crate::cli::strength::place;
use crate::cli::table::{Column, Table, push_lines};
use crate::cli::words::{few, inches, metal, module, money, series};
use crate::design::idler::study_own;
use crate::export::{Answer, CutterRecord, GearRecord, IdlerAnswer, SetRecord, SpeedRecord};
use crate::problem::Arrangement;
use crate::train::Set;
use std::fmt::Write;

/// Everything about one set.
pub(super) fn detail(answer: &Answer<'_>, own: &Set, set: &SetRecord, width: usize) -> String {
    let mut out = ratios(answer, set);
    out += &alike(set, width);
    out.push('\n');
    out += &gears(answer, set, width);
    out += &strength(answer, set, width);
    out += &dividing(answer, set, width);
    out += &remarks(set, width);
    out += &idler(answer, own, set, width);
    out
}

/// A line of the table of ratios.
#[derive(Default)]
struct Line {
    name: String,
    teeth: String,
    ratio: String,
    asked: String,
    words: String,
    off: String,
    step: String,
    hunting: String,
}

impl Line {
    fn of_pair(name: &str, teeth: String, ratio: f64) -> Self {
        Self {
            name: name.to_owned(),
            teeth,
            ratio: plain(ratio, 3),
            ..Self::default()
        }
    }

    /// Says so if the counts of the pair share no factor.
    fn hunting(self, hunts: bool) -> Self {
        let hunting = if hunts { "hunting" } else { "" }.to_owned();
        Self { hunting, ..self }
    }
}

fn ratios(answer: &Answer<'_>, set: &SetRecord) -> String {
    let mixed = only_module(std::slice::from_ref(set)).is_none();
    let of = |mm: f64| {
        if mixed {
            format!(" ×{}", module(mm))
        } else {
            String::new()
        }
    };
    let mut lines = Vec::new();
    if let Some(head) = &set.head {
        let teeth = format!(
            "{}→{}{}",
            head.driver_teeth,
            head.driven_teeth,
            of(head.module_mm)
        );
        lines.push(Line::of_pair("head", teeth, head.ratio).hunting(head.hunting_tooth));
    }
    let mut last: Option<f64> = None;
    for speed in &set.speeds {
        let step = last.map_or(String::new(), |last| plain(last / speed.ratio(), 3));
        lines.push(Line {
            step,
            ..speed_line(speed, &of)
        });
        last = Some(speed.ratio());
    }
    if let Some(r) = &set.reverse {
        let teeth = format!(
            "{}→{}→{}{}",
            r.driver_teeth,
            r.idler_teeth,
            r.driven_teeth,
            of(r.module_mm)
        );
        lines.push(Line {
            asked: plain(r.target, 3),
            words: r.asked.words().unwrap_or_default(),
            off: format!("{} %", signed(r.error_percent, 2)),
            ..Line::of_pair("reverse", teeth, r.ratio)
        });
    }
    ratio_table(answer, set, &lines) + &evenness(set) + &purchases(answer, set)
}

/// What the set needs of the workshop, where that is measured or described.
fn purchases(answer: &Answer<'_>, set: &SetRecord) -> String {
    let Some(cost) = set.cost else {
        return String::new();
    };
    let currency = answer.problem.workshop().currency();
    let parts = [
        format!("  cost {} {currency}", money(cost))
            .trim_end()
            .to_owned(),
        few(needed(set.distinct_bars), "size of bar", "sizes of bar"),
        few(
            needed(set.distinct_blanks),
            "different blank",
            "different blanks",
        ),
        few(needed(set.distinct_setups), "set-up", "set-ups"),
    ];
    parts.join(", ") + "\n"
}

fn needed(count: Option<u32>) -> usize {
    count.unwrap_or(0) as usize
}

/// How the steps compare; one alone compares with nothing.
fn evenness(set: &SetRecord) -> String {
    let Some(evenness) = set.step_evenness.filter(|_| set.speeds.len() > 2) else {
        return String::new();
    };
    let ratios: Vec<f64> = set.speeds.iter().map(SpeedRecord::ratio).collect();
    let steps: Vec<f64> = ratios.windows(2).map(|two| two[0] / two[1]).collect();
    let end = |choose: fn(f64, f64) -> f64| steps.iter().copied().reduce(choose);
    let [least, most] = [f64::min, f64::max].map(|f| plain(end(f).unwrap_or(1.0), 2));
    let evenness = plain(evenness, 2);
    format!("  steps {least} to {most}, evenness {evenness}\n")
}

fn speed_line(speed: &SpeedRecord, of: &dyn Fn(f64) -> String) -> Line {
    match speed {
        SpeedRecord::Direct { name, ratio, .. } => Line::of_pair(name, "direct".to_owned(), *ratio),
        SpeedRecord::Geared {
            name,
            module_mm,
            driver_teeth,
            driven_teeth,
            hunting_tooth,
            ratio,
            target,
            asked,
            error_percent,
            ..
        } => {
            let teeth = format!("{driver_teeth}→{driven_teeth}{}", of(*module_mm));
            Line {
                asked: plain(*target, 3),
                words: asked.words().unwrap_or_default(),
                off: format!("{} %", signed(*error_percent, 2)),
                ..Line::of_pair(name, teeth, *ratio).hunting(*hunting_tooth)
            }
        }
    }
}

/// The title stands on the header line, the rows below it.
fn ratio_table(answer: &Answer<'_>, set: &SetRecord, lines: &[Line]) -> String {
    let cells = |cell: fn(&Line) -> &String| lines.iter().map(cell).cloned().collect::<Vec<_>>();
    let mut table = vec![
        Column::left("", cells(|line| &line.name)),
        Column::left("", cells(|line| &line.teeth)),
        Column::right("  ratio", cells(|line| &line.ratio)),
    ];
    if lines.iter().any(|line| !line.asked.is_empty()) {
        table.push(Column::right("  asked", cells(|line| &line.asked)));
        if lines.iter().any(|line| !line.words.is_empty()) {
            table.push(Column::right("as", cells(|line| &line.words)));
        }
        table.push(Column::right("  off by", cells(|line| &line.off)));
    }
    if lines.iter().any(|line| !line.step.is_empty()) {
        table.push(Column::right("  step", cells(|line| &line.step)));
    }
    if lines.iter().any(|line| !line.hunting.is_empty()) {
        table.push(Column::left("", cells(|line| &line.hunting)));
    }
    let table = Table::new(2, table);
    let head = table.head().concat();
    let title = title(answer, set);
    let room = head.len() - head.trim_start().len();
    let mut out = if columns(&title) < room {
        let gap = " ".repeat(room - columns(&title));
        format!("{}{gap}{}\n", strong(&title), head.trim_start())
    } else {
        format!("{}\n{head}\n", strong(&title))
    };
    for row in table.rows() {
        out += &row;
        out.push('\n');
    }
    out
}

fn title(answer: &Answer<'_>, set: &SetRecord) -> String {
    let mut title = format!("Set {}", set.mark);
    if let Some(rank) = set.rank {
        let _ = write!(title, ", rank {rank}");
    }
    if answer.problem.centre_distances().len() > 1 {
        let _ = write!(title, ", centres {} mm", plain(set.centre_distance_mm, 3));
    }
    title
}

/// The least safety and where it is, with a duty.
fn strength(answer: &Answer<'_>, set: &SetRecord, width: usize) -> String {
    let (Some(weakest), Some(duty)) = (&set.weakest, answer.problem.duty()) else {
        return String::new();
    };
    let text = format!(
        "Strength at {} N m: least safety {}, at {}.",
        plain(duty.input_torque_n_m(), 2),
        plain(weakest.safety, 2),
        place(weakest)
    );
    format!("\n{}", paragraph(&text, 2, width))
}

fn gears(answer: &Answer<'_>, set: &SetRecord, width: usize) -> String {
    let table = gear_table(answer, set, true);
    let one_module = only_module(std::slice::from_ref(set)).is_some();
    // The list says a module that all gears share.
    let table = if table.width() > width && one_module {
        gear_table(answer, set, false)
    } else {
        table
    };
    let mut out = String::new();
    for part in table.split_named(width) {
        push_lines(&mut out, &part.head());
        push_lines(&mut out, &part.rows());
    }
    out
}

fn gear_table(answer: &Answer<'_>, set: &SetRecord, with_module: bool) -> Table {
    let cells = |cell: &dyn Fn(&GearRecord) -> String| set.gears.iter().map(cell).collect();
    let mut columns = vec![
        Column::left("gear", cells(&|gear| gear.gear.clone())),
        Column::right("teeth", cells(&|gear| gear.teeth.to_string())),
    ];
    if with_module {
        let module = cells(&|gear| module(gear.module_mm));
        columns.push(Column::right("module\nmm", module));
    }
    if set.gears.iter().any(|gear| gear.shift.is_some()) {
        let shift = |gear: &GearRecord| gear.shift.map_or(String::new(), |x| signed(x, 3));
        columns.push(Column::right("shift\nx", cells(&shift)));
    }
    if answer.problem.sizes_faces() {
        let width = |gear: &GearRecord| plain(gear.face_width_mm, 1);
        columns.push(Column::right("width\nmm", cells(&width)));
    }
    columns.extend([
        Column::right("blank\nØ mm", cells(&|gear| plain(gear.blank_mm, 2))),
        Column::right("pitch\nØ mm", cells(&|gear| plain(gear.pitch_mm, 2))),
        Column::right("root\nØ mm", cells(&|gear| plain(gear.root_mm, 2))),
        Column::left("cutter", cutters(set)),
    ]);
    Table::new(2, columns)
}

/// Cutters by gear; a number's range stands where the number comes first.
fn cutters(set: &SetRecord) -> Vec<String> {
    let mut seen = Vec::new();
    let mut word = |cutter: CutterRecord| match cutter {
        CutterRecord::Generated => "hob or rack tool".to_owned(),
        CutterRecord::OwnForm => "form cutter of its own".to_owned(),
        CutterRecord::Form { number, .. } if seen.contains(&number) => number.to_string(),
        CutterRecord::Form {
            number,
            from_teeth,
            to_teeth,
        } => {
            let noun = if seen.is_empty() { " teeth" } else { "" };
            seen.push(number);
            match to_teeth {
                Some(to_teeth) => format!("{number}  ({from_teeth}-{to_teeth}{noun})"),
                None => format!("{number}  ({from_teeth} and more{noun})"),
            }
        }
    };
    set.gears.iter().map(|gear| word(gear.cutter)).collect()
}

/// Remarks that say the same of several gears stand on one line.
/// The counts that need more than a plain setting of the dividing head.
fn dividing(answer: &Answer<'_>, set: &SetRecord, width: usize) -> String {
    let counts = set.not_simply_divided.iter();
    let counts: Vec<String> = counts.map(u32::to_string).collect();
    let counts: Vec<&str> = counts.iter().map(String::as_str).collect();
    let need = match counts.len() {
        0 => return String::new(),
        1 => "needs",
        _ => "need",
    };
    let workshop = answer.problem.workshop();
    let head = if workshop.given() {
        "on this head".to_owned()
    } else {
        format!("on a usual {}:1 head", workshop.dividing_head().worm())
    };
    let text = format!(
        "Dividing: {} teeth {need} more than a simple setting {head}.",
        series(&counts)
    );
    format!("\n{}", paragraph(&text, 2, width))
}

fn remarks(set: &SetRecord, width: usize) -> String {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for remark in &set.remarks {
        match said.iter_mut().find(|(text, _)| *text == remark.text) {
            Some((_, places)) => places.push(&remark.place),
            None => said.push((&remark.text, vec![&remark.place])),
        }
    }
    let mut out = String::new();
    for (text, places) in said {
        let line = format!("{} ({})", warning(text), places.join("; "));
        out += &paragraph(&line, 2, width);
    }
    if out.is_empty() {
        out
    } else {
        format!("\n{out}")
    }
}

fn idler(answer: &Answer<'_>, own: &Set, set: &SetRecord, width: usize) -> String {
    let Some(reverse) = &set.reverse else {
        return String::new();
    };
    let (upper, lower) = match answer.problem.arrangement() {
        Arrangement::InLine => ("main shaft", "layshaft"),
        Arrangement::Offset => ("input shaft", "output shaft"),
    };
    let inch = answer.problem.inches();
    let place = plain(-set.centre_distance_mm, 3);
    let text = format!(
        "Idler's centre, on either side, seen from the input end; {upper} at 0, 0, {lower} at 0, \
         {place} mm:"
    );
    let mut out = format!("\n{}", paragraph(&text, 2, width));
    for (side, at) in ["right", "left"].into_iter().zip(&reverse.idler_centres) {
        let (x, y) = (plain(at.x_mm, 3), plain(at.y_mm, 3));
        let (x_in, y_in) = (inches(at.x_mm, inch), inches(at.y_mm, inch));
        let _ = writeln!(out, "    {side:<5}   x {x:>8} mm{x_in}   y {y:>8} mm{y_in}");
    }
    let gap = plain(reverse.tip_gap_mm, 2);
    let pass = match &reverse.shares_driver_with {
        None => format!(
            "The tips of reverse's driver and driven gear pass each other with {gap} mm between them."
        ),
        Some(speed) => format!(
            "The idler runs beside the driven gear of {speed}, {gap} mm between their tips."
        ),
    };
    let text = format!(
        "{pass} {} {}",
        clear_sides(answer, own),
        nearer(answer, own)
    );
    out + &paragraph(&text, 2, width)
}

/// On which sides the idler has a clear place in the best box around it.
fn clear_sides(answer: &Answer<'_>, own: &Set) -> String {
    let Some(study) = study_own(answer.problem, own) else {
        return String::new();
    };
    let answer = IdlerAnswer {
        problem: answer.problem,
        set: own,
        mark: "",
        study: &study,
    };
    let mut sides: Vec<&str> = study.places.iter().map(|place| place.side.word()).collect();
    sides.sort_unstable();
    if let Some(place) = study.places.first() {
        let nearest = answer
            .nearest(place)
            .map_or_else(String::new, |(what, gap)| {
                format!(" ({what} {} mm away)", plain(gap, 2))
            });
        return format!(
            "The idler has a clear place on the {}{nearest}.",
            sides.join(" and the ")
        );
    }
    let why = study.refused.iter().flat_map(|refused| &refused.why);
    let why: Vec<String> = why.map(|why| answer.why(why)).collect();
    format!(
        "The idler has no clear place: {}.",
        why.first().map_or("", String::as_str)
    )
}

/// A reverse nearer its target for little metal more.
fn nearer(answer: &Answer<'_>, own: &Set) -> String {
    answer
        .nearer_reverse(own)
        .map_or_else(String::new, |nearer| {
            let more = nearer.more_blank_volume_mm3;
            let metal = format!(
                "{} cm³ {} metal",
                metal(more.abs()),
                if more < 0.0 { "less" } else { "more" }
            );
            format!(
                "{}→{}→{} ×{} would give {} ({} %) for {metal}.",
                nearer.driver_teeth,
                nearer.idler_teeth,
                nearer.driven_teeth,
                module(nearer.module_mm),
                plain(nearer.ratio, 3),
                signed(nearer.error_percent, 2)
            )
        })
}
