//! Reverse gearings whose idler has a place.

use super::Tally;
use super::hand::AtHand;
use crate::base::{LENGTH_SLACK_MM, Length, Module, Teeth};
use crate::involute::GearSize;
use crate::making::{Bench, Form, Rules};
use crate::place::{Idler, Surroundings};
use crate::problem::{Problem, Reverse};
use crate::train::{ModuleId, idler_closes, reverse_gap};

/// A driving and a driven gear with a run of idlers that fit between them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ReverseSpan {
    /// The module of all three gears.
    pub module: ModuleId,
    /// Teeth of the driving gear.
    pub driver: Teeth,
    /// Teeth of the driven gear.
    pub driven: Teeth,
    /// Fewest teeth on the idler.
    pub idler_min: Teeth,
    /// Most teeth on the idler.
    pub idler_max: Teeth,
    /// Place of its first idler among the forms of the list.
    first: u32,
}

impl ReverseSpan {
    /// The place of one of its idlers in whatever is kept for each gearing of
    /// the list; of no use where all gears are plain.
    pub fn place(&self, idler: Teeth) -> usize {
        (self.first + (idler.get() - self.idler_min.get())) as usize
    }

    /// The same with only the idler of so many teeth, which it has.
    #[must_use]
    pub fn only(&self, idler: Teeth) -> Self {
        self.part(idler, idler)
    }

    /// The same with only those of its idlers from `idler_min` to `idler_max`.
    #[must_use]
    pub fn part(&self, idler_min: Teeth, idler_max: Teeth) -> Self {
        Self {
            idler_min,
            idler_max,
            first: self.first + (idler_min.get() - self.idler_min.get()),
            ..*self
        }
    }
}

/// Every reverse gearing of a centre distance.
#[derive(Clone, Debug, Default)]
pub struct ReverseList {
    /// By module, driver, driven, idler.
    pub spans: Vec<ReverseSpan>,
    /// What was refused, and by which limit.
    pub refused: Tally,
    /// How driver, idler and driven gear are made, by span and idler; nothing
    /// where all are plain.
    forms: Vec<[Form; 3]>,
}

impl ReverseList {
    /// Nothing at all.
    pub const NONE: Self = Self {
        spans: Vec::new(),
        refused: Tally::NONE,
        forms: Vec::new(),
    };

    /// How driver, idler and driven gear are made.
    pub fn forms(&self, span: &ReverseSpan, idler: Teeth) -> [Form; 3] {
        let found = self.forms.get(span.place(idler));
        found.copied().unwrap_or([Form::PLAIN; 3])
    }

    /// How many forms it keeps; none where all gears are plain.
    pub fn made(&self) -> usize {
        self.forms.len()
    }

    /// Keeps the gears that are cut already, if reverse has such.
    pub fn keep_cut(&mut self, problem: &Problem, wanted: &Reverse) {
        let Some(cut) = wanted.cut() else { return };
        self.spans.retain_mut(|span| {
            let fits = (span.driver, span.driven) == (cut.driver, cut.driven)
                && (span.idler_min..=span.idler_max).contains(&cut.idler)
                && cut.module.is_none_or(|m| m == span.module.of(problem));
            if fits {
                *span = span.only(cut.idler);
            }
            fits
        });
    }

    fn take(&mut self, ends: Ends, idler: Teeth, forms: [Form; 3]) {
        let first = u32::try_from(self.forms.len()).unwrap_or(u32::MAX);
        self.forms.push(forms);
        self.extend(ends, (idler, idler), first);
    }

    /// Plain gears, of which no forms are kept.
    fn append(&mut self, ends: Ends, idlers: (Teeth, Teeth)) {
        self.extend(ends, idlers, 0);
    }

    /// Lengthens the last run, or begins another.
    fn extend(&mut self, ends: Ends, (idler_min, idler_max): (Teeth, Teeth), first: u32) {
        if let Some(last) = self.spans.last_mut()
            && (last.module, last.driver, last.driven) == ends
            && last.idler_max.get() + 1 == idler_min.get()
        {
            last.idler_max = idler_max;
            return;
        }
        let (module, driver, driven) = ends;
        self.spans.push(ReverseSpan {
            module,
            driver,
            driven,
            idler_min,
            idler_max,
            first,
        });
    }
}

