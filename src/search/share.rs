//! Work taken by threads from a counter.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Lets threads take places `0..count` from a counter, each with a state of its
/// own, and gathers the states. Order cannot show in an exact result.
pub(super) fn share<S: Send>(
    threads: usize,
    count: usize,
    start: impl Fn() -> S + Sync,
    work: impl Fn(&mut S, usize) + Sync,
) -> Vec<S> {
    let next = AtomicUsize::new(0);
    let run = || {
        let mut state = start();
        loop {
            let place = next.fetch_add(1, Ordering::Relaxed);
            if place >= count {
                return state;
            }
            work(&mut state, place);
        }
    };
    if threads <= 1 || count <= 1 {
        return vec![run()];
    }
    let states = Mutex::new(Vec::new());
    on_threads(threads, &|| {
        let state = run();
        if let Ok(mut states) = states.lock() {
            states.push(state);
        }
    });
    states.into_inner().unwrap_or_default()
}

/// Apart from [`share`] so that the machinery of threads is compiled once, not
/// for every kind of work.
fn on_threads(threads: usize, work: &(dyn Fn() + Sync)) {
    rayon::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|_| work());
        }
    });
}
