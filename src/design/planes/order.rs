//! The best order of blocks and ways round, exactly: a walk through all orders
//! in the order given that leaves out what cannot be better than the best so
//! far.

use super::bending::Beams;
use super::blocks::Space;
use super::given::Goal;
use super::grid::{FAR_NM, Nm, mm};
use super::outlook::Outlook;
use super::pieces::{Joining, Standing, joined, pieces};
use super::unit::Frame;

/// Units and where they begin.
#[derive(Clone, Debug)]
pub(super) struct Order {
    pub(super) units: Vec<(usize, Nm)>,
    pub(super) length: Nm,
}

/// What orders are compared by, the first first; smaller is better. Of two
/// that are level the earlier in the order given is kept.
type Key = [i64; 3];

/// More blocks, the one of the head included, could take minutes.
pub(super) const MOST_BLOCKS: usize = 11;

/// The best order, or none when parts meet in every one.
pub(super) fn best(space: &Space, frame: &Frame, beams: &Beams) -> Option<Order> {
    let in_line = frame.gearbox.head.is_some();
    let stuck = space.blocks.iter().any(Vec::is_empty) || (in_line && space.first.is_empty());
    if stuck {
        return None;
    }
    let mut walk = Walk {
        space,
        frame,
        beams,
        outlook: Outlook::of(space, frame),
        reach: Reach::of(space, frame),
        forbids: space.needs.iter().flatten().any(Option::is_none),
        placed: Vec::new(),
        middles_mm: vec![None; frame.rows.len()],
        best: None,
    };
    let all = (1 << space.blocks.len()) - 1;
    if in_line {
        for &variant in &space.first {
            walk.put(variant, all, Joining::default());
        }
    } else {
        walk.on(all, Joining::default());
    }
    walk.best.map(|(_, order)| order)
}

/// How near to what comes before and to the output wall each row's middle may
/// be, mm.
struct Reach {
    lead_mm: Vec<f64>,
    trail_mm: Vec<f64>,
}

impl Reach {
    fn of(space: &Space, frame: &Frame) -> Self {
        let far = f64::INFINITY;
        let mut reach = Self {
            lead_mm: vec![far; frame.rows.len()],
            trail_mm: vec![far; frame.rows.len()],
        };
        for variant in &space.variants {
            let units = variant.units.iter().zip(&variant.offsets);
            for (&unit, &offset) in units {
                for plane in &space.units[unit].planes {
                    let middle_mm = mm(plane.from + plane.to) / 2.0;
                    let lead = &mut reach.lead_mm[plane.of];
                    *lead = lead.min(mm(offset) + middle_mm);
                    let trail = &mut reach.trail_mm[plane.of];
                    *trail = trail.min(mm(space.tails[unit]) - middle_mm);
                }
            }
        }
        reach
    }
}

struct Walk<'a> {
    space: &'a Space,
    frame: &'a Frame<'a>,
    beams: &'a Beams,
    outlook: Outlook,
    reach: Reach,
    /// Whether some unit may not stand somewhere behind another.
    forbids: bool,
    placed: Vec<(usize, Nm)>,
    middles_mm: Vec<Option<f64>>,
    best: Option<(Key, Order)>,
}

