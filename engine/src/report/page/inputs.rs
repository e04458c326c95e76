//! Readings: what, how much, from where, how it is measured.

use super::island::setting;
use super::isolated::isolated;
use super::pen::{Pen, value};
use super::run::heading;
use crate::outcome::{Amount, Input, Origin};
use crate::report::readings;
use crate::report::sheet::SheetRun;
use crate::report::written;
use crate::script::standard;
use maud::{Markup, html};

/// All inputs of a run.
pub(super) fn inputs(pen: &Pen<'_>, number: usize, run: &SheetRun<'_>) -> Markup {
    let inputs = &run.outcome.inputs;
    if inputs.is_empty() {
        return html! {};
    }
    html! {
        (heading(pen, "Readings"))
        dl.in { @for (nth, input) in inputs.iter().enumerate() {
            // A reading is there whichever way the script goes; a link hangs on the way of another run.
            @let reached = pen.carried.reached.get(number).filter(|_| input.taken_from.is_some());
            @let at = reached.and_then(|reached| reached.inputs.get(nth));
            (one(pen, run, input, pen.position(number, at)))
        } }
    }
}

fn one(pen: &Pen<'_>, run: &SheetRun<'_>, input: &Input, at: Option<usize>) -> Markup {
    let label = html! { @match &input.label { Some(label) => (pen.phrase(label)), None => (input.name) } };
    html! {
        div data-at=[at] {
            dt { (label) " " code { (input.name) } }
            dd { (shown(pen, input)) }
            dd.from data-f=[fixed(pen, run, input)] {
                (from(run, input))
                @if let Some(per) = &input.per { "; per " (pen.phrase(per)) }
                @if let Some(own) = input.own.as_ref().filter(|own| input.assumed && **own != input.value) {
                    "; the script's own is " (written::value(own, pen.sheet.system))
                }
            }
            @if let Some(how) = input.how.as_ref().filter(|how| pen.is_new(&input.name, how)) {
                dd.how { (pen.phrase(how)) }
            }
        }
    }
}

/// The value, each number with its ±, or all with the one that they have in common.
fn shown(pen: &Pen<'_>, input: &Input) -> Markup {
    let system = pen.sheet.system;
    let linked = input.taken_from.is_some() && input.parts.is_empty();
    let in_common = readings::in_common(input, system);
    let number = |address: &str, amount: &Amount| {
        let mut parts = input.parts.iter();
        match parts.find(|part| part.address == address || Some(part.slot) == amount.slot) {
            Some(part) if in_common.is_some() => {
                let mark = pen.reading(part.input, amount, true);
                html! { span data-i=(mark) { (written::entered(amount, system)) } }
            }
            Some(part) => {
                let mark = pen.reading(part.input, amount, false);
                html! { span data-i=(mark) { (readings::number(amount, part, system)) } }
            }
            None if linked => pen.linked(amount),
            None => html! { (written::entered(amount, system)) },
        }
    };
    let spread = input.parts.iter().find(|part| standard(&part.spread) > 0.0);
    html! {
        (value(pen, &input.value, &input.name, &number))
        @match (in_common.as_ref(), spread) {
            (Some(in_common), _) => (in_common),
            (None, Some(part)) => (readings::whose(input, part)),
            (None, None) => {},
        }
    }
}

/// What `--set` calls an input that no number can move: a choice, a count.
fn fixed(pen: &Pen<'_>, run: &SheetRun<'_>, input: &Input) -> Option<String> {
    let is_fixed = input.parts.is_empty() && input.taken_from.is_none();
    is_fixed.then(|| setting(pen.sheet, run, input))
}

/// `measured 2026-05-16 by M., micrometer at a cut end; mean of 2.1 mm, 2.12 mm`.
fn from(run: &SheetRun<'_>, input: &Input) -> Markup {
    let given = matches!(input.origin, Origin::Measured | Origin::Chosen);
    let taken = run.taken(&input.name).filter(|_| given);
    html! {
        @let mark = match input.origin {
            Origin::Example => Some("example"),
            Origin::Trial => Some("trial"),
            _ => None,
        };
        b class=[mark] { (readings::source(input, run)) }
        @if let Some(taken) = taken {
            @if let Some(on) = &taken.on { " " (on) }
            @if let Some(by) = &taken.by { " by " (isolated(by)) }
            @if let Some(with) = &taken.with { ", " (isolated(with)) }
            @if taken.reading != input.name { ", as " code { (taken.reading) } }
            @if !taken.repeats.is_empty() { "; mean of " (taken.repeats.join(", ")) }
        }
    }
}
