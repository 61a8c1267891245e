//! The whole answer of a search as JSON.

use super::IdlerAnswer;
use super::bench::tidy;
use super::cautions::cautions;
use super::record::{SetRecord, cost_of, set_record};
use super::sheets::gear_sheets;
use super::strength::least_safety;
use crate::base::Length;
use crate::design::idler::study_own;
use crate::making::Refusal;
use crate::mesh::Tally;
use crate::problem::{Arrangement, Change, Measure, Problem, Ranking};
use crate::search::{
    Bounds, Certificate, Nearest, Outcome, Refused, Status, Walk, WalkEnd, nearer_reverse,
};
use crate::stock::exact;
use crate::train::{Figures, Register, Role, Set, exchanges, pairs_of, volume_mm3};
use num_bigint::BigUint;
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// What a search took. Never part of a result unless asked for.
#[derive(Clone, Copy, Debug, serde::Serialize)]
pub struct Stats {
    /// Wall-clock time, seconds.
    pub seconds: f64,
    /// Threads used.
    pub threads: usize,
    /// Partial choices looked at.
    pub nodes: u64,
}

/// Another reverse for a set.
#[derive(Clone, Copy, Debug, serde::Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct NearerRecord {
    pub module_mm: f64,
    pub driver_teeth: u32,
    pub idler_teeth: u32,
    pub driven_teeth: u32,
    pub ratio: f64,
    pub error_percent: f64,
    pub more_blank_volume_mm3: f64,
}

/// An outcome with the names of its sets: the one source of screens and files.
#[derive(Debug)]
pub struct Answer<'a> {
    /// The problem searched.
    pub problem: &'a Problem,
    /// What was found.
    pub outcome: &'a Outcome,
    /// How many ranked sets to list.
    pub top: usize,
    /// What was tried otherwise than in the file.
    pub changes: Vec<Change>,
    /// What comes nearest, when there is no set.
    pub nearest: Option<Nearest>,
    /// A set asked for by name.
    pub chosen: Option<&'a Set>,
    /// Whether to tell what to cut and to measure on the chosen set, or on the
    /// best one where none is chosen.
    pub inspected: bool,
    /// Whether the chosen set was stored in the problem file.
    pub picked: bool,
    /// What the integer program says of the front, when it was asked.
    pub certificate: Option<Certificate>,
    /// To be told with the result.
    pub stats: Option<Stats>,
    walk: Option<Walk>,
    register: Register<'a>,
    ranks: BTreeMap<&'a Set, usize>,
    /// Ranked sets that exchange the pairs of head and a speed of an earlier one.
    exchanges: BTreeMap<&'a Set, (&'a Set, usize)>,
}

impl<'a> Answer<'a> {
    /// Names every set of `outcome`.
    pub fn new(problem: &'a Problem, outcome: &'a Outcome, top: usize) -> Self {
        let all = outcome
            .front
            .iter()
            .chain(&outcome.sets)
            .chain(&outcome.trains);
        Self {
            problem,
            outcome,
            top,
            changes: Vec::new(),
            nearest: None,
            chosen: None,
            inspected: false,
            picked: false,
            certificate: None,
            stats: None,
            walk: None,
            register: Register::new(problem, all),
            ranks: outcome.sets.iter().zip(1..).collect(),
            exchanges: exchanges_of(&outcome.sets),
        }
    }

    /// Tells how the ranking was walked for its sets, which keep the places
    /// that they have in the whole ranking.
    #[must_use]
    pub fn walked(mut self, walk: Walk) -> Self {
        let ranks = walk.ranks.iter().copied();
        self.ranks = self.outcome.sets.iter().zip(ranks).collect();
        self.walk = Some(walk);
        self
    }

    /// How the ranking was walked, if only real alternatives are listed.
    pub const fn walk(&self) -> Option<&Walk> {
        self.walk.as_ref()
    }

