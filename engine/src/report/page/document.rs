//! The whole file.

use super::after::{next, ways};
use super::checks::checks;
use super::island::island;
use super::pen::{Pen, without_marks};
use super::record::{digest, record};
use super::run::{contents, run};
use super::script::script;
use super::top::{care, top, verdict};
use crate::outcome::{Origin, Outcome};
use crate::report::figure::FIGURE_STYLE;
use crate::report::file_of_page::file_of_page;
use crate::report::sheet::{AID, Sheet};
use crate::report::working::Told;
use crate::study::{Bands, carry};
use crate::tape::{Slot, Tape};
use maud::{Markup, PreEscaped, html};

/// How the page looks.
const STYLE: &str = include_str!("page.css");

/// What the page says of how it was made.
#[derive(Clone, Copy, Debug)]
pub struct Made<'a> {
    /// The program with its version: `crankline 0.1.0`.
    pub program: &'a str,
    /// The command without the program's name and without values tried: `run car.toml`.
    pub command: &'a str,
    /// Values tried, as the command takes them: `wall=0.095 in`.
    pub set: &'a [String],
    /// The tape of all runs.
    pub tape: &'a Tape,
    /// What each run of the sheet yielded.
    pub outcomes: &'a [Outcome],
    /// The bands of the lines of their charts.
    pub bands: &'a Bands,
}

/// Names in a page's running head.
const NAMED: usize = 4;

/// The sheet as one HTML file that fetches nothing.
#[must_use]
pub fn page(sheet: &Sheet<'_>, made: &Made<'_>) -> String {
    let names: Vec<&str> = sheet.runs.iter().map(|run| run.name.as_str()).collect();
    let pictured = made.outcomes.iter().flat_map(|outcome| &outcome.figures);
    let pictured = pictured.flat_map(|shown| shown.figure.amounts());
    let pictured: Vec<Slot> = pictured.filter_map(|amount| amount.slot).collect();
    let carried = carry(made.tape, made.outcomes, &names, sheet.in_job, &pictured);
    let pen = Pen::new(sheet, &carried);
    let (body, marks) = without_marks(&body(&pen, made).into_string());
    let island = island(pen, made, &marks);
    let script = script();
    let body = html! {
        (PreEscaped(body))
        script #island type="application/json" { (PreEscaped(island)) }
        script type="module" { (PreEscaped(&script)) }
    };
    file_of_page(&sheet.title, &[FIGURE_STYLE, STYLE], &script, &body)
}

/// A table of one column: its head and its foot are what a printer repeats on every sheet of paper.
fn body(pen: &Pen<'_>, made: &Made<'_>) -> Markup {
    let sheet = pen.sheet;
    let mut told = Told::default();
    html! {
        table.paper role="presentation" {
            thead { tr { td { (running_head(pen)) } } }
            tbody { tr { td {
                (top(pen))
                main {
                    (verdict(pen))
                    (care(pen))
                    (checks(pen))
                    (next(pen))
                    (ways(pen))
                    @if sheet.in_job { (contents(pen)) }
                    @for (number, of_sheet) in sheet.shown() { (run(pen, number, of_sheet, &mut told, made.bands)) }
                    (record(pen, made))
                }
                footer { p.aid { (AID) } }
            } } }
        }
    }
}

/// What every printed page says: what it is, what is only tried, what nobody measured, of which texts.
fn running_head(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    let tried: Vec<&str> = names(sheet, |origin| origin == Origin::Trial);
    let examples: Vec<&str> = names(sheet, |origin| origin == Origin::Example);
    html! {
        div.running aria-hidden="true" {
            p { b { (sheet.title) } }
            p #running-trial { @if sheet.is_trial() { b { "TRIAL" } " " (some_of(&tried)) } }
            @if !examples.is_empty() { p { b { "Not measured" } " " (some_of(&examples)) } }
            p { b { "Digest" } " " (digest(sheet).chars().take(16).collect::<String>()) }
            p { (AID) }
        }
    }
}

/// Names of inputs of the runs shown, each once.
fn names<'a>(sheet: &'a Sheet<'_>, wanted: impl Fn(Origin) -> bool) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for input in sheet
        .shown()
        .filter(|(_, run)| run.tries.is_none())
        .flat_map(|(_, run)| &run.outcome.inputs)
    {
        if wanted(input.origin) && !names.contains(&input.name.as_str()) {
            names.push(&input.name);
        }
    }
    names
}

/// `wall, length and 7 more`.
fn some_of(names: &[&str]) -> String {
    let (first, rest) = names.split_at(names.len().min(NAMED));
    let more = if rest.is_empty() {
        String::new()
    } else {
        format!(" and {} more", rest.len())
    };
    format!("{}{more}", first.join(", "))
}
