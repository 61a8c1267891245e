//! What one centre distance offers, arranged for searching: pairs and reverse
//! gearings sorted by ratio, heads grouped by ratio with the window that each
//! role has under them.

use super::gears::GearTable;
use super::grouping::GearId;
use super::head::Choices;
use super::least::Least;
use super::mask::Mask;
use super::meter::{Meter, Slot};
use super::passing::{Beside, Passing, clears};
use super::reverses::{Piece, Reverses, Run, unbeaten_pieces};
use super::sorting::{of_pair, sort_by_numbers};
use super::store::Step;
use super::strong::{Holding, Strong};
use crate::base::{Length, Ratio, Target, Teeth, Window};
use crate::mesh::{MadePair, Pairs, ReverseList, Tally, reverses_at};
use crate::problem::{CutPair, Problem, Reverse, Role};
use crate::train::{Pair, ReverseGears};
use num_bigint::BigUint;
use std::collections::BTreeSet;
use std::ops::{AddAssign, Range};
use std::sync::OnceLock;

/// One pair as the search sees it.
#[derive(Clone, Copy, Debug)]
pub(super) struct PairOption<M> {
    pub(super) pair: Pair,
    pub(super) ratio: Ratio,
    /// Σ OD² · width of its two blanks, µm² times the unit of widths.
    pub(super) volume: u64,
    pub(super) mask: M,
}

/// A geared speed.
#[derive(Debug)]
pub(super) struct Speed {
    pub(super) target: Target,
    pub(super) window: Window,
    /// Which of the lists of options it draws from.
    pub(super) list: usize,
}

/// Pairs sorted by ratio, with the least volume of any run of them.
#[derive(Debug)]
pub(super) struct OptionList<M> {
    pub(super) options: Vec<PairOption<M>>,
    /// Behind how many heads each holds, the least first; nothing where all hold
    /// behind every head.
    held: Vec<u32>,
    /// Their tip radii on either axis, where the idler's pin passes them.
    pub(super) tips: Vec<Beside>,
    least_volume: Least,
}

/// A head pair; offset boxes have one that is nothing at all.
#[derive(Clone, Copy, Debug)]
pub(super) struct Head<M> {
    pub(super) pair: Option<Pair>,
    pub(super) volume: u64,
    pub(super) mask: M,
}

/// Heads of one ratio, with one shared gear where reverse shares its driver, and
/// with reverse gears of one kind where the idler's pin passes others: they share
/// all windows. Groups of the same heads have no set in common.
#[derive(Debug)]
pub(super) struct HeadGroup<M> {
    pub(super) ratio: Ratio,
    /// Its heads.
    pub(super) heads: Range<usize>,
    /// Options of each role whose speed lies in its tolerance.
    pub(super) windows: Vec<Range<usize>>,
    /// Reverse spans whose ratio lies in its tolerance.
    pub(super) reverse: Run,
    /// Number of reverse gearings; 1 where none is asked for.
    pub(super) reverse_count: u64,
    /// Its forward trains, less those that a group of the same heads before it has.
    pub(super) trains: BigUint,
    pub(super) steps: OnceLock<Vec<Step>>,
    pub(super) leading: OnceLock<Vec<Piece<M>>>,
    pub(super) choices: OnceLock<Choices<M>>,
}

/// One centre distance arranged for searching.
#[derive(Debug)]
pub(super) struct Space<M> {
    pub(super) centres: Length,
    pub(super) roles: Vec<Speed>,
    pub(super) lists: Vec<OptionList<M>>,
    pub(super) heads: Vec<Head<M>>,
    /// Groups in which every role has an option.
    pub(super) groups: Vec<HeadGroup<M>>,
    pub(super) reverses: Option<Reverses<M>>,
    /// Number of distinct pairs that close this distance.
    pub(super) pair_count: usize,
    /// What was refused, and by which limit.
    pub(super) refused: Refused,
    /// Counts what masks hold.
    pub(super) meter: Meter,
    /// Whether all groups together have few enough choices to keep them.
    keeps_choices: bool,
}

/// What the limits of the teeth refused.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Refused {
    /// Pairs of head and speeds.
    pub pairs: Tally,
    /// Driver, idler and driven gear of reverse, of a ratio that some head
    /// brings into tolerance.
    pub reverses: Tally,
}

impl AddAssign for Refused {
    fn add_assign(&mut self, other: Self) {
        self.pairs += other.pairs;
        self.reverses += other.reverses;
    }
}

