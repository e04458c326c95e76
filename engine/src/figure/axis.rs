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

/// A second scale for the same axis, in proportion to the first.
#[derive(Clone, Debug)]
pub struct SecondScale {
    /// What is counted along it.
    pub label: Phrase,
    /// The unit asked for; none is the usual one.
    pub unit: Option<String>,
    /// Where the first scale has this,
    pub at: Amount,
    /// it shows this.
    pub shows: Amount,
    /// The second over the first, SI units.
    pub factor: Amount,
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
    /// A second scale that shows one quantity where the first has another.
    ///
    /// # Errors
    /// A first quantity that is not of the kind of its scale; a unit of something else than the second measures; a
    /// temperature, which is no multiple of another.
    pub fn new(
        axis: &mut Axis,
        label: Phrase,
        unit: Option<String>,
        [at, shows]: [Quantity; 2],
    ) -> Result<Self, Refusal> {
        let at_amount = axis.take(at, "this")?;
        let shows = shows.here()?;
        if [at, shows].iter().any(|quantity| quantity.scale() == Scale::Point) {
            let message = "a temperature is a point on a scale: a second scale cannot multiply it";
            return Err(Refusal::new("figure", message));
        }
        suits(unit.as_deref(), shows.dimension(), shows.scale())?;
        let factor = Quantity::of(shows.number() / at.number(), Dimension::NONE);
        Ok(Self {
            label,
            unit,
            at: at_amount,
            shows: Amount::of(shows),
            factor: Amount::of(factor),
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
