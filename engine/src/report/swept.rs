//! A sweep for people and programs: what happens between here and there.

use super::chart::{Curve, chart};
use super::json::{FORMAT, number_json};
use super::layout::{Page, length};
use super::sheet::{AID, Paint, Sheet};
use super::written::{self, style, written_to};
use crate::outcome::{Amount, CheckKind, Phrase};
use crate::quantity::text::System;
use crate::study::{Change, Interval, Number, Point, Swept, SweptCheck, Verdict};
use serde_json::{Map, Value, json};

/// A sweep and what it was made of.
pub struct SweptSheet<'a> {
    /// The runs at the first point: names, checks, units.
    pub sheet: &'a Sheet<'a>,
    /// The swept inputs, in order: ranges first.
    pub axes: Vec<AxisSheet>,
    /// The watched numbers: name as asked for, label, and how they are written.
    pub watched: Vec<WatchedSheet>,
    /// One sweep for each combination of choices.
    pub parts: Vec<PartSheet>,
}

/// A swept input.
#[derive(Clone, Debug)]
pub struct AxisSheet {
    /// Its name.
    pub name: String,
    /// Its first value, and how it is written.
    pub from: Amount,
    /// Its last value, SI units.
    pub to: f64,
}

/// A watched number.
#[derive(Clone, Debug)]
pub struct WatchedSheet {
    /// Its name, as it was asked for.
    pub name: String,
    /// What it is.
    pub label: Option<Phrase>,
    /// How it is written.
    pub amount: Amount,
}

/// The sweep under one combination of choices.
#[derive(Clone, Debug)]
pub struct PartSheet {
    /// The choices, each with its input's name.
    pub chosen: Vec<(String, String)>,
    /// What came.
    pub swept: Swept,
}

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

fn axis_line(axis: &AxisSheet, system: System) -> String {
    format!(
        "{} from {} to {}",
        axis.name,
        at(axis, axis.from.si, system),
        at(axis, axis.to, system)
    )
}

