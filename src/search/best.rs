//! The best N of many, with the worst of them at hand.

use super::scale::Key;
use super::store::Values;
use crate::train::Set;
use std::collections::BinaryHeap;

/// A set in the running: ordered by key, then set order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Entry {
    pub(super) key: Key,
    pub(super) set: Set,
    pub(super) values: Values,
}

/// The best entries so far.
#[derive(Debug)]
pub(super) struct Best {
    room: usize,
    /// Nothing above this is wanted.
    ceiling: Option<Key>,
    heap: BinaryHeap<Entry>,
}

impl Best {
    pub(super) fn new(room: usize) -> Self {
        Self {
            room,
            ceiling: None,
            heap: BinaryHeap::new(),
        }
    }

    /// As much room with nothing in it.
    pub(super) fn emptied(&self) -> Self {
        Self {
            ceiling: self.ceiling,
            ..Self::new(self.room)
        }
    }

    /// Wants nothing above `ceiling` from now on.
    pub(super) fn lower_ceiling(&mut self, ceiling: Option<Key>) {
        self.ceiling = self.ceiling.into_iter().chain(ceiling).min();
    }

    /// The key that nothing wanted exceeds.
    pub(super) fn limit(&self) -> Option<Key> {
        let last = self
            .heap
            .peek()
            .filter(|_| self.is_full())
            .map(|last| last.key);
        self.ceiling.into_iter().chain(last).min()
    }

    /// Takes the ceiling away.
    pub(super) fn lift_ceiling(&mut self) {
        self.ceiling = None;
    }

    /// How many places are free.
    pub(super) fn missing(&self) -> usize {
        self.room - self.heap.len()
    }

    pub(super) fn is_full(&self) -> bool {
        self.heap.len() >= self.room
    }

    /// Whether something that can reach `key` at best is worth looking at;
    /// `ties` says whether as good as the last is good enough.
    pub(super) fn admits(&self, key: &Key, ties: bool) -> bool {
        let under = self.ceiling.is_none_or(|ceiling| *key <= ceiling);
        under
            && match self.heap.peek() {
                Some(last) if self.is_full() => *key < last.key || (ties && *key == last.key),
                _ => self.room > 0,
            }
    }

    pub(super) fn offer(&mut self, entry: Entry) {
        if !self.is_full() {
            self.heap.push(entry);
        } else if self.heap.peek().is_some_and(|last| entry < *last) {
            self.heap.pop();
            self.heap.push(entry);
        }
    }

    pub(super) fn merge(&mut self, other: Self) {
        for entry in other.heap {
            self.offer(entry);
        }
    }

    /// Best first.
    pub(super) fn into_sorted(self) -> Vec<Entry> {
        self.heap.into_sorted_vec()
    }

    /// The ranking figure that newcomers must not exceed.
    pub(super) fn last_primary(&self) -> u64 {
        self.limit().map_or(u64::MAX, |key| key.primary())
    }
}
