//! Text to a tree of JSON values that know their place in the text.

use super::fault::{Log, Span, shown};
use jsonc_parser::ast::Value;
use jsonc_parser::errors::{ParseError, ParseErrorKind};
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

/// Deepest nesting of a file; a sound one needs four levels. The parser
/// recurses, so the text is measured before it sees it.
const DEEPEST: usize = 32;

/// JSON with comments and trailing commas, and no other liberties.
pub(super) const fn dialect() -> ParseOptions {
    ParseOptions {
        allow_comments: true,
        allow_trailing_commas: true,
        allow_loose_object_property_names: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
        allow_bare_decimal_point_numbers: false,
        allow_non_finite_numbers: false,
        allow_extended_string_escapes: false,
    }
}

/// The tree of `text`; none, with one fault in the log, when it is not JSON.
pub(super) fn parse<'a>(text: &'a str, log: &mut Log) -> Option<Value<'a>> {
    if let Err((span, what, next)) = scan(text) {
        log.add(&span, "", what, next);
        return None;
    }
    match parse_to_ast(text, &CollectOptions::default(), &dialect()) {
        Ok(result) => {
            if result.value.is_none() {
                let next = "write a problem, or start from `layshaft new`".to_owned();
                log.add(&(0..0), "", "the file holds no problem".to_owned(), next);
            }
            result.value
        }
        Err(error) => {
            let (what, next) = explain(&error, text);
            log.add(&range(&error, text), "", what, next);
            None
        }
    }
}

fn range(error: &ParseError, text: &str) -> Span {
    let range = error.range();
    range.start.min(text.len())..range.end.min(text.len())
}

type Refusal = (Span, String, String);

/// Refuses what the parser would recurse into too deeply or let pass.
fn scan(text: &str) -> Result<(), Refusal> {
    let mut depth = 0_usize;
    let mut rest = text.char_indices().peekable();
    while let Some((at, letter)) = rest.next() {
        match letter {
            '"' => string(text, at, &mut rest)?,
            '/' => comment(text, &mut rest),
            '{' | '[' => {
                depth += 1;
                if depth > DEEPEST {
                    return Err((
                        at..at + 1,
                        format!("nested more than {DEEPEST} levels deep"),
                        "a problem needs four levels; look for a bracket too many".to_owned(),
                    ));
                }
            }
            '}' | ']' => depth = depth.saturating_sub(1),
            _ => stray(at, letter)?,
        }
    }
    Ok(())
}

type Letters<'a> = std::iter::Peekable<std::str::CharIndices<'a>>;

/// Skips a string; a line end inside is a forgotten quote.
fn string(text: &str, start: usize, rest: &mut Letters<'_>) -> Result<(), Refusal> {
    while let Some((at, letter)) = rest.next() {
        match letter {
            '"' => return Ok(()),
            '\\' => {
                rest.next();
            }
            '\n' | '\r' => {
                return Err((
                    start..at,
                    "this text has no closing quote on its line".to_owned(),
                    "close it with a \"".to_owned(),
                ));
            }
            control if control < ' ' => {
                let what = format!("a control character ({}) in a text", code(control));
                return Err((at..at + 1, what, "remove it".to_owned()));
            }
            _ => {}
        }
    }
    Err((
        start..text.len(),
        "this text has no closing quote".to_owned(),
        "close it with a \"; the file may be cut short".to_owned(),
    ))
}

/// Skips a comment when one starts here; the parser complains of other slashes.
fn comment(text: &str, rest: &mut Letters<'_>) {
    let Some(&(at, mark)) = rest.peek() else {
        return;
    };
    let length = match mark {
        '/' => text[at..].find(['\n', '\r']),
        '*' => text[at + 1..].find("*/").map(|end| end + 3),
        _ => return,
    };
    let end = length.map_or(text.len(), |length| at + length);
    while rest.next_if(|&(at, _)| at < end).is_some() {}
}

