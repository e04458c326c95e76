//! What is looked up by its key, quickly, and never listed: no order can leak from it.

use super::graph::Slot;
use foldhash::fast::FixedState;
use std::collections::HashMap;
use std::hash::Hash;

/// A slot for each key.
#[derive(Debug)]
pub(super) struct Lookup<K>(HashMap<K, Slot, FixedState>);

impl<K> Default for Lookup<K> {
    fn default() -> Self {
        Self(HashMap::default())
    }
}

impl<K: Eq + Hash> Lookup<K> {
    pub(super) fn get(&self, key: &K) -> Option<Slot> {
        self.0.get(key).copied()
    }

    pub(super) fn insert(&mut self, key: K, slot: Slot) {
        self.0.insert(key, slot);
    }
}
