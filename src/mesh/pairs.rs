//! Pairs of gears that close a centre distance.

use super::Tally;
use super::hand::AtHand;
use crate::base::{LENGTH_SLACK_MM, Length, Module, Teeth};
use crate::involute::{Closing as Mesh, Pairing, Toothing};
use crate::making::{Form, Refusal, Rules};
use crate::problem::{Closing, Gears, Problem, Seating};
use crate::train::{ModuleId, Pair};

/// How gears with a given tooth sum sit at a centre distance, by the
/// problem's own rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// The centres are further apart than the rule allows.
    Loose,
    /// They close.
    Closes,
    /// The centres are closer than the rule allows.
    Binds,
}

/// How gears of `module` with `tooth_sum` teeth together sit at `centres`.
/// More teeth never make a loose pair looser.
pub fn fit(gears: &Gears, module: ModuleId, tooth_sum: u32, centres: Length) -> Fit {
    let beta = gears.helix_angle_deg().to_radians();
    let module = gears.modules()[module.index()];
    let pairing = Pairing::new(gears.rack(), module.mm(), tooth_sum, beta);
    let a = centres.mm();
    // Each rule as how far its measure lies above its upper and below its lower limit.
    let (over, under) = match gears.closing() {
        Closing::Tolerance(tolerance) => {
            let gap = a - pairing.standard_centres_mm;
            (gap - tolerance.mm(), -tolerance.mm() - gap)
        }
        Closing::Backlash { min, max } => match pairing.backlash_mm(a) {
            Some(j0) => (
                j0 - max.mm(),
                min.mm() - (j0 + 2.0 * gears.max_thinning().mm()),
            ),
            None => (f64::NEG_INFINITY, f64::INFINITY),
        },
        Closing::Shift { min, max } => match shift_sum(gears, module, tooth_sum, a) {
            Some(sum) => (sum - 2.0 * max.to_f64(), 2.0 * min.to_f64() - sum),
            None => (f64::NEG_INFINITY, f64::INFINITY),
        },
    };
    if over > LENGTH_SLACK_MM {
        Fit::Loose
    } else if under > LENGTH_SLACK_MM {
        Fit::Binds
    } else {
        Fit::Closes
    }
}

/// The sum of the shifts that closes gears with `tooth_sum` teeth together;
/// none when their base circles overlap.
pub fn shift_sum(gears: &Gears, module: Module, tooth_sum: u32, centres_mm: f64) -> Option<f64> {
    let beta = gears.helix_angle_deg().to_radians();
    let toothing = Toothing::new(*gears.rack(), module.mm(), beta).ok()?;
    // The sum depends on how many teeth there are together, not on whose.
    let half = tooth_sum / 2;
    let teeth = [Teeth::of(half), Teeth::of(tooth_sum - half)];
    let mesh = Mesh::at_centres(toothing, teeth, centres_mm).ok()?;
    Some(mesh.shift_sum())
}

