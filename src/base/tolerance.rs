//! Every epsilon of the project, named, with its reason.

/// Added to each comparison of lengths (mm), so that a length that meets its
/// limit exactly in decimals is not refused for the last bit of its double.
pub const LENGTH_SLACK_MM: f64 = 1e-9;

/// Scores are compared in steps of 1/`SCORE_STEPS`, so that two sets that are
/// level on paper are level in the ranking.
pub const SCORE_STEPS: f64 = 1e9;
