//! Fault-finding: from what is felt or heard to what it is.

use crate::base::plain;
use crate::cli::sheets::markdown::plain_text;
use crate::export::CheckAnswer;
use std::fmt::Write;

/// The table of symptoms.
pub(super) fn symptoms(answer: &CheckAnswer<'_>) -> String {
    let mut out = "\n## 7. Fault-finding\n\n\
        | symptom | measure | likely cause |\n|---|---|---|\n"
        .to_owned();
    for row in &answer.trial.symptoms {
        let [symptom, measure, cause] =
            [&row.symptom, &row.measure, &row.cause].map(|text| plain_text(text));
        let _ = writeln!(out, "| {symptom} | {measure} | {cause} |");
    }
    out
}

/// What comes round how often.
pub(super) fn beats(answer: &CheckAnswer<'_>) -> String {
    let mut out = "\n## 8. What comes round how often\n\n\
        Mark the input, turn it by hand, and count its turns from one tight spot to the next; \
        average over ten.\n\n\
        | once in so many turns of the input | what turns so | in |\n|---:|---|---|\n"
        .to_owned();
    for beat in &answer.trial.beats {
        let mut what: Vec<&str> = beat.shaft.iter().map(String::as_str).collect();
        what.extend(beat.gears.iter().map(String::as_str));
        let only = beat.only_in.as_deref().unwrap_or("every speed");
        let _ = writeln!(
            out,
            "| {} | {} | {} |",
            plain(beat.input_turns, 3),
            plain_text(&what.join("; ")),
            plain_text(only)
        );
    }
    out
}
