//! Tables in csv files: a row of column names, then rows of cells, each as a person would write it. RFC 4180: cells may
//! stand in quotes, a quote in them is doubled.

use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText, on_one_line, refuse_hidden_in};
use crate::document::Lines;
use crate::script::GivenValue;
use std::ops::Range;
use std::sync::Arc;

/// A table of readings has no more rows than a job has readings.
const ROWS: usize = 10_000;

/// A cell's text, on one line, and where it stands.
struct Cell {
    text: String,
    range: Range<usize>,
}

impl Cell {
    fn of(text: &str, range: Range<usize>) -> Self {
        let text = on_one_line(text).into_owned();
        Self { text, range }
    }
}

/// The rows of a table as they are given to an input, and the places of its cells.
///
/// # Errors
/// No header, no row, too many rows, a column without a name or twice, a row of another length, a quote that is not closed.
pub(crate) fn rows(
    text: SourceText,
    address: &str,
    places: &mut Vec<(String, Place)>,
) -> Result<GivenValue, Diagnostic> {
    let source = Arc::new(text);
    refuse_hidden_in(&source)?;
    let lines = Lines::new(&source);
    let refuse =
        |message: String, range: &Range<usize>| Diagnostic::at(Refusal::new("csv", message), lines.place(range));
    let mut table = cells(&source.text)
        .map_err(|at| refuse("this quote is not closed".to_owned(), &at))?
        .into_iter();
    let header = table.next().ok_or_else(|| {
        refuse(
            "this table is empty: its first line names the columns".to_owned(),
            &(0..0),
        )
    })?;
    for (number, column) in header.iter().enumerate() {
        if column.text.is_empty() {
            return Err(refuse(format!("column {} has no name", number + 1), &column.range));
        }
        if header.iter().take(number).any(|earlier| earlier.text == column.text) {
            return Err(refuse(
                format!("two columns are named `{}`", column.text),
                &column.range,
            ));
        }
    }
    let mut list = Vec::new();
    for (number, row) in table.enumerate() {
        if number >= ROWS {
            let message = format!("a table takes {ROWS} rows at the most");
            return Err(refuse(message, &row.first().map_or(0..0, |cell| cell.range.clone())));
        }
        if row.len() != header.len() {
            let message = format!(
                "cells in this row: {}, columns in the table: {}",
                row.len(),
                header.len()
            );
            return Err(refuse(message, &row.first().map_or(0..0, |cell| cell.range.clone())));
        }
        let named = header.iter().position(|column| column.text == "name");
        let key = named
            .and_then(|at| row.get(at))
            .map_or_else(|| number.to_string(), |cell| cell.text.clone());
        let first = row.first().map_or(0..0, |cell| cell.range.clone());
        places.push((format!("{address}[{key}]"), lines.place(&first)));
        let mut fields = Vec::new();
        for (column, cell) in header.iter().zip(row) {
            places.push((format!("{address}[{key}].{}", column.text), lines.place(&cell.range)));
            fields.push((column.text.clone(), GivenValue::Text(cell.text)));
        }
        list.push(GivenValue::Fields(fields));
    }
    if list.is_empty() {
        let message = "this table has columns but no rows".to_owned();
        return Err(refuse(
            message,
            &header.first().map_or(0..0, |column| column.range.clone()),
        ));
    }
    Ok(GivenValue::List(list))
}

/// Rows of cells, without empty lines; an error is a quote that is not closed.
fn cells(text: &str) -> Result<Vec<Vec<Cell>>, Range<usize>> {
    let mut rows = Vec::new();
    let mut row = Vec::new();
    // A mark that some programs put before the text.
    let mut at = text.len() - text.trim_start_matches('\u{feff}').len();
    while at < text.len() {
        let rest = text.get(at..).unwrap_or("");
        let indent = rest.len() - rest.trim_start_matches([' ', '\t']).len();
        let start = at + indent;
        let (cell, end) = match rest.get(indent..).and_then(|rest| rest.strip_prefix('"')) {
            Some(quoted) => quoted_cell(quoted, start)?,
            None => plain_cell(text, start),
        };
        row.push(cell);
        match text.get(end..).and_then(|rest| rest.chars().next()) {
            Some(',') => {
                at = end + 1;
                if at == text.len() {
                    row.push(Cell::of("", at..at));
                }
            }
            _ => {
                at = end + 1;
                end_row(&mut rows, &mut row);
            }
        }
    }
    end_row(&mut rows, &mut row);
    Ok(rows)
}

fn end_row(rows: &mut Vec<Vec<Cell>>, row: &mut Vec<Cell>) {
    let row = std::mem::take(row);
    if row.len() > 1 || row.iter().any(|cell| !cell.text.is_empty()) {
        rows.push(row);
    }
}

/// A cell up to a comma or the line's end, and where that is.
fn plain_cell(text: &str, start: usize) -> (Cell, usize) {
    let rest = text.get(start..).unwrap_or("");
    let length = rest.find([',', '\n']).unwrap_or(rest.len());
    let written = rest.get(..length).unwrap_or("").trim();
    (Cell::of(written, start..start + written.len()), start + length)
}

/// A cell in quotes (without its first quote), and where it ends: at a comma or the line's end.
fn quoted_cell(quoted: &str, start: usize) -> Result<(Cell, usize), Range<usize>> {
    let mut text = String::new();
    let mut rest = quoted;
    loop {
        let (part, after) = rest.split_once('"').ok_or(start..start + 1)?;
        text.push_str(part);
        match after.strip_prefix('"') {
            Some(more) => {
                text.push('"');
                rest = more;
            }
            None => {
                rest = after;
                break;
            }
        }
    }
    let closed = start + 1 + (quoted.len() - rest.len());
    let blank = rest.find([',', '\n']).unwrap_or(rest.len());
    // `3.5" bolt`: an inch mark, not a quote.
    if !rest.get(..blank).unwrap_or("").trim().is_empty() {
        return Err(start..closed);
    }
    Ok((Cell::of(&text, start..closed), closed + blank))
}
