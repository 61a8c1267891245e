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
    /// Whole cells of the bar.
    room: usize,
    /// Of all pieces that may come from it, per piece the cells it takes.
    takes: Vec<Option<usize>>,
    /// Sums, each row as long as the bar.
    sums: Vec<i64>,
    /// Of the pieces from each on.
    rows: Vec<Row>,
}

/// Where sums stand. A piece that is not worth taking has the row of those
/// behind it, and what is longer than all pieces together does no more than they.
#[derive(Clone, Copy, Debug, Default)]
struct Row {
    start: usize,
    /// Cells from which on all sums are alike.
    reach: usize,
}

impl Hauls {
    /// For a bar with so much room and pieces of such needs, `None` for those
    /// that it does not yield.
    pub(super) fn new(room: u64, needs: &[Option<u64>]) -> Self {
        let cell = cell_of(room);
        let cells = |units: u64| usize::try_from(units / cell).unwrap_or(usize::MAX);
        let takes: Vec<Option<usize>> = needs.iter().map(|need| need.map(cells)).collect();
        let room = cells(room);
        let end = Row {
            start: takes.len() * (room + 1),
            reach: 0,
        };
        Self {
            cell,
            room,
            sums: vec![0; end.start + 1],
            rows: vec![end; takes.len() + 1],
            takes,
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
            let behind = self.rows.get(piece + 1).copied().unwrap_or_default();
            let takes = takes.filter(|takes| net < 0 && *takes <= self.room);
            let row = takes.map_or(behind, |takes| Row {
                start: piece * (self.room + 1),
                reach: self.room.min(behind.reach + takes),
            });
            if let Some(takes) = takes {
                let (before, after) = self.sums.split_at_mut(behind.start);
                let sums = before.get_mut(row.start..=row.start + row.reach);
                let after = after.get(..=behind.reach);
                with(
                    sums.unwrap_or_default(),
                    after.unwrap_or_default(),
                    takes,
                    net,
                );
            }
            if let Some(place) = self.rows.get_mut(piece) {
                *place = row;
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
        let row = self.rows.get(first).copied().unwrap_or_default();
        let sum = self.sums.get(row.start + cells.min(row.reach));
        sum.copied().unwrap_or(0)
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

/// The sums with one piece more: with it, where that is better than without.
fn with(sums: &mut [i64], after: &[i64], takes: usize, net: i64) {
    let (alike, beyond) = sums.split_at_mut(after.len().min(sums.len()));
    alike.copy_from_slice(after.get(..alike.len()).unwrap_or_default());
    beyond.fill(after.last().copied().unwrap_or(0));
    let held = sums.get_mut(takes..).unwrap_or_default();
    for (sum, rest) in held.iter_mut().zip(after) {
        *sum = (*sum).min(rest + net);
    }
}

/// Units of length in a cell of a bar with so much room.
fn cell_of(room: u64) -> u64 {
    room.div_ceil(MOST_CELLS).max(1)
}

/// The longest sum of needs that a bar with so much room holds; where lengths
/// would be rounded, all of its room.
pub(super) fn longest(room: u64, needs: &[Option<u64>]) -> u64 {
    if !needs.iter().flatten().any(|need| *need <= room) {
        return 0;
    }
    if cell_of(room) > 1 {
        return room;
    }
    let mut hauls = Hauls::new(room, needs);
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
