//! A unit as somebody wrote it: none, one of the table, or a product of several.

use super::compound::{CompoundUnit, unknown};
use super::{ReadError, Scale, Unit, find_written};
use crate::quantity::Dimension;

/// What stands after a number.
#[derive(Clone, Debug, PartialEq)]
pub enum WrittenUnit {
    /// Nothing: a plain number.
    None,
    /// A unit of the table.
    Single(&'static Unit),
    /// A product of powers.
    Compound(CompoundUnit),
}

impl WrittenUnit {
    /// Reads an identifier, a symbol, a usual spelling or a product of powers; an empty text is no unit.
    ///
    /// # Errors
    /// As [`CompoundUnit::parse`].
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        let trimmed = text.trim();
        let start = text.len() - text.trim_start().len();
        if trimmed.is_empty() {
            return Ok(Self::None);
        }
        if let Some(unit) = find_written(trimmed) {
            return Ok(Self::Single(unit));
        }
        let product = CompoundUnit::parse(trimmed).map_err(|error| {
            // A single unknown word: the words with spaces are among the near misses too.
            let whole = error.at == (0..trimmed.len()) && !trimmed.contains(['/', '(', '^']);
            if whole { unknown(trimmed, error.at) } else { error }
        });
        product.map(Self::Compound).map_err(|error| error.shifted(start))
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(&self) -> Dimension {
        match self {
            Self::None => Dimension::NONE,
            Self::Single(unit) => unit.dimension,
            Self::Compound(unit) => unit.dimension,
        }
    }

    /// Whether a number in it is a point on a scale.
    #[must_use]
    pub const fn scale(&self) -> Scale {
        match self {
            Self::Single(unit) => unit.scale,
            Self::None | Self::Compound(_) => Scale::Difference,
        }
    }

    /// As written for people; empty for no unit.
    #[must_use]
    pub fn symbol(&self) -> &str {
        match self {
            Self::None => "",
            Self::Single(unit) => unit.symbol,
            Self::Compound(unit) => &unit.text,
        }
    }

    /// The SI value of `value` in it.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        match self {
            Self::None => value,
            Self::Single(unit) => unit.to_si(value),
            Self::Compound(unit) => unit.to_si(value),
        }
    }

    /// The number that states `si` in it.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        match self {
            Self::None => si,
            Self::Single(unit) => unit.from_si(si),
            Self::Compound(unit) => unit.from_si(si),
        }
    }

    /// The SI size of a small difference about the reading `at`, as [`Unit::width_to_si`].
    #[must_use]
    pub fn width_to_si(&self, width: f64, at: f64) -> f64 {
        match self {
            Self::Single(unit) => unit.width_to_si(width, at),
            Self::None | Self::Compound(_) => self.to_si(width),
        }
    }

    /// The size in it of a small SI difference about the SI value `at`: the inverse of [`WrittenUnit::width_to_si`].
    #[must_use]
    pub fn width_from_si(&self, width: f64, at: f64) -> f64 {
        width / self.width_to_si(1.0, self.from_si(at))
    }
}
