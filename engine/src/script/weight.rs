//! What a name holds, looked through before it is used.
//!
//! The language counts what it calculates and not what it copies; and what stands inside one another without end, lists in
//! lists or closures that hold closures, ends the stack when it goes, one level in the other.

use super::limits;
use crate::diagnostic::Refusal;
use crate::tape::charge;
use rhai::{Array, Dynamic, FnPtr, Map};

/// Work of copying an item, in simple operations.
const COPIED: u64 = 5;

/// Looks through what a name holds, and counts its items as work where `counts` says so of as many.
///
/// # Errors
/// Lists, maps and closures that stand too deep inside one another, or hold too much in all.
pub(super) fn weigh(value: &Dynamic, counts: impl FnOnce(u64) -> bool) -> Result<(), Refusal> {
    let mut items = 0;
    let weighed = look_through(value, limits::NESTING, &mut items);
    if items > 0 && counts(items) {
        charge(COPIED * items);
    }
    weighed
}

fn look_through(value: &Dynamic, levels: usize, items: &mut u64) -> Result<(), Refusal> {
    if let Some(list) = value.read_lock::<Array>() {
        return all(list.iter(), levels, items);
    }
    if let Some(map) = value.read_lock::<Map>() {
        return all(map.values(), levels, items);
    }
    if let Some(closure) = value.read_lock::<FnPtr>() {
        return all(closure.curry().iter(), levels, items);
    }
    Ok(())
}

fn all<'a>(inside: impl ExactSizeIterator<Item = &'a Dynamic>, levels: usize, items: &mut u64) -> Result<(), Refusal> {
    let Some(levels) = levels.checked_sub(1) else {
        let most = limits::NESTING;
        let message = format!("lists, maps or closures stand more than {most} deep inside one another");
        return Err(Refusal::new("limit", message));
    };
    *items += inside.len() as u64;
    if *items > limits::HELD {
        let message = format!(
            "lists, maps and closures in one another hold more than {} items",
            limits::HELD
        );
        return Err(Refusal::new("limit", message));
    }
    let mut inside = inside;
    inside.try_for_each(|item| look_through(item, levels, items))
}
