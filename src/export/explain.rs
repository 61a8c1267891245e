//! An explanation, as JSON.

use super::record::{SetRecord, set_record};
use super::shortfall::ShortfallRecord;
use crate::problem::{Change, Problem};
use crate::search::{Clashes, Explanation, Gain, Reach, Step, Way};
use crate::train::{Register, volume_mm3};
use serde::Serialize;
use serde_json::Value;

/// A whole explanation.
#[derive(Debug, Serialize)]
pub struct ExplainRecord<'a> {
    /// The problem's title.
    pub title: &'a str,
    /// What was tried otherwise than in the file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Change>,
    /// "complete", or "stopped" when more was to be tried.
    pub status: &'static str,
    /// Keys that are made and were not proposed for change.
    pub kept: &'a [String],
    /// What shuts every set out, whatever the strength; null where there are sets,
    /// or would be but for strength.
    pub clashes: Option<ClashesRecord>,
    /// How strong the sets are that strength alone shuts out; null where there are
    /// sets, or none whatever the strength.
    pub strength: Option<ShortfallRecord>,
    /// How many sets there would be whatever gears the idler's pin passes, where that
    /// alone shuts all out; null else.
    pub sets_but_for_pin: Option<String>,
    /// The least change of each limit that lets sets in.
    pub ways: Vec<WayRecord>,
    /// Two changes at once, where one does not do or takes more.
    pub pairs: Vec<WayRecord>,
    /// What the problem reaches; null where there is no set.
    pub now: Option<ReachRecord>,
    /// What one step of each limit would buy, where there are sets.
    pub gains: Vec<GainRecord>,
}

/// What shuts every set out.
#[derive(Debug, Serialize)]
pub struct ClashesRecord {
    /// With the gears as they are: the smallest groups of demands that no head
    /// pair serves together. One empty group: no pair of gears closes at all.
    pub demands: Vec<Vec<String>>,
    /// Whether `demands` holds all there are.
    pub demands_complete: bool,
    /// Limits that together admit no set, while dropping any one admits some.
    pub limits: Vec<ClashRecord>,
    /// Whether `limits` holds all there are.
    pub complete: bool,
}

/// One irreducible clash.
#[derive(Debug, Serialize)]
pub struct ClashRecord {
    /// Demands on ratios, by name.
    pub demands: Vec<String>,
    /// Keys of the limits of the gears.
    pub limits: Vec<&'static str>,
}

/// A way out, solved.
#[derive(Debug, Serialize)]
pub struct WayRecord {
    /// What it changes.
    pub steps: Vec<StepRecord>,
    /// What `--with` takes, one word a key.
    pub with: Vec<String>,
    /// Exact number of sets.
    pub feasible_sets: String,
    /// The set with the least worst error, then least metal, then fewest
    /// cutters.
    pub best: SetRecord,
}

/// One limit set otherwise.
#[derive(Debug, Serialize)]
pub struct StepRecord {
    /// The key, and what it is set to.
    pub set: Vec<(String, Value)>,
    /// The figure as it is; null where there is no single one.
    pub now: Option<f64>,
    /// The figure that it becomes.
    pub to: f64,
}

/// What a problem reaches.
#[derive(Debug, Serialize)]
pub struct ReachRecord {
    /// Exact number of sets.
    pub feasible_sets: String,
    /// Least worst error of any set, percent.
    pub worst_error_percent: f64,
    /// Least volume of all blanks of any set, mm³.
    pub blank_volume_mm3: f64,
    /// Fewest cutters of any set.
    pub distinct_cutters: u32,
}

/// What one step of a limit would buy.
#[derive(Debug, Serialize)]
pub struct GainRecord {
    /// The step.
    pub step: StepRecord,
    /// What `--with` takes.
    pub with: Vec<String>,
    /// What the problem then reaches.
    pub reach: ReachRecord,
}

