//! How sets are ranked: exact keys.

use super::meter::{EXTRAS, place_of};
use super::store::Values;
use crate::base::SCORE_STEPS;
use crate::problem::{Measure, Ranking};
use std::cmp::Ordering;

/// A ranking key: smaller is better. The ranking's own figure first, then the
/// measures that break its ties.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Key([u64; 1 + Measure::ALL.len()]);

impl Key {
    /// The ranking's own figure.
    pub(super) const fn primary(&self) -> u64 {
        self.0[0]
    }
}

/// A ranking over a front.
#[derive(Clone, Debug)]
pub(super) struct Scale {
    ranking: Ranking,
    /// Measures that break ties, in order.
    ties: Vec<Measure>,
    /// Measures that make up the balanced score, with their least and greatest
    /// value over the front.
    spans: Vec<(Measure, f64, f64)>,
}

/// A measure's exact, comparable value.
pub(super) fn exact(values: Values, measure: Measure) -> u64 {
    match measure {
        Measure::WorstError => values.error,
        Measure::BlankVolume => values.volume,
        Measure::DistinctCutters => u64::from(values.cutters),
        Measure::Bars | Measure::Blanks | Measure::Setups | Measure::Cost => {
            place_of(measure).map_or(0, |place| values.extras[place])
        }
        // It is searched for from outside (`safest`).
        Measure::LeastSafety => 0,
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "only the shape of the score matters beyond 2^53"
)]
fn real(values: Values, measure: Measure) -> f64 {
    match measure {
        Measure::WorstError => f64::from_bits(values.error),
        _ => exact(values, measure) as f64,
    }
}

impl Scale {
    /// The ranking of a problem whose front is `front`.
    pub(super) fn new(ranking: Ranking, measures: &[Measure], front: &[Values]) -> Self {
        let span = |&measure: &Measure| {
            let all = || front.iter().map(|&values| real(values, measure));
            (
                measure,
                all().fold(f64::INFINITY, f64::min),
                all().fold(0.0, f64::max),
            )
        };
        Self {
            ranking,
            ties: measures.to_vec(),
            spans: measures.iter().map(span).collect(),
        }
    }

    /// The same ranking with ties broken by every usual measure too.
    pub(super) fn by_all_measures(&self) -> Self {
        let mut ties = self.ties.clone();
        ties.extend(Measure::USUAL.iter().filter(|m| !self.ties.contains(m)));
        Self {
            ties,
            ..self.clone()
        }
    }

    /// The measure that ranks before all else, if one does.
    pub(super) const fn leading_measure(&self) -> Option<Measure> {
        match self.ranking {
            Ranking::Balanced => None,
            Ranking::By(measure) => Some(measure),
        }
    }

    /// The key of a set with these values. It never falls when a value rises.
    pub(super) fn key(&self, values: Values) -> Key {
        let mut key = [0; 1 + Measure::ALL.len()];
        key[0] = match self.ranking {
            Ranking::Balanced => self.score_steps(values),
            Ranking::By(measure) => exact(values, measure),
        };
        for (slot, &measure) in key[1..].iter_mut().zip(&self.ties) {
            *slot = exact(values, measure);
        }
        Key(key)
    }

    /// Whether anything that masks hold has a say in the ranking.
    pub(super) fn counts_needs(&self) -> bool {
        let mut held = Measure::ALL.into_iter().filter(|m| m.is_of_needs());
        held.any(|measure| self.counts(measure))
    }

    /// Whether a measure has a say in the ranking.
    pub(super) fn counts(&self, measure: Measure) -> bool {
        self.ties.contains(&measure) || self.ranking == Ranking::By(measure)
    }

