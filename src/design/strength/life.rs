//! Life of rolling bearings.
//!
//! Sources: ISO 281, L10 = (C / P)³ million turns of ball bearings; the factors
//! X and Y of deep groove ball bearings by F_a / C0 (ISO 281, normal play, from
//! memory); the spread of lives as Shigley, ch. 11, gives it (Weibull, x0 0.02,
//! θ 4.459, b 1.483).

/// f0 F_a / C0, e and Y (ISO 281, from memory), with f0 14.
const THRUST: [[f64; 3]; 9] = [
    [0.172, 0.19, 2.30],
    [0.345, 0.22, 1.99],
    [0.689, 0.26, 1.71],
    [1.03, 0.28, 1.55],
    [1.38, 0.30, 1.45],
    [2.07, 0.34, 1.31],
    [3.45, 0.38, 1.15],
    [5.17, 0.42, 1.04],
    [6.89, 0.44, 1.00],
];
const SIZE_FACTOR: f64 = 14.0;
const X: f64 = 0.56;

const LEAST_LIFE: f64 = 0.02;
const LIFE_SCALE: f64 = 4.459;
const LIFE_SHAPE: f64 = 1.483;

/// What a bearing of static rating `static_n` bears in all: P, N. Never less
/// than the radial load.
pub fn equivalent_n(radial_n: f64, axial_n: f64, static_n: f64) -> f64 {
    if axial_n <= 0.0 {
        return radial_n;
    }
    radial_n.max(X * radial_n + thrust_factor(axial_n, static_n) * axial_n)
}

/// Y for a thrust.
fn thrust_factor(axial_n: f64, static_n: f64) -> f64 {
    let asked = SIZE_FACTOR * axial_n / static_n;
    let [first, .., last] = THRUST;
    if asked <= first[0] {
        return first[2];
    }
    let part = THRUST.windows(2).find(|pair| asked <= pair[1][0]);
    part.map_or(last[2], |pair| {
        let share = (asked - pair[0][0]) / (pair[1][0] - pair[0][0]);
        pair[0][2] + (pair[1][2] - pair[0][2]) * share
    })
}

/// What it bears at rest: P0, N (ISO 76, from memory).
pub fn at_rest_n(radial_n: f64, axial_n: f64) -> f64 {
    radial_n.max(0.6 * radial_n + 0.5 * axial_n)
}

/// L10 of a ball bearing, million turns.
pub fn million_turns(dynamic_n: f64, equivalent_n: f64) -> f64 {
    (dynamic_n / equivalent_n).powi(3)
}

/// Hours in which so many million turns are made.
pub fn hours(million_turns: f64, rpm: f64) -> f64 {
    million_turns * 1e6 / (60.0 * rpm)
}

/// The load that lasts so many million turns, N.
pub fn lasting_n(dynamic_n: f64, million_turns: f64) -> f64 {
    dynamic_n / million_turns.cbrt()
}

/// Part of L10 that so many of all bearings reach.
pub fn life_factor(reliability: f64) -> f64 {
    LEAST_LIFE + (LIFE_SCALE - LEAST_LIFE) * (0.0 - reliability.ln()).powf(1.0 / LIFE_SHAPE)
}

/// How many of all bearings reach so much of L10.
pub fn reliability(share_of_l10: f64) -> f64 {
    let beyond = (share_of_l10 - LEAST_LIFE).max(0.0) / (LIFE_SCALE - LEAST_LIFE);
    (0.0 - beyond.powf(LIFE_SHAPE)).exp()
}

/// One load of a duty: equivalent load, N; rpm; share of the time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// Equivalent load, N.
    pub load_n: f64,
    /// Turns a minute, 0 or more.
    pub rpm: f64,
    /// Share of the time.
    pub share: f64,
}

/// The steady load and speed that wear a bearing as much: P_m, N, and n_m, rpm.
/// The load is 0 where it never turns.
pub fn mean(spells: &[Spell]) -> (f64, f64) {
    let turns: f64 = spells.iter().map(|s| s.rpm * s.share).sum();
    let wear: f64 = spells
        .iter()
        .map(|s| s.load_n.powi(3) * s.rpm * s.share)
        .sum();
    if turns > 0.0 {
        ((wear / turns).cbrt(), turns)
    } else {
        (0.0, 0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 1000 N at 100 rpm for a quarter of the time and 500 N at 300 rpm
    // for half: n_m 175, wear (1e9·25 + 1.25e8·150) / 175 = 2.5e8.
    #[test]
    fn spells_of_a_duty_wear_like_one_steady_load() {
        let spell = |load_n, rpm, share| Spell { load_n, rpm, share };
        let (load_n, rpm) = mean(&[
            spell(1000.0, 100.0, 0.25),
            spell(500.0, 300.0, 0.5),
            spell(0.0, 0.0, 0.25),
        ]);
        assert!((rpm - 175.0).abs() < 1e-9);
        assert!((load_n - 2.5e8_f64.cbrt()).abs() < 1e-9);
        assert_eq!(mean(&[spell(700.0, 0.0, 1.0)]), (0.0, 0.0));
    }

    #[test]
    fn thrust_counts_where_it_is_large() {
        let same = |got: f64, expected: f64| (got - expected).abs() < 1e-9;
        assert!(same(equivalent_n(1000.0, 0.0, 5000.0), 1000.0));
        // 14·100/5000 = 0.28: below e, the radial load alone.
        assert!(same(equivalent_n(1000.0, 100.0, 5000.0), 1000.0));
        // 14·1000/5000 = 2.8: halfway Y 1.31 to 1.15 at 54 %.
        let y = 1.31 - 0.16 * (2.8 - 2.07) / 1.38;
        assert!(same(
            equivalent_n(1000.0, 1000.0, 5000.0),
            560.0 + 1000.0 * y
        ));
        assert!(same(thrust_factor(1e6, 10.0), 1.0) && same(thrust_factor(1.0, 1e4), 2.3));
        assert!(same(at_rest_n(100.0, 300.0), 210.0) && same(at_rest_n(100.0, 50.0), 100.0));
    }

    #[test]
    fn load_and_life_belong_together() {
        let turns = million_turns(14_000.0, 2000.0);
        assert!((lasting_n(14_000.0, turns) - 2000.0).abs() < 1e-9);
        // Nine in ten reach nearly all of L10, and the two are inverse.
        assert!((life_factor(0.9) - 0.9935).abs() < 1e-3);
        assert!((reliability(life_factor(0.95)) - 0.95).abs() < 1e-12);
        assert!((reliability(0.0) - 1.0).abs() < 1e-12);
    }
}
