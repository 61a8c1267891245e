//! Which gears of the fixed shaft can be of one piece.

use super::unit::{Frame, Stretch};

/// A fixed gear where it stands.
pub(super) type Standing = Stretch;

/// Whether two gears leave the cutter room to be cut on one blank.
pub(super) fn fits(frame: &Frame, one: Standing, later: Standing) -> bool {
    let wheel = |s: Standing| frame.rows.get(s.of).and_then(|row| row.fixed);
    let wheels = wheel(one).zip(wheel(later));
    wheels.is_some_and(|(a, b)| later.from - one.to >= frame.run_out(a, b))
}

/// Counts gears that fit a neighbour, one after another: never fewer than can
/// be of one piece with another.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Joining {
    pub(super) count: i64,
    pub(super) last: Option<Standing>,
    pub(super) last_joined: bool,
}

impl Joining {
    pub(super) fn add(&mut self, frame: &Frame, gear: Standing) {
        let joins = self.last.is_some_and(|last| fits(frame, last, gear));
        if joins {
            self.count += if self.last_joined { 1 } else { 2 };
        }
        self.last = Some(gear);
        self.last_joined = joins;
    }
}

/// Gears in order along the shaft, cut into pieces: the most gears that are of
/// one piece with another; ties: fewest pieces, then the longest first piece.
pub(super) fn pieces(frame: &Frame, gears: &[Standing]) -> Vec<Vec<usize>> {
    let n = gears.len();
    // Best (joined gears, −pieces) from each gear on, and the end of its piece.
    let mut best: Vec<(i64, i64, usize)> = vec![(0, 0, n); n + 1];
    for from in (0..n).rev() {
        let mut found = (i64::MIN, 0, from + 1);
        for (to, &(joined, pieces, _)) in best.iter().enumerate().skip(from + 1) {
            let new = to - 1;
            let all_fit = (from..new).all(|old| fits(frame, gears[old], gears[new]));
            if !all_fit {
                break;
            }
            let own = if to - from > 1 { span(from, to) } else { 0 };
            let candidate = (joined + own, pieces - 1, to);
            if candidate >= found {
                found = candidate;
            }
        }
        best[from] = found;
    }
    let mut all = Vec::new();
    let mut from = 0;
    while from < n {
        let to = best[from].2;
        all.push((from..to).map(|gear| gears[gear].of).collect());
        from = to;
    }
    all
}

/// Gears that are of one piece with another.
pub(super) fn joined(pieces: &[Vec<usize>]) -> i64 {
    let many = pieces.iter().filter(|piece| piece.len() > 1);
    many.map(|piece| span(0, piece.len())).sum()
}

fn span(from: usize, to: usize) -> i64 {
    i64::try_from(to - from).unwrap_or(i64::MAX)
}
