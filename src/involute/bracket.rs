//! Roots and intervals, always between two places that hold them.

/// Most steps to a root: each third one at least halves what holds it.
const STEPS: u32 = 200;

/// Sections after which a summit is known to the last bits.
const SECTIONS: u32 = 60;

/// A place and the height of a function there.
type Place = (f64, f64);

/// Where `f` passes zero on the way from `from` to `to`. `from` itself when
/// `f` does not start below zero; `to` when it stays there.
pub(super) fn crossing(f: impl Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    let start = (from, f(from));
    if start.1 >= 0.0 {
        return from;
    }
    let end = (to, f(to));
    if end.1 < 0.0 {
        return to;
    }
    between(f, start, end)
}

/// The place at or above zero nearest to where `f` passes it, between `below`
/// and `beyond` (at or above zero).
///
/// Halving, or inverse quadratic interpolation where the last three places let
/// it be trusted (Chandrupatla 1997, Adv. Eng. Softw. 28(3):145-149).
fn between(f: impl Fn(f64) -> f64, below: Place, beyond: Place) -> f64 {
    let narrow = f64::EPSILON * (beyond.0 - below.0).abs();
    // The newest place, the one across zero from it, and the one before.
    let (mut new, mut across) = (beyond, below);
    let mut old;
    let mut share = 0.5;
    for _ in 0..STEPS {
        let x = new.0 + share * (across.0 - new.0);
        let at_x = (x, f(x));
        let same_side = (at_x.1 < 0.0) == (new.1 < 0.0);
        if same_side {
            old = new;
        } else {
            (old, across) = (across, new);
        }
        new = at_x;
        let least = (narrow + f64::EPSILON * new.0.abs()) / (across.0 - new.0).abs();
        // Written so that a NaN ends it.
        if !(least < 0.5 && new.1 != 0.0) {
            break;
        }
        share = interpolated(new, across, old)
            .unwrap_or(0.5)
            .clamp(least, 1.0 - least);
    }
    if new.1 < 0.0 { across.0 } else { new.0 }
}

/// How far the root lies on the way from `new` to `across`, by the inverse
/// parabola through three places, where that rises or falls throughout.
fn interpolated(new: Place, across: Place, old: Place) -> Option<f64> {
    let place = (new.0 - across.0) / (old.0 - across.0);
    let height = (new.1 - across.1) / (old.1 - across.1);
    let trusted = height * height < place && (1.0 - height).powi(2) < 1.0 - place;
    trusted.then(|| {
        let linear = new.1 / (across.1 - new.1) * old.1 / (across.1 - old.1);
        let bent = (old.0 - new.0) / (across.0 - new.0) * new.1 / (old.1 - new.1) * across.1
            / (old.1 - across.1);
        linear + bent
    })
}

/// The part of `[low, high]` in which `f` is at least zero, for an `f` that
/// rises to one summit at most and then falls: an interval, or none.
pub(super) fn part_at_least_zero(
    f: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
) -> Option<(f64, f64)> {
    let (start, end) = ((low, f(low)), (high, f(high)));
    let inside = if start.1 >= 0.0 {
        start
    } else if end.1 >= 0.0 {
        end
    } else {
        let inside = uphill(&f, low, high)?;
        (inside, f(inside))
    };
    Some(around(f, inside, start, end))
}

/// The same where the summit's place is known.
pub(super) fn part_below_summit(
    f: impl Fn(f64) -> f64,
    summit: f64,
    (low, high): (f64, f64),
) -> Option<(f64, f64)> {
    let highest = summit.max(low).min(high);
    let inside = (highest, f(highest));
    (inside.1 >= 0.0).then(|| around(&f, inside, (low, f(low)), (high, f(high))))
}

/// From zero to zero on both sides of a place at or above it, or to the ends.
fn around(f: impl Fn(f64) -> f64, inside: Place, start: Place, end: Place) -> (f64, f64) {
    let until = |end: Place| {
        if end.1 >= 0.0 {
            end.0
        } else {
            between(&f, end, inside)
        }
    };
    (until(start), until(end))
}

/// Climbs by golden sections until a place at or above zero is found.
fn uphill(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> Option<f64> {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let mut left = high - GOLDEN * (high - low);
    let mut right = low + GOLDEN * (high - low);
    let (mut at_left, mut at_right) = (f(left), f(right));
    for _ in 0..SECTIONS {
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
        assert!((crossing(f, 0.0, 1.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn a_root_is_found_in_few_steps_and_always_on_the_upper_side() {
        type Shape = (fn(f64) -> f64, f64, f64, u32);
        let steps = std::cell::Cell::new(0_u32);
        let shapes: [Shape; 6] = [
            (|x| x.cos() - x, 2.0, -1.0, 12),
            (|x| x.exp() - 5.0, 0.0, 9.0, 20),
            // Flat, steep, and stepped.
            (|x| (x - 0.3).powi(9), 0.0, 1.0, 200),
            (|x| (x - 0.3).cbrt(), -5.0, 1.0, 100),
            (|x| if x < 0.7 { -1e-9 } else { 4e9 }, 0.0, 1.0, 100),
            (|x| 1e-12 * (x - 1e-7), -1.0, 1.0, 10),
        ];
        for (shape, from, to, most) in shapes {
            steps.set(0);
            let counted = |x| {
                steps.set(steps.get() + 1);
                shape(x)
            };
            let root = crossing(counted, from, to);
            assert!(steps.get() <= most, "{root} {}", steps.get());
            assert!(shape(root) >= 0.0);
            let before = root + 1e-14 * (from - to).signum() * (1.0 + root.abs());
            // The flat one is zero in its doubles for some way.
            let flat = most == 200;
            assert!(shape(before) <= 0.0 || flat);
        }
    }

    #[test]
    fn a_known_summit_needs_no_search() {
        let hill = |x: f64| 0.01 - (x - 0.7).powi(2);
        let (from, to) = part_below_summit(hill, 0.7, (-4.0, 9.0)).unwrap();
        assert!((from - 0.6).abs() < 1e-12 && (to - 0.8).abs() < 1e-12);
        let half = part_below_summit(hill, 0.7, (0.75, 9.0)).unwrap();
        assert!((half.0 - 0.75).abs() < 1e-15 && (half.1 - 0.8).abs() < 1e-12);
        assert!(part_below_summit(hill, 0.7, (0.9, 9.0)).is_none());
    }

    #[test]
    fn a_function_that_is_no_number_ends_the_search() {
        let root = crossing(|x| if x > 0.5 { f64::NAN } else { -1.0 }, 0.0, 1.0);
        assert!((0.0..=1.0).contains(&root));
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
