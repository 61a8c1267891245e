//! Limits and changes of them in a person's words.

use crate::base::{Decimal, Length, Module, plain};
use crate::cli::words::{module, series};
use crate::export::demand_names;
use crate::problem::{Closing, GearLimit, Problem, Reverse};
use crate::search::{Axis, Step};

/// A demand by its place: `speed 4`, `crawl`, `reverse`, `the head's range`.
pub(super) fn demand(problem: &Problem, place: usize) -> String {
    let names = demand_names(problem);
    match names.get(place).map(String::as_str) {
        Some("head") | None if place + 1 == names.len() => "the head's range".to_owned(),
        // A bare number would read like a figure.
        Some(name) if name.chars().all(|c| c.is_ascii_digit()) => format!("speed {name}"),
        Some(name) => name.to_owned(),
        None => String::new(),
    }
}

/// A limit of the gears with its figure.
pub(super) fn limit(problem: &Problem, limit: GearLimit) -> String {
    let gears = problem.gears();
    let reverse = problem.reverse();
    match limit {
        GearLimit::Centres => centres(problem),
        GearLimit::Modules => {
            let all: Vec<String> = gears.modules().iter().map(spelled).collect();
            let all: Vec<&str> = all.iter().map(String::as_str).collect();
            format!("the modules ({})", series(&all))
        }
        GearLimit::MinTeeth => format!("no gear below {} teeth", gears.min_teeth()),
        GearLimit::MaxTeeth => format!("no gear above {} teeth", gears.max_teeth()),
        GearLimit::Closing => match gears.closing() {
            Closing::Tolerance(tolerance) => format!(
                "pairs that close the centres within {} mm",
                short(tolerance)
            ),
            Closing::Backlash { min, max, .. } => {
                format!("backlash {} to {} mm", short(min), short(max))
            }
            Closing::Shift { min, max } => format!("profile shift {min} to {max}"),
        },
        GearLimit::TipGap => {
            let gap = reverse.map_or(Length::ZERO, Reverse::clearance);
            format!("a tip gap of {} mm in reverse", short(gap))
        }
        GearLimit::Idler => reverse.map_or(String::new(), |r| {
            format!("an idler of {} to {} teeth", r.idler_min(), r.idler_max())
        }),
        GearLimit::Room => "a clear place for the idler".to_owned(),
        GearLimit::Dividing => "counts that the dividing head divides simply".to_owned(),
        GearLimit::OwnedCutters => "cutters that are owned".to_owned(),
        GearLimit::Teeth => "what is asked of the teeth (undercut, tips, contact)".to_owned(),
    }
}

fn centres(problem: &Problem) -> String {
    let distances = problem.centre_distances();
    let at = |i: usize| plain(distances.at(i).mm(), 3);
    match distances.len() {
        1 => format!("centres {} mm", at(0)),
        n => format!("centres {} to {} mm", at(0), at(n - 1)),
    }
}

fn spelled(own: &Module) -> String {
    own.pitch().map_or_else(
        || format!("{} mm", module(own.mm())),
        |pitch| format!("{pitch} DP"),
    )
}

/// Millimetres to the hundredth, finer where the file is.
fn short(length: Length) -> String {
    let exact = length.to_string();
    let two = plain(length.mm(), 2);
    let fine = exact
        .split_once('.')
        .is_some_and(|(_, part)| part.len() > 2);
    if fine { exact } else { two }
}

/// A change, the figure as it was, and what it costs.
pub(super) fn change(problem: &Problem, step: &Step) -> (String, String, String) {
    let figure = |decimal: Decimal, places| plain(decimal.to_f64(), places);
    let (before, places, unit, after, cost) = parts(problem, step);
    let to = match step.axis {
        // A switch has no figure.
        Axis::Cutting
        | Axis::Undercut
        | Axis::TipsTurnedDown
        | Axis::AnyDividing
        | Axis::AnyCutter
        | Axis::HeldIn
        | Axis::Material => String::new(),
        Axis::Module => module(step.to.to_f64()),
        Axis::Pitch | Axis::Torque | Axis::Power => step.to.to_string(),
        _ => figure(step.to, places),
    };
    let now = match (step.now, step.axis) {
        (_, Axis::BacklashInstead) => "exact".to_owned(),
        (_, Axis::ShiftInstead) => "none".to_owned(),
        (_, Axis::Cutting) => "form".to_owned(),
        (_, Axis::Undercut | Axis::TipsTurnedDown) => "no".to_owned(),
        (_, Axis::AnyDividing) => "simple".to_owned(),
        (_, Axis::AnyCutter) => "owned".to_owned(),
        (Some(now), Axis::Torque | Axis::Power) => format!("{now}{unit}"),
        // Names of materials are longer than the column.
        (_, Axis::HeldIn) => problem
            .idler_pin()
            .map_or_else(String::new, |pin| pin.held_in().word().to_owned()),
        (None, _) | (_, Axis::Material) => String::new(),
        (Some(now), _) => figure(now, places) + unit,
    };
    let cost = match (step.axis, step.now) {
        (Axis::Bush, Some(now)) => {
            let off = (step.to.to_f64() - now.to_f64()).abs();
            format!("{} mm eccentric", plain(off, 2))
        }
        _ => cost.to_owned(),
    };
    (format!("{before}{to}{unit}{after}"), now, cost)
}

