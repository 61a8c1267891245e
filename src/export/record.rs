//! One set with all its figures, as results carry it.

use super::asked::AskedRecord;
use super::gear::{GearRecord, gear_record, tidy};
use super::strength::{WeakestRecord, weakest};
use crate::base::Teeth;
use crate::mesh::doubts;
use crate::problem::{Asked, Problem, Reverse};
use crate::stock;
use crate::train::{
    self, Figures, Form, Pair, PairFigures, Remark, ReverseFigures, ReverseGears, Set, rate_made,
};
use serde::Serialize;

/// A set. Field order is key order.
#[derive(Clone, Debug, Serialize)]
pub struct SetRecord {
    /// Place in the ranked list; none for a set outside it.
    pub rank: Option<usize>,
    /// Its mark as shown in this listing.
    pub mark: String,
    /// The mark of the set listed earlier that it only exchanges some pairs of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exchange_of: Option<String>,
    /// Which roles have each other's pairs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exchanged: Option<[String; 2]>,
    /// Distance between the shafts.
    pub centre_distance_mm: f64,
    /// Largest error of the geared forward speeds.
    pub worst_error_percent: f64,
    /// Root mean square of the same errors.
    pub rms_error_percent: f64,
    /// Volume of all blanks.
    pub blank_volume_mm3: f64,
    /// Outside diameter of the largest blank.
    pub largest_blank_mm: f64,
    /// Number of distinct cutters.
    pub distinct_cutters: u32,
    /// Number of distinct sizes of bar; here and in the next three where the
    /// file describes the workshop or measures by it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distinct_bars: Option<u32>,
    /// Number of distinct blanks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distinct_blanks: Option<u32>,
    /// Number of distinct set-ups.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distinct_setups: Option<u32>,
    /// Money for cutters and bars; nothing inside where no bar holds some gear.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cost: Option<Option<f64>>,
    /// The least safety of all teeth; here and in the next only with a duty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_safety: Option<f64>,
    /// Where that is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weakest: Option<WeakestRecord>,
    /// Largest step between neighbouring forward speeds divided by the
    /// smallest; none below two speeds.
    pub step_evenness: Option<f64>,
    /// The head pair; none on offset shafts.
    pub head: Option<HeadRecord>,
    /// Forward speeds in file order.
    pub speeds: Vec<SpeedRecord>,
    /// Reverse; none when none is asked for.
    pub reverse: Option<ReverseRecord>,
    /// Every gear that is cut; one that drives both a speed and reverse stands
    /// here once, as the gear of the speed.
    pub gears: Vec<GearRecord>,
    /// Tooth counts that the dividing head does not divide simply.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub not_simply_divided: Vec<u32>,
    /// What to know before cutting.
    pub remarks: Vec<RemarkRecord>,
    /// The remarks in one word each, for a list.
    pub remark_words: Vec<&'static str>,
}

/// How the two gears of a pair are made; nothing where all gears are plain.
#[derive(Clone, Copy, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct ShiftsRecord {
    pub driver_shift: f64,
    pub driven_shift: f64,
}

/// The head pair.
#[derive(Clone, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct HeadRecord {
    pub module_mm: f64,
    pub driver_teeth: u32,
    pub driven_teeth: u32,
    #[serde(flatten)]
    pub shifts: Option<ShiftsRecord>,
    /// Whether the counts share no factor.
    pub hunting_tooth: bool,
    pub ratio: f64,
}

/// A forward speed.
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
#[allow(missing_docs, reason = "the keys say it")]
pub enum SpeedRecord {
    /// Through a pair of its own.
    Geared {
        name: String,
        module_mm: f64,
        driver_teeth: u32,
        driven_teeth: u32,
        #[serde(flatten)]
        shifts: Option<ShiftsRecord>,
        hunting_tooth: bool,
        ratio: f64,
        target: f64,
        asked: AskedRecord,
        error_percent: f64,
    },
    /// Input locked to output.
    Direct {
        name: String,
        direct: bool,
        ratio: f64,
    },
}

impl SpeedRecord {
    /// The speed's name.
    pub fn name(&self) -> &str {
        match self {
            Self::Geared { name, .. } | Self::Direct { name, .. } => name,
        }
    }

