//! Roots and intervals by halving: slow steps, but none can go astray.

/// Halvings that take any interval of doubles of one size to its last bits.
const HALVINGS: u32 = 60;

/// Where `f` passes zero on the way from `from` to `to`. `from` itself when
/// `f` does not start below zero; `to` when it stays there.
pub(super) fn crossing(f: impl Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    if f(from) >= 0.0 {
        return from;
    }
    let (mut below, mut beyond) = (from, to);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(below, beyond);
        if f(middle) < 0.0 {
            below = middle;
        } else {
            beyond = middle;
        }
    }
    beyond
}

/// The part of `[low, high]` in which `f` is at least zero, for an `f` that
/// rises to one summit at most and then falls: an interval, or none.
pub(super) fn part_at_least_zero(
    f: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
) -> Option<(f64, f64)> {
    let at_least = |x: f64| f(x) >= 0.0;
    let inside = if at_least(low) {
        low
    } else if at_least(high) {
        high
    } else {
        uphill(&f, low, high)?
    };
    let from = if at_least(low) {
        low
    } else {
        crossing(&f, low, inside)
    };
    let to = if at_least(high) {
        high
    } else {
        crossing(&f, high, inside)
    };
    Some((from, to))
}

/// Climbs by golden sections until a place at or above zero is found.
fn uphill(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> Option<f64> {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let mut left = high - GOLDEN * (high - low);
    let mut right = low + GOLDEN * (high - low);
    let (mut at_left, mut at_right) = (f(left), f(right));
    for _ in 0..HALVINGS {
        if at_left >= 0.0 {
            return Some(left);
        }
        if at_right >= 0.0 {
            return Some(right);
        }
        if at_left > at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = f(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = f(right);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_root_from_either_side() {
        let f = |x: f64| x * x - 2.0;
        assert!((crossing(f, 0.0, 2.0) - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((crossing(f, 0.0, -2.0) + 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((crossing(f, 3.0, 5.0) - 3.0).abs() < 1e-15);
    }

    #[test]
    fn finds_the_part_of_a_hill_above_the_water() {
        let hill = |x: f64| 0.01 - (x - 0.7).abs();
        let (from, to) = part_at_least_zero(hill, (-4.0, 9.0)).unwrap();
        assert!((from - 0.69).abs() < 1e-12 && (to - 0.71).abs() < 1e-12);
        assert!(part_at_least_zero(hill, (1.0, 9.0)).is_none());
        assert!(part_at_least_zero(|x| -0.01 - x * x, (-4.0, 9.0)).is_none());
        let half = part_at_least_zero(hill, (0.7, 9.0)).unwrap();
        assert!((half.0 - 0.7).abs() < 1e-15 && (half.1 - 0.71).abs() < 1e-12);
    }
}
