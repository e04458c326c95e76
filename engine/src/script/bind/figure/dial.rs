//! Directions round a circle.

use super::take::{Handle, change, copy, words};
use crate::diagnostic::Refusal;
use crate::figure::{Dial, HandKind, Sense, Zero};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;
type Held = Handle<Dial>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "dial(title[, zero[, sense]])",
        "A dial, empty yet: angles round a circle, counted from \"top\" (or \"right\"), \"clockwise\" (or \
         \"counter-clockwise\"). A second name is the same dial.",
        |a| {
            let title = words(&a[0], "the title of a dial")?;
            let zero = one_of(a.get(1), &[("top", Zero::Top), ("right", Zero::Right)])?;
            let senses = [
                ("clockwise", Sense::Clockwise),
                ("counter-clockwise", Sense::CounterClockwise),
            ];
            let sense = one_of(a.get(2), &senses)?;
            Ok(Handle::value(Dial::new(title, zero, sense)))
        },
    );
    let hands = [
        (
            "dial.hand(name, angle[, length])",
            "An arrow at an angle; with a length it is as long as that beside the other hands, else it reaches the rim.",
            HandKind::Arrow,
        ),
        (
            "dial.old_hand(name, angle[, length])",
            "The same, faint: as it was.",
            HandKind::Old,
        ),
        (
            "dial.across(name, angle)",
            "A line right across at an angle: a plane seen end on, the ears of a yoke.",
            HandKind::Across,
        ),
    ];
    for (signature, about, kind) in hands {
        functions.method::<Held>(signature, about, move |a| {
            let name = words(&a[1], "the name of a hand")?;
            let angle = value::quantity(&a[2], "the angle of a hand")?;
            let length = a.get(3).map(|length| value::quantity(length, "the length of a hand"));
            let length = length.transpose()?;
            change(a, |dial: &mut Dial| dial.hand(name, angle, length, kind))
        });
    }
    functions.method::<Held>(
        "dial.arc(name, from, to)",
        "Marks a part of the rim, from one angle on to another: what is allowed.",
        |a| {
            let name = words(&a[1], "the name of an arc")?;
            let from = value::quantity(&a[2], "where an arc begins")?;
            let to = value::quantity(&a[3], "where an arc ends")?;
            change(a, |dial: &mut Dial| dial.arc(name, from, to))
        },
    );
    functions.method::<Held>(
        "dial.copy()",
        "Another dial, as this one is now: what is added to one is not in the other.",
        copy::<Dial>,
    );
}

/// One of some words, the first where it is left out.
fn one_of<T: Copy>(value: Option<&Dynamic>, known: &[(&str, T); 2]) -> Result<T> {
    let Some(value) = value else { return Ok(known[0].1) };
    let text = value::text(value, "what a dial counts by")?;
    let found = known.iter().find(|(word, _)| *word == text);
    let unknown = || {
        let message = format!(
            "a dial counts by \"{}\" or \"{}\", not \"{text}\"",
            known[0].0, known[1].0
        );
        Refusal::new("figure", message).hint("dial(title, \"top\", \"clockwise\")")
    };
    found.map(|(_, meant)| *meant).ok_or_else(unknown)
}
