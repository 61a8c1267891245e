//! What stands at the foot of a screen: cautions, and where to go from here.

use super::screen::columns;
use std::fmt::Write;

/// What a person must have read before cutting.
pub(super) const CAUTIONS: &str = "Nothing here is rated for strength. Guard every turning gear. In neutral the box holds \
     nothing: a vehicle needs a brake that does not go through it. Not for lifting, road vehicles \
     or anything that can hurt someone without a licensed engineer's check; local codes come first.";

/// What a person must know before the box first turns; beside [`CAUTIONS`].
pub(super) const TURNING_CAUTIONS: [&str; 6] = [
    "Printed trial gears are for turning by hand only: no motor, no drill, no load.",
    "Draw and fit the cover before the first turn under power; fingers stay out of turning gears.",
    "Two speeds at once lock the shafts and break what is weakest: fit the interlock before power, \
     and try it by hand.",
    "Change speed, oil, feel and measure only while everything stands and cannot start.",
    "When a dog jumps out the box holds nothing: brake what it drives by a brake of its own.",
    "A walk-behind machine in reverse can run over its user: a lever that lets go when the hand \
     does, and a slow reverse.",
];

/// Commands, and what each is for where there is room to say it.
pub(super) fn next_lines(lines: &[(String, &str)], width: usize) -> String {
    let longest = lines
        .iter()
        .map(|(command, _)| columns(command))
        .max()
        .unwrap_or(0);
    let mut out = String::new();
    for (i, (command, what)) in lines.iter().enumerate() {
        let label = if i == 0 { "\n  Next   " } else { "         " };
        let pad = " ".repeat(longest - columns(command));
        let line = format!("{label}  {command}{pad}   {what}");
        let fits = columns(line.trim_start_matches('\n')) <= width;
        let line = if fits {
            line
        } else {
            format!("{label}  {command}")
        };
        let _ = writeln!(out, "{line}");
    }
    out
}