    /// The names of all sets.
    pub const fn register(&self) -> &Register<'a> {
        &self.register
    }

    /// Place of a set in the ranked list.
    pub fn rank(&self, set: &Set) -> Option<usize> {
        self.ranks.get(set).copied()
    }

    /// The ranked sets to list.
    pub fn listed(&self) -> &'a [Set] {
        let sets = &self.outcome.sets;
        &sets[..sets.len().min(self.top)]
    }

    /// Everything about one set.
    pub fn record(&self, set: &Set) -> SetRecord {
        let rank = self.rank(set);
        let mut record = set_record(self.problem, set, rank, self.register.shown(set));
        if let Some(&(earlier, speed)) = self.exchanges.get(set) {
            record.exchange_of = Some(self.register.shown(earlier));
            record.exchanged = Some(self.exchanged_names(set, speed));
        }
        record
    }

    /// The names of head and of the geared speed at `speed`.
    pub fn exchanged_names(&self, set: &Set, speed: usize) -> [String; 2] {
        // The head comes first among the pairs.
        let speed = pairs_of(self.problem, set)[speed + 1].0;
        [Role::Head, speed].map(|role| role.name(self.problem).to_owned())
    }

    /// A reverse that comes nearer for little metal more, when there is one.
    pub fn nearer_reverse(&self, set: &Set) -> Option<NearerRecord> {
        let other = nearer_reverse(self.problem, set)?;
        let [own, figures] = [set, &other].map(|set| Figures::of(self.problem, set));
        let (gears, reverse) = (other.reverse?, figures.reverse?);
        Some(NearerRecord {
            module_mm: gears.module.of(self.problem).mm(),
            driver_teeth: gears.driver.get(),
            idler_teeth: gears.idler.get(),
            driven_teeth: gears.driven.get(),
            ratio: reverse.ratio,
            error_percent: 100.0 * reverse.deviation,
            more_blank_volume_mm3: figures.blank_volume_mm3 - own.blank_volume_mm3,
        })
    }

    /// What is proved when the search was stopped.
    pub const fn bounds(&self) -> Option<Bounds> {
        match self.outcome.status {
            Status::Proven => None,
            Status::Stopped(bounds) => Some(bounds),
        }
    }

    /// Whether there is any set at all.
    pub fn has_sets(&self) -> bool {
        self.outcome.counts.sets != BigUint::ZERO
    }

    /// What strength took away, and what could be had.
    fn serialize_strength<M: SerializeMap>(&self, map: &mut M) -> Result<(), M::Error> {
        if let Some(count) = &self.outcome.without_strength {
            map.serialize_entry("sets_too_weak", &count.to_string())?;
        }
        if self.problem.duty().is_some() {
            map.serialize_entry("cautions", &cautions(self.problem))?;
        }
        Ok(())
    }

    fn best(&self) -> Value {
        let figures = |set| (set, Figures::of(self.problem, set));
        let front: Vec<(&Set, Figures)> = self.outcome.front.iter().map(figures).collect();
        let least = |measure: Measure| {
            let key =
                |(set, figures): &&(&Set, Figures)| exact(self.problem, set, figures, measure);
            let (set, figures) = front.iter().min_by_key(key)?;
            Some(value(self.problem, set, figures, measure))
        };
        let mut map = Map::new();
        for &measure in self.problem.measures() {
            let Some(least) = least(measure) else {
                return Value::Null;
            };
            map.insert(measure.key().to_owned(), least);
        }
        Value::Object(map)
    }

    fn bounds_value(&self, bounds: Bounds) -> Value {
        let mut map = Map::new();
        for &measure in self.problem.measures() {
            let value = match measure {
                // Nothing is known of these before the search has ended.
                Measure::Bars
                | Measure::Blanks
                | Measure::Setups
                | Measure::Cost
                | Measure::LeastSafety => continue,
                Measure::WorstError => json!(100.0 * bounds.worst_error),
                Measure::BlankVolume => {
                    json!(volume_mm3(
                        bounds.blank_um2,
                        self.problem.gears().face().unit()
                    ))
                }
                Measure::DistinctCutters => json!(bounds.distinct_cutters),
            };
            map.insert(measure.key().to_owned(), value);
        }
        Value::Object(map)
    }
}

