//! Sets side by side: figures, and which set is the better in each.
//!
//! What is better is judged by the digits that are shown, so that nobody is told
//! of a lead that the figures do not have.

mod contender;
mod rows;
mod standing;
mod tools;

pub use contender::Contender;
pub use rows::{Better, CompareRow};
pub use standing::Standing;
pub use tools::ToolRecord;

use super::{Answer, cautions};
use crate::problem::{Change, Problem};
use crate::train::Set;
use serde::Serialize;

/// Sets side by side. Field order is key order.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// The problem's title.
    pub title: String,
    /// What was tried otherwise than in the file.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<Change>,
    /// How the sets were come by, in a few words.
    pub chosen: String,
    /// What stands behind prices; empty where the workshop names nothing.
    pub currency: String,
    /// Whether some price of a cutter is not the workshop's own.
    pub cutter_prices_taken: bool,
    /// The sets in the order asked for.
    pub sets: Vec<Contender>,
    /// What is compared.
    pub rows: Vec<CompareRow>,
    /// Of each set, in which rows it stands where.
    pub standings: Vec<Standing>,
    /// What each set is best at, a sentence each.
    pub summary: Vec<String>,
    /// The set that is behind in the fewest rows; the first of several.
    pub pick: String,
    /// What to have read; only with a duty.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub cautions: String,
}

impl Comparison {
    /// Compares `sets` of an answer.
    pub fn new(answer: &Answer<'_>, chosen: &str, sets: &[&Set]) -> Self {
        let problem = answer.problem;
        let sets: Vec<Contender> = sets.iter().map(|set| Contender::of(answer, set)).collect();
        let rows = rows::rows(problem, &sets);
        let standings = standing::standings(&sets, &rows);
        Self {
            title: problem.title().to_owned(),
            with: answer.changes.clone(),
            chosen: chosen.to_owned(),
            currency: problem.workshop().currency().to_owned(),
            cutter_prices_taken: prices_taken(problem, &sets),
            summary: standing::summary(&rows, &standings),
            pick: standing::pick(&standings),
            cautions: problem
                .duty()
                .map_or_else(String::new, |_| cautions(problem)),
            sets,
            rows,
            standings,
        }
    }
}

/// Whether a price that was taken stands behind any sum.
fn prices_taken(problem: &Problem, sets: &[Contender]) -> bool {
    let to_buy = |set: &Contender| set.cutters.iter().any(|tool| !tool.at_hand);
    problem.workshop().cutter_prices_taken() && sets.iter().any(to_buy)
}
