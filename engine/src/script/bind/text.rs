//! Texts; how long lists are and what is in them; quantities as text.

use super::operators::compare;
use crate::diagnostic::Refusal;
use crate::outcome::Comparison;
use crate::script::native::Functions;
use crate::script::{value, wording};
use rhai::Dynamic;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("text and lists");
    functions.add(
        "to_string(x)",
        "As people write it; a quantity stays one inside the text.",
        |a| wording::put_in(&a[0]).map(Dynamic::from),
    );
    functions.add(
        "len(list)",
        "How many items a list or a map has, or characters a text.",
        |a| {
            let count = match (a[0].read_lock::<rhai::Array>(), a[0].read_lock::<rhai::Map>()) {
                (Some(list), _) => list.len(),
                (_, Some(map)) => map.len(),
                _ => value::text(&a[0], "the argument of len")?.chars().count(),
            };
            i64::try_from(count)
                .map(Dynamic::from)
                .map_err(|_| Refusal::new("range", "this list is too long to count"))
        },
    );
    functions.add("keys(map)", "The keys of a map, in order.", |a| {
        let map = value::map(&a[0], "the argument of keys")?;
        Ok(Dynamic::from(
            map.keys().map(|key| Dynamic::from(key.to_string())).collect::<Vec<_>>(),
        ))
    });
    functions.add(
        "contains(list, item)",
        "Whether a list of texts, counts or quantities has an item, or a map a key. Written `item in list` too.",
        |a| {
            if let Some(map) = a[0].read_lock::<rhai::Map>() {
                return Ok(Dynamic::from(map.contains_key(value::text(&a[1], "the key")?.as_str())));
            }
            let list = value::list(&a[0], "the first argument of contains")?;
            if value::as_quantity(&a[1]).is_some() {
                return has_quantity(&list, &a[1]).map(Dynamic::from);
            }
            let wanted = value::text(&a[1], "the item")?;
            let texts = list.iter().map(|item| value::text(item, "an item of the list"));
            Ok(Dynamic::from(texts.collect::<Result<Vec<_>, _>>()?.contains(&wanted)))
        },
    );
    functions.add(
        "write(q, how)",
        "A quantity as text: in a unit (\"lbf ft\"), with decimals (\"mm 1\"), as a fraction (\"in 1/16\").",
        |a| {
            let quantity = value::quantity(&a[0], "q")?;
            let how = value::text(&a[1], "how to write it")?;
            wording::written_as(quantity, &how).map(Dynamic::from)
        },
    );
    functions.add(
        "value_in(q, unit)",
        "The number of a quantity in a unit, still tracked: value_in(3.inch, \"mm\").",
        |a| {
            let quantity = value::quantity(&a[0], "q")?;
            let unit = value::text(&a[1], "the unit")?;
            crate::script::reading::value_in(quantity, &unit).map(Dynamic::from)
        },
    );
    functions.add(
        "quantity(number, unit)",
        "A number with any product of units: quantity(1.2, \"W/(m^2 K)\").",
        |a| {
            let number = value::quantity(&a[0], "the number")?;
            let unit = value::text(&a[1], "the unit")?;
            crate::script::reading::in_unit(number, &unit).map(Dynamic::from)
        },
    );
    functions.add(
        "quantity(text)",
        "A quantity as people write it: quantity(\"12-11/16 in\").",
        |a| {
            let text = value::text(&a[0], "the text")?;
            crate::script::reading::of_text(&text).map(Dynamic::from)
        },
    );
}

/// Whether an item of a list equals a number or a quantity: each comparison is a way that the script went.
fn has_quantity(list: &[Dynamic], wanted: &Dynamic) -> Result<bool, Refusal> {
    for item in list {
        let (item, wanted) = value::as_pair(item, wanted)
            .ok_or_else(|| value::wrong(item, "an item of the list", "a number or a quantity"))?;
        if compare(item, Comparison::Same, wanted)? {
            return Ok(true);
        }
    }
    Ok(false)
}
