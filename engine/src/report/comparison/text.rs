//! The comparison for a terminal of 80 columns: verdicts first, then what changed, worst first.

use super::compare::{Change, ComparedCheck, ComparedRun, Comparison};
use super::counts;
use super::rows::{self, Row, checks_that, named};
use super::words;
use crate::quantity::text::System;
use crate::report::layout::{Page, TEXT_COLUMN, WIDTH, length, wrapped};
use crate::report::sheet::{AID, Paint};
use crate::study::Verdict;

/// Where a row begins, and the columns of its name and its values.
const INDENT: usize = 4;
const NAME: usize = 24;
const VALUE: usize = 20;

/// The comparison as text; `all`: also what is the same. `system` turns numbers of records into the reader's units.
#[must_use]
pub fn comparison_text(comparison: &Comparison, all: bool, system: Option<System>, paint: Paint) -> String {
    let mut page = Page::default();
    let [title, a, b] = comparison.called();
    wrapped(&title, WIDTH).iter().for_each(|line| page.line(line));
    page.line(AID);
    page.gap();
    page.marked("A", "A", &a);
    page.marked("B", "B", &b);
    page.gap();
    verdicts(&mut page, comparison, paint);
    for (word, remark) in rows::remarks(comparison) {
        page.marked(word, word, &remark);
    }
    page.gap();
    changed(&mut page, comparison, (Change::Worse, "WORSE"), system, paint);
    changed(&mut page, comparison, (Change::Better, "BETTER"), system, paint);
    if all {
        same(&mut page, comparison, system, paint);
    }
    let margins = rows::margins(comparison, system);
    let count = match margins.len() {
        1 => "1 is another under the same verdict; what lost most first".to_owned(),
        count => format!("{count} are others under the same verdict; what lost most first"),
    };
    table(&mut page, "MARGINS", &count, &margins);
    let counts = counts::entries_in_words(&counts::inputs(comparison));
    table(&mut page, "INPUTS", &counts, &rows::inputs(comparison, all, system));
    steps(&mut page, comparison, all, system);
    page.text
}

fn verdicts(page: &mut Page, comparison: &Comparison, paint: Paint) {
    let counts = counts::checks(comparison);
    let colour = if counts.worse > 0 {
        Verdict::Fails
    } else {
        Verdict::Holds
    };
    let text = counts::verdicts_in_words(&counts);
    page.marked("VERDICTS", &paint(colour, "VERDICTS"), &text);
}

/// Checks whose verdict changed, with both sides.
fn changed(
    page: &mut Page,
    comparison: &Comparison,
    (change, word): (Change, &str),
    system: Option<System>,
    paint: Paint,
) {
    for (run, check) in checks_that(comparison, |check| check.change == change) {
        of_check(page, comparison, (run, check), word, system, paint);
    }
}

fn same(page: &mut Page, comparison: &Comparison, system: Option<System>, paint: Paint) {
    for (run, check) in checks_that(comparison, |check| check.change == Change::Same) {
        of_check(page, comparison, (run, check), "SAME", system, paint);
    }
}

fn of_check(
    page: &mut Page,
    comparison: &Comparison,
    (run, check): (&ComparedRun, &ComparedCheck),
    word: &str,
    system: Option<System>,
    paint: Paint,
) {
    let Some((a, b)) = check.sides.both() else { return };
    let name = named(comparison, run, check);
    page.marked(word, &paint(b.verdict, word), &name);
    beside(page, TEXT_COLUMN, "A", &words::check(a, system));
    beside(page, TEXT_COLUMN, "B", &words::check(b, system));
    page.gap();
}

/// A word with a text beside it, from a column on.
fn beside(page: &mut Page, column: usize, word: &str, text: &str) {
    let indent = column + length(word) + 2;
    for (nth, line) in wrapped(text, WIDTH.saturating_sub(indent)).iter().enumerate() {
        if nth == 0 {
            page.line(&format!("{}{word}  {line}", " ".repeat(column)));
        } else {
            page.line(&format!("{}{line}", " ".repeat(indent)));
        }
    }
}

fn steps(page: &mut Page, comparison: &Comparison, all: bool, system: Option<System>) {
    let counts = counts::entries_in_words(&counts::steps(comparison));
    let mut first = true;
    for run in comparison.runs.iter().filter(|run| run.is_in_both()) {
        let rows = rows::steps(run, all, system);
        if rows.is_empty() {
            continue;
        }
        if first {
            table(page, "STEPS", &counts, &[]);
            columns(page);
            first = false;
        }
        if !run.name.is_empty() {
            page.block(2, &run.name);
        }
        rows.iter().for_each(|row| of_row(page, row));
    }
    if first {
        page.marked("STEPS", "STEPS", &counts);
    }
}

fn table(page: &mut Page, word: &str, counts: &str, rows: &[Row]) {
    if rows.is_empty() && word == "MARGINS" {
        return;
    }
    page.marked(word, word, counts);
    if !rows.is_empty() {
        columns(page);
        rows.iter().for_each(|row| of_row(page, row));
        page.gap();
    }
}

fn columns(page: &mut Page) {
    cells(page, "", ["A", "B", "from A to B"]);
}

fn cells(page: &mut Page, name: &str, [a, b, difference]: [&str; 3]) {
    let mut line = format!("{}{name}", " ".repeat(INDENT));
    for (column, cell) in [(0, a), (1, b), (2, difference)] {
        let start = INDENT + NAME + column * VALUE;
        line.push_str(&" ".repeat(start.saturating_sub(length(&line))));
        line.push_str(cell);
    }
    page.line(&line);
}

/// A row in columns; one below the other where they do not fit.
fn of_row(page: &mut Page, row: &Row) {
    let names = wrapped(&row.name, NAME - 2);
    let before = names.len().saturating_sub(1);
    let last = names.last().map_or("", String::as_str);
    let room = WIDTH - INDENT - NAME - 2 * VALUE;
    let fits = [&row.a, &row.b].iter().all(|cell| length(cell) + 2 <= VALUE)
        && length(&row.difference) <= room
        && length(last) + 2 <= NAME;
    if fits {
        for name in names.iter().take(before) {
            page.block(INDENT, name);
        }
        cells(page, last, [&row.a, &row.b, &row.difference]);
    } else {
        page.block(INDENT, &row.name);
        beside(page, INDENT + 4, "A", &row.a);
        beside(page, INDENT + 4, "B", &row.b);
        if !row.difference.is_empty() {
            beside(page, INDENT + 4, "from A to B", &row.difference);
        }
    }
    let runs: Vec<&str> = row
        .runs
        .iter()
        .map(String::as_str)
        .filter(|run| !run.is_empty())
        .collect();
    let runs = (!runs.is_empty()).then(|| format!("in {}", runs.join(", ")));
    let below: Vec<String> = row.remarks.iter().cloned().chain(runs).collect();
    if !below.is_empty() {
        page.block(INDENT + 4, &below.join("; "));
    }
}
