//! Fault-finding: from what is felt or heard to what it is.

use super::part::{TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable};
use crate::examine::{Beat, Symptom, Trial};

/// The table of symptoms.
pub(super) fn symptoms(trial: &Trial) -> TrialPart {
    let row = |row: &Symptom| [&row.symptom, &row.measure, &row.cause].map(TrialCell::words);
    let table = TrialTable {
        heads: ["symptom", "measure", "likely cause"]
            .map(TrialHead::words)
            .to_vec(),
        rows: trial.symptoms.iter().map(|one| row(one).to_vec()).collect(),
    };
    TrialPart {
        heading: "7. Fault-finding".to_owned(),
        blocks: vec![TrialBlock::Table(table)],
    }
}

/// What comes round how often.
pub(super) fn beats(trial: &Trial) -> TrialPart {
    let how = "Mark the input, turn it by hand, and count its turns from one tight spot to the \
               next; average over ten.";
    let row = |beat: &Beat| {
        let mut what: Vec<&str> = beat.shaft.iter().map(String::as_str).collect();
        what.extend(beat.gears.iter().map(String::as_str));
        vec![
            TrialCell::Figure(beat.input_turns, 3),
            TrialCell::Words(what.join("; ")),
            TrialCell::words(beat.only_in.as_deref().unwrap_or("every speed")),
        ]
    };
    let table = TrialTable {
        heads: vec![
            TrialHead::figures("once in so many turns of the input", ""),
            TrialHead::words("what turns so"),
            TrialHead::words("in"),
        ],
        rows: trial.beats.iter().map(row).collect(),
    };
    TrialPart {
        heading: "8. What comes round how often".to_owned(),
        blocks: vec![TrialBlock::Words(how.to_owned()), TrialBlock::Table(table)],
    }
}
