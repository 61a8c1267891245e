//! What a text may look like where it goes, and how paragraphs are set.

use anstream::ColorChoice;
use owo_colors::{OwoColorize, Style};
use std::fmt::Write;
use std::io::IsTerminal;
use std::path::Path;

/// Where a text goes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Screen {
    /// Columns to use.
    pub(super) width: usize,
    unicode: bool,
    colour: bool,
}

impl Screen {
    /// The screen behind stdout, or the page of a file.
    pub(super) fn of(output: Option<&Path>) -> Self {
        let stdout = std::io::stdout();
        let colour =
            output.is_none() && anstream::AutoStream::choice(&stdout) != ColorChoice::Never;
        if output.is_some() || !stdout.is_terminal() {
            return Self {
                width: 80,
                unicode: true,
                colour,
            };
        }
        let columns = terminal_size::terminal_size().map_or(80, |(w, _)| usize::from(w.0));
        Self {
            width: columns.clamp(60, 140),
            unicode: locale_is_utf8(|name| std::env::var(name).ok()),
            colour,
        }
    }

    /// `text` with what this screen lacks replaced, column for column.
    pub(super) fn fit(&self, text: &str) -> String {
        let text = if self.colour {
            text.to_owned()
        } else {
            anstream::adapter::strip_str(text).to_string()
        };
        if self.unicode {
            text
        } else {
            text.chars().map(plain_char).collect()
        }
    }
}

/// Whether the first locale variable that is set names UTF-8.
fn locale_is_utf8(variable: impl Fn(&str) -> Option<String>) -> bool {
    let names = ["LC_ALL", "LC_CTYPE", "LANG"];
    let set = names
        .into_iter()
        .filter_map(variable)
        .find(|value| !value.is_empty());
    set.is_some_and(|value| {
        let value = value.to_ascii_lowercase();
        value.contains("utf-8") || value.contains("utf8")
    })
}

/// Stand-ins of one column each for the few signs used beyond ASCII.
const fn plain_char(c: char) -> char {
    match c {
        '→' => '>',
        '×' => 'x',
        '³' => '3',
        'Ø' => 'D',
        '\u{2009}' => ' ',
        other => other,
    }
}

/// A sentence that answers.
pub(super) fn strong(text: &str) -> String {
    text.style(Style::new().bold()).to_string()
}

/// A word of warning.
pub(super) fn warning(text: &str) -> String {
    if text.is_empty() {
        String::new()
    } else {
        text.style(Style::new().yellow()).to_string()
    }
}

/// Columns that a text takes; escape sequences take none.
pub(super) fn columns(text: &str) -> usize {
    anstream::adapter::strip_str(text)
        .to_string()
        .chars()
        .count()
}

/// Sets `text` as a paragraph, every line indented by `indent`.
pub(super) fn paragraph(text: &str, indent: usize, width: usize) -> String {
    let mut out = String::new();
    let mut line = String::new();
    // Thin spaces hold figures together.
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        if !line.is_empty() && indent + columns(&line) + 1 + columns(word) > width {
            end_line(&mut out, indent, &line);
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    end_line(&mut out, indent, &line);
    out
}

fn end_line(out: &mut String, indent: usize, line: &str) {
    if !line.is_empty() {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "{}{line}", " ".repeat(indent));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_locale_variable_set_decides() {
        let with = |set: &'static [(&str, &str)]| {
            locale_is_utf8(move |name| {
                set.iter()
                    .find(|(n, _)| *n == name)
                    .map(|(_, v)| (*v).to_owned())
            })
        };
        assert!(with(&[("LANG", "de_DE.UTF-8")]));
        assert!(with(&[("LC_ALL", ""), ("LC_CTYPE", "C.utf8")]));
        assert!(!with(&[("LC_ALL", "C"), ("LANG", "de_DE.UTF-8")]));
        assert!(!with(&[]));
    }

    #[test]
    fn signs_are_replaced_column_for_column() {
        let screen = Screen {
            width: 80,
            unicode: false,
            colour: false,
        };
        let text = format!("{} 13\u{2009}524 cm³ Ø5", warning("35→68 ×0.8"));
        assert_eq!(screen.fit(&text), "35>68 x0.8 13 524 cm3 D5");
    }

    #[test]
    fn paragraphs_break_at_the_width() {
        assert_eq!(paragraph("one two three", 2, 10), "  one two\n  three\n");
        assert_eq!(
            paragraph("13\u{2009}524 sets", 0, 8),
            "13\u{2009}524\nsets\n"
        );
    }
}