/// The tooth sums of a module that close, ascending.
fn closing_sums(gears: &Gears, module: ModuleId, centres: Length) -> Vec<u32> {
    let (mut low, mut high) = (2 * gears.min_teeth().get(), 2 * gears.max_teeth().get() + 1);
    let end = high;
    while low < high {
        let middle = low.midpoint(high);
        if fit(gears, module, middle, centres) == Fit::Loose {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    (low..end)
        .take_while(|&sum| fit(gears, module, sum, centres) == Fit::Closes)
        .collect()
}

/// A pair and how its two gears are made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MadePair {
    /// The pair.
    pub pair: Pair,
    /// Its driver and its driven gear.
    pub forms: [Form; 2],
}

/// Every pair that closes one centre distance, for each way in which roles of
/// the problem seat their gears.
#[derive(Clone, Debug)]
pub struct Pairs {
    lists: Vec<(Seating, Vec<MadePair>)>,
    /// What was refused, and by which limit.
    pub refused: Tally,
}

impl Pairs {
    /// What `problem` offers at `centres`, in set order.
    pub fn at(problem: &Problem, centres: Length) -> Self {
        let mut pairs = Self {
            lists: Vec::new(),
            refused: Tally::default(),
        };
        let (rules, hand) = (Rules::of(problem), AtHand::of(problem));
        let head = problem.head().map(|_| problem.head_seating());
        let speeds = problem.speed_seatings();
        // With reverse alone no pair is needed, and still some may close.
        let alone = problem.geared().next().is_none() && head.is_none();
        let alone = alone.then(|| problem.reverse_seating());
        for seating in head.into_iter().chain(speeds).chain(alone) {
            if !pairs.lists.iter().any(|(known, _)| *known == seating) {
                let list = closing(
                    problem,
                    (rules.as_ref(), hand.as_ref()),
                    &seating,
                    centres,
                    &mut pairs.refused,
                );
                pairs.lists.push((seating, list));
            }
        }
        pairs
    }

    /// The pairs for roles so seated, in set order.
    pub fn of(&self, seating: &Seating) -> &[MadePair] {
        let found = self.lists.iter().find(|(known, _)| known == seating);
        found.map_or(&[], |(_, list)| list)
    }

    /// Every list, each with the seating that it is for.
    pub fn lists(&self) -> impl Iterator<Item = (&Seating, &[MadePair])> {
        self.lists
            .iter()
            .map(|(seating, list)| (seating, &list[..]))
    }

    /// How many different pairs serve some role.
    pub fn count(&self) -> usize {
        match &self.lists[..] {
            [(_, list)] => list.len(),
            lists => {
                let all = lists.iter().flat_map(|(_, list)| list);
                let mut all: Vec<Pair> = all.map(|made| made.pair).collect();
                all.sort_unstable();
                all.dedup();
                all.len()
            }
        }
    }
}

/// The pairs of one seating, in set order.
fn closing(
    problem: &Problem,
    (rules, hand): (Option<&Rules>, Option<&AtHand>),
    seating: &Seating,
    centres: Length,
    refused: &mut Tally,
) -> Vec<MadePair> {
    let gears = problem.gears();
    let max = gears.max_teeth().get();
    let [least_driver, least_driven] = seating.least.map(Teeth::get);
    let [made_driver, made_driven] = seating.made;
    let mut pairs = Vec::new();
    for (index, &module) in gears.modules().iter().enumerate() {
        let id = ModuleId::new(index);
        let sums = closing_sums(gears, id, centres);
        let made = rules.map(|rules| Makings::new(rules, module, seating, &sums, centres));
        let mut closed = 0;
        for driver in least_driver..=max {
            for (s, sum) in sums.iter().enumerate() {
                let Some(driven) = sum.checked_sub(driver) else {
                    continue;
                };
                if !(least_driven..=max).contains(&driven) {
                    continue;
                }
                closed += 1;
                let makes =
                    |made: bool, count| made || hand.is_none_or(|hand| hand.admits(id, count));
                if !makes(made_driver, driver) || !makes(made_driven, driven) {
                    continue;
                }
                let forms = made
                    .as_ref()
                    .map_or(Ok([Form::PLAIN; 2]), |made| made.of(s, driver));
                match forms {
                    Ok(forms) => pairs.push(MadePair {
                        pair: Pair {
                            module: id,
                            driver: Teeth::of(driver),
                            driven: Teeth::of(driven),
                        },
                        forms,
                    }),
                    Err(refusal) => refused.add(refusal),
                }
            }
        }
        let counts = |least: u32| u64::from((max + 1).saturating_sub(least));
        refused.add_centres(counts(least_driver) * counts(least_driven) - closed);
    }
    pairs
}

/// How the pairs of each closing tooth sum are made, each worked out once: a
/// pair and its mirror image are made alike where their holes are.
struct Makings {
    /// By place of the sum, then by driver from the least on.
    by_sum: Vec<Vec<Result<[Form; 2], Refusal>>>,
    least: u32,
}

impl Makings {
    fn new(
        rules: &Rules,
        module: Module,
        seating: &Seating,
        sums: &[u32],
        centres: Length,
    ) -> Self {
        let [least, least_driven] = seating.least.map(Teeth::get);
        let alike = seating.holes[0] == seating.holes[1];
        let of_sum = |&sum: &u32| {
            let last = sum.saturating_sub(least_driven);
            let mut made: Vec<Result<[Form; 2], Refusal>> = Vec::new();
            for driver in least..=last {
                let driven = sum - driver;
                // The mirror image stands earlier in the list, if it stands there.
                let image = (alike && driven < driver)
                    .then(|| driven.checked_sub(least))
                    .flatten()
                    .and_then(|place| made.get(place as usize));
                let forms = if let Some(image) = image {
                    image.map(|[one, other]| [other, one])
                } else {
                    let teeth = [Teeth::of(driver), Teeth::of(driven)];
                    rules.pair(module, teeth, seating.holes, centres)
                };
                made.push(forms);
            }
            made
        };
        Self {
            by_sum: sums.iter().map(of_sum).collect(),
            least,
        }
    }

    fn of(&self, sum: usize, driver: u32) -> Result<[Form; 2], Refusal> {
        self.by_sum[sum][(driver - self.least) as usize]
    }
}
