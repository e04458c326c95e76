//! A sweep as a table: Markdown and csv.

use super::super::markdown::plain;
use super::super::sheet::AID;
use super::super::written::style;
use super::data::{PartSheet, SweptSheet};
use super::words::{at, axis_line, labels, of_point, word_or_not_there};
use crate::outcome::Amount;
use crate::study::{Change, Point, Verdict};

/// For a folder.
#[must_use]
pub fn swept_markdown(swept: &SweptSheet<'_>) -> String {
    let sheet = swept.sheet;
    let mut text = format!("# {}\n\n{AID}\n\n", plain(&sheet.title));
    for axis in &swept.axes {
        text.push_str(&format!("**Swept:** {}\n\n", plain(&axis_line(axis, sheet.system))));
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
                plain(&axis.name),
                plain(&at(axis, *place, sheet.system)),
                plain(labels.get(*check).map_or("", String::as_str)),
                word_or_not_there(*before),
                word_or_not_there(*after)
            ));
        }
    }
    let head = head(swept);
    let line = |cells: &[String]| cells.iter().map(|cell| plain(cell)).collect::<Vec<_>>().join(" | ");
    text.push_str(&format!("\n| {} |\n|{}\n", line(&head), "---|".repeat(head.len())));
    for row in rows(swept) {
        text.push_str(&format!("| {} |\n", line(&row)));
    }
    text
}

/// For a spreadsheet (RFC 4180): inputs, numbers with the ends of their intervals, checks, the verdict. A text that a
/// spreadsheet would calculate with, because it begins like a formula, has an apostrophe before it.
#[must_use]
pub fn swept_csv(swept: &SweptSheet<'_>) -> String {
    let cell = |text: &String| {
        let is_formula = text.starts_with(['=', '+', '-', '@', '\t']) && text.parse::<f64>().is_err();
        let text = if is_formula { format!("'{text}") } else { text.clone() };
        if text.contains(['"', ',', '\n']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text
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
