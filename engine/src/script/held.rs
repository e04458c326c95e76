//! What a run had, as a later run of the same job takes it: whole, or a part of it.

use super::coordinates;
use super::run::GivenValue;
use crate::outcome::Part;
use crate::tape::Slot;
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

    /// The input of the tape that stands in a slot.
    pub(super) fn part(&self, slot: Option<Slot>) -> Option<Part> {
        self.parts.iter().find(|part| Some(part.slot) == slot).cloned()
    }

    /// A list or a map of values that stand on the tape, as one that is given: each item is looked at like a written one.
    pub(super) fn items(given: &GivenValue) -> Option<GivenValue> {
        let GivenValue::Tracked(held) = given else { return None };
        let item = |value: &Dynamic| {
            let (value, parts) = (value.clone(), held.parts.clone());
            GivenValue::Tracked(Held {
                value,
                parts,
                taken_from: None,
            })
        };
        if let Some(list) = held.value.read_lock::<Array>() {
            return Some(GivenValue::List(list.iter().map(item).collect()));
        }
        let map = held.value.read_lock::<Map>()?;
        let fields = map.iter().map(|(key, value)| (key.to_string(), item(value)));
        Some(GivenValue::Fields(fields.collect()))
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
