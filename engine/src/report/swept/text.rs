//! A sweep on the screen.

use super::super::chart::{Curve, chart};
use super::super::layout::{Page, length};
use super::super::sheet::{AID, Paint};
use super::super::written::{self, style};
use super::data::{PartSheet, SweptSheet, WatchedSheet};
use super::words::{at, axis_line, labels, of_point, rows_of_checks, word_or_not_there};
use crate::outcome::CheckKind;
use crate::quantity::text::System;
use crate::study::{Change, Interval, Number, Point, Verdict};

/// Rows of a table on the screen; the rest is in csv and json.
const ROWS: usize = 13;
/// Curves on the screen.
const CURVES: usize = 4;

/// For the screen.
#[must_use]
pub fn swept_text(swept: &SweptSheet<'_>, paint: Paint) -> String {
    let mut page = Page::default();
    let sheet = swept.sheet;
    page.line(&sheet.title);
    page.block(0, &sheet.about);
    page.line(AID);
    page.gap();
    for (nth, axis) in swept.axes.iter().enumerate() {
        let word = if nth == 0 { "SWEPT" } else { "" };
        page.marked(word, word, &axis_line(axis, sheet.system));
    }
    page.gap();
    for part in &swept.parts {
        if !part.chosen.is_empty() && !swept.axes.is_empty() {
            page.marked("WITH", "WITH", &chosen(part));
        }
        match swept.axes.len() {
            0 => {}
            1 => line(&mut page, swept, part),
            _ => map(&mut page, swept, part),
        }
        changes(&mut page, swept, part, paint);
        in_part(&mut page, swept, part);
        table(&mut page, swept, part);
        refusals(&mut page, part);
        page.gap();
    }
    if swept.axes.is_empty() {
        choices(&mut page, swept, paint);
    }
    page.text
}

fn chosen(part: &PartSheet) -> String {
    let chosen = part.chosen.iter().map(|(name, value)| format!("{name} = {value}"));
    chosen.collect::<Vec<_>>().join(", ")
}

/// One input: a curve for each watched number, and below it how the verdict goes.
fn line(page: &mut Page, swept: &SweptSheet<'_>, part: &PartSheet) {
    let system = swept.sheet.system;
    let Some(axis) = swept.axes.first() else { return };
    let points = &part.swept.points;
    for (number, watched) in swept.watched.iter().take(CURVES).enumerate() {
        let style = style(&watched.amount, system);
        let shown = |si: f64| style.value(si);
        let found = |point: &Point| point.numbers.get(number).copied().flatten();
        let curve = Curve {
            title: titled(watched, system),
            unit: style.symbol().to_owned(),
            values: points
                .iter()
                .map(|point| found(point).map(|found| shown(found.value)))
                .collect(),
            lows: points
                .iter()
                .map(|point| found(point).map(|found| shown(found.low)))
                .collect(),
            highs: points
                .iter()
                .map(|point| found(point).map(|found| shown(found.high)))
                .collect(),
            ends: [at(axis, axis.from.si, system), at(axis, axis.to, system)],
            below: points.iter().map(mark).collect(),
        };
        for text in chart(&curve) {
            page.line(&text);
        }
        page.gap();
    }
    page.block(2, &legend());
    page.gap();
}

fn titled(watched: &WatchedSheet, system: System) -> String {
    match &watched.label {
        Some(label) => format!("{} ({})", written::phrase(label, system), watched.name),
        None => watched.name.clone(),
    }
}

fn legend() -> String {
    "below: the checks that depend on it. # one fails, ? one is unsure, - all hold, x cannot be calculated".to_owned()
}

const fn mark(point: &Point) -> char {
    if point.refused.is_some() {
        return 'x';
    }
    match point.moved {
        None | Some(Verdict::Holds) => '-',
        Some(Verdict::Fails) => '#',
        Some(_) => '?',
    }
}

/// Two inputs: a map of verdicts, the first downward, the second to the right.
fn map(page: &mut Page, swept: &SweptSheet<'_>, part: &PartSheet) {
    let system = swept.sheet.system;
    let [down, across] = swept.axes.as_slice() else { return };
    let columns = part
        .swept
        .points
        .iter()
        .take_while(|point| point.at[0] == part.swept.points[0].at[0])
        .count();
    page.block(2, &format!("{} down, {} across", down.name, across.name));
    page.gap();
    for row in part.swept.points.chunks(columns.max(1)) {
        let marks: Vec<String> = row.iter().map(|point| mark(point).to_string()).collect();
        let label = row
            .first()
            .map_or_else(String::new, |point| at(down, point.at[0], system));
        page.line(&format!("  {label:>24}  {}", marks.join(" ")));
    }
    let [from, to] = [across.from.si, across.to].map(|si| at(across, si, system));
    page.line(&format!("  {:>24}  {from} to {to}", ""));
    page.gap();
    page.block(2, &legend());
    page.gap();
}

