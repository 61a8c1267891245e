//! The best that the pieces still to come can do on what is left of a bar.
//!
//! Every piece has a worth, and is charged for where it is cut. A haul is some
//! pieces from one bar, and its sum what they are charged less what they are
//! worth; the least sum follows from those of one piece less. Lengths are
//! counted in cells, of which a bar has only so many: all lengths are rounded
//! down, which can only make hauls better than they are.

/// Cells of a bar, at most.
const MOST_CELLS: u64 = 400;

/// Least sums for one kind of bar: for the pieces from each on, per cells left.
#[derive(Clone, Debug)]
pub(super) struct Hauls {
    /// Units of length in a cell.
    cell: u64,
    /// Figures of one piece on: cells of the whole bar and one.
    row: usize,
    /// Of all pieces that may come from it, per piece the cells it takes.
    takes: Vec<Option<usize>>,
    /// Sums, for the pieces from the last on first.
    sums: Vec<i64>,
    /// Whole cells of the bar.
    room: usize,
}

impl Hauls {
    /// For a bar with so much room and pieces of such needs, `None` for those
    /// that it does not yield.
    pub(super) fn new(room: u64, needs: &[Option<u64>]) -> Self {
        let cell = room.div_ceil(MOST_CELLS).max(1);
        let cells = |units: u64| usize::try_from(units / cell).unwrap_or(usize::MAX);
        let takes: Vec<Option<usize>> = needs.iter().map(|need| need.map(cells)).collect();
        let room = cells(room);
        Self {
            cell,
            row: room + 1,
            sums: vec![0; (room + 1) * (takes.len() + 1)],
            takes,
            room,
        }
    }

    /// Works the sums of the pieces from `first` on out; `net` is what each piece
    /// of all is charged less its worth.
    pub(super) fn weigh(
        &mut self,
        first: usize,
        net: impl DoubleEndedIterator<Item = i64> + ExactSizeIterator,
    ) {
        let pieces = self.takes.iter().enumerate().zip(net).skip(first);
        for ((piece, takes), net) in pieces.rev() {
            let (row, next) = (piece * self.row, (piece + 1) * self.row);
            let (before, after) = self.sums.split_at_mut(next);
            let Some(row) = before.get_mut(row..) else {
                continue;
            };
            let after = after.get(..self.row).unwrap_or_default();
            row.copy_from_slice(after);
            let Some(takes) = takes.filter(|_| net < 0) else {
                continue;
            };
            let with = row.get_mut(takes..).unwrap_or_default();
            for (sum, rest) in with.iter_mut().zip(after) {
                *sum = (*sum).min(rest + net);
            }
        }
    }

    /// The least sum of the pieces from `first` on, so many units left.
    pub(super) fn least(&self, first: usize, left: u64) -> i64 {
        self.at(first, self.cells(left))
    }

    fn cells(&self, left: u64) -> usize {
        let cells = usize::try_from(left / self.cell).unwrap_or(self.room);
        cells.min(self.room)
    }

    fn at(&self, first: usize, cells: usize) -> i64 {
        self.sums
            .get(first * self.row + cells)
            .copied()
            .unwrap_or(0)
    }

    /// The pieces of a haul of the least sum, of those from `first` on.
    pub(super) fn best(&self, first: usize, left: u64, mut take: impl FnMut(usize)) {
        let mut left = self.cells(left);
        for (piece, takes) in self.takes.iter().enumerate().skip(first) {
            if self.at(piece, left) < self.at(piece + 1, left) {
                take(piece);
                left = left.saturating_sub(takes.unwrap_or(0));
            }
        }
    }
}

/// The longest sum of needs that a bar with so much room holds; where lengths
/// would be rounded, all of its room.
pub(super) fn longest(room: u64, needs: &[Option<u64>]) -> u64 {
    if !needs.iter().flatten().any(|need| *need <= room) {
        return 0;
    }
    let mut hauls = Hauls::new(room, needs);
    if hauls.cell > 1 {
        return room;
    }
    let takes = hauls.takes.clone();
    let cells = |takes: Option<usize>| i64::try_from(takes.unwrap_or(0)).unwrap_or(0);
    hauls.weigh(0, takes.into_iter().map(|takes| -cells(takes)));
    hauls.least(0, room).unsigned_abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pieces of 5, 4 and 3, the second not from this bar, worth 7, 9 and 6.
    fn hauls(room: u64) -> Hauls {
        let mut hauls = Hauls::new(room, &[Some(5), None, Some(3)]);
        hauls.weigh(0, [-7, -9, -6].into_iter());
        hauls
    }

    #[test]
    fn the_best_haul_takes_what_there_is_room_for() {
        let hauls = hauls(8);
        let sums = [2, 3, 4, 5, 7, 8].map(|left| hauls.least(0, left));
        assert_eq!(sums, [0, -6, -6, -7, -7, -13]);
        assert_eq!(hauls.least(1, 8), -6);
        assert_eq!(hauls.least(3, 8), 0);
        let mut taken = Vec::new();
        hauls.best(0, 8, |piece| taken.push(piece));
        hauls.best(0, 7, |piece| taken.push(piece));
        assert_eq!(taken, [0, 2, 0]);
    }

    #[test]
    fn what_is_charged_more_than_it_is_worth_is_left() {
        let mut hauls = hauls(8);
        hauls.weigh(0, [1, -9, 0].into_iter());
        assert_eq!(hauls.least(0, 8), 0);
    }

    #[test]
    fn rounded_lengths_never_make_a_haul_worse() {
        let room = 10 * MOST_CELLS;
        let mut rounded = Hauls::new(room, &[Some(room / 2 + 5), Some(room / 2 - 5)]);
        rounded.weigh(0, [-1, -1].into_iter());
        assert_eq!(rounded.least(0, room), -2);
        assert_eq!(rounded.least(0, room / 2 - 6), -1);
        assert_eq!(rounded.least(0, room / 2 - 15), 0);
    }

    #[test]
    fn the_longest_sum_is_no_longer_than_the_bar() {
        let needs = [Some(5), Some(4), None, Some(3)];
        assert_eq!(
            [2, 3, 6, 10, 11, 20].map(|room| longest(room, &needs)),
            [0, 3, 5, 9, 9, 12]
        );
        assert_eq!(longest(20 * MOST_CELLS, &[Some(1)]), 20 * MOST_CELLS);
    }
}
