//! The working: every step with its value; folded, how it came about.

use super::pen::Pen;
use super::run::heading;
use crate::outcome::{Line, Opened, Step, Value};
use crate::report::results::{Leaf, flat, leaves};
use crate::report::sheet::SheetRun;
use crate::report::working::{is_written, put_in};
use crate::report::written;
use maud::{Markup, html};

/// All steps of a run, under their headings.
pub(super) fn steps(pen: &Pen<'_>, number: usize, run: &SheetRun<'_>) -> Markup {
    let steps = &run.outcome.steps;
    if steps.is_empty() {
        return html! {};
    }
    let mut before = Vec::new();
    html! {
        (heading(pen, "Working"))
        div.work { @for (nth, step) in steps.iter().enumerate() {
            @let above = nth.checked_sub(1).and_then(|above| steps.get(above)).and_then(|above| above.heading.as_ref());
            @if let Some(heading) = step.heading.as_ref().filter(|heading| Some(*heading) != above) {
                p.head { (pen.phrase(heading)) }
            }
            @let at = pen.carried.reached.get(number).and_then(|reached| reached.steps.get(nth));
            (one(pen, (number, pen.position(number, at)), step, &mut before))
        } }
    }
}

/// What functions have shown on this page, and under which step of the run.
type Before<'a> = Vec<&'a Opened>;

fn one<'a>(pen: &Pen<'_>, (run, at): (usize, Option<usize>), step: &'a Step, before: &mut Before<'a>) -> Markup {
    let sheet = pen.sheet;
    let leaves = leaves(sheet, run, step);
    let put_in = put_in(sheet, step, &flat(sheet, run, step)).is_some();
    html! {
        details data-at=[at] {
            summary {
                span {
                    @match &step.label { Some(label) => (pen.phrase(label)), None => (step.name) }
                }
                " " b { @match leaves.as_slice() {
                    [single] => (result(pen, run, step, single)),
                    several => @for leaf in several { span { (result(pen, run, step, leaf)) } },
                } }
            }
            p { b { (step.name) } " = " (step.formula) }
            @if put_in { p { "= " (pen.formula(&step.substituted)) } }
            (opened(pen, &step.opened, before, true))
            @let line = step.place.as_ref().map(|place| place.line);
            @if line.is_some() || step.per.is_some() {
                p.from {
                    @if let Some(per) = &step.per { "per " (pen.phrase(per)) @if line.is_some() { "; " } }
                    @if let Some(line) = line { "line " (line) }
                }
            }
        }
    }
}

fn result(pen: &Pen<'_>, run: usize, step: &Step, leaf: &Leaf<'_>) -> Markup {
    let key = leaf.key();
    html! {
        @if !key.is_empty() { span.key { (key) } " " }
        @match leaf.value {
            Value::Amount(amount) => (pen.with_interval(amount, leaf.interval(pen.sheet, run, step))),
            Value::Text(text) => (pen.phrase(text)),
            other => (written::value(other, pen.sheet.system)),
        }
        @if let Some(samples) = &leaf.samples { ", " (samples) }
    }
}

/// The lines of the functions that a formula calls, each function once.
fn opened<'a>(pen: &Pen<'_>, functions: &'a [Opened], before: &mut Before<'a>, outermost: bool) -> Markup {
    html! { @for function in functions {
        @let given = html! { @for (name, value) in &function.given { ", " (name) " = " (pen.formula(value)) } };
        @if before.contains(&function) {
            // Of a single line, or within a function, it is clear from the number alone.
            @if outermost && function.lines.len() > 1 { p.call { "in " b { (function.function) } (given) ": as above" } }
        } @else {
            div.fn {
                p.call { "in " b { (function.function) } (given) ":" }
                (lines(pen, function, before))
            }
        }
    } }
}

fn lines<'a>(pen: &Pen<'_>, function: &'a Opened, before: &mut Before<'a>) -> Markup {
    before.push(function);
    html! { @for line in &function.lines { (self::line(pen, line, before)) } }
}

fn line<'a>(pen: &Pen<'_>, line: &'a Line, before: &mut Before<'a>) -> Markup {
    let text = |phrase| written::formula(phrase, pen.sheet.system);
    let (put_in, value) = (text(&line.substituted), text(&line.value));
    html! {
        p {
            @if let Some(name) = &line.name { b { (name) } " " }
            "= " (line.formula)
            @if put_in != line.formula && is_written(&put_in) { " = " (pen.formula(&line.substituted)) }
            @if value != line.formula && value != put_in && is_written(&value) { " = " (pen.formula(&line.value)) }
        }
        (opened(pen, &line.opened, before, false))
    }
}
