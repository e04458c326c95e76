//! What stands below the verdicts: what to do next at the car, what was tried, which ways were considered.

use super::pen::Pen;
use crate::report::advice;
use crate::report::closing;
use crate::report::considered::{fate, settings, tried};
use maud::{Markup, html};

/// What to do next, and what is to be said of the readings.
pub(super) fn next(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    html! {
        (list("next", "Next at the car", &advice::next(sheet), true))
        (list("look-again", "Look again", &closing::doubts(sheet), false))
        (list("samples", "Samples", &closing::samples(sheet), false))
        (list("remarks", "About the readings", &closing::readings(sheet), false))
        @if let Some(examples) = closing::examples(sheet) {
            section.next aria-labelledby="example" { h2 #example { "Example" } p { (examples) } }
        }
    }
}

/// Options: those that runs try with what came of it, the others with their fate.
pub(super) fn ways(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    let tried = tried(sheet);
    let is_tried = |name: &str| sheet.shown().any(|(_, run)| run.tries.as_deref() == Some(name));
    let others: Vec<_> = sheet.options.iter().filter(|option| !is_tried(&option.name)).collect();
    html! {
        @if !tried.is_empty() {
            section.tried aria-labelledby="tried" {
                h2 #tried { "Tried" }
                @for attempt in &tried {
                    p { (attempt.what) }
                    @if let Some(option) = &attempt.option { p { (settings(option)) } }
                    ul { @for (run, outcome) in &attempt.runs { li { a href={ "#run-" (run) } { (outcome) } } } }
                }
            }
        }
        @if !others.is_empty() {
            section.ways aria-labelledby="ways" {
                h2 #ways { "Ways considered" }
                dl { @for option in others {
                    dt { (option.name) ". " (fate(&option.fate)) }
                    dd { (settings(option)) }
                } }
            }
        }
    }
}

fn list(id: &str, title: &str, lines: &[String], numbered: bool) -> Markup {
    if lines.is_empty() {
        return html! {};
    }
    html! {
        section.next aria-labelledby=(id) {
            h2 id=(id) { (title) }
            @if numbered {
                ol { @for line in lines { li { (line) } } }
            } @else {
                ul { @for line in lines { li { (line) } } }
            }
        }
    }
}