impl Walk<'_> {
    /// Goes on with each block that is left.
    fn on(&mut self, left: usize, joining: Joining) {
        for block in 0..self.space.blocks.len() {
            if left & (1 << block) != 0 {
                for way in 0..self.space.blocks[block].len() {
                    let variant = self.space.blocks[block][way];
                    self.put(variant, left & !(1 << block), joining);
                }
            }
        }
    }

    /// Places a block and goes on behind it.
    fn put(&mut self, variant: usize, left: usize, joining: Joining) {
        let before = self.placed.len();
        if let Some(joining) = self.place(variant, joining)
            && self.all_may_follow(left)
        {
            if left == 0 {
                self.take();
            } else if self.may_win(variant, left, joining) {
                self.on(left, joining);
            }
        }
        for (unit, _) in self.placed.drain(before..) {
            for plane in &self.space.units[unit].planes {
                self.middles_mm[plane.of] = None;
            }
        }
    }

    /// Each unit as near to the input as all before it let it stand.
    fn place(&mut self, variant: usize, mut joining: Joining) -> Option<Joining> {
        for &unit in &self.space.variants[variant].units {
            let mut begin = self.space.heads[unit];
            for &(earlier, begun) in &self.placed {
                begin = begin.max(begun + self.space.needs[earlier][unit]?);
            }
            self.placed.push((unit, begin));
            for plane in &self.space.units[unit].planes {
                let middle = 2 * begin + plane.from + plane.to;
                self.middles_mm[plane.of] = Some(mm(middle) / 2.0);
            }
            for (gear, _) in self.space.units[unit].fixed(self.frame) {
                joining.add(self.frame, gear.shifted(begin));
            }
        }
        Some(joining)
    }

    fn all_may_follow(&self, left: usize) -> bool {
        let follows = |unit: &usize| {
            let mut placed = self.placed.iter();
            placed.all(|&(earlier, _)| self.space.needs[earlier][*unit].is_some())
        };
        let way = |&variant: &usize| self.space.variants[variant].units.iter().all(follows);
        let mut blocks = self.space.blocks.iter().enumerate();
        !self.forbids || blocks.all(|(b, ways)| left & (1 << b) == 0 || ways.iter().any(way))
    }

    fn length(&self) -> Nm {
        let ends = self.placed.iter();
        let ends = ends.map(|&(unit, begun)| begun + self.space.tails[unit]);
        ends.max().unwrap_or_default()
    }

    /// Whether an order that begins as placed may be better than the best.
    fn may_win(&self, variant: usize, left: usize, joining: Joining) -> bool {
        let begun = self.placed.last().map_or(0, |&(_, begun)| begun);
        let rest = self.outlook.rest(left, variant, joining.last_joined);
        if rest.0 >= FAR_NM {
            return false;
        }
        let Some((best, _)) = &self.best else {
            return true;
        };
        let chained = begun + rest.0;
        let length = self.length().max(chained);
        // At any greater length nothing is known of the gears that fit.
        let joins = if length == chained {
            joining.count - rest.1
        } else {
            i64::MAX
        };
        let bending = || {
            let end_mm = mm(self.placed.last().map_or(0, |&(unit, begun)| {
                begun + self.space.units[unit].length + self.frame.apart()
            }));
            let moment_n_mm = self.beams.least_n_mm(
                &self.middles_mm,
                mm(length),
                |row| end_mm + self.reach.lead_mm[row],
                |row| self.reach.trail_mm[row],
            );
            // Rounding must not make the bound too high.
            in_steps(moment_n_mm * (1.0 - 1e-12))
        };
        let goal = self.frame.gearbox.goal;
        match goal {
            // Without the dearer bound where it cannot matter.
            Goal::Shortest if (length, -joins) != (best[0], best[1]) => {
                (length, -joins) < (best[0], best[1])
            }
            _ => key(goal, length, joins, bending()) < *best,
        }
    }

    /// A whole order: keeps it if it is better.
    fn take(&mut self) {
        let length = self.length();
        let bending = in_steps(self.beams.worst_n_mm(&self.middles_mm, mm(length)));
        let gears: Vec<Standing> = standing(self.space, self.frame, &self.placed);
        let joins = joined(&pieces(self.frame, &gears));
        let key = key(self.frame.gearbox.goal, length, joins, bending);
        if self.best.as_ref().is_none_or(|(best, _)| key < *best) {
            let units = self.placed.clone();
            self.best = Some((key, Order { units, length }));
        }
    }
}

/// The gears of the fixed shaft where they stand.
pub(super) fn standing(space: &Space, frame: &Frame, placed: &[(usize, Nm)]) -> Vec<Standing> {
    let of = |&(unit, begun): &(usize, Nm)| {
        let gears = space.units[unit].fixed(frame);
        gears.map(move |(gear, _)| gear.shifted(begun))
    };
    placed.iter().flat_map(of).collect()
}

fn key(goal: Goal, length: Nm, joins: i64, bending: i64) -> Key {
    match goal {
        Goal::Shortest => [length, -joins, bending],
        Goal::LeastBending => [bending, length, -joins],
    }
}

/// Moments are compared in steps of a thousandth of a N·mm, so that boxes
/// that are level on paper are level.
#[allow(
    clippy::cast_possible_truncation,
    reason = "clamped to what the type holds"
)]
fn in_steps(moment_n_mm: f64) -> i64 {
    (moment_n_mm * 1000.0).round().clamp(0.0, 1e15) as i64
}
