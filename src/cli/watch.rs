//! Runs a search while somebody watches: threads, Ctrl-C, the clock, a bar.

use super::exit::{Exit, Failure};
use crate::export::Stats;
use crate::search::Control;
use indicatif::{ProgressBar, ProgressStyle};
use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// A search shorter than this needs no bar.
const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(100);

/// Work that is over.
#[derive(Debug)]
pub(super) struct Ended<R> {
    pub(super) outcome: R,
    pub(super) stats: Stats,
    /// Whether the person stopped it.
    pub(super) interrupted: bool,
}

/// How work is watched: flags of every verb that searches.
#[derive(Clone, Copy, Debug, clap::Args)]
pub(super) struct Watch {
    /// Threads to use, 1 to 1024; one a core by default
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1024))]
    threads: Option<u32>,
    /// No progress bar
    #[arg(long)]
    quiet: bool,
    /// Stop after so long and say what is proved by then
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    time_limit: Option<Duration>,
}

impl Watch {
    /// Threads asked for, or one a core.
    pub(super) fn threads(self) -> usize {
        let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
        self.threads.map_or(cores, |threads| threads as usize)
    }

    /// Does `work` in a pool of threads; a bar shows its progress on a terminal.
    pub(super) fn over<R: Send>(
        self,
        work: impl FnOnce(&Control) -> R + Send,
    ) -> Result<Ended<R>, Failure> {
        let start = Instant::now();
        // A limit beyond the reach of the clock is none.
        let deadline = self.time_limit.and_then(|limit| start.checked_add(limit));
        let control = Arc::new(Control::until(deadline));
        listen(&control);
        let bar = !self.quiet && std::io::stderr().is_terminal();
        let outcome = in_pool(self.threads(), &control, bar, work)?;
        Ok(Ended {
            outcome,
            stats: Stats {
                seconds: start.elapsed().as_secs_f64(),
                threads: self.threads(),
                nodes: control.nodes(),
            },
            interrupted: control.interrupted(),
        })
    }
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

fn in_pool<R: Send>(
    threads: usize,
    control: &Control,
    bar: bool,
    work: impl FnOnce(&Control) -> R + Send,
) -> Result<R, Failure> {
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .map_err(|error| Failure::Failed(format!("no threads to search with: {error}")))?;
    let (over, listener) = channel::<()>();
    Ok(std::thread::scope(|scope| {
        if bar {
            scope.spawn(move || show_progress(&listener, control));
        }
        let outcome = pool.install(|| work(control));
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
    let bar = ProgressBar::new(1000).with_elapsed(PATIENCE);
    let style = ProgressStyle::with_template("searching {bar:30} {percent:>3} %  {elapsed}")
        .unwrap_or_else(|_| ProgressStyle::default_bar());
    bar.set_style(style.progress_chars("=> "));
    let mut shown = 0;
    loop {
        let (done, total) = control.progress();
        // More steps may turn up on the way; the bar does not run backwards.
        shown = shown.max(1000 * done / total.max(1));
        bar.set_position(shown);
        if !waited(TICK) {
            break;
        }
    }
    bar.finish_and_clear();
}

/// A length of time on the command line.
fn seconds(text: &str) -> Result<Duration, String> {
    let seconds = text
        .parse::<f64>()
        .map_err(|_| "not a number of seconds".to_owned())?;
    Duration::try_from_secs_f64(seconds).map_err(|_| "not a length of time".to_owned())
}
