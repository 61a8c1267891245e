//! What each set is best at, in words that the rows bear out.

use super::Contender;
use super::rows::CompareRow;
use serde::Serialize;

/// More names than this in one sentence are counted.
const NAMED: usize = 4;
/// A set that is behind in so few rows is told of by what it lacks.
const FEW: usize = 3;

/// Where a set stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Standing {
    /// The set.
    pub mark: String,
    /// Keys of the rows in which it is best alone.
    pub best_alone: Vec<String>,
    /// Keys of those in which some others are as good, and some are not.
    pub best_shared: Vec<String>,
    /// Keys of those in which all sets are level.
    pub level: Vec<String>,
    /// Keys of those in which another is better.
    pub behind: Vec<String>,
}

/// Where each set stands in the rows that judge.
pub(super) fn standings(sets: &[Contender], rows: &[CompareRow]) -> Vec<Standing> {
    let marks = sets.iter().map(|set| &set.mark);
    marks.map(|mark| standing(mark, rows)).collect()
}

fn standing(mark: &str, rows: &[CompareRow]) -> Standing {
    let mut standing = Standing {
        mark: mark.to_owned(),
        best_alone: Vec::new(),
        best_shared: Vec::new(),
        level: Vec::new(),
        behind: Vec::new(),
    };
    for row in rows.iter().filter(|row| row.judges()) {
        let is_best = row.best.iter().any(|best| best == mark);
        let list = match (is_best, row.best.len()) {
            _ if row.level() => &mut standing.level,
            (false, _) => &mut standing.behind,
            (true, 1) => &mut standing.best_alone,
            (true, _) => &mut standing.best_shared,
        };
        list.push(row.key.clone());
    }
    standing
}

/// The set that is behind in the fewest rows.
pub(super) fn pick(standings: &[Standing]) -> String {
    let least = standings
        .iter()
        .min_by_key(|standing| standing.behind.len());
    least.map_or_else(String::new, |standing| standing.mark.clone())
}

/// A sentence a set, or one for all where nothing tells them apart.
pub(super) fn summary(rows: &[CompareRow], standings: &[Standing]) -> Vec<String> {
    if standings.iter().all(|standing| standing.behind.is_empty()) {
        return vec!["They are level in all that is compared.".to_owned()];
    }
    let better = if standings.len() == 2 {
        "better"
    } else {
        "best"
    };
    let sentence = |standing| sentence(rows, standing, better);
    standings.iter().map(sentence).collect()
}

fn sentence(rows: &[CompareRow], standing: &Standing, better: &str) -> String {
    let Standing {
        mark,
        best_alone,
        best_shared,
        behind,
        ..
    } = standing;
    let best = best_alone.len() + best_shared.len();
    if behind.is_empty() {
        return format!("{mark} is {better} or level in everything.");
    }
    if best == 0 {
        return format!("{mark} is behind in {}.", words(rows, behind));
    }
    if behind.len() <= FEW {
        let lacks = words(rows, behind);
        return format!("{mark} is {better} or level in all but {lacks}.");
    }
    match (&best_alone[..], best_shared.len()) {
        ([], _) => format!("{mark} shares the best in {}.", words(rows, best_shared)),
        (_, 0) => format!("{mark} is {better} in {}.", words(rows, best_alone)),
        (_, shared) => format!(
            "{mark} is {better} in {}; it shares the best in {shared} more.",
            words(rows, best_alone)
        ),
    }
}

fn words(rows: &[CompareRow], keys: &[String]) -> String {
    let named = rows.iter().filter(|row| keys.contains(&row.key));
    let mut words: Vec<String> = named.map(|row| row.word.clone()).collect();
    if words.len() > NAMED {
        let more = words.len() + 1 - NAMED;
        words.truncate(NAMED - 1);
        words.push(format!("{more} more"));
    }
    match &words[..] {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => words.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::compare::rows::Better;

    fn row(key: &str, best: &[&str]) -> CompareRow {
        // Of three sets; of two where both are best.
        let sets = if best == ["P", "Q"] { 2 } else { 3 };
        CompareRow {
            key: key.to_owned(),
            name: key.to_owned(),
            word: key.to_owned(),
            better: Better::Less,
            values: Vec::new(),
            shown: vec![String::new(); sets],
            alike: false,
            best: best.iter().map(|&mark| mark.to_owned()).collect(),
            lead: None,
        }
    }

    fn told(rows: &[CompareRow], marks: &[&str]) -> Vec<String> {
        let standings: Vec<_> = marks.iter().map(|mark| standing(mark, rows)).collect();
        summary(rows, &standings)
    }

    #[test]
    fn sentences_claim_what_the_rows_say() {
        let rows = [row("a", &["P", "Q"]), row("b", &["P"]), row("c", &["Q"])];
        assert_eq!(
            told(&rows, &["P", "Q"]),
            [
                "P is better or level in all but c.",
                "Q is better or level in all but b."
            ]
        );
        let rows = [row("a", &["P"]), row("b", &["P", "R"]), row("told", &[])];
        assert_eq!(
            told(&rows, &["P", "Q", "R"]),
            [
                "P is best or level in everything.",
                "Q is behind in a and b.",
                "R is best or level in all but a."
            ]
        );
        let rows = [row("a", &["P", "Q"])];
        let level = "They are level in all that is compared.";
        assert_eq!(told(&rows, &["P", "Q"]), [level]);
    }

    #[test]
    fn what_is_shared_is_not_called_best() {
        let mut rows: Vec<_> = ["a", "b", "c", "d"].map(|key| row(key, &["P"])).into();
        rows.push(row("e", &["Q", "R"]));
        rows.push(row("f", &["R"]));
        assert_eq!(
            told(&rows, &["P", "Q", "R"]),
            [
                "P is best or level in all but e and f.",
                "Q shares the best in e.",
                "R is best in f; it shares the best in 1 more."
            ]
        );
    }

    #[test]
    fn long_lists_are_counted() {
        let keys = ["a", "b", "c", "d", "e", "f"];
        let mut rows: Vec<_> = keys.iter().map(|key| row(key, &["P"])).collect();
        rows.extend(["g", "h", "i", "j"].map(|key| row(key, &["Q"])));
        assert_eq!(
            told(&rows, &["P", "Q"]),
            [
                "P is better in a, b, c and 3 more.",
                "Q is better in g, h, i and j."
            ]
        );
    }
}
