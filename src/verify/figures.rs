//! The figures said of a set.

use super::breach::{Breach, Role};
use super::claims::{geared, structure};
use super::exact::Fraction;
use super::making;
use super::needs::needs;
use super::pin;
use super::reverse::{shared_with, size_of_ratio, tip_gap_mm};
use super::ruler::Ruler;
use super::tooth::Tooth;
use crate::base::{Decimal, FIGURE_SLACK, LENGTH_SLACK_MM, PLACE_SLACK_MM, Teeth};
use crate::problem::{Arrangement, Problem};
use crate::train::{
    Figures, Form, ModuleId, PairFigures, Point, ReverseFigures, ReverseGears, Set, gears_of,
};

/// Every figure of `figures` that is not what the teeth of `set` give. A set
/// that lacks parts, or has gears of unknown modules, has no figures: then
/// those breaches are returned.
pub fn verify_figures(problem: &Problem, set: &Set, figures: &Figures) -> Vec<Breach> {
    let faulty = structure(problem, set);
    if !faulty.is_empty() {
        return faulty;
    }
    let mut tally = Tally::default();
    tally.optional(
        "head ratio",
        figures.head_ratio,
        set.head.map(|p| Fraction::of_pair(p).to_f64()),
    );
    speeds(problem, set, figures, &mut tally);
    steps(problem, set, figures, &mut tally);
    blanks(problem, set, figures, &mut tally);
    making::check(problem, set, &figures.forms, &mut tally.breaches);
    match (&figures.reverse, set.reverse) {
        (Some(said), Some(gears)) => {
            let forms = &figures.forms;
            making::check_reverse(
                problem,
                set.centre_distance,
                gears,
                forms,
                &mut tally.breaches,
            );
            reverse(problem, set, gears, (said, forms), &mut tally);
        }
        (None, None) => {}
        _ => tally.missing("reverse"),
    }
    tally.breaches
}

/// Compares figures and keeps what differs.
#[derive(Default)]
struct Tally {
    breaches: Vec<Breach>,
}

impl Tally {
    fn missing(&mut self, name: &str) {
        self.breaches.push(Breach::FigureMissing {
            name: name.to_owned(),
        });
    }

    fn held(&mut self, holds: bool, name: impl Into<String>, said: f64, found: f64) {
        if !holds {
            self.breaches.push(Breach::Figure {
                name: name.into(),
                said,
                found,
            });
        }
    }

    /// Figures that are defined to the last bit.
    fn exact(&mut self, name: impl Into<String>, said: f64, found: f64) {
        // Adding nothing makes the two zeros one.
        let same = (said + 0.0).to_bits() == (found + 0.0).to_bits();
        self.held(same, name, said, found);
    }

    /// Figures that two ways of computing may round differently.
    fn near(&mut self, name: impl Into<String>, said: f64, found: f64) {
        let near = (said - found).abs() <= FIGURE_SLACK * found.abs();
        self.held(near, name, said, found);
    }

    fn within(&mut self, slack: f64, name: impl Into<String>, said: f64, found: f64) {
        let within = (said - found).abs() <= slack;
        self.held(within, name, said, found);
    }

    fn optional(&mut self, name: &str, said: Option<f64>, found: Option<f64>) {
        match (said, found) {
            (Some(said), Some(found)) => self.exact(name, said, found),
            (None, None) => {}
            _ => self.missing(name),
        }
    }
}

fn speeds(problem: &Problem, set: &Set, figures: &Figures, tally: &mut Tally) {
    if figures.speeds.len() != set.pairs.len() {
        tally.missing("speeds");
        return;
    }
    let head = set.head.map_or(Fraction::ONE, Fraction::of_pair);
    let (mut worst, mut squares, mut count) = (0.0_f64, 0.0_f64, 0.0_f64);
    for (((role, wanted), &pair), said) in geared(problem).zip(&set.pairs).zip(&figures.speeds) {
        let ratio = head.times(Fraction::of_pair(pair));
        let deviation = ratio.deviation(wanted.target());
        let PairFigures {
            ratio: said_ratio,
            target,
            deviation: said_deviation,
        } = *said;
        one_speed(
            &role,
            (said_ratio, target, said_deviation),
            ratio,
            wanted.target(),
            tally,
        );
        worst = worst.max(deviation.abs());
        squares += deviation * deviation;
        count += 1.0;
    }
    tally.exact("worst error", figures.worst_error, worst);
    let rms = if count > 0.0 {
        (squares / count).sqrt()
    } else {
        0.0
    };
    tally.near("rms error", figures.rms_error, rms);
}