/// Choices kept at most; beyond that memory is dearer than sorting again.
const MOST_KEPT: usize = 1 << 20;

impl<M: Mask> OptionList<M> {
    /// Sorted by ratio; where `by_driver` by driving gear first, so that the
    /// pairs of each are a run by ratio.
    fn new<'a>(
        problem: &Problem,
        gears: &GearTable,
        (meter, slot): (&Meter, Slot),
        by_driver: bool,
        passing: Option<&Passing<'_>>,
        pairs: impl Iterator<Item = (&'a MadePair, Holding)>,
    ) -> Self {
        let option = |(made, holding): (&MadePair, Holding)| {
            let option = pair_option(problem, gears, (meter, slot), (made, holding.units));
            let tips = passing.map(|passing| passing.speed(made));
            (option, (holding.heads, tips))
        };
        let mut all: Vec<_> = pairs.map(option).collect();
        sort_by_numbers(&mut all, |(o, _)| {
            let (module, driver) = (o.pair.module.index() as u64, o.pair.driver.get());
            let driver = module << 32 | u64::from(driver);
            let steepness = steepness(o.pair.driven, o.pair.driver);
            [u64::from(by_driver) * driver, steepness, of_pair(o.pair), 0]
        });
        let (options, limits): (Vec<PairOption<M>>, Vec<_>) = all.into_iter().unzip();
        let (mut held, tips): (Vec<u32>, Vec<Option<Beside>>) = limits.into_iter().unzip();
        if passing.is_none() && held.iter().all(|heads| *heads == u32::MAX) {
            held = Vec::new();
        }
        let least_volume = Least::new(options.iter().map(|o| o.volume));
        Self {
            options,
            held,
            tips: tips.into_iter().flatten().collect(),
            least_volume,
        }
    }

    /// Whether an option holds behind the head at `place`, and the pin that leaves
    /// `room` is clear of it.
    fn serves(&self, option: usize, place: u32, room: Beside) -> bool {
        self.held.get(option).is_none_or(|heads| *heads > place)
            && self.tips.get(option).is_none_or(|tips| clears(*tips, room))
    }

    /// How many options of a window serve.
    pub(super) fn serving(&self, window: &Range<usize>, place: u32, room: Beside) -> usize {
        let serves = |option: &usize| self.serves(*option, place, room);
        window.clone().filter(serves).count()
    }

    /// The options of a window that serve: `window` itself where all do, else a copy
    /// of those that do, behind all others.
    pub(super) fn holding(
        &mut self,
        window: &Range<usize>,
        place: u32,
        room: Beside,
    ) -> Range<usize> {
        let serves = |option: &usize| self.serves(*option, place, room);
        if window.clone().all(|option| serves(&option)) {
            return window.clone();
        }
        let kept = window.clone().filter(serves).map(|o| self.options[o]);
        let kept: Vec<PairOption<M>> = kept.collect();
        let start = self.options.len();
        self.options.extend(kept);
        start..self.options.len()
    }

    /// To be done once nothing is added any more.
    pub(super) fn settle(&mut self) {
        if !self.held.is_empty() {
            self.least_volume = Least::new(self.options.iter().map(|o| o.volume));
        }
    }

    /// Those of `among`, options by ratio, that make a speed inside `window`
    /// behind a head of ratio `head`.
    pub(super) fn window(&self, among: &Range<usize>, head: Ratio, window: Window) -> Range<usize> {
        let all = &self.options[among.clone()];
        let start = all.partition_point(|o| window.is_above(head.then(o.ratio)));
        let rest = &all[start..];
        let end = start + rest.partition_point(|o| !window.is_below(head.then(o.ratio)));
        among.start + start..among.start + end
    }

    /// How many pairs there are, copies of them aside.
    pub(super) fn offered(&self) -> usize {
        if self.held.is_empty() {
            self.options.len()
        } else {
            self.held.len()
        }
    }

    /// The runs of equal driving gears, where the list is sorted by them.
    pub(super) fn by_driver(&self) -> impl Iterator<Item = (GearId, Range<usize>)> {
        let driver = |o: &PairOption<M>| (o.pair.module, o.pair.driver);
        let runs = self.options.chunk_by(move |x, y| driver(x) == driver(y));
        runs.scan(0, move |end, run| {
            let start = *end;
            *end += run.len();
            Some((driver(&run[0]), start..*end))
        })
    }

    /// The least volume of the options in `run`.
    pub(super) fn least_volume(&self, run: &Range<usize>) -> u64 {
        self.least_volume.of(run)
    }
}

