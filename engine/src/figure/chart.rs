//! Lines, limits and marks over one another.

use super::axis::{Axis, SecondScale};
use super::bounds::{CURVES, fits};
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase};
use crate::quantity::Quantity;

/// A chart: what goes up and down as something else goes on.
#[derive(Clone, Debug, Default)]
pub struct Chart {
    /// What it is of.
    pub title: Phrase,
    /// What goes on: from left to right.
    pub x: Axis,
    /// What goes up and down, on the left.
    pub y: Axis,
    /// A scale of its own on the right, for the lines on that side.
    pub right: Option<Axis>,
    /// The left scale in other numbers, on the right.
    pub right_again: Option<SecondScale>,
    /// The lower scale in other numbers, at the top.
    pub top_again: Option<SecondScale>,
    /// The lines, in the order in which they were added.
    pub curves: Vec<Curve>,
    /// Limits that are the same all along.
    pub levels: Vec<Level>,
    /// Single places.
    pub marks: Vec<Mark>,
}

/// A line through places.
#[derive(Clone, Debug)]
pub struct Curve {
    /// What it is.
    pub name: Phrase,
    /// Its places, from first to last.
    pub xs: Vec<Amount>,
    /// What there is at each.
    pub ys: Vec<Amount>,
    /// Which scale it goes by.
    pub side: Side,
    /// What kind of line it is.
    pub kind: Kind,
}

/// Which scale a line goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The one on the left.
    Left,
    /// The one on the right.
    Right,
}

/// The kinds of lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A line that is the point of the chart.
    Line,
    /// How it was before, or would be otherwise: faint.
    Old,
    /// A limit that is not the same all along.
    Limit,
    /// Places without a line between them: what was measured.
    Points,
}

/// A limit that is the same all along.
#[derive(Clone, Debug)]
pub struct Level {
    /// What it is.
    pub name: Phrase,
    /// Where it stands.
    pub at: Amount,
    /// Whether it stands upright, on the lower scale.
    pub upright: bool,
    /// Which scale it goes by, where it lies flat.
    pub side: Side,
}

/// A single place.
#[derive(Clone, Debug)]
pub struct Mark {
    /// What it is.
    pub name: Phrase,
    /// How far on.
    pub x: Amount,
    /// How far up.
    pub y: Amount,
}

impl Chart {
    /// A chart with nothing in it.
    #[must_use]
    pub fn new(title: Phrase) -> Self {
        Self {
            title,
            ..Self::default()
        }
    }

    /// Adds a line.
    ///
    /// # Errors
    /// Unlike numbers of places; fewer than two, or none of points; numbers that are not of the kind of their scale; too
    /// many in all; more than a hundred lines.
    pub fn curve(
        &mut self,
        name: Phrase,
        (xs, ys): (&[Quantity], &[Quantity]),
        side: Side,
        kind: Kind,
    ) -> Result<(), Refusal> {
        if xs.len() != ys.len() {
            let message = format!("a line has as many ys as xs: here are {} and {}", xs.len(), ys.len());
            return Err(Refusal::new("figure", message).hint("let ys = xs.map(|x| …)"));
        }
        let least = if kind == Kind::Points { 1 } else { 2 };
        if xs.len() < least {
            let message = format!("a line goes through at least {least} places, here are {}", xs.len());
            return Err(Refusal::new("figure", message).hint("linspace(a, b, 31) makes a list of places"));
        }
        if self.curves.len() >= CURVES {
            return Err(Refusal::new(
                "limit",
                format!("a chart may have {CURVES} lines at most"),
            ));
        }
        fits(self.count() + 2 * xs.len())?;
        let mut x = self.x.clone();
        let xs: Vec<Amount> = taken(&mut x, xs, "x")?;
        let mut y = self.scale(side)?.clone();
        let ys = taken(&mut y, ys, "y")?;
        self.x = x;
        *self.scale(side)? = y;
        self.curves.push(Curve {
            name,
            xs,
            ys,
            side,
            kind,
        });
        Ok(())
    }

    /// Adds a limit that is the same all along, or stands upright.
    ///
    /// # Errors
    /// A number that is not of the kind of its scale; too many in all.
    pub fn level(&mut self, name: Phrase, at: Quantity, side: Side, upright: bool) -> Result<(), Refusal> {
        fits(self.count() + 1)?;
        let at = match upright {
            true => self.x.take(at, "this")?,
            false => self.scale(side)?.take(at, "this")?,
        };
        self.levels.push(Level {
            name,
            at,
            upright,
            side,
        });
        Ok(())
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

    /// The scale of a side.
    ///
    /// # Errors
    /// The right one, where there is none.
    pub fn scale(&mut self, side: Side) -> Result<&mut Axis, Refusal> {
        match side {
            Side::Left => Ok(&mut self.y),
            Side::Right => self.right.as_mut().ok_or_else(|| {
                let refusal = Refusal::new("figure", "this chart has no scale of its own on the right");
                refusal.hint("right_axis(\"Shaft speed\", \"rpm\") first")
            }),
        }
    }

    /// How many numbers it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        let curves: usize = self.curves.iter().map(|curve| 2 * curve.xs.len()).sum();
        curves + self.levels.len() + 2 * self.marks.len()
    }
}

fn taken(axis: &mut Axis, numbers: &[Quantity], which: &str) -> Result<Vec<Amount>, Refusal> {
    let one = |(nth, number): (usize, &Quantity)| axis.take(*number, &format!("{which} number {nth}"));
    numbers.iter().enumerate().map(one).collect()
}
