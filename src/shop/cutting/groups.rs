//! Equal pieces together, and the bars that may matter for them.

use crate::base::gcd;
use crate::stock::{Piece, Rod, Source, Stock};

/// Equal pieces.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) piece: Piece,
    /// What one takes of a bar.
    pub(super) need: i64,
    /// Their places in the list given.
    pub(super) places: Vec<usize>,
}

/// All pieces in groups, thickest first.
#[derive(Clone, Debug)]
pub(super) struct Groups {
    pub(super) all: Vec<Group>,
    /// A length that every need and every room is a multiple of, so that
    /// programs count in small numbers.
    pub(super) unit: u64,
}

impl Groups {
    pub(super) fn of(pieces: &[Piece], stock: &Stock) -> Self {
        let mut all: Vec<Group> = Vec::new();
        for (place, &piece) in pieces.iter().enumerate() {
            match all.iter_mut().find(|group| group.piece == piece) {
                Some(group) => group.places.push(place),
                None => all.push(Group {
                    piece,
                    need: stock.need(&piece),
                    places: vec![place],
                }),
            }
        }
        all.sort_by_key(|group| std::cmp::Reverse(group.piece));
        let needs = all.iter().map(|group| group.need);
        let rods = stock.rack().iter().chain(stock.bars());
        let rooms = rods.map(|rod| stock.room(rod));
        let unit = needs
            .chain(rooms)
            .fold(0, |unit, length| gcd(unit, length.unsigned_abs()));
        Self {
            all,
            unit: unit.max(1),
        }
    }

    /// A length in units.
    pub(super) fn whole_units(&self, steps: i64) -> u64 {
        steps.unsigned_abs() / self.unit
    }
}

/// The double of a whole number.
#[allow(
    clippy::cast_precision_loss,
    reason = "programs are solved in doubles; their answers are worked out again in whole numbers"
)]
pub(super) const fn counted(whole: u64) -> f64 {
    whole as f64
}

/// Some alike bars.
#[derive(Clone, Copy, Debug)]
pub(super) struct Supply {
    pub(super) source: Source,
    pub(super) rod: Rod,
    pub(super) room: i64,
    /// As many as can be of use.
    pub(super) copies: usize,
}

/// Every bar that may matter.
#[derive(Clone, Debug)]
pub(super) struct Sources {
    pub(super) all: Vec<Supply>,
    /// Money that every price is a multiple of.
    pub(super) coin: u64,
}

impl Sources {
    /// Those that a plan for no more than `money` may use; any money where none
    /// is known.
    pub(super) fn of(groups: &Groups, stock: &Stock, money: Option<u64>) -> Self {
        let mut all: Vec<Supply> = Vec::new();
        for (place, rod) in stock.rack().iter().enumerate() {
            let copies = rod.count.min(most_bars(groups, stock, rod));
            all.push(supply(stock, Source::Rack(place), rod, copies));
        }
        for (place, rod) in stock.bars().iter().enumerate() {
            if !matters(groups, stock, place) {
                continue;
            }
            let affordable = money.and_then(|money| money.checked_div(rod.price_millionths));
            let affordable = affordable.and_then(|count| usize::try_from(count).ok());
            let copies = most_bars(groups, stock, rod).min(affordable.unwrap_or(usize::MAX));
            all.push(supply(stock, Source::Bar(place), rod, copies));
        }
        all.retain(|supply| supply.copies > 0);
        let prices = all.iter().map(|supply| supply.rod.price_millionths);
        Self {
            coin: prices.fold(0, gcd).max(1),
            all,
        }
    }
}

fn supply(stock: &Stock, source: Source, rod: &Rod, copies: usize) -> Supply {
    Supply {
        source,
        rod: *rod,
        room: stock.room(rod),
        copies,
    }
}

/// No plan needs more of a bar than there are pieces that it yields.
fn most_bars(groups: &Groups, stock: &Stock, rod: &Rod) -> usize {
    let yielded = groups
        .all
        .iter()
        .filter(|group| stock.yields(rod, &group.piece));
    yielded.map(|group| group.places.len()).sum()
}

/// Whether a bar for sale is worth opening for any piece.
fn matters(groups: &Groups, stock: &Stock, place: usize) -> bool {
    let mut all = groups.all.iter();
    all.any(|group| worth_opening(&group.piece, stock, place))
}

/// Whether a bar for sale is the best for a piece that is the thickest on it: no
/// other is as cheap, as long and as thin at once.
fn worth_opening(piece: &Piece, stock: &Stock, place: usize) -> bool {
    let Some(rod) = stock.bars().get(place) else {
        return false;
    };
    let figures = |rod: &Rod| (rod.price_millionths, -stock.room(rod), rod.diameter);
    let mine = figures(rod);
    let beats = |(other, by): (usize, &Rod)| {
        let others = figures(by);
        let no_worse = others.0 <= mine.0 && others.1 <= mine.1 && others.2 <= mine.2;
        let counts = others != mine || other < place;
        let thick = by.diameter >= piece.diameter;
        other != place && by.material == rod.material && thick && no_worse && counts
    };
    stock.yields(rod, piece) && !stock.bars().iter().enumerate().any(beats)
}
