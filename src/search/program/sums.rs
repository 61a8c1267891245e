//! Sums in whole numbers as rows of a program.

use super::solver::Program;

/// The sum of `terms` must stay below `limit`, which is not 0.
///
/// All terms are whole multiples of one unit. The row allows the last multiple
/// below the limit and half a unit more, in parts of 1: an answer off by the
/// solver's rounding does not reach the next multiple, and no sum that the limit
/// allows comes near the end of the row.
pub(super) fn below(program: &mut Program, limit: u64, terms: &[(usize, u64)]) {
    let unit = terms.iter().fold(0, |unit, term| gcd(unit, term.1));
    if unit == 0 {
        return;
    }
    let room = real(limit.saturating_sub(1) / unit) + 0.5;
    let heavy = terms.iter().filter(|term| term.1 > 0);
    let parts = heavy.map(|&(unknown, size)| (unknown, real(size / unit) / room));
    program.at_most(1.0, parts.collect());
}

/// The pieces of one bar must fit its room together, and only where the bar is
/// `opened`, if that is asked. The row allows the last whole unit and half of
/// one more, as above.
pub(super) fn held(
    program: &mut Program,
    room: u64,
    opened: Option<usize>,
    pieces: &[(usize, u64)],
) {
    let unit = pieces.iter().fold(0, |unit, piece| gcd(unit, piece.1));
    let Some(units) = room.checked_div(unit) else {
        return;
    };
    let room = real(units) + 0.5;
    let parts = pieces
        .iter()
        .map(|&(x, need)| (x, real(need / unit) / room));
    match opened {
        None => program.at_most(1.0, parts.collect()),
        Some(opened) => program.at_most(0.0, parts.chain([(opened, -1.0)]).collect()),
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "every answer is looked at again in whole numbers"
)]
pub(super) const fn real(whole: u64) -> f64 {
    whole as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::search::Control;
    use crate::search::program::solver::Answer;

    /// Whether a sum of one of `first` and one of `second` is allowed.
    fn allows(limit: u64, first: &[u64], second: &[u64]) -> bool {
        let mut program = Program::default();
        let mut terms = Vec::new();
        for sizes in [first, second] {
            let own: Vec<_> = sizes.iter().map(|&s| (program.unknown(0.0), s)).collect();
            program.exactly(1.0, own.iter().map(|&(x, _)| (x, 1.0)).collect());
            terms.extend(own);
        }
        below(&mut program, limit, &terms);
        program.solve(&Control::default()) != Answer::None
    }

    #[test]
    fn a_sum_one_unit_below_the_limit_passes_and_the_limit_does_not() {
        // 3 and 4 thousand are the least of both.
        for (limit, passes) in [(7000, false), (7001, true), (8000, true), (6000, false)] {
            assert_eq!(
                allows(limit, &[3000, 5000], &[4000, 9000]),
                passes,
                "{limit}"
            );
        }
    }

    /// Whether pieces of these needs go together in a bar of that room.
    fn fit(room: u64, needs: &[u64]) -> bool {
        let mut program = Program::default();
        let opened = program.unknown(1.0);
        let pieces: Vec<_> = needs.iter().map(|&n| (program.unknown(0.0), n)).collect();
        for &(piece, _) in &pieces {
            program.exactly(1.0, vec![(piece, 1.0)]);
        }
        held(&mut program, room, Some(opened), &pieces);
        program.solve(&Control::default()) != Answer::None
    }

    #[test]
    fn pieces_fit_a_bar_to_the_last_step() {
        let needs = [14_000_000_000, 16_500_000_000, 14_000_000_000];
        assert!(fit(44_500_000_000, &needs));
        assert!(!fit(44_499_999_999, &needs));
        assert!(fit(44_999_999_999, &needs));
    }

    #[test]
    fn one_unit_in_millions_is_told_apart() {
        let (a, b) = (3_000_001, 4_000_003);
        assert!(allows(a + b + 1, &[a, 9_000_000], &[b, 9_500_000]));
        assert!(!allows(a + b, &[a, 9_000_000], &[b, 9_500_000]));
    }
}
