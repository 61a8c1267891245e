//! The figures of one set, from its tooth counts.

use super::needs::{Needs, made_gears};
use super::{
    Gear, Pair, Point, ReverseGears, Set, cutters_of, forms_of, gears_of, idler_centres,
    reverse_gap, reverse_lengths,
};
use crate::base::{Decimal, Length, Ratio};
use crate::making::Form;
use crate::problem::Problem;

/// What one geared speed does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairFigures {
    /// Input speed ÷ output speed.
    pub ratio: f64,
    /// The ratio asked for.
    pub target: Decimal,
    /// `ratio / target − 1`, signed.
    pub deviation: f64,
}

/// What reverse does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReverseFigures {
    /// Negative: the output turns opposite to the forward speeds.
    pub ratio: f64,
    /// The size of ratio asked for, positive.
    pub target: Decimal,
    /// `|ratio| / target − 1`, signed.
    pub deviation: f64,
    /// Both centres of the idler (mm), seen from the input end, the shaft of
    /// the origin at (0, 0), the other at (0, −a); the right-hand one first.
    pub idler_centres: Option<[Point; 2]>,
    /// Gap between the tips of the driving and the driven gear, mm; where the
    /// driver is the gear of a speed, between the idler's and its mate's
    /// ([`reverse_gap`]).
    pub tip_gap_mm: f64,
}

/// The figures of one set.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Ratio of the head pair, when there is one.
    pub head_ratio: Option<f64>,
    /// One per geared speed, in file order.
    pub speeds: Vec<PairFigures>,
    /// Largest step between neighbouring forward speeds, in file order, divided
    /// by the smallest: 1 is perfectly even. None below two speeds.
    pub step_evenness: Option<f64>,
    /// Reverse, when there is one.
    pub reverse: Option<ReverseFigures>,
    /// Largest error of the geared forward speeds; 0 if there are none.
    pub worst_error: f64,
    /// Root mean square error of the geared forward speeds.
    pub rms_error: f64,
    /// Every gear, in the order of [`Set::gears`].
    pub gears: Vec<Gear>,
    /// How each of them is made.
    pub forms: Vec<Form>,
    /// Σ OD² · width over all blanks, µm² times the unit of widths
    /// ([`FaceWidth::unit`](crate::problem::FaceWidth::unit)).
    pub blank_um2: u64,
    /// Volume of all blanks, mm³.
    pub blank_volume_mm3: f64,
    /// Outside diameter of the largest blank, mm.
    pub largest_blank_mm: f64,
    /// Number of distinct cutters.
    pub distinct_cutters: u32,
    /// What else several gears may share.
    pub needs: Needs,
}

impl Figures {
    /// The figures of `set`, whose modules must be those of `problem`.
    pub fn of(problem: &Problem, set: &Set) -> Self {
        let head = set.head.map_or(Ratio::ONE, ratio_of);
        let speeds: Vec<_> = problem
            .geared()
            .zip(&set.pairs)
            .map(|(wanted, &pair)| speed_figures(head.then(ratio_of(pair)), wanted.target()))
            .collect();
        let (gears, forms) = (gears_of(problem, set), forms_of(problem, set));
        // A gear that serves twice is one blank.
        let own = made_gears(problem, set, (&gears, &forms));
        let face = problem.gears().face();
        let square = |(gear, _, od_um): &(Gear, Form, u64)| od_um * od_um * face.units(gear.face);
        let blank_um2 = own.iter().map(square).sum();
        let cutters = cutters_of(problem, set, &forms);
        Self {
            head_ratio: set.head.map(|pair| ratio_of(pair).to_f64()),
            reverse: set
                .reverse
                .map(|gears| reverse_figures(problem, set, head, gears)),
            worst_error: speeds.iter().map(|s| s.deviation.abs()).fold(0.0, f64::max),
            rms_error: root_mean_square(&speeds),
            step_evenness: step_evenness(problem, &speeds),
            speeds,
            needs: Needs::of(problem, &own),
            gears,
            forms,
            blank_um2,
            blank_volume_mm3: volume_mm3(blank_um2, face.unit()),
            largest_blank_mm: um_to_mm(own.iter().map(|(_, _, od_um)| *od_um).max().unwrap_or(0)),
            distinct_cutters: u32::try_from(cutters.len()).unwrap_or(u32::MAX),
        }
    }
}

fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

fn speed_figures(ratio: Ratio, target: Decimal) -> PairFigures {
    PairFigures {
        ratio: ratio.to_f64(),
        target,
        deviation: ratio.deviation(target),
    }
}

/// Evenness of the steps over all forward speeds, a direct one being 1.
fn step_evenness(problem: &Problem, geared: &[PairFigures]) -> Option<f64> {
    let mut geared = geared.iter();
    let mut ratios = problem.speeds().iter().map(|speed| {
        let own = speed.geared().and_then(|_| geared.next());
        own.map_or(1.0, |figures| figures.ratio)
    });
    let mut last = ratios.next()?;
    let mut ends: Option<(f64, f64)> = None;
    for ratio in ratios {
        let step = last / ratio;
        let (least, most) = ends.unwrap_or((step, step));
        ends = Some((least.min(step), most.max(step)));
        last = ratio;
    }
    ends.map(|(least, most)| most / least)
}

#[allow(
    clippy::cast_precision_loss,
    reason = "at most 65 speeds, diameters below 10^9 µm"
)]
fn root_mean_square(speeds: &[PairFigures]) -> f64 {
    if speeds.is_empty() {
        return 0.0;
    }
    let sum: f64 = speeds.iter().map(|s| s.deviation * s.deviation).sum();
    (sum / speeds.len() as f64).sqrt()
}

#[allow(clippy::cast_precision_loss, reason = "diameters stay below 10^9 µm")]
pub(crate) fn um_to_mm(um: u64) -> f64 {
    um as f64 / 1000.0
}

/// π/4 · Σ OD² · width, mm³.
#[allow(
    clippy::cast_precision_loss,
    reason = "the one rounding to a double is meant"
)]
pub(crate) fn volume_mm3(blank_um2: u64, unit: Length) -> f64 {
    std::f64::consts::FRAC_PI_4 * (blank_um2 as f64 * unit.mm() / 1e6)
}

fn reverse_figures(
    problem: &Problem,
    set: &Set,
    head: Ratio,
    gears: ReverseGears,
) -> ReverseFigures {
    let ratio = head.then(Ratio::of(gears.driven.get(), gears.driver.get()));
    let target = problem
        .reverse()
        .map_or(Decimal::whole(1), crate::problem::Reverse::target);
    let a = set.centre_distance.mm();
    let (to_outer, [driver_tip, driven_tip]) = reverse_lengths(problem, gears);
    let shared_mm = problem.shared_addendum_mm(gears.module.of(problem));
    // In-line: the driven main shaft is the origin; offset: the driving input.
    let [from_origin, from_lower] = problem.arrangement().upper_lower(to_outer);
    ReverseFigures {
        ratio: -ratio.to_f64(),
        target,
        deviation: ratio.deviation(target),
        idler_centres: idler_centres(a, from_origin, from_lower),
        tip_gap_mm: reverse_gap((driver_tip, driven_tip), shared_mm, 0.0, a).0,
    }
}