impl<'a> ExplainRecord<'a> {
    /// The record of an explanation.
    pub fn new(
        problem: &'a Problem,
        with: Vec<Change>,
        stopped: bool,
        explanation: &Explanation,
    ) -> Self {
        let mut record = Self {
            title: problem.title(),
            with,
            status: if stopped { "stopped" } else { "complete" },
            kept: problem.fixed(),
            clashes: None,
            strength: None,
            sets_but_for_pin: None,
            ways: Vec::new(),
            pairs: Vec::new(),
            now: None,
            gains: Vec::new(),
        };
        match explanation {
            Explanation::NoSet {
                clashes,
                ways,
                pairs,
            } => {
                record.clashes = Some(clashes_record(problem, clashes));
                record.ways = ways.iter().map(way_record).collect();
                record.pairs = pairs.iter().map(way_record).collect();
            }
            Explanation::TooWeak {
                shortfall,
                ways,
                pairs,
            } => {
                record.strength = Some(ShortfallRecord::of(problem, shortfall));
                record.ways = ways.iter().map(way_record).collect();
                record.pairs = pairs.iter().map(way_record).collect();
            }
            Explanation::PinInTheWay { sets, ways } => {
                record.sets_but_for_pin = Some(sets.to_string());
                record.ways = ways.iter().map(way_record).collect();
            }
            Explanation::Sets { now, gains } => {
                record.now = Some(reach_record(now));
                record.gains = gains.iter().map(gain_record).collect();
            }
            Explanation::Stopped { .. } => {}
        }
        record
    }
}

/// What a problem asks of its ratios, by place: its geared speeds by name, then
/// "reverse", then "head".
pub fn demand_names(problem: &Problem) -> Vec<String> {
    let geared = problem.speeds().iter().filter(|s| s.geared().is_some());
    let mut names: Vec<String> = geared.map(|speed| speed.name().to_owned()).collect();
    names.extend(problem.reverse().map(|_| "reverse".to_owned()));
    names.push("head".to_owned());
    names
}

fn clashes_record(problem: &Problem, clashes: &Clashes) -> ClashesRecord {
    let names = demand_names(problem);
    let named = |places: &Vec<usize>| places.iter().map(|&i| names[i].clone()).collect();
    ClashesRecord {
        demands: clashes.roles.iter().map(named).collect(),
        demands_complete: clashes.roles_complete,
        limits: clashes
            .limits
            .iter()
            .map(|clash| ClashRecord {
                demands: named(&clash.roles),
                limits: clash.gears.iter().map(|limit| limit.key(problem)).collect(),
            })
            .collect(),
        complete: clashes.complete,
    }
}

fn step_record(step: &Step) -> StepRecord {
    StepRecord {
        set: step.edits.clone(),
        now: step.now.map(crate::base::Decimal::to_f64),
        to: step.to.to_f64(),
    }
}

/// What `--with` takes for steps.
fn with(steps: &[Step]) -> Vec<String> {
    let edits = steps.iter().flat_map(|step| &step.edits);
    edits.map(|(key, value)| format!("{key}={value}")).collect()
}

fn way_record(way: &Way) -> WayRecord {
    let register = Register::new(&way.problem, std::iter::once(&way.best));
    let mark = register.shown(&way.best);
    WayRecord {
        steps: way.steps.iter().map(step_record).collect(),
        with: with(&way.steps),
        feasible_sets: way.sets.to_string(),
        best: set_record(&way.problem, &way.best, None, mark),
    }
}

fn reach_record(reach: &Reach) -> ReachRecord {
    ReachRecord {
        feasible_sets: reach.sets.to_string(),
        worst_error_percent: 100.0 * reach.worst_error,
        blank_volume_mm3: volume_mm3(reach.blank_um2, reach.unit),
        distinct_cutters: reach.distinct_cutters,
    }
}

fn gain_record(gain: &Gain) -> GainRecord {
    GainRecord {
        step: step_record(&gain.step),
        with: with(std::slice::from_ref(&gain.step)),
        reach: reach_record(&gain.reach),
    }
}
