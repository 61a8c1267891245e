//! Every epsilon of the project, named, with its reason.

/// Added to each comparison of lengths (mm), so that a length that meets its
/// limit exactly in decimals is not refused for the last bit of its double.
pub const LENGTH_SLACK_MM: f64 = 1e-9;

/// Scores are compared in steps of 1/`SCORE_STEPS`, so that two sets that are
/// level on paper are level in the ranking.
pub const SCORE_STEPS: f64 = 1e9;

/// Part of a figure by which two ways of computing it in doubles may differ.
pub const FIGURE_SLACK: f64 = 1e-12;

/// How far (mm) the distances of a computed place may lie from those that
/// define it: far below any lathe, far above the rounding of doubles.
pub const PLACE_SLACK_MM: f64 = 1e-7;
