//! Where in two directions all holds.

use super::take::{Handle, change, copy, numbers, unit, words};
use crate::diagnostic::Refusal;
use crate::figure::{Axis, PassMap};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Held = Handle<PassMap>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "pass_map(title, xs, ys, margins)",
        "A map of what holds where two things may be chosen: two lists of places, and for each y a list of margins, one \
         for each x: what is left to the limit, negative where it does not hold. Of several limits take the least: \
         ys.map(|y| xs.map(|x| min(1.0 - stress(x, y) / limit, …))). \
         Between places the margin goes in a straight line.",
        |a| {
            let title = words(&a[0], "the title of a map")?;
            let (xs, ys) = (numbers(&a[1], "the xs")?, numbers(&a[2], "the ys")?);
            let rows = value::list(&a[3], "the margins")?;
            let rows = rows.iter().map(|row| numbers(row, "a row of margins"));
            let rows: Vec<_> = rows.collect::<Result<_, _>>()?;
            Ok(Handle::value(PassMap::of_margins(title, &xs, &ys, &rows)?))
        },
    );
    functions.method::<Held>(
        "pass_map.mark(name, x, y)",
        "Marks one place, with its name beside it: as it is, as it was.",
        |a| {
            let name = words(&a[1], "the name of a mark")?;
            let x = value::quantity(&a[2], "where a mark stands")?;
            let y = value::quantity(&a[3], "where a mark stands")?;
            change(a, |map: &mut PassMap| map.mark(name, x, y))
        },
    );
    functions.method::<Held>(
        "pass_map.x_label(text[, unit])",
        "What goes on to the right, and in which unit (else the usual one).",
        |a| named(a, |map| &mut map.x),
    );
    functions.method::<Held>(
        "pass_map.y_label(text[, unit])",
        "What goes on upward, and in which unit.",
        |a| named(a, |map| &mut map.y),
    );
    functions.method::<Held>(
        "pass_map.copy()",
        "Another map, as this one is now: what is added to one is not in the other.",
        copy::<PassMap>,
    );
}

/// Names a scale.
fn named(a: &[Dynamic], axis: fn(&mut PassMap) -> &mut Axis) -> Result<Dynamic, Refusal> {
    let (text, unit) = (words(&a[1], "the words of a scale")?, unit(a.get(2))?);
    change(a, |map: &mut PassMap| axis(map).name(text, unit))
}