    /// Input speed ÷ output speed.
    pub const fn ratio(&self) -> f64 {
        match self {
            Self::Geared { ratio, .. } | Self::Direct { ratio, .. } => *ratio,
        }
    }
}

/// Reverse.
#[derive(Clone, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct ReverseRecord {
    pub name: &'static str,
    pub module_mm: f64,
    pub driver_teeth: u32,
    /// The speed whose driving gear drives reverse too, where no other does.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shares_driver_with: Option<String>,
    pub idler_teeth: u32,
    pub driven_teeth: u32,
    #[serde(flatten)]
    pub shifts: Option<ShiftsRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub idler_shift: Option<f64>,
    pub ratio: f64,
    pub target: f64,
    pub asked: AskedRecord,
    pub error_percent: f64,
    /// Both places of the idler, the right-hand one first.
    pub idler_centres: Vec<PlaceRecord>,
    /// Between driving and driven gear.
    pub tip_gap_mm: f64,
}

/// A place across the shafts.
#[derive(Clone, Copy, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct PlaceRecord {
    pub x_mm: f64,
    pub y_mm: f64,
}

/// A remark.
#[derive(Clone, Debug, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct RemarkRecord {
    pub kind: &'static str,
    #[serde(rename = "where")]
    pub place: String,
    pub text: String,
}

/// What a set costs, in the workshop's money.
pub(super) fn cost_of(problem: &Problem, set: &Set) -> Option<f64> {
    stock::cost(problem, set).map(money_of)
}

/// Millionths as money.
#[allow(
    clippy::cast_precision_loss,
    reason = "money of nine digits keeps its millionths"
)]
pub(super) fn money_of(millionths: u64) -> f64 {
    millionths as f64 / 1e6
}

/// Everything about `set`, whose modules must be those of `problem`.
pub fn set_record(problem: &Problem, set: &Set, rank: Option<usize>, mark: String) -> SetRecord {
    let figures = Figures::of(problem, set);
    let plans = problem.workshop().given() || problem.measures_purchases();
    let made = (&figures.gears[..], &figures.forms[..]);
    let mut remarks = train::remarks_made(problem, set, made);
    remarks.extend(doubts(problem, set));
    let rated = rate_made(problem, set, made);
    let weakest = rated.and_then(|meshes| weakest(problem, &meshes));
    SetRecord {
        rank,
        mark,
        exchange_of: None,
        exchanged: None,
        centre_distance_mm: set.centre_distance.mm(),
        worst_error_percent: 100.0 * figures.worst_error,
        rms_error_percent: 100.0 * figures.rms_error,
        blank_volume_mm3: figures.blank_volume_mm3,
        largest_blank_mm: figures.largest_blank_mm,
        distinct_cutters: figures.distinct_cutters,
        distinct_bars: plans.then_some(figures.needs.bars),
        distinct_blanks: plans.then_some(figures.needs.blanks),
        distinct_setups: plans.then_some(figures.needs.setups),
        cost: plans.then(|| cost_of(problem, set)),
        least_safety: weakest.as_ref().map(|weakest| weakest.safety),
        weakest,
        step_evenness: figures.step_evenness,
        head: head(problem, set, &figures),
        speeds: speeds(problem, set, &figures),
        reverse: set
            .reverse
            .zip(figures.reverse.as_ref())
            .map(|(gears, reversed)| reverse(problem, gears, reversed, &figures.forms)),
        gears: figures
            .gears
            .iter()
            .zip(&figures.forms)
            .enumerate()
            .filter(|(place, _)| Some(*place) != set.shared_place(problem))
            .map(|(_, (gear, form))| gear_record(problem, gear, form))
            .collect(),
        not_simply_divided: train::not_simply_divided(problem, set)
            .into_iter()
            .map(Teeth::get)
            .collect(),
        remarks: remarks
            .iter()
            .map(|remark| remark_record(problem, remark))
            .collect(),
        remark_words: train::words(&remarks),
    }
}

