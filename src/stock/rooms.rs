//! Money that shortfalls of room cost at least.
//!
//! Thresholds of diameter are nested: a bar that is thick enough for a piece is
//! thick enough for every thinner one. So whatever is bought must make up the
//! shortfall at each threshold with bars that are at least so thick.

/// Binary places that rates carry, so that they compare as whole numbers.
const RATE_PLACES: u32 = 32;

/// The best that is sold at a threshold: each figure from any bar, so that
/// together they flatter the market.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Offer {
    /// Price of the cheapest bar.
    price: u64,
    /// Room of the longest that pieces of this threshold can use.
    room: i64,
    /// Least price for room, in 1/2³² millionths per step, rounded down.
    rate: u128,
}

impl Offer {
    /// Of bars of these prices, rooms, and parts of the room that pieces of the
    /// threshold can use; none without any. The rate is that of the whole room,
    /// because thinner pieces may use what these cannot.
    pub(super) fn of(bars: impl Iterator<Item = (u64, i64, i64)>) -> Option<Self> {
        let single = |(price, whole, room): (u64, i64, i64)| {
            let steps = u128::try_from(whole).ok()?;
            let rate = (u128::from(price) << RATE_PLACES).checked_div(steps)?;
            (room > 0).then_some(Self { price, room, rate })
        };
        bars.filter_map(single).reduce(|a, b| Self {
            price: a.price.min(b.price),
            room: a.room.max(b.room),
            rate: a.rate.min(b.rate),
        })
    }
}

/// A threshold: what is short of bars at least so thick, and what is sold.
pub(super) type Short = (i64, Option<Offer>);

/// The least money that makes up all shortfalls, thresholds in descending
/// order; nothing where no money does. It never falls when a shortfall grows.
pub(super) fn least_for(thresholds: impl Iterator<Item = Short>) -> Option<u64> {
    let mut whole = Whole::default();
    let mut parts = Parts::default();
    for (short, offer) in thresholds {
        if short > 0 {
            let offer = offer?;
            whole.cover(short, offer);
            parts.cover(short, offer);
        }
    }
    Some(whole.money.max(parts.money()))
}

/// Buys whole bars, the dearest need first: each is the cheapest and yet the
/// longest of its threshold.
#[derive(Debug, Default)]
struct Whole {
    money: u64,
    bars: u64,
}

impl Whole {
    fn cover(&mut self, short: i64, offer: Offer) {
        let bars = short.unsigned_abs().div_ceil(offer.room.unsigned_abs());
        let more = bars.saturating_sub(self.bars).saturating_mul(offer.price);
        self.money = self.money.saturating_add(more);
        self.bars = self.bars.max(bars);
    }
}

/// Buys lengths of bar by the step, at the best rate of each threshold.
#[derive(Debug, Default)]
struct Parts {
    rated: u128,
    room: i64,
}

impl Parts {
    fn cover(&mut self, short: i64, offer: Offer) {
        let left = short - self.room;
        if left > 0 {
            let cost = offer.rate.saturating_mul(u128::from(left.unsigned_abs()));
            self.rated = self.rated.saturating_add(cost);
            self.room = short;
        }
    }

    fn money(&self) -> u64 {
        u64::try_from(self.rated.div_ceil(1 << RATE_PLACES)).unwrap_or(u64::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offer(bars: &[(u64, i64)]) -> Option<Offer> {
        Offer::of(bars.iter().map(|&(price, room)| (price, room, room)))
    }

    #[test]
    fn whole_bars_of_a_thick_need_serve_the_thin_one() {
        let thick = offer(&[(90, 100)]);
        let thin = offer(&[(90, 100), (10, 100)]);
        // One thick bar has room for 100; 30 more are short of any bar.
        assert_eq!(least_for([(40, thick), (130, thin)].into_iter()), Some(100));
        assert_eq!(least_for([(40, thick), (100, thin)].into_iter()), Some(90));
        assert_eq!(least_for([(0, thick), (-5, thin)].into_iter()), Some(0));
        assert_eq!(least_for([(1, None)].into_iter()), None);
    }

    #[test]
    fn parts_count_where_a_short_bar_is_cheap() {
        // Cheapest bar 10, longest 100, yet 150 steps cost 10 for each 10.
        let mixed = offer(&[(10, 10), (100, 100)]);
        assert_eq!(least_for([(150, mixed)].into_iter()), Some(150));
    }
}
