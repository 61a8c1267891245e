//! Runs a search while somebody watches: threads, Ctrl-C, the clock, a bar.

use super::exit::{Exit, Failure};
use crate::export::Stats;
use crate::problem::Problem;
use crate::search::{Control, Outcome, Request, solve};
use indicatif::{ProgressBar, ProgressStyle};
use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// A search shorter than this needs no bar.
const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(100);

/// A search that is over.
#[derive(Debug)]
pub(super) struct Ended {
    pub(super) outcome: Outcome,
    pub(super) stats: Stats,
    /// Whether the person stopped it.
    pub(super) interrupted: bool,
}

/// Searches `problem`; the bar needs a terminal and `quiet` forbids it.
pub(super) fn search(
    problem: &Problem,
    request: Request,
    limit: Option<Duration>,
    quiet: bool,
) -> Result<Ended, Failure> {
    let start = Instant::now();
    // A limit beyond the reach of the clock is none.
    let deadline = limit.and_then(|limit| start.checked_add(limit));
    let control = Arc::new(Control::until(deadline));
    listen(&control);
    let outcome = in_pool(
        problem,
        request,
        &control,
        !quiet && std::io::stderr().is_terminal(),
    )?;
    let stats = Stats {
        seconds: start.elapsed().as_secs_f64(),
        threads: request.threads,
        nodes: control.nodes(),
    };
    Ok(Ended {
        outcome,
        stats,
        interrupted: control.interrupted(),
    })
}

/// The first Ctrl-C asks the search to stop, a second one ends the program.
fn listen(control: &Arc<Control>) {
    let control = Arc::clone(control);
    // Refused when somebody else listens already; then theirs is the say.
    let _ = ctrlc::set_handler(move || {
        if control.interrupted() {
            leave();
        }
        control.interrupt();
    });
}

#[allow(
    clippy::exit,
    reason = "asked for twice: nothing is left to do in good order"
)]
fn leave() -> ! {
    std::process::exit(i32::from(Exit::Interrupted.code()))
}

fn in_pool(
    problem: &Problem,
    request: Request,
    control: &Control,
    bar: bool,
) -> Result<Outcome, Failure> {
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(request.threads)
        .build()
        .map_err(|error| Failure::Failed(format!("no threads to search with: {error}")))?;
    let (over, listener) = channel::<()>();
    Ok(std::thread::scope(|scope| {
        if bar {
            scope.spawn(move || show_progress(&listener, control));
        }
        let outcome = pool.install(|| solve(problem, request, control));
        drop(over);
        outcome
    }))
}

/// Draws the bar until the search is over.
fn show_progress(over: &Receiver<()>, control: &Control) {
    let waited = |time| over.recv_timeout(time) == Err(RecvTimeoutError::Timeout);
    if !waited(PATIENCE) {
        return;
    }
    let bar = ProgressBar::new(0).with_elapsed(PATIENCE);
    let style = ProgressStyle::with_template("searching {bar:30} {percent:>3} %  {elapsed}")
        .unwrap_or_else(|_| ProgressStyle::default_bar());
    bar.set_style(style.progress_chars("=> "));
    loop {
        let (done, total) = control.progress();
        bar.set_length(total.max(1));
        bar.set_position(done);
        if !waited(TICK) {
            break;
        }
    }
    bar.finish_and_clear();
}