fn head(problem: &Problem, set: &Set, figures: &Figures) -> Option<HeadRecord> {
    let (pair, ratio) = set.head.zip(figures.head_ratio)?;
    Some(HeadRecord {
        module_mm: pair.module.of(problem).mm(),
        driver_teeth: pair.driver.get(),
        driven_teeth: pair.driven.get(),
        shifts: shifts(problem, figures.forms.get(..2)),
        hunting_tooth: pair.hunts(),
        ratio,
    })
}

/// Shifts as results carry them, of a driver and last a driven gear.
fn shifts(problem: &Problem, forms: Option<&[Form]>) -> Option<ShiftsRecord> {
    let (driver, driven) = (forms?.first()?, forms?.last()?);
    problem.judges().then(|| ShiftsRecord {
        driver_shift: tidy(driver.shift),
        driven_shift: tidy(driven.shift),
    })
}

fn speeds(problem: &Problem, set: &Set, figures: &Figures) -> Vec<SpeedRecord> {
    let first = 2 * usize::from(set.head.is_some());
    let forms = figures.forms[first.min(figures.forms.len())..].chunks(2);
    let mut geared = set.pairs.iter().zip(&figures.speeds).zip(forms);
    let mut record = |speed: &crate::problem::Speed| {
        let name = speed.name().to_owned();
        let own = speed
            .geared()
            .and_then(|wanted| Some((wanted, geared.next()?)));
        match own {
            Some((wanted, ((pair, figures), forms))) => {
                let made = (*pair, forms);
                geared_record(problem, (name, wanted.asked()), made, *figures)
            }
            None => SpeedRecord::Direct {
                name,
                direct: true,
                ratio: 1.0,
            },
        }
    };
    problem.speeds().iter().map(&mut record).collect()
}

fn geared_record(
    problem: &Problem,
    (name, as_asked): (String, Asked),
    (pair, forms): (Pair, &[Form]),
    figures: PairFigures,
) -> SpeedRecord {
    SpeedRecord::Geared {
        name,
        module_mm: pair.module.of(problem).mm(),
        driver_teeth: pair.driver.get(),
        driven_teeth: pair.driven.get(),
        shifts: shifts(problem, Some(forms)),
        hunting_tooth: pair.hunts(),
        ratio: figures.ratio,
        target: figures.target.to_f64(),
        asked: AskedRecord::of(as_asked, figures.target.to_f64()),
        error_percent: 100.0 * figures.deviation,
    }
}

fn reverse(
    problem: &Problem,
    gears: ReverseGears,
    figures: &ReverseFigures,
    forms: &[Form],
) -> ReverseRecord {
    let own = &forms[forms.len().saturating_sub(3)..];
    let centres = figures.idler_centres.iter().flatten();
    let as_asked = problem.reverse().map_or(Asked::Ratio, Reverse::asked);
    ReverseRecord {
        name: "R",
        module_mm: gears.module.of(problem).mm(),
        driver_teeth: gears.driver.get(),
        shares_driver_with: shared_speed(problem),
        idler_teeth: gears.idler.get(),
        driven_teeth: gears.driven.get(),
        shifts: shifts(problem, Some(own)),
        idler_shift: own
            .get(1)
            .filter(|_| problem.judges())
            .map(|form| tidy(form.shift)),
        ratio: figures.ratio,
        // Signed like the ratio: reverse turns against the forward speeds.
        target: -figures.target.to_f64(),
        asked: AskedRecord::of(as_asked, figures.target.to_f64()),
        error_percent: 100.0 * figures.deviation,
        idler_centres: centres
            .map(|p| PlaceRecord {
                x_mm: p.x_mm,
                y_mm: p.y_mm,
            })
            .collect(),
        tip_gap_mm: figures.tip_gap_mm,
    }
}

/// The name of the speed whose driving gear drives reverse too.
fn shared_speed(problem: &Problem) -> Option<String> {
    let speed = problem.speeds().get(problem.shared_speed_among_all()?)?;
    Some(speed.name().to_owned())
}

fn remark_record(problem: &Problem, remark: &Remark) -> RemarkRecord {
    RemarkRecord {
        kind: remark.kind(),
        place: remark.place(problem),
        text: remark.text(),
    }
}
