//! The set that a verb is about: named on the command line, picked in the file,
//! or the best by the file's ranking.

use super::choose::Wanted;
use super::delivery::{Delivers, Delivery};
use super::exit::Failure;
use super::recheck::recheck;
use super::screen::{paragraph, strong};
use super::shell::quoted;
use super::watch::{Ended, Watch};
use super::{changes, out};
use crate::export::Answer;
use crate::problem::{Change, Fault, Picked, Problem};
use crate::search::{Outcome, Request, solve};
use crate::train::Set;
use std::path::{Path, PathBuf};

/// Marks of so many ranked sets and trains are known at least: as many as
/// `solve` shows.
pub(super) const KNOWN: usize = 25;

/// A set, and how the person knows it.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    pub(super) set: Set,
    pub(super) mark: String,
    /// How it was come by, in a few words.
    pub(super) how: &'static str,
}

/// Flags of the verbs that are about one set.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct OfSet<D: clap::Args = Delivery> {
    /// The problem file
    pub(super) problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// The set that is meant: its mark or rank; the one picked in the file, else
    /// the first by rank
    #[arg(long, value_name = "MARK|RANK")]
    set: Option<String>,
    #[command(flatten)]
    pub(super) delivery: D,
    #[command(flatten)]
    watch: Watch,
}

impl<D: clap::Args + Delivers> OfSet<D> {
    /// Refuses to write over a file that is read.
    pub(super) fn spare(&self, written: Option<&Path>) -> Result<(), Failure> {
        self.changes.spare(&self.problem, written)
    }

    /// The problem with its changes.
    pub(super) fn read(&self) -> Result<(Problem, Vec<Change>), Failure> {
        self.changes.spare(&self.problem, self.delivery.output())?;
        let (_, problem, changes) = changes::read(&self.problem, &self.changes)?;
        Ok((problem, changes))
    }

    /// The same of a gearbox that may be faulty: what cannot be built is told
    /// apart, and the problem is the one without it.
    pub(super) fn read_mended(&self) -> Result<(Problem, Vec<Change>, Vec<Fault>), Failure> {
        self.changes.spare(&self.problem, self.delivery.output())?;
        changes::read_mended(&self.problem, &self.changes)
    }

    /// Whether a set is named on the command line.
    pub(super) const fn is_named(&self) -> bool {
        self.set.is_some()
    }

    /// The file as a command names it, changes included.
    pub(super) fn command_file(&self) -> String {
        quoted(&self.problem.to_string_lossy()) + &self.changes.again()
    }

    /// The set; none, told on stderr, where the problem has none at all.
    pub(super) fn chosen(&self, problem: &Problem) -> Result<Option<Chosen>, Failure> {
        let chosen = chosen(problem, self.set.as_deref(), self.watch)?;
        if chosen.is_none() {
            out::complain(&format!(
                "No set fits, so there is nothing to show.\n\n  Next     layshaft explain {}",
                self.command_file()
            ));
        }
        Ok(chosen)
    }

    /// How screens tell of the set.
    pub(super) fn shown<'a>(
        &'a self,
        chosen: &Chosen,
        changes: &'a [Change],
        width: usize,
    ) -> Shown<'a> {
        Shown::new(&self.problem, chosen.how, changes, width)
    }
}

/// What a screen tells beside its matter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shown<'a> {
    file: &'a Path,
    pub(super) how: &'static str,
    changes: &'a [Change],
    pub(super) width: usize,
}

impl<'a> Shown<'a> {
    /// For a verb with flags of its own.
    pub(super) const fn new(
        file: &'a Path,
        how: &'static str,
        changes: &'a [Change],
        width: usize,
    ) -> Self {
        Self {
            file,
            how,
            changes,
            width,
        }
    }

    /// The file and the changes, to stand in a command.
    pub(super) fn command_file(&self) -> String {
        quoted(&self.file.to_string_lossy()) + &changes::flags(self.changes)
    }

    /// A headline, and what was changed of the file.
    pub(super) fn top(&self, headline: &str) -> String {
        let mut out = String::new();
        for line in paragraph(headline, 0, self.width).lines() {
            out += &strong(line);
            out.push('\n');
        }
        for line in changes::said(self.changes) {
            out += &paragraph(&line, 0, self.width);
        }
        out
    }
}

/// The set; none where the problem has no set at all.
fn chosen(problem: &Problem, word: Option<&str>, watch: Watch) -> Result<Option<Chosen>, Failure> {
    if let (None, Some(picked)) = (word, problem.picked()) {
        return Ok(Some(Chosen {
            set: self::picked(problem, picked)?,
            mark: picked.mark.clone(),
            how: "picked in the file",
        }));
    }
    let wanted = word.map(Wanted::read).transpose()?;
    let rank = wanted.as_ref().map_or(1, Wanted::rank);
    let request = Request {
        top: rank.max(KNOWN),
        trains: if wanted.is_some() { KNOWN } else { 0 },
        threads: watch.threads(),
    };
    let Ended { outcome, .. } = watch.over(|control| solve(problem, request, control))?;
    if outcome.sets.is_empty() && outcome.front.is_empty() {
        return Ok(None);
    }
    named(problem, &outcome, wanted.as_ref()).map(Some)
}

fn named(problem: &Problem, outcome: &Outcome, wanted: Option<&Wanted>) -> Result<Chosen, Failure> {
    let answer = Answer::new(problem, outcome, KNOWN);
    let set = if let Some(wanted) = wanted {
        wanted.find(&answer)?
    } else {
        let first = outcome.sets.first().or_else(|| outcome.front.first());
        first.ok_or_else(|| Failure::Failed("the search found no set in time".to_owned()))?
    };
    recheck(problem, std::iter::once(set))?;
    Ok(Chosen {
        set: set.clone(),
        mark: answer.register().shown(set),
        how: if wanted.is_some() {
            "as you said"
        } else {
            "the first by rank"
        },
    })
}

/// The set picked in the file.
pub(super) fn picked(problem: &Problem, picked: &Picked) -> Result<Set, Failure> {
    let set = Set::picked(problem, picked).ok_or_else(|| outdated(&picked.mark))?;
    recheck(problem, std::iter::once(&set)).map_err(|_| outdated(&picked.mark))?;
    Ok(set)
}

fn outdated(mark: &str) -> Failure {
    Failure::BadInput(format!(
        "the set {mark} picked in the file no longer fits it: name another with --set, or pick \
         one with layshaft solve --pick"
    ))
}