fn exchanges_of(sets: &[Set]) -> BTreeMap<&Set, (&Set, usize)> {
    let list: Vec<&Set> = sets.iter().collect();
    let found = exchanges(&list);
    let with_earlier = |(set, found): (&_, Option<(usize, usize)>)| {
        found.map(|(earlier, speed)| (*set, (list[earlier], speed)))
    };
    list.iter().zip(found).filter_map(with_earlier).collect()
}

fn walk_value(walk: &Walk) -> Value {
    let ended = match walk.end {
        WalkEnd::Found => "found",
        WalkEnd::Exhausted => "every set walked",
        WalkEnd::Limit => "walked as far as allowed",
        WalkEnd::Stopped => "stopped",
    };
    json!({
        "differ_by_gears": walk.wanted.differ_by,
        "sets_walked": walk.walked,
        "sets_found": walk.ranks.len(),
        "ended": ended,
    })
}

fn value(problem: &Problem, set: &Set, figures: &Figures, measure: Measure) -> Value {
    match measure {
        Measure::WorstError => json!(100.0 * figures.worst_error),
        Measure::BlankVolume => json!(figures.blank_volume_mm3),
        Measure::DistinctCutters => json!(figures.distinct_cutters),
        Measure::Bars => json!(figures.needs.bars),
        Measure::Blanks => json!(figures.needs.blanks),
        Measure::Setups => json!(figures.needs.setups),
        Measure::Cost => json!(cost_of(problem, set)),
        Measure::LeastSafety => {
            json!(least_safety(problem, set).map(|weakest| weakest.safety))
        }
    }
}

const fn arrangement(problem: &Problem) -> &'static str {
    match problem.arrangement() {
        Arrangement::InLine => "in-line",
        Arrangement::Offset => "offset",
    }
}

impl Serialize for Answer<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let counts = &self.outcome.counts;
        let bounds = self.bounds();
        let measures: Vec<_> = self.problem.measures().iter().map(|m| m.word()).collect();
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("title", self.problem.title())?;
        map.serialize_entry("arrangement", arrangement(self.problem))?;
        map.serialize_entry(
            "status",
            if bounds.is_some() {
                "stopped"
            } else {
                "proven"
            },
        )?;
        map.serialize_entry("feasible_sets", &counts.sets.to_string())?;
        map.serialize_entry("forward_trains", &counts.trains.to_string())?;
        let distances = self.problem.centre_distances();
        if distances.doubt() > Length::ZERO {
            let (centres, doubt) = (distances.at(0).mm(), distances.doubt().mm());
            let measured = json!({ "centre_distance_mm": centres, "measured_to_mm": doubt });
            map.serialize_entry("measured", &measured)?;
        }
        if !self.changes.is_empty() {
            map.serialize_entry("with", &self.changes)?;
        }
        map.serialize_entry("measures", &measures)?;
        map.serialize_entry("ranking", Ranking::word(self.problem.ranking()))?;
        map.serialize_entry("best", &self.best())?;
        if let Some(bounds) = bounds {
            map.serialize_entry("bounds", &self.bounds_value(bounds))?;
        }
        map.serialize_entry("front", &Front(self))?;
        map.serialize_entry("front_order", &self.outcome.front_order)?;
        let are = if bounds.is_some() {
            "best found"
        } else {
            "best"
        };
        map.serialize_entry("sets_are", are)?;
        if let Some(walk) = &self.walk {
            map.serialize_entry("alternatives", &walk_value(walk))?;
        }
        map.serialize_entry("sets", &Sets(self))?;
        if let Some(set) = self.chosen {
            map.serialize_entry("set", &self.record(set))?;
            map.serialize_entry("picked", &self.picked)?;
        }
        if let Some(set) = self.chosen.or_else(|| self.outcome.sets.first())
            && self.inspected
        {
            let mut sheets = json!({
                "set": self.register.shown(set),
                "gears": gear_sheets(self.problem, set),
            });
            tidy(&mut sheets);
            map.serialize_entry("sheets", &sheets)?;
        }
        if let Some((set, study)) = self
            .chosen
            .and_then(|set| Some((set, study_own(self.problem, set)?)))
        {
            let mark = self.register.shown(set);
            let own = IdlerAnswer {
                problem: self.problem,
                set,
                mark: &mark,
                study: &study,
            };
            map.serialize_entry("idler", &own.record())?;
            map.serialize_entry("nearer_reverse", &self.nearer_reverse(set))?;
        }
        if let Some(certificate) = &self.certificate {
            map.serialize_entry("certificate", &certified(certificate))?;
        }
        self.serialize_strength(&mut map)?;
        if let Some(nearest) = &self.nearest {
            map.serialize_entry("nearest", nearest)?;
        }
        if self.problem.judges() {
            map.serialize_entry("refused", &refused(&self.outcome.refused))?;
        }
        let workshop = self.problem.workshop();
        for (key, only) in [
            ("only_dividable", workshop.only_dividable()),
            ("only_owned_cutters", workshop.only_owned_cutters()),
        ] {
            if only {
                map.serialize_entry(key, &true)?;
            }
        }
        if let Some(count) = &self.outcome.without_place {
            map.serialize_entry("sets_without_clear_place", &count.to_string())?;
        }
        if let Some(stats) = &self.stats {
            map.serialize_entry("stats", stats)?;
        }
        map.end()
    }
}

