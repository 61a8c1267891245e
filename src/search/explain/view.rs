//! What one centre distance offers each role, by ratio alone.

use crate::base::{Length, Ratio, Target, Teeth, Window};
use crate::mesh::{MadePair, Pairs, ReverseSpan, reverses_at};
use crate::problem::{CutPair, Problem, Reverse, Seating};
use crate::search::space::{matches_cut, steepness};
use crate::train::ModuleId;

/// Roles as bits: geared speeds in file order, then reverse, then the range of
/// the head ratio.
pub(super) type Roles = u128;

/// What is asked of a problem's roles. Its gears may be anything.
#[derive(Clone, Debug)]
pub(super) struct Wanted {
    /// Per geared speed, and last reverse when it is asked for.
    roles: Vec<(Window, Target)>,
    /// Ratios that the head pair may have; none when any will do.
    pub(super) head: Option<Window>,
}

impl Wanted {
    pub(super) fn of(problem: &Problem) -> Self {
        let speeds = problem.geared().map(|s| (s.window(), s.target().into()));
        let reverse = problem.reverse().map(|r| (r.window(), r.target().into()));
        let limited = |head: &&crate::problem::Head| head.min().is_some() || head.max().is_some();
        Self {
            roles: speeds.chain(reverse).collect(),
            head: problem
                .head()
                .filter(limited)
                .map(crate::problem::Head::window),
        }
    }

    /// The same without reverse.
    fn forward(&self, problem: &Problem) -> Self {
        let mut forward = self.clone();
        forward.roles.truncate(problem.geared().count());
        forward
    }

    /// How many roles there are, the head's range not counted.
    pub(super) fn count(&self) -> usize {
        self.roles.len()
    }

    /// The bit of the head's range.
    pub(super) fn head_bit(&self) -> Roles {
        1 << self.roles.len()
    }
}

/// Every ratio of two legal tooth counts, ascending, none twice.
#[derive(Clone, Debug)]
pub(super) struct Ratios {
    least: u32,
    counts: usize,
    all: Vec<Ratio>,
    /// By driving and driven teeth, the place of their ratio.
    place: Vec<u32>,
}

impl Ratios {
    pub(super) fn of(problem: &Problem) -> Self {
        let gears = problem.gears();
        let (least, most) = (gears.min_teeth().get(), gears.max_teeth().get());
        let teeth = least..=most;
        let counts = teeth.clone().count();
        let mut sorted: Vec<(u64, u32, u32)> = Vec::with_capacity(counts * counts);
        for driver in teeth.clone() {
            let steep = |driven| steepness(Teeth::of(driven), Teeth::of(driver));
            sorted.extend(teeth.clone().map(|driven| (steep(driven), driver, driven)));
        }
        sorted.sort_unstable();
        let mut ratios = Self {
            least,
            counts,
            all: Vec::new(),
            place: vec![0; counts * counts],
        };
        for same in sorted.chunk_by(|x, y| x.0 == y.0) {
            let place = u32::try_from(ratios.all.len()).unwrap_or(u32::MAX);
            ratios.all.push(Ratio::of(same[0].2, same[0].1));
            for &(_, driver, driven) in same {
                let at = ratios.index(driver, driven);
                ratios.place[at] = place;
            }
        }
        ratios
    }

    const fn index(&self, driver: u32, driven: u32) -> usize {
        (driver - self.least) as usize * self.counts + (driven - self.least) as usize
    }

    /// Which ratios stand in a list of driving and driven teeth, as bits.
    fn bits(&self, teeth: impl Iterator<Item = (Teeth, Teeth)>) -> Vec<u64> {
        let mut bits = vec![0; self.all.len().div_ceil(64)];
        for (driver, driven) in teeth {
            let place = self.place[self.index(driver.get(), driven.get())];
            bits[place as usize / 64] |= 1 << (place % 64);
        }
        bits
    }

    fn list(&self, bits: &[u64]) -> Vec<Ratio> {
        let mut list = Vec::new();
        for (i, &word) in bits.iter().enumerate() {
            let mut left = word;
            while left != 0 {
                list.push(self.all[64 * i + left.trailing_zeros() as usize]);
                left &= left - 1;
            }
        }
        list
    }
}

