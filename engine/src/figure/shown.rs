//! A figure where a script shows it, and the kinds there are.

use super::{Bars, Chart, Dial, PassMap, Sketch, Table};
use crate::diagnostic::Place;
use crate::outcome::Phrase;
use crate::tape::Reached;

/// A figure that a script shows.
#[derive(Clone, Debug)]
pub struct Shown {
    /// What it shows, below the picture.
    pub label: Option<Phrase>,
    /// The figure as it was when it was shown.
    pub figure: Figure,
    /// The last heading above it.
    pub heading: Option<Phrase>,
    /// Where it stands.
    pub place: Option<Place>,
    /// How far the tape was recorded when it was shown.
    pub reached: Reached,
}

/// The kinds of figures.
#[derive(Clone, Debug)]
pub enum Figure {
    /// Lines, limits and marks over one another.
    Chart(Box<Chart>),
    /// Points and lines in space, as one view shows them.
    Sketch(Sketch),
    /// Directions round a circle.
    Dial(Dial),
    /// Lengths side by side.
    Bars(Bars),
    /// Where in two directions all holds.
    PassMap(PassMap),
    /// Rows and columns.
    Table(Table),
}

impl Figure {
    /// What it is of.
    #[must_use]
    pub const fn title(&self) -> &Phrase {
        match self {
            Self::Chart(chart) => &chart.title,
            Self::Sketch(sketch) => &sketch.title,
            Self::Dial(dial) => &dial.title,
            Self::Bars(bars) => &bars.title,
            Self::PassMap(map) => &map.title,
            Self::Table(table) => &table.title,
        }
    }

    /// The word for its kind.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Chart(_) => "chart",
            Self::Sketch(_) => "sketch",
            Self::Dial(_) => "dial",
            Self::Bars(_) => "bars",
            Self::PassMap(_) => "pass_map",
            Self::Table(_) => "table",
        }
    }
}
