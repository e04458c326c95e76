//! Where in two directions all holds: how far a mount may move to the left and down.

use super::axis::Axis;
use super::bounds::fits;
use super::chart::Mark;
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase};
use crate::quantity::Quantity;
use crate::study::Verdict;

/// A map: for each of two values what becomes of what is judged.
#[derive(Clone, Debug)]
pub struct PassMap {
    /// What it is of.
    pub title: Phrase,
    /// What goes on to the right.
    pub x: Axis,
    /// What goes on upward.
    pub y: Axis,
    /// Its places from left to right.
    pub xs: Vec<Amount>,
    /// Its places from bottom to top.
    pub ys: Vec<Amount>,
    /// A row for each y, in it a cell for each x.
    pub rows: Vec<Vec<Cell>>,
    /// Single places.
    pub marks: Vec<Mark>,
}

/// What is known of one place of a map.
#[derive(Clone, Debug)]
pub enum Cell {
    /// How much is left to the limit: negative where it does not hold.
    Margin(Amount),
    /// What a study says.
    Judged(Verdict),
    /// Nothing can be calculated there.
    Refused,
}

impl PassMap {
    /// A map of margins: positive or nothing where all holds.
    ///
    /// # Errors
    /// No places; rows that are not as many as the ys, or not as long as the xs; margins of unlike kinds; too many.
    pub fn of_margins(
        title: Phrase,
        xs: &[Quantity],
        ys: &[Quantity],
        margins: &[Vec<Quantity>],
    ) -> Result<Self, Refusal> {
        fits(xs.len() * ys.len() + xs.len() + ys.len())?;
        if xs.len() < 2 || ys.len() < 2 {
            let message = format!(
                "a map needs two places each way at least, here are {} and {}",
                xs.len(),
                ys.len()
            );
            return Err(Refusal::new("figure", message));
        }
        if margins.len() != ys.len() {
            let message = format!(
                "a map has a row of margins for each y: here are {} and {}",
                margins.len(),
                ys.len()
            );
            return Err(Refusal::new("figure", message).hint("ys.map(|y| xs.map(|x| limit - value_at(x, y)))"));
        }
        let (mut x, mut y, mut margin) = (Axis::default(), Axis::default(), Axis::default());
        let mut rows = Vec::new();
        for row in margins {
            if row.len() != xs.len() {
                let message = format!(
                    "a row of margins is as long as the xs: here are {} and {}",
                    row.len(),
                    xs.len()
                );
                return Err(Refusal::new("figure", message).hint("ys.map(|y| xs.map(|x| limit - value_at(x, y)))"));
            }
            let cells = row
                .iter()
                .map(|cell| margin.take(*cell, "this margin").map(Cell::Margin));
            rows.push(cells.collect::<Result<_, _>>()?);
        }
        Ok(Self {
            title,
            xs: xs
                .iter()
                .map(|place| x.take(*place, "this x"))
                .collect::<Result<_, _>>()?,
            ys: ys
                .iter()
                .map(|place| y.take(*place, "this y"))
                .collect::<Result<_, _>>()?,
            x,
            y,
            rows,
            marks: Vec::new(),
        })
    }

    /// How many numbers it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        (self.xs.len() + 1) * (self.ys.len() + 1) + 2 * self.marks.len()
    }

    /// Marks a place.
    ///
    /// # Errors
    /// Numbers that are not of the kind of their scales; too many in all.
    pub fn mark(&mut self, name: Phrase, x: Quantity, y: Quantity) -> Result<(), Refusal> {
        fits(self.count() + 2)?;
        let (x, y) = (self.x.take(x, "x")?, self.y.take(y, "y")?);
        self.marks.push(Mark { name, x, y });
        Ok(())
    }
}
