//! `layshaft solve`: which tooth counts.

mod alike;
mod apart;
mod best;
mod certified;
mod closing;
mod detail;
mod engine;
mod list;
mod lists;
mod misses;
mod page;
mod pick;
mod refused;
mod rows;
mod sheets;

use super::choose::{self, MOST_LISTED};
use super::exit::{Exit, Failure};
use super::recheck::recheck_all;
use super::screen::Screen;
use super::watch::Watch;
use super::{changes, out};
use crate::export::{Answer, Stats, write_csv};
use crate::problem::{Change, Measure, Problem, Ranking, Source};
use crate::search::{
    Alternatives, Control, Outcome, Request, Status, Walk, certify, nearest, solve,
    solve_alternatives,
};
use clap::ValueEnum;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use std::path::PathBuf;

/// Arguments of `solve`.
#[derive(Debug, clap::Args)]
#[allow(clippy::struct_excessive_bools, reason = "flags are independent")]
pub(super) struct Args {
    /// The problem file
    problem: PathBuf,
    #[command(flatten)]
    changes: changes::Wanted,
    /// List the ranked sets one by one, not grouped by forward train
    #[arg(long)]
    every: bool,
    /// How many ranked sets to list, 0 to 100000
    #[arg(long, value_name = "N", default_value_t = USUAL_TOP,
        value_parser = clap::value_parser!(u32).range(0..=i64::from(MOST_LISTED)))]
    top: u32,
    /// List only sets that differ from every set listed before in K gears or
    /// more: driver against driver, driven against driven of the head and of
    /// each speed, driver, idler and driven of reverse; a gear is its module
    /// and its teeth. Ranks stay those of the whole ranking
    #[arg(long, value_name = "K", value_parser = clap::value_parser!(u32).range(1..))]
    differ_by: Option<u32>,
    /// What ranks the sets; the file's own ranking by default
    #[arg(long, value_name = "BY", value_parser = rankings())]
    sort: Option<Ranking>,
    /// What makes a set unbeaten, in order; the file's own measures by default
    #[arg(long, value_name = "A,B,C", value_delimiter = ',', value_parser = measures())]
    measures: Vec<Measure>,
    /// Show this set gear by gear: its mark (4 characters or more) or rank
    #[arg(long, value_name = "MARK|RANK", conflicts_with = "pick")]
    set: Option<String>,
    /// Show this set and store it in the problem file as the one picked
    #[arg(long, value_name = "MARK|RANK")]
    pick: Option<String>,
    /// Tell what to cut and to measure on each gear of the set shown
    #[arg(long)]
    inspect: bool,
    /// Prove the list of unbeaten sets once more, by integer programs
    #[arg(long)]
    certify: bool,
    /// What answers: the search, or for small problems one integer program
    /// that makes the measure named by --sort least
    #[arg(long, value_enum, default_value_t = Engine::Search, conflicts_with_all =
        ["certify", "every", "top", "measures", "set", "pick", "differ_by"])]
    engine: Engine,
    /// Spelling of the result
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Write the result to a file
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    watch: Watch,
    /// Tell time, threads and nodes
    #[arg(long)]
    stats: bool,
}

const USUAL_TOP: u32 = 20;

/// Spellings of the result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people
    Text,
    /// Everything, for programs
    Json,
    /// The ranked sets as a table
    Csv,
}

/// What answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Engine {
    /// Everything: count, unbeaten sets, ranking
    Search,
    /// One set, by one integer program
    Program,
}

fn rankings() -> impl TypedValueParser<Value = Ranking> {
    let word = |word: String| {
        Ranking::ALL
            .into_iter()
            .find(|ranking| ranking.word() == word)
    };
    PossibleValuesParser::new(Ranking::ALL.map(Ranking::word))
        .try_map(move |text| word(text).ok_or("no such ranking"))
}

fn measures() -> impl TypedValueParser<Value = Measure> {
    let word = |word: String| {
        Measure::ALL
            .into_iter()
            .find(|measure| measure.word() == word)
    };
    PossibleValuesParser::new(Measure::ALL.map(Measure::word))
        .try_map(move |text| word(text).ok_or("no such measure"))
}

