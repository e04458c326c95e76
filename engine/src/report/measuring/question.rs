//! One reading asked for on a terminal.

use super::super::layout::{Page, WIDTH, length};
use super::super::readings;
use super::example::example;
use super::groups::{Kind as Group, Measuring};
use super::remarks;
use crate::job::{Column, Kind, Wanted};

/// Where remarks begin.
const COLUMN: usize = 6;
/// Rows of an example that are shown.
const ROWS: usize = 2;

/// The question for a reading, the `number`th of so many.
#[must_use]
pub fn question(wanted: &Wanted, (number, of): (usize, usize), sheet: &Measuring<'_>) -> String {
    let mut page = Page::default();
    let system = sheet.system;
    let heading = sheet.heading(wanted);
    let count = format!("{number} of {of}");
    let gap = WIDTH.saturating_sub(length(&heading) + length(&count)).max(2);
    page.line(&format!("{heading}{}{count}", " ".repeat(gap)));
    page.block(2, &readings::label(&wanted.input, system));
    let decided = (Group::of(wanted) == Group::Decided).then(|| "decided, or read off a plate".to_owned());
    let lines = [remarks::how(wanted, system), decided, remarks::all(wanted, system)];
    for line in lines.into_iter().flatten() {
        page.block(COLUMN, &line);
    }
    for line in form(wanted, sheet) {
        page.block(COLUMN, &line);
    }
    page.text
}

/// What to type, by an example.
fn form(wanted: &Wanted, sheet: &Measuring<'_>) -> Vec<String> {
    let example = example(&wanted.input, sheet.system).answer();
    let kind = Kind::of(&wanted.input.value);
    let mut lines = Vec::new();
    match &kind {
        Kind::Table(columns) | Kind::Row(columns) => lines.push(format!("a row: {}", names(columns))),
        Kind::List(_) => lines.push("one on a line".to_owned()),
        _ => {}
    }
    if kind.has_rows() {
        lines.push("an empty line after the last; `back` takes one back".to_owned());
        lines.extend(example.iter().take(ROWS).map(|row| format!("example: {row}")));
    } else {
        lines.push(match noted(wanted, sheet).filter(|_| !wanted.is_missing()) {
            Some(value) => format!("now: {value}"),
            None => format!("example: {}", example.join("; ")),
        });
    }
    lines
}

fn names(columns: &[Column]) -> String {
    let names: Vec<&str> = columns.iter().map(|column| column.name.as_str()).collect();
    names.join("; ")
}

/// A reading as it was taken in: `3° tail down ± 0.1° (the script's ±)`; nothing of rows, which stand above it.
#[must_use]
pub fn noted(wanted: &Wanted, sheet: &Measuring<'_>) -> Option<String> {
    let has_rows = Kind::of(&wanted.input.value).has_rows();
    (!has_rows).then(|| readings::value(&wanted.input, sheet.system))
}
