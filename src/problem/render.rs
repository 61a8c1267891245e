//! Faults as a person reads them: where, what, what to do next, with the line
//! of the file underlined.

use super::fault::{Fault, Faults, Place, Span, shown};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet, normalize_untrusted_str};

/// Columns of the plain style.
const WIDTH: usize = 80;
/// Faults printed; a file that has more has one cause more often than not.
const MOST_PRINTED: usize = 50;
/// Lines longer than this are cut to their faulty stretch.
const LONGEST_LINE: usize = 1000;
/// Characters kept of a cut line, and before the fault in it.
const KEPT: usize = 60;
const KEPT_BEFORE: usize = 24;

impl Faults {
    /// All faults as text for 80 columns, with or without colour.
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let renderer = renderer.term_width(WIDTH);
        let mut out = self.heading();
        for fault in self.list.iter().take(MOST_PRINTED) {
            out.push('\n');
            out.push_str(&match fault.place {
                Some(place) => renderer.render(&[self.group(fault, place)]),
                None => placeless(fault),
            });
            out.push('\n');
        }
        if self.list.len() > MOST_PRINTED {
            let rest = self.list.len() - MOST_PRINTED;
            out.extend(["\nand ", &rest.to_string(), " more\n"]);
        }
        out
    }

    fn heading(&self) -> String {
        let name = self.name.escape_debug();
        match self.list.len() {
            1 => format!("{name}: one fault; nothing was done.\n"),
            count => format!("{name}: {count} faults; nothing was done.\n"),
        }
    }

    fn group<'a>(&'a self, fault: &'a Fault, place: Place) -> Group<'a> {
        let title = Level::ERROR.no_name().primary_title(title(fault));
        let mut group = Group::with_title(title);
        let (line, span, cut) = excerpt(&self.text, place);
        let snippet = Snippet::source(line)
            .line_start(place.line)
            .annotation(AnnotationKind::Primary.span(span));
        // In a cut line the renderer would count columns from the cut.
        let name = (!cut).then_some(self.name.as_str());
        group = group.element(snippet.path(name));
        if cut {
            let at = format!("{}:{}:{}", self.name, place.line, place.column);
            let note = Level::NOTE.with_name("at");
            group = group.element(note.message(normalize_untrusted_str(&at)));
        }
        if !fault.next.is_empty() {
            let next = Level::HELP.with_name("next");
            group = group.element(next.message(wrap(&fault.next, WIDTH - 16)));
        }
        group
    }
}

fn title(fault: &Fault) -> String {
    let title = match fault.key.as_str() {
        "" => fault.what.clone(),
        key => format!("{key}: {}", fault.what),
    };
    wrap(&title, WIDTH - 1)
}

/// A fault that no line of a file shows.
fn placeless(fault: &Fault) -> String {
    let next = wrap(&fault.next, WIDTH - 10).replace('\n', "\n        ");
    match next.as_str() {
        "" => title(fault),
        _ => format!("{}\n  next: {next}", title(fault)),
    }
}

/// The line of a place, the place in it, and whether the line had to be cut.
fn excerpt(text: &str, place: Place) -> (String, Span, bool) {
    let start = text[..place.start].rfind('\n').map_or(0, |at| at + 1);
    let rest = &text[start..];
    let line = rest.split('\n').next().unwrap_or(rest);
    let line = line.strip_suffix('\r').unwrap_or(line);
    let from = (place.start - start).min(line.len());
    let to = (place.end - start).clamp(from, line.len());
    if line.len() <= LONGEST_LINE {
        return (line.to_owned(), from..to, false);
    }
    let head = back(line, from, KEPT_BEFORE);
    let tail = forward(line, from, KEPT - KEPT_BEFORE);
    let mark = |cut: bool| if cut { "…" } else { "" };
    let before = mark(head > 0);
    let cut = format!("{before}{}{}", &line[head..tail], mark(tail < line.len()));
    let shift = |at: usize| at.min(tail) - head + before.len();
    (cut, shift(from)..shift(to), true)
}

/// The byte `count` characters before `at`.
fn back(line: &str, at: usize, count: usize) -> usize {
    let letters = line[..at].char_indices().rev();
    letters.take(count).last().map_or(at, |(index, _)| index)
}

/// The byte `count` characters after `at`.
fn forward(line: &str, at: usize, count: usize) -> usize {
    let mut letters = line[at..].char_indices();
    letters
        .nth(count)
        .map_or(line.len(), |(index, _)| at + index)
}

/// Breaks a text between its words into lines of at most `width` characters.
fn wrap(text: &str, width: usize) -> String {
    let mut out = String::new();
    let mut column = 0;
    for word in text.split(' ') {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > width {
            out.push('\n');
            column = 0;
        } else if column > 0 {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out
}

/// One fault without its line of the file, for a log or a list.
impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(place) = self.place {
            write!(f, "{}:{}: ", place.line, place.column)?;
        }
        if !self.key.is_empty() {
            write!(f, "{}: ", shown(&self.key))?;
        }
        f.write_str(&self.what)?;
        if self.next.is_empty() {
            return Ok(());
        }
        write!(f, " ({})", self.next)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_line_is_cut_around_its_fault() {
        let text = format!("{}\"x\"{}", "é".repeat(400), "-".repeat(400));
        let place = Place {
            start: 800,
            end: 803,
            line: 1,
            column: 401,
        };
        let (line, span, cut) = excerpt(&text, place);
        assert!(cut);
        assert_eq!(&line[span], "\"x\"");
        assert_eq!(line.chars().count(), KEPT + 2);
        assert!(line.starts_with("…é") && line.ends_with("-…"));
    }

    #[test]
    fn words_wrap_and_nothing_is_lost() {
        assert_eq!(wrap("one two three", 7), "one two\nthree");
        assert_eq!(wrap("immeasurable", 5), "immeasurable");
    }
}