pub(super) fn run(args: &Args) -> Result<Exit, Failure> {
    let (source, problem, changes) = read(args)?;
    if args.engine == Engine::Program {
        return engine::run(args, &problem, changes);
    }
    let wanted = args.set.as_ref().or(args.pick.as_ref());
    let wanted = wanted.map(|word| choose::Wanted::read(word)).transpose()?;
    let request = request(args, wanted.as_ref());
    let alternatives = apart::wanted(args.differ_by, &problem)?;
    let ended = args.watch.over(|control| {
        let (outcome, walk) = search(&problem, request, alternatives, control);
        let whole = args.certify && outcome.status == Status::Proven;
        let certificate = whole.then(|| certify(&problem, &outcome.front, control));
        let checked = recheck_all(&problem, &outcome);
        (checked.map(|()| outcome), walk, certificate)
    })?;
    let (checked, walk, certificate) = ended.outcome;
    let outcome = &checked?;
    certified::refuse_refuted(&problem, certificate.as_ref())?;
    let mut answer = Answer::new(&problem, outcome, args.top as usize);
    if let Some(walk) = &walk {
        answer = answer.walked(walk.clone());
    }
    answer.certificate.clone_from(&certificate);
    answer.changes = changes;
    if let Some(wanted) = wanted.filter(|_| answer.has_sets()) {
        answer.chosen = Some(wanted.find(&answer)?);
    }
    if !answer.has_sets() && args.format != Format::Csv {
        answer.nearest = Some(nearest(&problem));
    }
    if let (Some(_), Some(set)) = (&args.pick, answer.chosen) {
        pick::store(&source, &answer, set)?;
        answer.picked = true;
    }
    answer.inspected = args.inspect || answer.chosen.is_some();
    answer.stats = args.stats.then_some(ended.stats);
    write(args, &answer, ended.interrupted)?;
    if args.stats && args.format != Format::Json {
        tell(ended.stats);
    }
    if args.format == Format::Csv {
        apart::warn(&answer);
    }
    let open = certificate.as_ref().is_some_and(|c| c.open > 0);
    Ok(match outcome.status {
        Status::Proven if answer.has_sets() && !open => Exit::Done,
        _ if !answer.has_sets() && !open => Exit::No,
        _ if ended.interrupted => Exit::Interrupted,
        _ => Exit::Stopped,
    })
}

fn search(
    problem: &Problem,
    request: Request,
    alternatives: Option<Alternatives>,
    control: &Control,
) -> (Outcome, Option<Walk>) {
    match alternatives {
        None => (solve(problem, request, control), None),
        Some(wanted) => {
            let (outcome, walk) = solve_alternatives(problem, request, wanted, control);
            (outcome, Some(walk))
        }
    }
}

/// The problem as the command line wants it ranked.
fn read(args: &Args) -> Result<(Source, Problem, Vec<Change>), Failure> {
    if let Some(twice) = repeated(&args.measures) {
        let text = format!("--measures names {} twice: once will do", twice.word());
        return Err(Failure::BadInput(text));
    }
    args.changes.spare(&args.problem, args.output.as_deref())?;
    let (source, problem, changes) = changes::read(&args.problem, &args.changes)?;
    let ranking = args.sort.unwrap_or(problem.ranking());
    let problem = problem.ranked(ranking, args.measures.clone());
    if let Some((what, next)) = problem.uncountable() {
        return Err(Failure::BadInput(format!("{what}\n  next: {next}")));
    }
    let unknown = unknown_to_programs(&problem);
    if let Some((what, way_out)) =
        unknown.filter(|_| args.certify || args.engine == Engine::Program)
    {
        return Err(Failure::BadInput(format!(
            "The integer programs know nothing of {what}: leave out --certify and --engine, or \
             {way_out}"
        )));
    }
    if args.certify && problem.measures_purchases() {
        let text = "--certify knows worst_error, blank_volume and distinct_cutters: leave the \
                    other measures to the search, or ask for one by --engine program";
        return Err(Failure::BadInput(text.to_owned()));
    }
    Ok((source, problem, changes))
}

/// What a problem asks for and the integer programs do not know, and how not to ask.
fn unknown_to_programs(problem: &Problem) -> Option<(&'static str, &'static str)> {
    let strength = ("the strength of teeth", "duty.min_safety");
    let pin = (
        "gears that the idler's pin passes",
        "set idler.held_in to \"output wall\"",
    );
    let asked = problem.asks_strength().then_some(strength);
    asked.or_else(|| problem.passed_by_pin().map(|_| pin))
}

fn repeated(measures: &[Measure]) -> Option<Measure> {
    let seen_before = |(i, measure): &(usize, &Measure)| measures[..*i].contains(measure);
    measures
        .iter()
        .enumerate()
        .find(seen_before)
        .map(|(_, measure)| *measure)
}

fn request(args: &Args, wanted: Option<&choose::Wanted>) -> Request {
    let top = args.top as usize;
    // A mark may be one that the text showed, whatever is written now.
    let text = args.format == Format::Text && !args.every;
    // Alternatives take the place of further trains, and are named as listed.
    let plain = args.differ_by.is_none();
    let trains = if plain && (text || wanted.is_some()) {
        top + rows::WORTH_A_LOOK
    } else {
        0
    };
    Request {
        top: match wanted {
            Some(wanted) if plain => top.max(wanted.rank()),
            _ => top,
        },
        trains: trains.min(MOST_TRAINS),
        threads: args.watch.threads(),
    }
}

/// A screen of text shows no more.
const MOST_TRAINS: usize = 200;

fn write(args: &Args, answer: &Answer<'_>, interrupted: bool) -> Result<(), Failure> {
    let output = args.output.as_deref();
    match args.format {
        Format::Csv => out::deliver(output, |to| write_csv(answer, to)),
        Format::Json => out::deliver_json(output, answer),
        Format::Text => {
            let screen = Screen::of(output);
            let view = page::View { args, interrupted };
            out::deliver_text(output, &screen, &page::page(answer, &screen, &view))
        }
    }
}

fn tell(stats: Stats) {
    let Stats {
        seconds,
        threads,
        nodes,
    } = stats;
    out::complain(&format!(
        "time {seconds:.3} s, threads {threads}, nodes {nodes}"
    ));
}