    /// The greatest volume with which a set of this error and these cutters can
    /// have a key of at most `ceiling`, or a little more, whatever else it needs
    /// but for what is known; 0 if none can.
    pub(super) fn most_volume(
        &self,
        error: u64,
        cutters: u32,
        known: Option<(Measure, u64)>,
        ceiling: &Key,
    ) -> u64 {
        match self.ranking {
            Ranking::Balanced => self.most_balanced(error, cutters, ceiling),
            Ranking::By(first) => self.most_in_turn(first, error, cutters, known, ceiling),
        }
    }

    fn most_in_turn(
        &self,
        first: Measure,
        error: u64,
        cutters: u32,
        known: Option<(Measure, u64)>,
        ceiling: &Key,
    ) -> u64 {
        let in_turn = [first].into_iter().chain(self.ties.iter().copied());
        for (measure, &limit) in in_turn.zip(&ceiling.0) {
            let own = match measure {
                Measure::BlankVolume => return limit,
                Measure::WorstError => error,
                Measure::DistinctCutters => u64::from(cutters),
                other => match known {
                    Some((measure, value)) if measure == other => value,
                    // It may be below the limit, and then nothing after it counts.
                    _ => return u64::MAX,
                },
            };
            match own.cmp(&limit) {
                Ordering::Less => return u64::MAX,
                Ordering::Equal => {}
                Ordering::Greater => return 0,
            }
        }
        u64::MAX
    }

    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a limit may be a little too large, and a cast of a huge one saturates"
    )]
    fn most_balanced(&self, error: u64, cutters: u32, ceiling: &Key) -> u64 {
        let score = (ceiling.primary() as f64 + 1.0) / SCORE_STEPS;
        let mut left = score * score;
        let mut volume = None;
        for &(measure, least, most) in &self.spans {
            if measure == Measure::BlankVolume {
                volume = (most > least).then_some((least, most));
            } else if most > least && place_of(measure).is_none() {
                let own = real(
                    Values {
                        error,
                        volume: 0,
                        cutters,
                        extras: [0; EXTRAS],
                    },
                    measure,
                );
                let x = ((own - least) / (most - least)).max(0.0);
                left -= x * x;
            }
        }
        match volume {
            _ if left < 0.0 => 0,
            None => u64::MAX,
            Some((least, most)) => {
                (least + left.sqrt() * (most - least) * (1.0 + 1e-12)) as u64 + 1
            }
        }
    }

    /// √Σ((x − min)/(max − min))² in whole steps of 10⁻⁹.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a score is not negative, and a cast of a huge one saturates"
    )]
    fn score_steps(&self, values: Values) -> u64 {
        let mut sum = 0.0;
        for &(measure, least, most) in &self.spans {
            if most > least {
                // A bound may lie below the front; it is no better than its edge.
                let x = ((real(values, measure) - least) / (most - least)).max(0.0);
                sum += x * x;
            }
        }
        (sum.sqrt() * SCORE_STEPS).round() as u64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(error: f64, volume: u64, cutters: u32) -> Values {
        Values {
            error: error.to_bits(),
            volume,
            cutters,
            extras: [0; EXTRAS],
        }
    }

    #[test]
    fn the_score_is_the_distance_from_the_ideal() {
        let front = [values(0.0, 300, 3), values(0.5, 100, 3)];
        let scale = Scale::new(Ranking::Balanced, &Measure::USUAL, &front);
        // Halfway in both; cutters do not differ and count nothing.
        assert_eq!(scale.key(values(0.25, 200, 9)).primary(), 707_106_781);
        assert_eq!(scale.key(values(0.0, 100, 3)).primary(), 0);
    }

    #[test]
    fn a_measure_ranks_first_and_the_list_breaks_ties() {
        let front = [values(0.0, 300, 3)];
        let by = Ranking::By(Measure::DistinctCutters);
        let scale = Scale::new(by, &Measure::USUAL, &front);
        assert!(scale.key(values(9.0, 900, 2)) < scale.key(values(0.0, 1, 3)));
        assert!(scale.key(values(0.1, 1, 3)) > scale.key(values(0.0, 900, 3)));
    }
}
