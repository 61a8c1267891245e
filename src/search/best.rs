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
    heap: BinaryHeap<Entry>,
}

impl Best {
    pub(super) fn new(room: usize) -> Self {
        Self { room, heap: BinaryHeap::new() }
    }

    /// As much room with nothing in it.
    pub(super) fn emptied(&self) -> Self {
        Self::new(self.room)
    }

    pub(super) fn is_full(&self) -> bool {
        self.heap.len() >= self.room
    }

    /// Whether something that can reach `key` at best is worth looking at;
    /// `ties` says whether as good as the last is good enough.
    pub(super) fn admits(&self, key: &Key, ties: bool) -> bool {
        match self.heap.peek() {
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
        match self.heap.peek() {
            Some(last) if self.is_full() => last.key.primary(),
            _ => u64::MAX,
        }
    }
}