/// Refuses characters that no JSON has outside its strings.
fn stray(at: usize, letter: char) -> Result<(), Refusal> {
    let span = at..at + letter.len_utf8();
    let refuse = |what: String, next: &str| Err((span.clone(), what, next.to_owned()));
    match letter {
        '\t' | '\n' | '\r' | ' '..='~' => Ok(()),
        '“' | '”' | '„' | '‘' | '’' => refuse(
            format!("a printer's quote ({letter})"),
            "use the plain quote \"",
        ),
        _ if letter.is_alphabetic() => Ok(()),
        _ => refuse(
            format!("a character that does not belong here ({})", code(letter)),
            "remove it",
        ),
    }
}

fn code(letter: char) -> String {
    format!("U+{:04X}", u32::from(letter))
}

/// What the parser found, in plain words, and what to do about it.
fn explain(error: &ParseError, text: &str) -> (String, String) {
    use ParseErrorKind as K;
    let found = shown(&text[range(error, text)]);
    let (what, next) = match error.kind() {
        K::UnexpectedWord | K::UnexpectedToken | K::NonFiniteNumbersNotAllowed => {
            return word(&found);
        }
        K::ExpectedComma if after_zero(text, range(error, text).start) => {
            ("a number that starts with a needless 0", "leave the 0 out")
        }
        K::ExpectedComma => ("a comma is missing here", "put a , between the two entries"),
        K::UnterminatedObject => ("this { is never closed", CUT_SHORT),
        K::UnterminatedArray => ("this [ is never closed", CUT_SHORT),
        K::UnterminatedCommentBlock => ("this /* is never closed", "close it with */"),
        K::ExpectedColonAfterObjectKey => ("a : is missing after the key", "write \"key\": value"),
        K::ExpectedObjectValue => ("the value is missing", CUT_SHORT),
        K::ExpectedStringObjectProperty => ("the key is not in quotes", "put it in double quotes"),
        K::SingleQuotedStringsNotAllowed => ("a single quote", "use the plain quote \""),
        K::HexadecimalNumbersNotAllowed => ("a hexadecimal number", "write it in decimals"),
        K::UnaryPlusNumbersNotAllowed => ("a plus sign before a number", "leave it out"),
        K::BareDecimalPointNumbersNotAllowed => (
            "a number that starts or ends with its decimal point",
            "write 0.5 for .5 and 5.0 for 5.",
        ),
        K::ExpectedDigit
        | K::ExpectedDigitFollowingNegativeSign
        | K::ExpectedPlusMinusOrDigitInNumberLiteral => {
            ("this number is not finished", "write it in full")
        }
        K::MultipleRootJsonValues => (
            "something follows the end of the problem",
            "remove it, or look for a } too many",
        ),
        K::UnexpectedCloseBrace | K::UnexpectedCloseBracket => (
            "this bracket closes nothing",
            "remove it, or look for a missing value",
        ),
        K::UnexpectedComma => ("a comma with nothing before it", "remove it"),
        K::UnexpectedColon => ("a colon in a place of a value", "remove it"),
        K::UnexpectedTokenInObject => ("a key in quotes is expected here", "write \"key\": value"),
        K::String(_) => (
            "a backslash that does not start a JSON escape",
            "write \\\\ for a backslash",
        ),
        _ => (
            "this is not JSON",
            "compare it with a file from `layshaft new`",
        ),
    };
    (what.to_owned(), next.to_owned())
}

/// Whether a digit follows a lone zero: `070`.
fn after_zero(text: &str, at: usize) -> bool {
    let (before, after) = text.split_at(at);
    let number = before.trim_end_matches(|c: char| c == '-' || c.is_ascii_digit());
    let zero = before[number.len()..].trim_start_matches('-') == "0";
    zero && after.starts_with(|c: char| c.is_ascii_digit())
}

const CUT_SHORT: &str = "add what is missing; the file may be cut short";

fn word(found: &str) -> (String, String) {
    let next = match found.trim_start_matches('-').to_ascii_lowercase().as_str() {
        "nan" | "infinity" | "inf" => "write a number that can be measured",
        "true" | "yes" | "on" => "write true",
        "false" | "no" | "off" => "write false",
        "none" | "nil" | "undefined" => "leave the key out",
        _ => "put text in double quotes",
    };
    (format!("`{found}` is not a value"), next.to_owned())
}