/// How many gears each limit refused, each counted under the first that it
/// breaks.
fn refused(refused: &Refused) -> Value {
    let of = |tally: &Tally| -> Map<String, Value> {
        let some = Refusal::ALL.iter().filter(|limit| tally.by(**limit) > 0);
        some.map(|limit| (limit.key().to_owned(), json!(tally.by(*limit))))
            .collect()
    };
    let mut pairs = of(&refused.pairs);
    pairs.insert("centres".to_owned(), json!(refused.pairs.centres()));
    json!({ "pairs": pairs, "reverse": of(&refused.reverses) })
}

/// What one integer program over all choices found, as JSON.
pub fn least_json(answer: &Answer<'_>, least: Measure, proven: bool) -> Value {
    let mut map = Map::new();
    map.insert("title".into(), json!(answer.problem.title()));
    map.insert("engine".into(), json!("program"));
    map.insert("least".into(), json!(least.word()));
    let status = if proven { "proven" } else { "stopped" };
    map.insert("status".into(), json!(status));
    if !answer.changes.is_empty() {
        map.insert("with".into(), json!(answer.changes));
    }
    let record = answer.outcome.sets.first().map(|set| answer.record(set));
    map.insert("set".into(), json!(record));
    if let Some(stats) = answer.stats {
        map.insert("stats".into(), json!(stats));
    }
    Value::Object(map)
}

fn certified(certificate: &Certificate) -> Value {
    json!({
        "claims": certificate.claims(),
        "by_bounds": certificate.by_bounds,
        "by_programs": certificate.by_programs,
        "open": certificate.open,
        "refuted": certificate.refuted,
    })
}

/// The ranked sets, each made when it is written: there may be many.
struct Sets<'a>(&'a Answer<'a>);

impl Serialize for Sets<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.listed().iter().map(|set| self.0.record(set)))
    }
}

/// The unbeaten sets.
struct Front<'a>(&'a Answer<'a>);

impl Serialize for Front<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let problem = self.0.problem;
        let mut measures = problem.measures().to_vec();
        measures.extend(
            Measure::USUAL
                .iter()
                .filter(|m| !problem.measures().contains(m)),
        );
        serializer.collect_seq(self.0.outcome.front.iter().map(|set| {
            let figures = Figures::of(problem, set);
            let mut point = Map::new();
            for &measure in &measures {
                point.insert(
                    measure.key().to_owned(),
                    value(self.0.problem, set, &figures, measure),
                );
            }
            Point {
                values: point,
                set: self.0.record(set),
            }
        }))
    }
}

/// A point of the front.
#[derive(serde::Serialize)]
struct Point {
    #[serde(flatten)]
    values: Map<String, Value>,
    set: SetRecord,
}
