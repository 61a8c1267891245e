//! What is wrong with a problem file: each fault with its place, the fact and
//! what to do next.

use serde::Serialize;
use std::fmt;

/// Bytes of the text, from and up to.
pub(super) type Span = std::ops::Range<usize>;

/// Where in the text a fault lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Place {
    /// First byte, counted from 0.
    pub start: usize,
    /// The byte after the last.
    pub end: usize,
    /// Line, counted from 1.
    pub line: usize,
    /// Character in the line, counted from 1.
    pub column: usize,
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// Where; none when the file as a whole is meant.
    pub place: Option<Place>,
    /// The key, as in `speeds[2].ratio` (counted from 0); empty when no key is
    /// meant.
    pub key: String,
    /// What is wrong.
    pub what: String,
    /// What to do next; may be empty.
    pub next: String,
    /// Whether the file says clearly what cannot be built: a fault of the
    /// gearbox rather than of the writing.
    #[serde(skip)]
    pub of_box: bool,
}

/// All that is wrong with one file, in the order of the text; never empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faults {
    pub(super) name: String,
    pub(super) text: String,
    pub(super) list: Vec<Fault>,
}

impl Faults {
    /// One fault of a file whose text could not be had.
    pub(super) fn without_text(name: &str, what: String, next: &str) -> Self {
        Self {
            name: name.to_owned(),
            text: String::new(),
            list: vec![Fault {
                place: None,
                key: String::new(),
                what,
                next: next.to_owned(),
                of_box: false,
            }],
        }
    }

    /// The file's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Every fault.
    pub fn list(&self) -> &[Fault] {
        &self.list
    }
}

impl fmt::Display for Faults {
    /// Plain text for 80 columns.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.render(false))
    }
}

impl std::error::Error for Faults {}

/// Faults as they are found, in any order.
#[derive(Debug, Default)]
pub(super) struct Log {
    found: Vec<(Span, Fault)>,
}

impl Log {
    pub(super) fn add(&mut self, span: &Span, key: &str, what: String, next: String) {
        self.push(span, key, (what, next), false);
    }

    /// A fault of the gearbox that the file describes ([`Fault::of_box`]).
    pub(super) fn add_of_box(&mut self, span: &Span, key: &str, what: String, next: String) {
        self.push(span, key, (what, next), true);
    }

    fn push(&mut self, span: &Span, key: &str, (what, next): (String, String), of_box: bool) {
        let fault = Fault {
            place: None,
            key: key.to_owned(),
            what,
            next,
            of_box,
        };
        self.found.push((span.clone(), fault));
    }

    pub(super) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Whether nobody will read all that is in it already.
    pub(super) fn is_long(&self) -> bool {
        self.found.len() >= 1000
    }

    /// The faults in the order of the text.
    pub(super) fn close(mut self, name: &str, text: &str) -> Faults {
        self.found.sort_by_key(|(span, _)| (span.start, span.end));
        let mut at = Cursor::default();
        let placed = self.found.into_iter().map(|(span, fault)| Fault {
            place: Some(at.place(text, &span)),
            ..fault
        });
        Faults {
            name: name.to_owned(),
            list: placed.collect(),
            text: text.to_owned(),
        }
    }
}

/// Walks the text once, however many places are asked for in its order.
#[derive(Default)]
struct Cursor {
    offset: usize,
    line: usize,
    column: usize,
}

impl Cursor {
    fn place(&mut self, text: &str, span: &Span) -> Place {
        for letter in text[self.offset..span.start].chars() {
            self.offset += letter.len_utf8();
            if letter == '\n' {
                self.line += 1;
                self.column = 0;
            } else {
                self.column += 1;
            }
        }
        Place {
            start: span.start,
            end: span.end,
            line: self.line + 1,
            column: self.column + 1,
        }
    }
}

/// A person's own text as a message may show it: short, one line, nothing
/// that a terminal would act on.
pub(super) fn shown(text: &str) -> String {
    const LONGEST: usize = 40;
    let mut letters = text.chars();
    let mut short = String::new();
    for letter in letters.by_ref().take(LONGEST) {
        if letter.is_control() {
            short.extend(letter.escape_default());
        } else {
            short.push(letter);
        }
    }
    if letters.next().is_some() {
        short.push('…');
    }
    short
}
