//! A scale: what it measures, its words and its unit.

use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase};
use crate::quantity::text::Style;
use crate::quantity::{Dimension, Quantity, Scale, words};

/// A scale of a chart.
#[derive(Clone, Debug, Default)]
pub struct Axis {
    /// What is counted along it.
    pub label: Phrase,
    /// The unit asked for; none is the usual one.
    pub unit: Option<String>,
    /// Whether equal steps are equal ratios.
    pub logarithmic: bool,
    /// What its numbers measure; the first one says so.
    pub kind: Option<(Dimension, Scale)>,
}

/// A second scale for the same axis: its numbers are those of the axis times a factor.
#[derive(Clone, Debug)]
pub struct SecondScale {
    /// What is counted along it.
    pub label: Phrase,
    /// The unit asked for; none is the usual one.
    pub unit: Option<String>,
    /// What one of the axis is on this scale.
    pub factor: Amount,
    /// What its numbers measure.
    pub dimension: Dimension,
}

impl Axis {
    /// Takes a number onto the scale.
    ///
    /// # Errors
    /// One that measures something else than those before it, or that the unit asked for does not suit.
    pub fn take(&mut self, quantity: Quantity, what: &str) -> Result<Amount, Refusal> {
        let quantity = quantity.here()?;
        let (dimension, scale) = (quantity.dimension(), quantity.scale());
        match self.kind {
            Some((kind, of)) if of == scale && (kind == dimension || kind.is_like(dimension)) => {}
            Some((kind, of)) => {
                let own = kind_words(kind, of);
                let message = format!("{what} is {}, the scale has {own} on it", quantity.described());
                return Err(Refusal::new("dimension", message));
            }
            None => {
                suits(self.unit.as_deref(), dimension, scale)?;
                self.kind = Some((dimension, scale));
            }
        }
        Ok(Amount::of(quantity))
    }

    /// Says what is counted along it.
    ///
    /// # Errors
    /// A unit of something else than its numbers measure.
    pub fn name(&mut self, label: Phrase, unit: Option<String>) -> Result<(), Refusal> {
        if let Some((dimension, scale)) = self.kind {
            suits(unit.as_deref(), dimension, scale)?;
        }
        self.label = label;
        self.unit = unit;
        Ok(())
    }
}

impl SecondScale {
    /// A second scale for numbers of a kind.
    ///
    /// # Errors
    /// A unit of something else than the numbers times the factor measure.
    pub fn new(axis: &Axis, label: Phrase, unit: Option<String>, factor: Quantity) -> Result<Self, Refusal> {
        let Some((dimension, scale)) = axis.kind else {
            let message = "a second scale needs numbers to go by, and nothing is drawn yet";
            return Err(Refusal::new("figure", message).hint("add the lines first"));
        };
        if scale == Scale::Point {
            let message = "a temperature is a point on a scale: a second scale cannot multiply it";
            return Err(Refusal::new("figure", message));
        }
        let made = Quantity::constant(1.0, dimension).mul(factor)?;
        suits(unit.as_deref(), made.dimension(), Scale::Difference)?;
        Ok(Self {
            label,
            unit,
            factor: Amount::of(factor),
            dimension: made.dimension(),
        })
    }
}

/// Refuses a unit that numbers of a kind cannot be written in.
pub(super) fn suits(unit: Option<&str>, dimension: Dimension, scale: Scale) -> Result<(), Refusal> {
    let Some(unit) = unit else { return Ok(()) };
    match Style::parse(unit, dimension, scale) {
        Ok(_) => Ok(()),
        Err(error) => Err(Refusal::new("unit", error.message)),
    }
}

fn kind_words(dimension: Dimension, scale: Scale) -> String {
    match scale {
        Scale::Point => "temperatures".to_owned(),
        Scale::Difference => words::with_article(&words::name_of(dimension)),
    }
}
