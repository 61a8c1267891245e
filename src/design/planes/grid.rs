//! Lengths along the shafts as whole nanometres, so that boxes that are
//! equally long on paper are equal, in whatever order their parts are summed.

/// A length or place along the shafts, nm.
pub(super) type Nm = i64;

/// Beyond every box: 1 000 km. Sums of a few stay within an [`Nm`].
pub(super) const FAR_NM: Nm = 1_000_000_000_000_000;

const NM_PER_MM: f64 = 1e6;

/// The nearest whole length.
#[allow(
    clippy::cast_possible_truncation,
    reason = "clamped to what the type holds"
)]
pub(super) fn nm(length_mm: f64) -> Nm {
    let far = 1e15;
    (length_mm * NM_PER_MM).round().clamp(-far, far) as Nm
}

/// The next whole length that is not less, for gaps that must suffice. What
/// exceeds a whole length by less than a thousandth is rounding of doubles.
#[allow(
    clippy::cast_possible_truncation,
    reason = "clamped to what the type holds"
)]
pub(super) fn nm_up(length_mm: f64) -> Nm {
    let far = 1e15;
    (length_mm * NM_PER_MM - 1e-3).ceil().clamp(-far, far) as Nm
}

/// Back to mm.
#[allow(
    clippy::cast_precision_loss,
    reason = "boxes are far below 2^53 nm, which is 9 km"
)]
pub(super) fn mm(length: Nm) -> f64 {
    length as f64 / NM_PER_MM
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_are_whole_and_gaps_suffice() {
        assert_eq!(nm(0.1) + nm(0.2), nm(0.3));
        assert_eq!(nm_up(0.3), 300_000);
        assert_eq!(nm_up(0.1 + 0.2), 300_000);
        assert_eq!(nm_up(0.300_000_4), 300_001);
        assert!((mm(nm(12.345_678)) - 12.345_678).abs() < 1e-12);
    }
}
