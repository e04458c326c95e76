//! Lists: joined, made longer, changed item by item, picked from.

use crate::diagnostic::Refusal;
use crate::script::limits;
use crate::script::native::Functions;
use crate::script::value::{self, thrown};
use rhai::{Array, Dynamic, EvalAltResult, FnPtr, Map, NativeCallContext};
use std::any::TypeId;

type Thrown<T> = Result<T, Box<EvalAltResult>>;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("text and lists");
    let list = Some(TypeId::of::<Array>());
    functions.operator("+", [list, list], |a| {
        let mut joined = value::list(&a[0], "this")?;
        joined.extend(value::list(&a[1], "this")?);
        short_enough(joined.len())?;
        Ok(Dynamic::from(joined))
    });
    functions.changing(
        "list.push(item)",
        "Puts one more item at the end of a list; `list += item` does too. `a + b` joins two lists, `list[0]` is the first \
         item, `list[-1]` the last.",
        |list, item| {
            if !list.is_array() {
                return Err(value::wrong(list, "what `push` makes longer", "a list"));
            }
            let Some(mut items) = list.write_lock::<Array>() else {
                return Ok(());
            };
            let Some(item) = item.first() else { return Ok(()) };
            // Only what holds items itself can make it much longer: the rest of the list is counted then.
            let more = held(item);
            let so_far = if more > 1 { items.iter().map(held).sum() } else { items.len() };
            short_enough(so_far + more)?;
            items.push(item.clone());
            Ok(())
        },
    );
    functions.add_with_context(
        "map(list, closure)",
        "A list of what a closure makes of each item: map(rows, |row| row.current * 2), rows.map(|row| row.current).",
        |context, a| {
            let items = value::list(&a[0], "the first argument of map").map_err(thrown)?;
            let of = closure(&a[1], "map")?;
            let mut list = Array::new();
            let mut size = 0;
            for item in items {
                let item = made(context, &of, item)?;
                size += held(&item);
                short_enough(size).map_err(thrown)?;
                list.push(item);
            }
            Ok(list)
        },
    );
    functions.add_with_context(
        "filter(list, closure)",
        "The items for which a closure says yes: filter(rows, |row| row.current > 5.A). A quantity compared decides the way \
         of the script, as in an `if`.",
        |context, a| {
            let items = value::list(&a[0], "the first argument of filter").map_err(thrown)?;
            let is_kept = closure(&a[1], "filter")?;
            let mut kept = Array::new();
            for item in items {
                let answer = made(context, &is_kept, item.clone())?;
                let what = "what the closure of filter gives";
                let yes = answer.as_bool().map_err(|_| thrown(value::wrong(&answer, what, "yes or no")))?;
                if yes {
                    kept.push(item);
                }
            }
            Ok(kept)
        },
    );
}

fn closure(argument: &Dynamic, function: &str) -> Thrown<FnPtr> {
    let what = format!("the second argument of {function}");
    value::typed(argument, &what, "a closure, |x| …").map_err(thrown)
}

fn made(context: &NativeCallContext<'_>, closure: &FnPtr, item: Dynamic) -> Thrown<Dynamic> {
    closure
        .call_within_context::<Dynamic>(context, (item,))
        .map(Dynamic::flatten)
}

/// How many items a value is in a list, with what it holds.
fn held(item: &Dynamic) -> usize {
    if let Some(list) = item.read_lock::<Array>() {
        return 1 + list.iter().map(held).sum::<usize>();
    }
    match item.read_lock::<Map>() {
        Some(map) => 1 + map.values().map(held).sum::<usize>(),
        None => 1,
    }
}

fn short_enough(count: usize) -> Result<(), Refusal> {
    if count <= limits::LIST {
        return Ok(());
    }
    Err(Refusal::new("limit", "a list grows too large"))
}
