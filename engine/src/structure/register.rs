//! Things with names of their own, in the order in which they came.

use crate::diagnostic::{Refusal, nearest};
use std::collections::BTreeMap;

/// Things of one kind, each with a name.
#[derive(Clone, Debug)]
pub(super) struct Register<T> {
    kind: &'static str,
    most: usize,
    places: BTreeMap<String, usize>,
    names: Vec<String>,
    items: Vec<T>,
}

impl<T> Register<T> {
    pub(super) const fn new(kind: &'static str, most: usize) -> Self {
        Self {
            kind,
            most,
            places: BTreeMap::new(),
            names: Vec::new(),
            items: Vec::new(),
        }
    }

    /// Adds one; its name must be new.
    pub(super) fn add(&mut self, name: &str, item: T) -> Result<(), Refusal> {
        let kind = self.kind;
        if self.places.contains_key(name) {
            let message = format!("there is a {kind} {name:?} already; give this one a name of its own");
            return Err(Refusal::new("structure", message));
        }
        if self.items.len() >= self.most {
            let message = format!(
                "this would be {kind} number {}; at most {} fit",
                self.most + 1,
                self.most
            );
            return Err(Refusal::new("limit", message));
        }
        self.places.insert(name.to_owned(), self.items.len());
        self.names.push(name.to_owned());
        self.items.push(item);
        Ok(())
    }

    /// The place of the one with this name.
    pub(super) fn find(&self, name: &str) -> Result<usize, Refusal> {
        self.places.get(name).copied().ok_or_else(|| {
            let near = nearest(name, self.names.iter().map(String::as_str));
            Refusal::new("structure", format!("there is no {} {name:?}", self.kind))
                .maybe_hint(near.map(|near| format!("{near:?}")))
        })
    }

    /// The one with this name, to change it.
    pub(super) fn change(&mut self, name: &str) -> Result<&mut T, Refusal> {
        let place = self.find(name)?;
        Ok(&mut self.items[place])
    }

    pub(super) fn name(&self, place: usize) -> &str {
        &self.names[place]
    }

    pub(super) fn names(&self) -> &[String] {
        &self.names
    }

    pub(super) fn items(&self) -> &[T] {
        &self.items
    }

    pub(super) fn last_mut(&mut self) -> Option<&mut T> {
        self.items.last_mut()
    }
}
