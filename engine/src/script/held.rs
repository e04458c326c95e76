//! What a run had, as a later run of the same job takes it: whole, or a part of it.

use super::coordinates;
use crate::outcome::Part;
use rhai::{Array, Dynamic, Map};

/// A value that a run had, for a later run of the same job to take.
#[derive(Clone, Debug)]
pub struct Held {
    pub(super) value: Dynamic,
    /// The numbers of the tape that it is, where it is a reading.
    pub(super) parts: Vec<Part>,
    /// The run and step that it comes from, where a job links it.
    pub(super) taken_from: Option<String>,
}

impl Held {
    /// The same, with the run and step that it comes from.
    pub(crate) fn linked(mut self, run: &str, step: &str) -> Self {
        self.taken_from = Some(format!("{run}: {step}"));
        self
    }

    /// A part of it: `.x` of a point or a vector, `.key` of a map, `[0]` of a list, one after the other; `None` where
    /// there is none.
    pub(crate) fn within(&self, path: &str) -> Option<Self> {
        let mut value = self.value.clone();
        let mut rest = path;
        while !rest.is_empty() {
            let (key, after) = first(rest)?;
            value = item(&value, key)?;
            rest = after;
        }
        Some(Self { value, ..self.clone() })
    }
}

/// The first key of `.x[0]` and what follows it.
fn first(path: &str) -> Option<(&str, &str)> {
    if let Some(inner) = path.strip_prefix('[') {
        return inner.split_once(']');
    }
    let inner = path.strip_prefix('.')?;
    let end = inner.find(['.', '[']).unwrap_or(inner.len());
    Some(inner.split_at(end))
}

fn item(value: &Dynamic, key: &str) -> Option<Dynamic> {
    if let Some(found) = coordinates::of(value) {
        let at = coordinates::NAMES.iter().position(|name| *name == key)?;
        return found.each.get(at).map(|each| Dynamic::from(*each));
    }
    if let Some(map) = value.read_lock::<Map>() {
        return map.get(key).cloned();
    }
    let list = value.read_lock::<Array>()?;
    list.get(key.parse::<usize>().ok()?).cloned()
}
