//! Lengths side by side.

use super::take::{Handle, change, copy, unit, words};
use crate::figure::Bars;
use crate::script::native::Functions;
use crate::script::value;

type Held = Handle<Bars>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "bars(title)",
        "Bars on one scale, none yet: loads, utilisations, drops by segment. The scale takes what the first number \
         measures. A second name is the same bars.",
        |a| Ok(Handle::value(Bars::new(words(&a[0], "the title of bars")?))),
    );
    functions.method::<Held>(
        "bars.bar(name, size[, limit])",
        "A bar from nothing to its size; with a mark where its own limit is.",
        |a| {
            let name = value::name(&a[1], "the name of a bar")?;
            let size = value::quantity(&a[2], "the size of a bar")?;
            let limit = a.get(3).map(|limit| value::quantity(limit, "the limit of a bar"));
            let limit = limit.transpose()?;
            change(a, |bars: &mut Bars| {
                bars.part(&name, "", size)?;
                limit.map_or(Ok(()), |limit| bars.bar_limit(&name, limit))
            })
        },
    );
    functions.method::<Held>(
        "bars.part(bar, name, size)",
        "A part at the end of the bar of this name; a new bar below the others where there is none. Parts of one name look \
         alike in all bars.",
        |a| {
            let bar = value::name(&a[1], "the name of a bar")?;
            let name = value::name(&a[2], "the name of a part")?;
            let size = value::quantity(&a[3], "the size of a part")?;
            change(a, |bars: &mut Bars| bars.part(&bar, &name, size))
        },
    );
    functions.method::<Held>(
        "bars.span(name, from, to)",
        "A bar from one value to another: a range, temperatures too. Its ends are written beside it; of one that begins at \
         nothing or where another ends, how much it adds.",
        |a| {
            let name = value::name(&a[1], "the name of a bar")?;
            let from = value::quantity(&a[2], "where a bar begins")?;
            let to = value::quantity(&a[3], "where a bar ends")?;
            change(a, |bars: &mut Bars| bars.span(&name, from, to))
        },
    );
    functions.method::<Held>(
        "bars.limit(name, value)",
        "A line across all bars, with its name.",
        |a| {
            let name = words(&a[1], "the name of a limit")?;
            let limit = value::quantity(&a[2], "a limit")?;
            change(a, |bars: &mut Bars| bars.limit(name, limit))
        },
    );
    functions.method::<Held>(
        "bars.label(text[, unit])",
        "What the scale counts, and in which unit (else the usual one).",
        |a| {
            let (text, unit) = (words(&a[1], "the words of a scale")?, unit(a.get(2))?);
            change(a, |bars: &mut Bars| bars.scale.name(text, unit))
        },
    );
    functions.method::<Held>(
        "bars.copy()",
        "Other bars, as these are now: what is added to one is not in the other.",
        copy::<Bars>,
    );
}