/// Module, driver, driven gear.
type Ends = (ModuleId, Teeth, Teeth);

/// Every reverse gearing at a centre distance whose ratio `keep(driver,
/// driven)` admits, by module, driver, driven.
///
/// The idler's centre must exist off the line of centres: with the centre
/// distances d₁ (driver to idler) and d₂ (idler to driven), d₁ + d₂ > a and
/// |d₁ − d₂| < a. The tips of driver and driven gear must clear each other.
pub fn reverses_at(
    problem: &Problem,
    reverse: &Reverse,
    centres: Length,
    keep: impl Fn(u32, u32) -> bool,
) -> ReverseList {
    let mut list = ReverseList::default();
    let site = Site {
        centres_mm: centres.mm(),
        room: Surroundings::of(problem).filter(|_| problem.wants_clear_place()),
        hand: AtHand::of(problem),
        made: problem.reverse_made(),
    };
    let rules = Rules::of(problem);
    for (index, &module) in problem.gears().modules().iter().enumerate() {
        let id = ModuleId::new(index);
        match &rules {
            None => plain(problem, reverse, (id, module), &site, &keep, &mut list),
            Some(rules) => {
                let bench = bench(problem, rules, reverse, module);
                judged(problem, reverse, &bench, id, &site, &keep, &mut list);
            }
        }
    }
    list
}

/// Where the gears are to go.
#[derive(Debug)]
struct Site {
    centres_mm: f64,
    /// What the idler must keep clear of, where it must.
    room: Option<Surroundings>,
    /// What the workshop can make, where no other gears are taken.
    hand: Option<AtHand>,
    /// Which gears are cut already: driver, idler, driven.
    made: [bool; 3],
}

impl Site {
    /// Which of driver, idler and driven gear of so many teeth can be made.
    fn makes(&self, module: ModuleId) -> [impl Fn(&u32) -> bool; 3] {
        self.made.map(|made| {
            move |count: &u32| {
                let hand = self.hand.as_ref();
                made || hand.is_none_or(|hand| hand.admits(module, *count))
            }
        })
    }
}

/// Tooth counts of driver and of driven gear.
fn outer_teeth(problem: &Problem) -> [std::ops::RangeInclusive<u32>; 2] {
    let max = problem.gears().max_teeth().get();
    problem
        .reverse_seating()
        .least
        .map(|least| least.get()..=max)
}

/// Plain gears: the fitting idlers are a run, bounded from below by d₁ + d₂ > a;
/// |d₁ − d₂| does not depend on the idler.
fn plain(
    problem: &Problem,
    reverse: &Reverse,
    (id, m): (ModuleId, Module),
    site: &Site,
    keep: impl Fn(u32, u32) -> bool,
    list: &mut ReverseList,
) {
    let gears = problem.gears();
    let beta = gears.helix_angle_deg().to_radians();
    let (a, room) = (site.centres_mm, site.room.as_ref());
    let (min, max) = (gears.min_teeth().get(), gears.max_teeth().get());
    let tip: Vec<f64> = (min..=max)
        .map(|z| GearSize::new(gears.rack(), m, Teeth::of(z), beta).tip_mm / 2.0)
        .collect();
    let half = m.mm() / (2.0 * beta.cos());
    let shared_mm = problem.shared_addendum_mm(m);
    let [drivers, drivens] = outer_teeth(problem);
    let [makes_driver, makes_idler, makes_driven] = site.makes(id);
    for driver in drivers.filter(makes_driver) {
        for driven in drivens.clone() {
            let tips = (tip[(driver - min) as usize], tip[(driven - min) as usize]);
            let (_, clear) = reverse_gap(tips, shared_mm, reverse.clearance().mm(), a);
            if !clear && shared_mm.is_none() {
                // Larger gears come closer still.
                break;
            }
            if f64::from(driver.abs_diff(driven)) * half >= a - LENGTH_SLACK_MM
                || !clear
                || !makes_driven(&driven)
                || !keep(driver, driven)
            {
                continue;
            }
            let least = least_idler(half, driver, driven, a).max(reverse.idler_min().get());
            if least <= reverse.idler_max().get() {
                let clear = |idler: &Teeth| {
                    let to = |outer| half * f64::from(outer + idler.get());
                    let tip = GearSize::new(gears.rack(), m, *idler, beta).tip_mm / 2.0;
                    let idler = Idler::new(problem, tip, [to(driver), to(driven)]);
                    room.is_none_or(|room| room.admit(a, &idler))
                };
                let ends = (id, Teeth::of(driver), Teeth::of(driven));
                let run = (Teeth::of(least), reverse.idler_max());
                match (room, &site.hand) {
                    (None, None) => list.append(ends, run),
                    _ => (least..=run.1.get())
                        .filter(&makes_idler)
                        .map(Teeth::of)
                        .filter(clear)
                        .for_each(|idler| list.append(ends, (idler, idler))),
                }
            }
        }
    }
}

