//! The command line: one file per verb. The only part that prints.
//!
//! In: arguments. Out: text on stdout or in a file, messages on stderr, an
//! exit code. Assumed: nothing.

mod changes;
mod check;
mod choose;
mod chosen;
mod compare;
mod completions;
mod delivery;
mod draw;
mod exit;
mod explain;
mod gear;
mod idler;
mod layout;
pub mod new;
mod next;
mod out;
mod recheck;
mod report;
mod schema;
mod screen;
mod sheets;
mod shell;
mod solve;
mod start;
mod stock;
mod strength;
mod sweep;
mod table;
mod watch;
mod words;

pub use exit::{Exit, Failure};

use clap::{CommandFactory, Parser, Subcommand};
use std::ffi::OsString;
use std::process::ExitCode;

/// Settles the gears of a small gearbox before metal is cut.
#[derive(Debug, Parser)]
#[command(name = "layshaft", version, max_term_width = 100)]
struct Cli {
    #[command(subcommand)]
    verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// Find the tooth counts: every set counted, the best ones proved
    Solve(solve::Args),
    /// Say why nothing fits and what would; or what one more step would buy
    Explain(explain::Args),
    /// Compare centre distances: what each of them buys
    Sweep(sweep::Args),
    /// Set some sets side by side: what each of them is best at
    Compare(compare::Args),
    /// Place everything along the shafts: planes, sleeves, shift pattern, bores
    Layout(layout::Args),
    /// Find where the reverse idler can sit: both sides, gaps, pin loads
    Idler(idler::Args),
    /// Plan the bars: what to buy, what to cut from what, cutters, money
    Stock(stock::Args),
    /// Print a page a gear: blank, cutter, dividing, what to measure
    Sheets(sheets::Args),
    /// Draw views, boring plans, gears and plates; bodies for CAD and printers
    Draw(draw::Args),
    /// Look over a gearbox whose teeth are known: what is wrong, where, what next
    Check(check::Args),
    /// Print one gear, a pair or a reverse train: figures to cut and to measure
    Gear(Box<gear::Args>),
    /// Write one page to look at: drawings, choice, plans, all figures inside
    Report(report::Args),
    /// Write a working problem file from a few figures
    New(Box<new::Args>),
    /// Print the JSON Schema of the problem file
    Schema(schema::Args),
    /// Print a script that completes commands in your shell
    Completions(completions::Args),
}

/// Runs the command line `args`, the program's name first.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let exit = match Cli::try_parse_from(args) {
        Ok(cli) => verb(cli.verb).unwrap_or_else(|failure| {
            out::complain(failure.text());
            failure.exit()
        }),
        Err(usage) => refuse(&usage),
    };
    exit.into()
}

fn verb(verb: Option<Verb>) -> Result<Exit, Failure> {
    match verb {
        None => start::run(),
        Some(Verb::Solve(args)) => solve::run(&args),
        Some(Verb::Explain(args)) => explain::run(&args),
        Some(Verb::Sweep(args)) => sweep::run(&args),
        Some(Verb::Compare(args)) => compare::run(&args),
        Some(Verb::Layout(args)) => layout::run(&args),
        Some(Verb::Idler(args)) => idler::run(&args),
        Some(Verb::Stock(args)) => stock::run(&args),
        Some(Verb::Sheets(args)) => sheets::run(&args),
        Some(Verb::Draw(args)) => draw::run(&args),
        Some(Verb::Check(args)) => check::run(&args),
        Some(Verb::Gear(args)) => gear::run(&args),
        Some(Verb::Report(args)) => report::run(&args),
        Some(Verb::New(args)) => begin(&args),
        Some(Verb::Schema(args)) => schema::run(&args),
        Some(Verb::Completions(args)) => completions::run(&args, &mut Cli::command()),
    }
}

fn begin(args: &new::Args) -> Result<Exit, Failure> {
    let answer = new::run(args, out::stderr_has_colour());
    match answer.code {
        0 => {
            out::deliver_text(None, &screen::Screen::of(None), &answer.stdout).map(|()| Exit::Done)
        }
        2 => Err(Failure::BadInput(answer.stderr)),
        _ => Err(Failure::Failed(answer.stderr)),
    }
}

/// Help and version are asked for, all else is a wrong command line.
fn refuse(usage: &clap::Error) -> Exit {
    // A pipe closed by the reader is no failure.
    let _ = usage.print();
    if usage.use_stderr() {
        Exit::BadInput
    } else {
        Exit::Done
    }
}
