//! A set called by its mark or its rank.

use super::exit::Failure;
use crate::export::Answer;
use crate::train::{Found, SHORTEST_MARK, Set};

/// No list is longer.
pub(super) const MOST_LISTED: u32 = 100_000;

/// What a person wrote. Marks begin with a letter, so the two never mix.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    /// A place in the ranked list, from 1.
    Rank(usize),
    /// The first characters of a mark.
    Mark(String),
}

impl Wanted {
    pub(super) fn read(word: &str) -> Result<Self, Failure> {
        if word.bytes().all(|b| b.is_ascii_digit()) && !word.is_empty() {
            return match word.parse::<u32>() {
                Ok(rank) if (1..=MOST_LISTED).contains(&rank) => Ok(Self::Rank(rank as usize)),
                _ => Err(Failure::BadInput(format!(
                    "there is no rank {word}: ranks go from 1 to {MOST_LISTED}"
                ))),
            };
        }
        let is_mark = word.bytes().all(|b| b.is_ascii_alphanumeric());
        if is_mark && word.len() >= SHORTEST_MARK {
            Ok(Self::Mark(word.to_owned()))
        } else {
            Err(Failure::BadInput(format!(
                "'{word}' is neither a rank nor a mark: a mark has {SHORTEST_MARK} or more letters and \
                 digits, as the list shows it"
            )))
        }
    }

    /// How long the ranked list must be to hold it.
    pub(super) const fn rank(&self) -> usize {
        match self {
            Self::Rank(rank) => *rank,
            Self::Mark(_) => 0,
        }
    }

    pub(super) fn find<'a>(&self, answer: &Answer<'a>) -> Result<&'a Set, Failure> {
        match self {
            Self::Rank(rank) => {
                let sets = &answer.outcome.sets;
                let named = sets.iter().find(|set| answer.rank(set) == Some(*rank));
                named.ok_or_else(|| no_rank(*rank, answer))
            }
            Self::Mark(mark) => match answer.register().find(mark) {
                Found::One(set) => Ok(set),
                Found::None => Err(Failure::BadInput(format!(
                    "no set listed here is marked {}: call it with the --top, --sort and \
                     --measures that showed it",
                    mark.to_ascii_uppercase()
                ))),
                Found::Many(marks) => Err(Failure::BadInput(format!(
                    "{} fits more than one set: say {}",
                    mark.to_ascii_uppercase(),
                    marks.join(" or ")
                ))),
            },
        }
    }
}

fn no_rank(rank: usize, answer: &Answer<'_>) -> Failure {
    let count = answer.outcome.sets.len();
    Failure::BadInput(match answer.walk() {
        None => format!("there is no rank {rank}: the list has {count} sets"),
        Some(_) => format!(
            "rank {rank} is not among the {count} sets listed with --differ-by: leave the flag \
             out to see that set"
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_a_rank_and_letters_a_mark() {
        assert_eq!(Wanted::read("12"), Ok(Wanted::Rank(12)));
        assert_eq!(Wanted::read("q7kd"), Ok(Wanted::Mark("q7kd".to_owned())));
        for word in [
            "",
            "0",
            "100001",
            "99999999999",
            "Q7K",
            "-1",
            "Q7 KD",
            "Ä7KD",
        ] {
            assert!(Wanted::read(word).is_err(), "{word}");
        }
    }
}