/// The ratios that one centre distance offers, as bits: distances that offer
/// the same need looking at but once.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Offer {
    /// Of all pairs that close for the first of the geared speeds, or for the
    /// head where there is none.
    pairs: Vec<u64>,
    /// Of the head pairs that are allowed, when they are cut already or seated
    /// in another way.
    head: Option<Vec<u64>>,
    /// Per role, where it may not take any of these pairs.
    own: Vec<Option<Vec<u64>>>,
}

impl Offer {
    /// What a distance offers: one offer; or where reverse shares the driving
    /// gear of a speed, one for each gear that may be shared, behind which the
    /// roles do not depend on each other, and one without reverse.
    pub(super) fn all(problem: &Problem, ratios: &Ratios, centres: Length) -> Vec<Self> {
        let pairs = Pairs::at(problem, centres);
        Self::forward(problem, ratios, &pairs).with_reverse(problem, ratios, &pairs, centres)
    }

    /// Of head and speeds alone.
    fn forward(problem: &Problem, ratios: &Ratios, pairs: &Pairs) -> Self {
        let shared = problem.speed_seatings().next();
        let shared = shared.unwrap_or_else(|| problem.head_seating());
        let own_bits = |seating: Seating, cut: Option<CutPair>| {
            let own = cut.is_some() || seating != shared;
            own.then(|| ratios.bits(as_cut(problem, pairs.of(&seating), cut)))
        };
        let head = problem
            .head()
            .and_then(|head| own_bits(problem.head_seating(), head.cut()));
        let own = problem
            .geared()
            .zip(problem.speed_seatings())
            .map(|(speed, seating)| own_bits(seating, speed.cut()));
        Self {
            own: own.collect(),
            head,
            pairs: ratios.bits(as_cut(problem, pairs.of(&shared), None)),
        }
    }

    fn with_reverse(
        mut self,
        problem: &Problem,
        ratios: &Ratios,
        pairs: &Pairs,
        centres: Length,
    ) -> Vec<Self> {
        let Some(reverse) = problem.reverse() else {
            return vec![self];
        };
        let heads = self.head.as_ref().unwrap_or(&self.pairs);
        // Without a head nothing is asked of reverse.
        let headless = problem.head().is_some() && heads.iter().all(|&word| word == 0);
        let spans = if headless {
            Vec::new()
        } else {
            reverses(problem, reverse, centres)
        };
        let teeth = |spans: &[ReverseSpan]| {
            let teeth = spans.iter().map(|span| (span.driver, span.driven));
            Some(ratios.bits(teeth))
        };
        let Some(place) = problem.shared_speed() else {
            self.own.push(teeth(&spans));
            return vec![self];
        };
        let mut offers = Vec::new();
        // By module and driver: the order of the list.
        for same in spans.chunk_by(|x, y| (x.module, x.driver) == (y.module, y.driver)) {
            let driver = (same[0].module, same[0].driver);
            let own: Vec<_> = driven_by(problem, pairs, place, driver).collect();
            if !own.is_empty() {
                let mut offer = self.clone();
                offer.own[place] = Some(ratios.bits(own.into_iter()));
                offer.own.push(teeth(same));
                offers.push(offer);
            }
        }
        self.own.push(teeth(&[]));
        offers.push(self);
        offers
    }

    /// Memory that it takes, bytes.
    pub(super) fn size(&self) -> usize {
        8 * self.pairs.len() * (1 + self.own.iter().flatten().count())
    }
}

/// Whether some head serves every role at one centre distance. Reverse is the
/// dearest to look at, and is looked at last.
pub(super) fn admits(problem: &Problem, wanted: &Wanted, ratios: &Ratios, centres: Length) -> bool {
    let pairs = Pairs::at(problem, centres);
    let offer = Offer::forward(problem, ratios, &pairs);
    let forward = wanted.forward(problem);
    if problem.reverse().is_some() && !View::of(problem, ratios, &offer).serves(&forward) {
        return false;
    }
    let offers = offer.with_reverse(problem, ratios, &pairs, centres);
    let mut views = offers.iter().map(|offer| View::of(problem, ratios, offer));
    views.any(|view| view.serves(wanted))
}

/// One centre distance: head ratios, and the ratios that each role can make;
/// where reverse shares its driver, with one such gear.
#[derive(Clone, Debug)]
pub(super) struct View {
    /// Distinct ratios of head pairs, ascending; 1 on offset shafts.
    pub(super) heads: Vec<Ratio>,
    /// Distinct ratios, ascending; which list a role draws from stands in `draws`.
    lists: Vec<Vec<Ratio>>,
    draws: Vec<usize>,
}