fn pair_option<M: Mask>(
    problem: &Problem,
    gears: &GearTable,
    (meter, slot): (&Meter, Slot),
    (made, units): (&MadePair, u64),
) -> PairOption<M> {
    let pair = made.pair;
    let [driver, driven] = &made.forms;
    let driver = gears.of(problem, pair.module, pair.driver, driver);
    let driven = gears.of(problem, pair.module, pair.driven, driven);
    PairOption {
        pair,
        ratio: ratio_of(pair),
        volume: units * (driver.volume + driven.volume),
        mask: meter.mask(slot, &[driver, driven]),
    }
}

fn ratio_of(pair: Pair) -> Ratio {
    Ratio::of(pair.driven.get(), pair.driver.get())
}

/// A number that orders ratios of two tooth counts exactly: counts up to 1000
/// make distinct ratios differ by 10⁻⁶ at least.
pub(super) fn steepness(driven: Teeth, driver: Teeth) -> u64 {
    (u64::from(driven.get()) << 32) / u64::from(driver.get())
}

/// Whether the pair is the one cut already, if one is.
pub(super) fn matches_cut(problem: &Problem, pair: Pair, cut: Option<CutPair>) -> bool {
    cut.is_none_or(|cut| {
        (pair.driver, pair.driven) == (cut.driver, cut.driven)
            && cut.module.is_none_or(|m| m == pair.module.of(problem))
    })
}

impl<M: Mask> Space<M> {
    /// Arranges what `problem` offers at `centres`.
    pub(super) fn new(problem: &Problem, gears: &GearTable, centres: Length) -> Self {
        let pairs = Pairs::at(problem, centres);
        let mut strong = Strong::of(problem, &pairs, centres);
        let heads = head_pairs(problem, &pairs, strong.as_ref());
        let (heads, units): (Vec<MadePair>, Vec<u64>) = heads.into_iter().unzip();
        if let Some(strong) = &mut strong {
            strong.behind(&heads);
        }
        let strong = strong.as_ref();
        let passing = Passing::of(problem);
        let passing = passing.as_ref();
        let head_tips: Option<Vec<Beside>> =
            passing.map(|passing| heads.iter().map(|made| passing.head(made)).collect());
        let wanted = problem.reverse();
        let mut listed = wanted.map(|wanted| reverse_list(problem, wanted, &heads, centres));
        if let (Some(list), Some(place)) = (&mut listed, problem.shared_speed()) {
            keep_shared(problem, &pairs, place, list);
        }
        let table = gears.at(problem, &pairs, listed.as_ref().unwrap_or(&NO_REVERSES));
        let offered = listed.as_ref().unwrap_or(&NO_REVERSES);
        let meter = Meter::new(problem, &table, &pairs, offered);
        let refused = Refused {
            pairs: pairs.refused,
            reverses: listed
                .as_ref()
                .map_or_else(Tally::default, |list| list.refused),
        };
        let mut lists = Vec::new();
        let mut seatings = Vec::new();
        let mut roles = Vec::new();
        let sharing = problem.shared_speed();
        let geared = problem.speeds().iter().enumerate();
        let geared = geared.filter_map(|(place, speed)| Some((place, speed.geared()?)));
        for ((place, geared), seating) in geared.zip(problem.speed_seatings()) {
            // Roles that may take the same pairs share a list.
            let known = seatings.iter().position(|known| *known == Some(seating));
            let by_driver = sharing == Some(roles.len());
            // A mask may say in which seat a gear is.
            let apart = by_driver || meter.tells_seats() || strong.is_some();
            let slot = Slot::speed(roles.len());
            let list = match (geared.cut(), known) {
                (None, Some(list)) if !apart => list,
                (cut, _) => {
                    let own = pairs.of(&seating).iter();
                    let chosen = own.filter(|made| matches_cut(problem, made.pair, cut));
                    let role = Role::Speed(place);
                    let held = chosen.filter_map(|made| {
                        let all = Some(Holding::ANY);
                        let own = |strong: &Strong<'_>| strong.speed(role, made, geared.window());
                        Some((made, strong.map_or(all, own)?))
                    });
                    let at = (&meter, slot);
                    lists.push(OptionList::new(
                        problem, &table, at, by_driver, passing, held,
                    ));
                    let open = cut.is_none() && !by_driver;
                    seatings.push(open.then_some(seating));
                    lists.len() - 1
                }
            };
            roles.push(Speed {
                target: geared.target().into(),
                window: geared.window(),
                list,
            });
        }
        let mut space = Self {
            centres,
            roles,
            heads: heads_of(problem, &table, &meter, (&heads, &units)),
            groups: Vec::new(),
            reverses: listed
                .map(|list| Reverses::new(problem, &table, &meter, &list, strong, passing)),
            meter,
            pair_count: pairs.count(),
            refused,
            keeps_choices: false,
            lists,
        };
        space.group_all(problem, head_tips.as_deref());
        let windows = space.groups.iter().flat_map(|group| &group.windows);
        space.keeps_choices = windows.map(ExactSizeIterator::len).sum::<usize>() <= MOST_KEPT;
        space
    }