/// How even the steps are: with the speeds as fractions, a step is the
/// quotient of two neighbours, and the evenness the greatest of all quotients
/// of two steps.
fn steps(problem: &Problem, set: &Set, figures: &Figures, tally: &mut Tally) {
    let head = set.head.map_or(Fraction::ONE, Fraction::of_pair);
    let mut pairs = set.pairs.iter();
    let ratios: Vec<f64> = problem
        .speeds()
        .iter()
        .map(|speed| match speed.geared().and_then(|_| pairs.next()) {
            Some(&pair) => head.times(Fraction::of_pair(pair)).to_f64(),
            None => 1.0,
        })
        .collect();
    let steps: Vec<f64> = ratios.windows(2).map(|two| two[0] / two[1]).collect();
    let quotients = steps.iter().flat_map(|a| steps.iter().map(move |b| a / b));
    match (figures.step_evenness, quotients.reduce(f64::max)) {
        (Some(said), Some(found)) => tally.near("evenness of the steps", said, found),
        (None, None) => {}
        _ => tally.missing("evenness of the steps"),
    }
}

/// Ratio, target and deviation of one speed, as said and as they are; sizes.
fn one_speed(
    role: &Role,
    (ratio, asked, deviation): (f64, Decimal, f64),
    found: Fraction,
    target: Decimal,
    tally: &mut Tally,
) {
    tally.exact(format!("{role}: ratio"), ratio, found.to_f64());
    tally.exact(format!("{role}: target"), asked.to_f64(), target.to_f64());
    tally.exact(format!("{role}: error"), deviation, found.deviation(target));
}

#[allow(
    clippy::cast_precision_loss,
    reason = "Σ OD² stays below 2^53 µm² in any real box"
)]
fn blanks(problem: &Problem, set: &Set, figures: &Figures, tally: &mut Tally) {
    let face = problem.gears().face();
    let units = |gear: &crate::train::Gear| face.units(gear.face);
    let (mut squares, mut largest) = (0_u64, 0_u64);
    let made = gears_of(problem, set);
    for (gear, form) in made.iter().zip(&figures.forms) {
        let diameter = blank_um(problem, (gear.module, gear.teeth), *form);
        squares += diameter * diameter * units(gear);
        largest = largest.max(diameter);
    }
    if let (Some(_), [.., driver, _, _]) = (shared_with(problem), &made[..]) {
        // Cut once already, for a speed; such gears have no shift.
        let diameter = blank_um(problem, (driver.module, driver.teeth), Form::PLAIN);
        squares -= diameter * diameter * units(driver);
    }
    let area_mm2 = std::f64::consts::PI * (squares as f64 / 1e6) / 4.0;
    let volume = area_mm2 * face.unit().mm();
    tally.exact(
        "sum of squared blank diameters",
        figures.blank_um2 as f64,
        squares as f64,
    );
    tally.near("blank volume", figures.blank_volume_mm3, volume);
    tally.near(
        "largest blank",
        figures.largest_blank_mm,
        largest as f64 / 1e3,
    );
    for (what, said, found) in needs(problem, (set, &made), figures) {
        tally.exact(what, said.into(), found as f64);
    }
}

/// Outside diameter of a blank in whole µm, half up.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "diameters are positive and below 10^9 µm"
)]
pub(super) fn blank_um(problem: &Problem, (module, teeth): (ModuleId, Teeth), form: Form) -> u64 {
    let module = module.of(problem);
    if form.is_plain() {
        return Ruler::new(problem.gears(), module).blank_um(teeth);
    }
    (2000.0 * Tooth::new(problem, module, teeth, form).tip + 0.5).floor() as u64
}