impl View {
    pub(super) fn all(problem: &Problem, ratios: &Ratios, centres: Length) -> Vec<Self> {
        let offers = Offer::all(problem, ratios, centres);
        let views = offers.iter().map(|offer| Self::of(problem, ratios, offer));
        views.collect()
    }

    pub(super) fn of(problem: &Problem, ratios: &Ratios, offer: &Offer) -> Self {
        let mut lists = vec![ratios.list(&offer.pairs)];
        let heads = match (problem.head(), &offer.head) {
            (None, _) => vec![Ratio::ONE],
            (Some(_), None) => lists[0].clone(),
            (Some(_), Some(cut)) => ratios.list(cut),
        };
        let mut draws = Vec::new();
        for own in &offer.own {
            if let Some(own) = own {
                lists.push(ratios.list(own));
                draws.push(lists.len() - 1);
            } else {
                draws.push(0);
            }
        }
        Self {
            heads,
            lists,
            draws,
        }
    }

    /// Ratios that a role can make, without the head.
    pub(super) fn list(&self, role: usize) -> &[Ratio] {
        &self.lists[self.draws[role]]
    }

    /// The roles that have nothing behind a head of that ratio.
    pub(super) fn blocked(&self, wanted: &Wanted, head: Ratio) -> Roles {
        let mut roles = 0;
        for (role, (window, _)) in wanted.roles.iter().enumerate() {
            let list = self.list(role);
            let first = list.partition_point(|&own| window.is_above(head.then(own)));
            if !list
                .get(first)
                .is_some_and(|&own| window.contains(head.then(own)))
            {
                roles |= 1 << role;
            }
        }
        if wanted.head.is_some_and(|window| !window.contains(head)) {
            roles |= wanted.head_bit();
        }
        roles
    }

    /// Whether some head serves every role.
    pub(super) fn serves(&self, wanted: &Wanted) -> bool {
        self.heads
            .iter()
            .any(|&head| self.blocked(wanted, head) == 0)
    }

    /// The ratios of a role on either side of its target behind a head, both the
    /// target's own when it is made exactly; the head's included.
    pub(super) fn beside(
        &self,
        wanted: &Wanted,
        role: usize,
        head: Ratio,
    ) -> impl Iterator<Item = Ratio> + '_ {
        let target = wanted.roles[role].1;
        let list = self.list(role);
        let above =
            list.partition_point(|&own| head.then(own).deviation(target).is_sign_negative());
        list[above.saturating_sub(1)..(above + 1).min(list.len())]
            .iter()
            .map(move |&own| head.then(own))
    }
}

/// The teeth of the pairs, or of the one cut already.
fn as_cut<'a>(
    problem: &'a Problem,
    pairs: &'a [MadePair],
    cut: Option<CutPair>,
) -> impl Iterator<Item = (Teeth, Teeth)> + 'a {
    let pairs = pairs.iter().map(|made| made.pair);
    let fitting = pairs.filter(move |pair| matches_cut(problem, *pair, cut));
    fitting.map(|pair| (pair.driver, pair.driven))
}

/// The teeth of the pairs that the geared speed at `place` may take with that
/// driving gear.
fn driven_by<'a>(
    problem: &'a Problem,
    pairs: &'a Pairs,
    place: usize,
    driver: (ModuleId, Teeth),
) -> impl Iterator<Item = (Teeth, Teeth)> + 'a {
    let mut speeds = problem.geared().zip(problem.speed_seatings());
    let speed = speeds.nth(place).into_iter();
    speed.flat_map(move |(speed, seating)| {
        let all = pairs.of(&seating).iter().map(|made| made.pair);
        let own = all.filter(move |pair| (pair.module, pair.driver) == driver);
        let fitting = own.filter(move |pair| matches_cut(problem, *pair, speed.cut()));
        fitting.map(|pair| (pair.driver, pair.driven))
    })
}

/// The reverse gears that have a place, by module, driver and driven gear.
fn reverses(problem: &Problem, wanted: &Reverse, centres: Length) -> Vec<ReverseSpan> {
    let cut = wanted.cut();
    let teeth = |driver, driven| {
        cut.is_none_or(|cut| (driver, driven) == (cut.driver.get(), cut.driven.get()))
    };
    let mut list = reverses_at(problem, wanted, centres, teeth);
    list.keep_cut(problem, wanted);
    list.spans
}
