//! What stands at the foot of a screen: where to go from here.

use super::screen::columns;
use std::fmt::Write;

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