/// A value of an axis.
fn at(axis: &AxisSheet, si: f64, system: System) -> String {
    written_to(&axis.from, si, (axis.to - axis.from.si).abs(), system)
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

/// The verdict of what depends on the sweep, else of all.
fn of_point(point: &Point) -> Verdict {
    point.moved.unwrap_or(point.verdict)
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

fn word_or_not_there(verdict: Option<Verdict>) -> &'static str {
    verdict.map_or("is not there", Verdict::word)
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

/// At how many points that can be calculated each check is there; those that cannot count for all.
fn rows_of_checks(part: &PartSheet) -> Vec<usize> {
    let points = &part.swept.points;
    let there = |check: usize| {
        let there = |point: &&Point| point.refused.is_some() || point.checks.get(check).is_some_and(Option::is_some);
        points.iter().filter(there).count()
    };
    (0..part.swept.checks.len()).map(there).collect()
}

/// The checks' labels, with their run in a job; two of one label, of two branches, with their formulas.
fn labels(sheet: &Sheet<'_>, part: &PartSheet) -> Vec<String> {
    let plain = |swept: &SweptCheck| {
        let label = match &swept.check.label {
            Some(label) => written::phrase(label, sheet.system),
            None => swept.check.formula.clone(),
        };
        match sheet.runs.get(swept.run).filter(|_| sheet.in_job) {
            Some(run) => format!("{label} ({})", run.name),
            None => label,
        }
    };
    let checks = &part.swept.checks;
    let found: Vec<String> = checks.iter().map(plain).collect();
    let is_twice = |label: &String| found.iter().filter(|other| *other == label).count() > 1;
    let with_formula = |(label, swept): (&String, &SweptCheck)| match is_twice(label) {
        true => format!("{label}: {}", swept.check.formula),
        false => label.clone(),
    };
    found.iter().zip(checks).map(with_formula).collect()
}

/// The labels of all parts, each once.
fn all_labels(swept: &SweptSheet<'_>) -> Vec<String> {
    let mut all = Vec::new();
    for label in swept.parts.iter().flat_map(|part| labels(swept.sheet, part)) {
        if !all.contains(&label) {
            all.push(label);
        }
    }
    all
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

/// For a folder.
#[must_use]
pub fn swept_markdown(swept: &SweptSheet<'_>) -> String {
    let sheet = swept.sheet;
    let mut text = format!("# {}\n\n{AID}\n\n", sheet.title);
    for axis in &swept.axes {
        text.push_str(&format!("**Swept:** {}\n\n", axis_line(axis, sheet.system)));
    }
    for part in &swept.parts {
        let labels = labels(sheet, part);
        for Change {
            check,
            at: place,
            before,
            after,
        } in &part.swept.changes
        {
            let Some(axis) = swept.axes.first() else { continue };
            text.push_str(&format!(
                "- {} = {}: {} {} before, {} after\n",
                axis.name,
                at(axis, *place, sheet.system),
                labels.get(*check).map_or("", String::as_str),
                word_or_not_there(*before),
                word_or_not_there(*after)
            ));
        }
    }
    let head = head(swept);
    text.push_str(&format!("\n| {} |\n|{}\n", head.join(" | "), "---|".repeat(head.len())));
    for row in rows(swept) {
        text.push_str(&format!("| {} |\n", row.join(" | ").replace('\n', " ")));
    }
    text
}

/// For a spreadsheet (RFC 4180): inputs, numbers with the ends of their intervals, checks, the verdict.
#[must_use]
pub fn swept_csv(swept: &SweptSheet<'_>) -> String {
    let cell = |text: &String| {
        if text.contains(['"', ',', '\n']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text.clone()
        }
    };
    let mut text = String::new();
    for row in [head(swept)].into_iter().chain(rows(swept)) {
        text.push_str(&row.iter().map(cell).collect::<Vec<_>>().join(","));
        text.push_str("\r\n");
    }
    text
}

/// The names of the columns: each number with its unit.
fn head(swept: &SweptSheet<'_>) -> Vec<String> {
    let system = swept.sheet.system;
    let with_unit = |name: &str, amount: &Amount| {
        let style = style(amount, system);
        match style.symbol() {
            "" => name.to_owned(),
            symbol => format!("{name} [{symbol}]"),
        }
    };
    let chosen = swept
        .parts
        .first()
        .into_iter()
        .flat_map(|part| part.chosen.iter().map(|(name, _)| name.clone()));
    let axes = swept.axes.iter().map(|axis| with_unit(&axis.name, &axis.from));
    let numbers = swept.watched.iter().flat_map(|watched| {
        ["", " low", " high"].map(|end| with_unit(&format!("{}{end}", watched.name), &watched.amount))
    });
    chosen
        .chain(axes)
        .chain(numbers)
        .chain(all_labels(swept))
        .chain(["verdict".to_owned()])
        .collect()
}

fn rows(swept: &SweptSheet<'_>) -> Vec<Vec<String>> {
    let system = swept.sheet.system;
    let all = all_labels(swept);
    let row = |part: &PartSheet, labels: &[String], point: &Point| -> Vec<String> {
        let chosen = part.chosen.iter().map(|(_, value)| value.clone());
        let axes = swept.axes.iter().zip(&point.at);
        let axes = axes.map(|(axis, si)| style(&axis.from, system).value(*si).to_string());
        let numbers = swept.watched.iter().zip(&point.numbers).flat_map(|(watched, number)| {
            let style = style(&watched.amount, system);
            match number {
                Some(number) => [number.value, number.low, number.high].map(|si| style.value(si).to_string()),
                None => [const { String::new() }; 3],
            }
        });
        let checks = all.iter().map(|label| {
            let place = labels.iter().position(|known| known == label);
            let verdict = place.and_then(|place| point.checks.get(place).copied().flatten());
            verdict.map_or("", Verdict::word).to_owned()
        });
        let verdict = match &point.refused {
            Some(message) => format!("cannot be calculated: {message}"),
            None => of_point(point).word().to_owned(),
        };
        chosen
            .chain(axes)
            .chain(numbers)
            .chain(checks)
            .chain([verdict])
            .collect()
    };
    let of_part = |part: &PartSheet| {
        let labels = labels(swept.sheet, part);
        let rows = part.swept.points.iter().map(|point| row(part, &labels, point));
        rows.collect::<Vec<_>>()
    };
    swept.parts.iter().flat_map(of_part).collect()
}

/// For a program: `{"vary": …, "rows": [{input, steps…, "checks": {…}, "verdict"}], "changes": […]}`. A check that is not
/// there is null in a row, as it is before or after a change.
#[must_use]
pub fn swept_json(swept: &SweptSheet<'_>) -> Value {
    let system = swept.sheet.system;
    let number = |amount: &Amount, si: f64| number_json(&Amount { si, ..amount.clone() }, system);
    let mut rows = Vec::new();
    let (mut changes, mut in_part) = (Vec::new(), Vec::new());
    for part in &swept.parts {
        let labels = labels(swept.sheet, part);
        for point in &part.swept.points {
            let mut row = Map::new();
            for (name, value) in &part.chosen {
                row.insert(name.clone(), json!(value));
            }
            for (axis, si) in swept.axes.iter().zip(&point.at) {
                row.insert(axis.name.clone(), number(&axis.from, *si));
            }
            for (watched, found) in swept.watched.iter().zip(&point.numbers) {
                let found = found.map_or(Value::Null, |found| {
                    let mut value = number(&watched.amount, found.value);
                    value["low_si"] = json!(found.low);
                    value["high_si"] = json!(found.high);
                    value
                });
                row.insert(watched.name.clone(), found);
            }
            let checks = labels.iter().zip(&point.checks);
            let checks: Map<String, Value> = checks
                .map(|(label, verdict)| (label.clone(), json!(verdict.map(Verdict::word))))
                .collect();
            row.insert("checks".to_owned(), Value::Object(checks));
            row.insert("verdict".to_owned(), json!(of_point(point).word()));
            row.insert("verdict_of_all".to_owned(), json!(point.verdict.word()));
            row.insert("refused".to_owned(), json!(point.refused));
            rows.push(Value::Object(row));
        }
        for change in &part.swept.changes {
            let at = swept.axes.first().map(|axis| number(&axis.from, change.at));
            changes.push(json!({
                "check": labels.get(change.check),
                "at": at,
                "before": change.before.map(Verdict::word),
                "after": change.after.map(Verdict::word),
            }));
        }
        let points = part.swept.points.len();
        let there = labels.iter().zip(rows_of_checks(part));
        in_part.extend(
            there
                .filter(|(_, rows)| *rows < points)
                .map(|(label, rows)| json!({"check": label, "rows": rows})),
        );
    }
    let axes = swept.axes.iter().map(
        |axis| json!({"name": axis.name, "from": number(&axis.from, axis.from.si), "to": number(&axis.from, axis.to)}),
    );
    let chosen = swept.parts.first().into_iter().flat_map(|part| part.chosen.iter());
    let chosen = chosen.map(|(name, _)| json!({"name": name}));
    json!({
        "format": FORMAT,
        "vary": axes.chain(chosen).collect::<Vec<_>>(),
        "rows": rows,
        "changes": changes,
        "checks_in_some_rows": in_part,
        "samples": swept.parts.first().map_or(0, |part| part.swept.samples),
    })
}