    /// The options of role `r` in `group`.
    pub(super) fn window(&self, group: &HeadGroup<M>, r: usize) -> &[PairOption<M>] {
        &self.lists[self.roles[r].list].options[group.windows[r].clone()]
    }

    /// The least volume of any reverse gearing in `group`; 0 if none is asked.
    pub(super) fn least_reverse(&self, group: &HeadGroup<M>) -> u64 {
        let reverses = self.reverses.as_ref();
        reverses.map_or(0, |_| group.reverse.least_volume)
    }

    /// The least volume of a reverse gearing in `group` that fits, 0 if none is
    /// asked; none where none fits.
    pub(super) fn least_fitting_reverse(
        &self,
        group: &HeadGroup<M>,
        fits: &dyn Fn(M) -> bool,
    ) -> Option<u64> {
        if self.reverses.is_none() {
            return Some(0);
        }
        let mut pieces = self.leading_pieces(group).iter();
        let first = pieces.find(|piece| fits(piece.mask));
        first.map(|piece| piece.volume)
    }

    /// The volume of the reverse gearing at `place` among those of `group`; 0 if
    /// none is asked.
    pub(super) fn reverse_volume(&self, group: &HeadGroup<M>, place: u64) -> u64 {
        let reverses = self.reverses.as_ref();
        reverses.map_or(0, |reverses| reverses.volume_at(&group.reverse, place))
    }

    /// The reverse pieces of `group` by rising volume, less those that another
    /// one beats in volume and cutters.
    pub(super) fn leading_pieces<'a>(&self, group: &'a HeadGroup<M>) -> &'a [Piece<M>] {
        group.leading.get_or_init(|| {
            let classes = self
                .reverses
                .as_ref()
                .map_or(0, |reverses| reverses.classes);
            let mut least: Vec<Option<&Piece<M>>> = vec![None; classes];
            for piece in self.pieces(group) {
                let slot = &mut least[piece.class as usize];
                if slot.is_none_or(|least| piece.volume < least.volume) {
                    *slot = Some(piece);
                }
            }
            let mut pieces: Vec<Piece<M>> = least.into_iter().flatten().copied().collect();
            sort_by_numbers(&mut pieces, Piece::in_order);
            unbeaten_pieces(pieces, &M::EMPTY)
        })
    }

    /// What `group` can reach when cutters are ignored, without the head's own
    /// blanks: each step is an error and the least volume up to it.
    pub(super) fn steps<'a>(&self, group: &'a HeadGroup<M>) -> &'a [Step] {
        group.steps.get_or_init(|| match group.choices.get() {
            Some(choices) => self.sweep(group, choices),
            None => self.sweep(group, &Choices::new(self, group)),
        })
    }

    /// The choices of `group` that `keep` admits; none when a role has none left.
    pub(super) fn choices(
        &self,
        group: &HeadGroup<M>,
        keep: &dyn Fn(M) -> bool,
    ) -> Option<Choices<M>> {
        if self.keeps_choices {
            let all = group.choices.get_or_init(|| Choices::new(self, group));
            all.kept(keep)
        } else {
            Choices::new(self, group).kept(keep)
        }
    }

    /// Whether the worst error of a set of `group` may be exactly this (bits);
    /// always where that is too dear to know.
    pub(super) fn may_have_error(&self, group: &HeadGroup<M>, error: u64) -> bool {
        if !self.keeps_choices {
            return true;
        }
        let all = group.choices.get_or_init(|| Choices::new(self, group));
        all.levels.binary_search(&error).is_ok()
    }

    /// [`Space::steps`] by the group's choices, when they are at hand.
    pub(super) fn steps_from<'a>(
        &self,
        group: &'a HeadGroup<M>,
        choices: &Choices<M>,
    ) -> &'a [Step] {
        group.steps.get_or_init(|| self.sweep(group, choices))
    }

    fn sweep(&self, group: &HeadGroup<M>, choices: &Choices<M>) -> Vec<Step> {
        let reverse = self.least_reverse(group);
        let total: Vec<u64> = choices.least_total().iter().map(|v| v + reverse).collect();
        choices.steps(&total)
    }

    /// The piece of `group` that reverse gears are of.
    pub(super) fn piece_of<'a>(
        &'a self,
        group: &'a HeadGroup<M>,
        gears: ReverseGears,
    ) -> Option<&'a Piece<M>> {
        self.reverses.as_ref()?.piece_of(&group.reverse, gears)
    }

    /// The reverse pieces of `group`.
    pub(super) fn pieces<'a>(
        &'a self,
        group: &'a HeadGroup<M>,
    ) -> impl Iterator<Item = &'a Piece<M>> {
        let reverses = self.reverses.iter();
        reverses.flat_map(|reverses| reverses.pieces(&group.reverse))
    }
}

