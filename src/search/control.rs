//! Stopping early, counting work, telling how far it got.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Instant;

/// What a search listens to and reports to. Shared by all its threads.
#[derive(Debug, Default)]
pub struct Control {
    interrupted: AtomicBool,
    deadline: Option<Instant>,
    late: AtomicBool,
    nodes: AtomicU64,
    done: AtomicU64,
    total: AtomicU64,
}

/// How much of the progress one search among several is, so that what it
/// counts itself does not show beside it.
pub(super) const ONE_SEARCH: u64 = 1 << 30;

impl Control {
    /// A search that stops at `deadline`, if one is given.
    pub fn until(deadline: Option<Instant>) -> Self {
        Self {
            deadline,
            ..Self::default()
        }
    }

    /// Asks the search to stop soon.
    pub fn interrupt(&self) {
        self.interrupted.store(true, Ordering::Relaxed);
    }

    /// Whether somebody asked it to stop.
    pub fn interrupted(&self) -> bool {
        self.interrupted.load(Ordering::Relaxed)
    }

    /// Whether the search must stop, by request or by the clock.
    pub fn stopped(&self) -> bool {
        if self.interrupted() || self.late.load(Ordering::Relaxed) {
            return true;
        }
        let late = self
            .deadline
            .is_some_and(|deadline| Instant::now() >= deadline);
        if late {
            self.late.store(true, Ordering::Relaxed);
        }
        late
    }

    /// Partial choices looked at so far.
    pub fn nodes(&self) -> u64 {
        self.nodes.load(Ordering::Relaxed)
    }

    /// Steps of the whole search done, and how many there are as far as known.
    pub fn progress(&self) -> (u64, u64) {
        (
            self.done.load(Ordering::Relaxed),
            self.total.load(Ordering::Relaxed),
        )
    }

    pub(super) fn add_nodes(&self, nodes: u64) {
        self.nodes.fetch_add(nodes, Ordering::Relaxed);
    }

    pub(super) fn expect(&self, steps: u64) {
        self.total.fetch_add(steps, Ordering::Relaxed);
    }

    pub(super) fn advance(&self, steps: u64) {
        self.done.fetch_add(steps, Ordering::Relaxed);
    }
}