/// What stands before the figure, its places and unit, what stands behind, and
/// the cost.
fn parts(
    problem: &Problem,
    step: &Step,
) -> (String, usize, &'static str, &'static str, &'static str) {
    let of = |role, to: &str| format!("{} {to} ", demand(problem, role));
    let said = str::to_owned;
    let few_teeth = step.to < Decimal::whole(17);
    let (before, places, unit, after, cost) = match step.axis {
        Axis::Tolerance(role) => return (of(role, "within"), 2, " %", "", "a ratio further off"),
        Axis::Target(role) => return (of(role, "to be"), 3, "", "", "another ratio"),
        Axis::DefaultTolerance => ("all within ", 2, " %", "", "ratios further off"),
        Axis::HeadMin => ("head ratio from ", 3, "", "", "another head"),
        Axis::HeadMax => ("head ratio up to ", 3, "", "", "another head"),
        Axis::BacklashMax => ("backlash up to ", 2, " mm", "", "a looser mesh"),
        Axis::BacklashMin => ("backlash from ", 2, " mm", "", "a tighter mesh"),
        Axis::Thinning => ("teeth thinner by ", 2, " mm", "", "deeper cuts"),
        Axis::BacklashInstead => ("backlash 0 to ", 2, " mm", "", "deeper cuts"),
        Axis::TipGap => ("tip gap ", 2, " mm", "", "reverse tips pass closer"),
        Axis::IdlerMin => ("idler from ", 0, "", " teeth", "a smaller idler"),
        Axis::IdlerMax => ("idler up to ", 0, "", " teeth", "a larger idler"),
        Axis::MinTeeth if few_teeth => ("gears from ", 0, "", " teeth", "small gears, undercut"),
        Axis::MinTeeth => ("gears from ", 0, "", " teeth", "smaller gears"),
        Axis::MaxTeeth => ("gears up to ", 0, "", " teeth", "larger blanks"),
        Axis::Module => ("module ", 3, " mm", " as well", "cutters of that module"),
        Axis::Pitch => ("", 0, " DP", " as well", "cutters of that pitch"),
        Axis::Helix => ("helix ", 3, "°", ", all gears", "thrust; spiral set-up"),
        Axis::Centres => ("centres ", 3, " mm", "", "another case"),
        Axis::Bush => ("bush one shaft: ", 3, " mm", "", ""),
        Axis::ShiftInstead => ("shift up to ", 2, "", ", generated", "hob or rack cutter"),
        Axis::ShiftMax => ("shift up to ", 2, "", "", "more pointed teeth"),
        Axis::ShiftMin => ("shift from ", 2, "", "", "weaker roots"),
        Axis::Cutting => return (said("generated teeth"), 0, "", "", "hob or rack cutter"),
        Axis::Wall => ("wall from ", 1, " mm", "", "less metal at the hole"),
        Axis::ContactRatio => ("contact ratio from ", 2, "", "", "rougher running"),
        Axis::TipThickness => ("tips from ", 2, "", " modules", "thinner tips"),
        Axis::Undercut => return (said("undercut allowed"), 0, "", "", "weaker roots"),
        Axis::TipsTurnedDown => return (said("blanks turned down"), 0, "", "", "less contact"),
        Axis::AnyDividing => return (said("any count to divide"), 0, "", "", "harder dividing"),
        Axis::AnyCutter => return (said("any cutter"), 0, "", "", "cutters to buy"),
        Axis::PinWall => ("pin-hole wall ", 1, " mm", "", "less metal in the wall"),
        Axis::Pin => ("idler pin ", 1, " mm", "", "a weaker pin"),
        Axis::HeldIn => return (said("pin in the output wall"), 0, "", "", "a stub pin"),
        Axis::IdlerGap => ("idler gap ", 1, " mm", "", "the idler passes closer"),
        Axis::LeastSafety => ("least safety ", 2, "", "", "weaker teeth"),
        Axis::FlankSafety => ("flanks from safety ", 2, "", "", "flanks pit sooner"),
        Axis::FaceWidth => ("gears ", 1, " mm", " wide", "a longer box"),
        Axis::MostWidth => ("gears up to ", 1, " mm", " wide", "a longer box"),
        Axis::Torque => ("torque ", 0, " N m", "", "less load"),
        Axis::Power => ("power ", 0, " W", "", "less load"),
        Axis::Material => return (material(step), 0, "", "", "another metal for gears"),
        Axis::RoleTeeth => {
            let key = step.edits.first().map_or("", |(key, _)| key.as_str());
            return (format!("{key} "), 0, "", "", "a smaller gear");
        }
    };
    (before.to_owned(), places, unit, after, cost)
}

/// The material that a step names.
fn material(step: &Step) -> String {
    let name = step.edits.first().and_then(|(_, value)| value.as_str());
    name.unwrap_or_default().to_owned()
}