/// Where verdicts change.
fn changes(page: &mut Page, swept: &SweptSheet<'_>, part: &PartSheet, paint: Paint) {
    let Some(axis) = swept.axes.first().filter(|_| swept.axes.len() == 1) else {
        return;
    };
    let deciding = |change: &&Change| decides(part, change.check);
    let labels = labels(swept.sheet, part);
    for (nth, change) in part.swept.changes.iter().filter(deciding).enumerate() {
        let word = if nth == 0 { "CHANGES" } else { "" };
        let text = format!(
            "{}: {} {}, then {}",
            at(axis, change.at, swept.sheet.system),
            labels.get(change.check).map_or("", String::as_str),
            word_or_not_there(change.before),
            word_or_not_there(change.after)
        );
        page.marked(word, &paint(Verdict::Unsure, word), &text);
    }
    if part.swept.changes.is_empty() {
        page.marked("CHANGES", "CHANGES", "no verdict changes");
    }
    page.gap();
}

/// Checks that are there at some points only: a branch has them.
fn in_part(page: &mut Page, swept: &SweptSheet<'_>, part: &PartSheet) {
    if swept.axes.is_empty() {
        return;
    }
    let all = part.swept.points.len();
    let found = labels(swept.sheet, part).into_iter().zip(rows_of_checks(part));
    let mut word = "IN PART";
    for (label, there) in found.filter(|(_, there)| *there < all) {
        page.marked(word, word, &format!("{label}: at {there} of {all} points"));
        word = "";
    }
    if word.is_empty() {
        page.gap();
    }
}

/// A few of the points in numbers, in columns.
fn table(page: &mut Page, swept: &SweptSheet<'_>, part: &PartSheet) {
    let (points, system) = (&part.swept.points, swept.sheet.system);
    if swept.axes.len() != 1 || points.is_empty() {
        return;
    }
    let head = swept.axes.iter().map(|axis| axis.name.clone());
    let head = head.chain(swept.watched.iter().map(|watched| watched.name.clone()));
    let mut rows: Vec<Vec<String>> = vec![head.chain(["verdict".to_owned()]).collect()];
    for point in points.iter().step_by(points.len().div_ceil(ROWS).max(1)) {
        let axes = swept.axes.iter().zip(&point.at);
        let inputs = axes.map(|(axis, si)| at(axis, *si, system));
        let numbers = swept.watched.iter().zip(&point.numbers);
        let numbers =
            numbers.map(|(watched, number)| number.map_or_else(String::new, |found| one(watched, found, system)));
        let verdict = match point.refused {
            Some(_) => "cannot be calculated",
            None => of_point(point).word(),
        };
        rows.push(inputs.chain(numbers).chain([verdict.to_owned()]).collect());
    }
    for line in columns(&rows) {
        page.line(&line);
    }
    page.gap();
}

/// Cells in columns, the first two spaces in; a table too wide for the page is left to wrap.
fn columns(rows: &[Vec<String>]) -> Vec<String> {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|cell| length(cell))
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).map(|(cell, width)| {
            let room = width - length(cell);
            format!("{cell}{}", " ".repeat(room))
        });
        format!("  {}", cells.collect::<Vec<_>>().join("   "))
    };
    rows.iter().map(line).collect()
}

/// A number to what its interval supports.
fn one(watched: &WatchedSheet, found: Number, system: System) -> String {
    let style = style(&watched.amount, system);
    let interval = Interval {
        std_uncertainty: 0.0,
        low: found.low,
        median: found.value,
        high: found.high,
        present: 1,
    };
    let support = written::support(&style, found.value, &interval);
    written::signed(&style, &watched.amount, found.value, support)
}

fn refusals(page: &mut Page, part: &PartSheet) {
    let refused: Vec<&String> = part
        .swept
        .points
        .iter()
        .filter_map(|point| point.refused.as_ref())
        .collect();
    if let Some(first) = refused.first() {
        let text = format!(
            "{} of {} points cannot be calculated: {first}",
            refused.len(),
            part.swept.points.len()
        );
        page.marked("REFUSED", "REFUSED", &text);
    }
}

/// Choices alone: a line each.
fn choices(page: &mut Page, swept: &SweptSheet<'_>, paint: Paint) {
    for part in &swept.parts {
        let Some(point) = part.swept.points.first() else {
            continue;
        };
        let word = match point.verdict {
            Verdict::Holds => "HOLDS",
            Verdict::Fails => "FAILS",
            _ => "UNSURE",
        };
        let numbers = swept
            .watched
            .iter()
            .zip(&point.numbers)
            .filter_map(|(watched, number)| {
                let number = number.as_ref()?;
                Some(format!(
                    "{} {}",
                    watched.name,
                    one(watched, *number, swept.sheet.system)
                ))
            });
        let bad = point.checks.iter().enumerate().filter(|(check, verdict)| {
            verdict.is_some_and(|verdict| verdict != Verdict::Holds) && decides(part, *check)
        });
        let labels = labels(swept.sheet, part);
        let bad: Vec<String> = bad.filter_map(|(check, _)| labels.get(check).cloned()).collect();
        let bad = (!bad.is_empty()).then(|| format!("not: {}", bad.join(", ")));
        let refused = point.refused.clone();
        let text: Vec<String> = [chosen(part)]
            .into_iter()
            .chain(numbers)
            .chain(bad)
            .chain(refused)
            .collect();
        page.marked(word, &paint(point.verdict, word), &text.join("; "));
    }
}

fn decides(part: &PartSheet, check: usize) -> bool {
    let check = part.swept.checks.get(check);
    check.is_some_and(|swept| swept.check.kind != CheckKind::Prefer)
}