/// The gears of one module, made.
fn bench<'a>(problem: &Problem, rules: &'a Rules, reverse: &Reverse, module: Module) -> Bench<'a> {
    let [drivers, drivens] = outer_teeth(problem);
    let least = *drivers.start().min(drivens.start());
    let outer = (Teeth::of(least), problem.gears().max_teeth());
    let idler = (reverse.idler_min(), reverse.idler_max());
    Bench::new(rules, problem, module, outer, idler)
}

/// Gears under limits: each idler is looked at, as a limit may refuse one and
/// not its neighbours.
fn judged(
    problem: &Problem,
    reverse: &Reverse,
    bench: &Bench<'_>,
    id: ModuleId,
    site: &Site,
    keep: impl Fn(u32, u32) -> bool,
    list: &mut ReverseList,
) {
    let (a, room) = (site.centres_mm, site.room.as_ref());
    let [drivers, drivens] = outer_teeth(problem);
    let idlers = reverse.idler_min().get()..=reverse.idler_max().get();
    let beta = problem.gears().helix_angle_deg().to_radians();
    let half = id.of(problem).mm() / (2.0 * beta.cos());
    // Gears whose very pitch circles overlap have no place, whatever their teeth.
    let shared_mm = problem.shared_addendum_mm(id.of(problem));
    let apart = |driver, driven| {
        shared_mm.is_some() || half * f64::from(driver + driven) <= a + LENGTH_SLACK_MM
    };
    let [makes_driver, makes_idler, makes_driven] = site.makes(id);
    for driver in drivers.filter(makes_driver) {
        let placed =
            |driven: &u32| apart(driver, *driven) && makes_driven(driven) && keep(driver, *driven);
        for driven in drivens.clone().filter(placed) {
            let (driver, driven) = (Teeth::of(driver), Teeth::of(driven));
            for idler in idlers.clone().filter(&makes_idler).map(Teeth::of) {
                match bench.gears([driver, idler, driven]) {
                    Err(refusal) => list.refused.add(refusal),
                    Ok(made) => {
                        let [d1, d2] = made.centres_mm;
                        let tips = (made.tips_mm[0], made.tips_mm[1]);
                        let clear = |room: &Surroundings| {
                            let tip = made.idler_tip_mm;
                            room.admit(a, &Idler::new(problem, tip, made.centres_mm))
                        };
                        if reverse_gap(tips, shared_mm, reverse.clearance().mm(), a).1
                            && idler_closes(a, d1, d2)
                            && room.is_none_or(clear)
                        {
                            list.take((id, driver, driven), idler, made.forms);
                        }
                    }
                }
            }
        }
    }
}

/// Fewest idler teeth with d₁ + d₂ > a, where d₁ + d₂ = half · (zL + 2 zI + zM).
fn least_idler(half: f64, driver: u32, driven: u32, a: f64) -> u32 {
    let reaches = |idler: u32| {
        let d1 = half * f64::from(driver + idler);
        let d2 = half * f64::from(idler + driven);
        d1 + d2 > a + LENGTH_SLACK_MM
    };
    let guess = ((a / half - f64::from(driver + driven)) / 2.0).max(0.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "not negative, and below 2 · 10^4 / 0.05"
    )]
    let mut idler = (guess as u32).saturating_sub(1);
    while !reaches(idler) {
        idler += 1;
    }
    idler
}