/// The form cutter of a gear: 1 to 8, by the least virtual teeth of each. A
/// gear of fewer than 12 has one of its own, 1000 and its count.
pub(super) fn form_cutter(teeth: Teeth, helix_rad: f64) -> u32 {
    let virtual_teeth = (f64::from(teeth) / helix_rad.cos().powi(3)).round();
    let least = [135.0, 55.0, 35.0, 26.0, 21.0, 17.0, 14.0, 12.0];
    let numbered = (1..).zip(least).find(|(_, least)| virtual_teeth >= *least);
    numbered.map_or(1000 + teeth.get(), |(number, _)| number)
}

fn reverse(
    problem: &Problem,
    set: &Set,
    gears: ReverseGears,
    (said, forms): (&ReverseFigures, &[Form]),
    tally: &mut Tally,
) {
    let ratio = size_of_ratio(set, gears);
    let target = problem
        .reverse()
        .map_or(said.target, crate::problem::Reverse::target);
    // Opposite to the forward speeds: the sign is checked with the size.
    one_speed(
        &Role::Reverse,
        (-said.ratio, said.target, said.deviation),
        ratio,
        target,
        tally,
    );
    let (distances, gap) = reverse_lengths(problem, set, gears, forms);
    pin::check(problem, set, distances, forms, &mut tally.breaches);
    tally.within(PLACE_SLACK_MM, "reverse: tip gap", said.tip_gap_mm, gap);
    // Of gears without limits the counts alone are held against it.
    let clearance = problem.reverse().map(crate::problem::Reverse::clearance);
    if let Some(clearance) = clearance.filter(|_| problem.judges())
        && gap < clearance.mm() - 2.0 * LENGTH_SLACK_MM
    {
        let gap_mm = gap;
        tally.breaches.push(Breach::TipGap { gap_mm, clearance });
    }
    let Some(centres) = said.idler_centres else {
        tally.missing("reverse: idler centres");
        return;
    };
    idler(problem, set.centre_distance.mm(), distances, centres, tally);
}

/// The idler's distances from driver and driven gear, and the gap between the
/// tips of these, mm.
fn reverse_lengths(
    problem: &Problem,
    set: &Set,
    gears: ReverseGears,
    forms: &[Form],
) -> ((f64, f64), f64) {
    let centres = set.centre_distance;
    let made = problem
        .judges()
        .then(|| making::reverse_lengths(problem, gears, forms));
    if let Some(Some(made)) = made {
        let [one, other] = made.to_idler;
        if shared_with(problem).is_none() {
            return ((one, other), centres.mm() - made.tips[0] - made.tips[1]);
        }
    }
    let ruler = Ruler::new(problem.gears(), gears.module.of(problem));
    let (l, i, m) = (gears.driver.get(), gears.idler.get(), gears.driven.get());
    let distances = (ruler.half_mm(l + i, 0), ruler.half_mm(i + m, 0));
    (distances, tip_gap_mm(problem, &ruler, (l, m), centres))
}

/// Both places of the idler lie at its mesh distances from both shafts, the
/// right-hand one first.
fn idler(
    problem: &Problem,
    centres_mm: f64,
    (to_driver, to_driven): (f64, f64),
    places: [Point; 2],
    tally: &mut Tally,
) {
    let (origin, lower) = (
        Point {
            x_mm: 0.0,
            y_mm: 0.0,
        },
        Point {
            x_mm: 0.0,
            y_mm: -centres_mm,
        },
    );
    // The layshaft drives reverse from below, an offset input from the origin.
    let (driver, driven) = match problem.arrangement() {
        Arrangement::InLine => (lower, origin),
        Arrangement::Offset => (origin, lower),
    };
    for (place, side) in places.into_iter().zip([1.0, -1.0]) {
        let away = |from: Point| (place.x_mm - from.x_mm).hypot(place.y_mm - from.y_mm);
        let name = |shaft| format!("reverse: idler to {shaft}, mm");
        tally.within(PLACE_SLACK_MM, name("driver"), away(driver), to_driver);
        tally.within(PLACE_SLACK_MM, name("driven gear"), away(driven), to_driven);
        let on_its_side = place.x_mm * side > 0.0;
        tally.held(
            on_its_side,
            "reverse: idler to the right, mm",
            place.x_mm,
            side,
        );
    }
}
