//! A run's section: its checks, readings, working, notes.

use super::checks::{of_section, tag};
use super::figures::figures;
use super::inputs::inputs;
use super::pen::Pen;
use super::steps::steps;
use crate::report::finding::{of_run, word};
use crate::report::sheet::SheetRun;
use crate::report::working::Told;
use crate::study::Bands;
use maud::{Markup, html};

/// The runs by name, each with its verdict.
pub(super) fn contents(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    html! {
        nav aria-labelledby="contents" {
            h2 #contents { "Contents" }
            ol.short { @for (number, run) in sheet.shown() {
                li {
                    (standing(pen, number))
                    " " span.what { a href={ "#run-" (number) } { (run.name) } (tries(run)) }
                }
            } }
        }
    }
}

/// A run of a job under its own heading; a script by itself under none.
pub(super) fn run(pen: &Pen<'_>, number: usize, run: &SheetRun<'_>, told: &mut Told, bands: &Bands) -> Markup {
    if !pen.sheet.in_job {
        return html! { (parts(pen, number, run, told, bands)) };
    }
    html! {
        section.run id={ "run-" (number) } aria-labelledby={ "name-" (number) } {
            h2 id={ "name-" (number) } { (standing(pen, number)) " " (run.name) (tries(run)) }
            p.about { (run.purpose) " " code { (run.script.name) } }
            (of_section(pen, number))
            (parts(pen, number, run, told, bands))
        }
    }
}

fn parts(pen: &Pen<'_>, number: usize, run: &SheetRun<'_>, told: &mut Told, bands: &Bands) -> Markup {
    let notes = run.outcome.notes.iter().enumerate();
    let notes: Vec<_> = notes.filter(|(_, note)| told.once(pen.sheet, note).is_some()).collect();
    let reached = pen.carried.reached.get(number);
    html! {
        (inputs(pen, number, run))
        (steps(pen, number, run))
        (figures(pen, number, run, bands))
        @if !notes.is_empty() {
            (heading(pen, "Notes"))
            ul.notes { @for (nth, note) in notes {
                li data-at=[pen.position(number, reached.and_then(|reached| reached.notes.get(nth)))] { (pen.phrase(note)) }
            } }
        }
    }
}

/// A part's heading: below the run's, where that has one.
pub(super) fn heading(pen: &Pen<'_>, words: &str) -> Markup {
    html! { @if pen.sheet.in_job { h3 { (words) } } @else { h2 { (words) } } }
}

/// A run's worst verdict; of one without checks a dash.
fn standing(pen: &Pen<'_>, run: usize) -> Markup {
    let judges = of_run(pen.sheet, run).iter().any(|finding| finding.decides());
    let verdict = pen.sheet.verdict_of(run);
    html! { @if judges { span data-r=(run) { (tag(verdict, word(true, verdict))) } } @else { b.tag { "—" } } }
}

fn tries(run: &SheetRun<'_>) -> Markup {
    html! { @if let Some(option) = &run.tries { span.of { " tries: " (option) } } }
}
