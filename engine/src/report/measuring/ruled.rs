//! Ruled rows for tables, lists and points: as many as the example has, and a few more.

use super::super::layout::{Page, WIDTH, length};
use super::super::written;
use super::boxes::{COLUMN, symbol};
use crate::job::{Kind, is_list};
use crate::outcome::Value;
use crate::quantity::text::System;

/// Empty rows for what the example does not have.
const MORE: usize = 2;
/// A sheet has no more rows than this.
const MOST: usize = 40;
/// The narrowest column that can be written in, and the widest of names.
const NARROWEST: usize = 9;
const WIDEST_NAME: usize = 26;

/// A column of a sheet: its head, and what is printed in its cells.
pub(super) struct Column {
    pub(super) head: String,
    pub(super) cells: Vec<String>,
}

/// Ruled rows on a page; what is too wide goes on below, its first column again.
pub(super) fn rows(page: &mut Page, value: &Value, system: System) {
    let columns = columns(value, system);
    let Some((first, rest)) = columns.split_first() else {
        return;
    };
    let name = first.cells.iter().map(|cell| length(cell)).max().unwrap_or(0);
    let name = name.max(length(&first.head)).clamp(4, WIDEST_NAME);
    let room = WIDTH - COLUMN - name;
    let together = (room / (NARROWEST + 3)).max(1);
    let mut chunks: Vec<&[Column]> = rest.chunks(together).collect();
    if chunks.is_empty() {
        chunks.push(&[]);
    }
    for chunk in chunks {
        let width = (room / chunk.len().max(1))
            .saturating_sub(3)
            .clamp(NARROWEST, 2 * NARROWEST);
        let all = std::iter::once((first, name)).chain(chunk.iter().map(|column| (column, width)));
        ruled(page, &all.collect::<Vec<_>>());
    }
}

fn ruled(page: &mut Page, columns: &[(&Column, usize)]) {
    let count = rows_for(columns.first().map(|(column, _)| *column));
    let indent = " ".repeat(COLUMN);
    let line = |cell: &dyn Fn(&Column) -> String| {
        let cells = columns.iter().map(|(column, width)| {
            let cell: String = cell(column).chars().take(*width).collect();
            format!("{cell}{}", " ".repeat(width.saturating_sub(length(&cell))))
        });
        format!("{indent}{}", cells.collect::<Vec<_>>().join(" | "))
    };
    let rule: Vec<String> = columns.iter().map(|(_, width)| "_".repeat(*width)).collect();
    let rule = format!("{indent}{}", rule.join("_|_"));
    page.line(&line(&|column| column.head.clone()));
    page.line(&rule);
    for row in 0..count {
        page.line(&line(&|column| column.cells.get(row).cloned().unwrap_or_default()));
        page.line(&rule);
    }
}

/// How many rows are ruled under these columns.
pub(super) fn row_count(columns: &[Column]) -> usize {
    rows_for(columns.first())
}

fn rows_for(first: Option<&Column>) -> usize {
    (first.map_or(0, |column| column.cells.len()) + MORE).min(MOST)
}

/// The columns of a value: names stand in their cells, the rest is to be filled in.
pub(super) fn columns(value: &Value, system: System) -> Vec<Column> {
    let Value::Items(items) = value else { return Vec::new() };
    if !is_list(items) {
        let names = items.iter().map(|(key, item)| headed(key, item, system)).collect();
        return vec![numbered("", names), numbered("value", Vec::new())];
    }
    let rows: Vec<&Value> = items.iter().map(|(_, item)| item).collect();
    let numbers = (1..=rows.len()).map(|number| number.to_string());
    let numbers = numbered("", numbers.collect());
    let Some(Value::Items(first)) = rows.first() else {
        let unit = symbol(value, system);
        let values = numbered(if unit.is_empty() { "value" } else { &unit }, Vec::new());
        return vec![numbers, values];
    };
    let is_named = first
        .iter()
        .any(|(key, item)| key == "name" && matches!(item, Value::Text(_)));
    let mut columns = if is_named { Vec::new() } else { vec![numbers] };
    for (key, item) in first {
        let cells = match Kind::of(item) {
            Kind::Text if key == "name" => rows.iter().map(|row| cell(row, key, system)).collect(),
            _ => Vec::new(),
        };
        columns.push(Column {
            head: headed(key, item, system),
            cells,
        });
    }
    if let Some(at) = columns.iter().position(|column| column.head == "name") {
        let named = columns.remove(at);
        columns.insert(0, named);
    }
    columns
}

fn numbered(head: &str, cells: Vec<String>) -> Column {
    let head = head.to_owned();
    Column { head, cells }
}

/// `current, A`
fn headed(key: &str, item: &Value, system: System) -> String {
    match symbol(item, system) {
        unit if unit.is_empty() => key.to_owned(),
        unit => format!("{key}, {unit}"),
    }
}

fn cell(row: &Value, key: &str, system: System) -> String {
    let Value::Items(cells) = row else { return String::new() };
    let found = cells.iter().find(|(name, _)| name == key);
    found.map_or_else(String::new, |(_, item)| written::value(item, system))
}
