//! Rows and columns: a cut list, a bend table.

use super::bounds::fits;
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase, Piece, Value};

/// A table.
#[derive(Clone, Debug)]
pub struct Table {
    /// What it is of; may be empty.
    pub title: Phrase,
    /// The heads of its columns.
    pub columns: Vec<Phrase>,
    /// Its rows, each as long as the heads.
    pub rows: Vec<Vec<Value>>,
}

impl Table {
    /// A table with these columns, empty yet.
    ///
    /// # Errors
    /// No columns.
    pub fn new(columns: Vec<Phrase>) -> Result<Self, Refusal> {
        if columns.is_empty() {
            return Err(Refusal::new("figure", "a table has one column at least"));
        }
        Ok(Self {
            title: Phrase::default(),
            columns,
            rows: Vec::new(),
        })
    }

    /// Adds a row below the others.
    ///
    /// # Errors
    /// More or fewer cells than there are columns; a cell that is a list; too many in all.
    pub fn row(&mut self, cells: Vec<Value>) -> Result<(), Refusal> {
        fits(self.count() + self.columns.len())?;
        if cells.len() != self.columns.len() {
            let message = format!(
                "a row of this table has {} cells, one for each column, here are {}",
                self.columns.len(),
                cells.len()
            );
            return Err(Refusal::new("figure", message));
        }
        if cells.iter().any(|cell| matches!(cell, Value::Items(_))) {
            let message = "a cell holds one quantity or a text, not a list, a point or a map";
            return Err(Refusal::new("figure", message).hint("`${p.x}, ${p.y}` makes a text of two"));
        }
        self.rows.push(cells);
        Ok(())
    }

    /// How many cells it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        self.rows.len() * self.columns.len()
    }

    /// The numbers in its cells, in order.
    pub(super) fn amounts(&self) -> impl Iterator<Item = &Amount> {
        self.rows.iter().flatten().flat_map(in_value)
    }
}

fn in_value(value: &Value) -> Vec<&Amount> {
    match value {
        Value::Amount(amount) => vec![amount],
        Value::Text(text) => in_phrase(text).collect(),
        _ => Vec::new(),
    }
}

/// The numbers in a text.
pub(super) fn in_phrase(phrase: &Phrase) -> impl Iterator<Item = &Amount> {
    phrase.pieces.iter().filter_map(|piece| match piece {
        Piece::Amount(amount) => Some(amount),
        Piece::Words(_) => None,
    })
}