pub(super) fn head_ratio<M>(head: &Head<M>) -> Ratio {
    head.pair.map_or(Ratio::ONE, |pair| {
        Ratio::of(pair.driven.get(), pair.driver.get())
    })
}

static NO_REVERSES: ReverseList = ReverseList::NONE;

/// Leaves only reverse gears whose driver drives a pair of the speed at `place`.
fn keep_shared(problem: &Problem, pairs: &Pairs, place: usize, list: &mut ReverseList) {
    let Some(seating) = problem.speed_seatings().nth(place) else {
        return;
    };
    let gears = pairs.of(&seating).iter();
    let drivers: BTreeSet<GearId> = gears
        .map(|made| (made.pair.module, made.pair.driver))
        .collect();
    list.spans
        .retain(|span| drivers.contains(&(span.module, span.driver)));
}

/// The pairs that may be the head and how many units wide they are, sorted by ratio,
/// then set order; nothing on offset shafts.
fn head_pairs(
    problem: &Problem,
    pairs: &Pairs,
    strong: Option<&Strong<'_>>,
) -> Vec<(MadePair, u64)> {
    let Some(wanted) = problem.head() else {
        return Vec::new();
    };
    let window = wanted.window();
    let fits = |made: &&MadePair| {
        matches_cut(problem, made.pair, wanted.cut()) && window.contains(ratio_of(made.pair))
    };
    let held = |made: &MadePair| {
        let holding = strong.map_or(Some(Holding::ANY), |strong| strong.head(made));
        Some((*made, holding?.units))
    };
    let own = pairs.of(&problem.head_seating()).iter();
    let mut heads: Vec<_> = own.filter(fits).filter_map(held).collect();
    heads.sort_unstable_by_key(|(made, _)| {
        (steepness(made.pair.driven, made.pair.driver), made.pair)
    });
    heads
}

/// The heads as the search sees them; on offset shafts a single "no head".
fn heads_of<M: Mask>(
    problem: &Problem,
    gears: &GearTable,
    meter: &Meter,
    (pairs, units): (&[MadePair], &[u64]),
) -> Vec<Head<M>> {
    if problem.head().is_none() {
        return vec![Head {
            pair: None,
            volume: 0,
            mask: M::EMPTY,
        }];
    }
    let head = |(made, &units): (&MadePair, &u64)| {
        let at = (meter, Slot::HEAD);
        let option: PairOption<M> = pair_option(problem, gears, at, (made, units));
        Head {
            pair: Some(made.pair),
            volume: option.volume,
            mask: option.mask,
        }
    };
    pairs.iter().zip(units).map(head).collect()
}

/// The reverse gearings that some head brings into the tolerance; the others
/// need not be kept.
fn reverse_list(
    problem: &Problem,
    wanted: &Reverse,
    heads: &[MadePair],
    centres: Length,
) -> ReverseList {
    let ends = match (problem.head(), heads) {
        (None, _) => (Ratio::ONE, Ratio::ONE),
        (Some(_), []) => return ReverseList::default(),
        (Some(_), [first, .., last]) => (ratio_of(first.pair), ratio_of(last.pair)),
        (Some(_), [only]) => (ratio_of(only.pair), ratio_of(only.pair)),
    };
    let window = wanted.window();
    let mut list = reverses_at(problem, wanted, centres, |driver, driven| {
        let ratio = Ratio::of(driven, driver);
        !window.is_above(ends.1.then(ratio)) && !window.is_below(ends.0.then(ratio))
    });
    list.keep_cut(problem, wanted);
    list
}
