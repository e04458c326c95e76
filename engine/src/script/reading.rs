//! Between text and quantities.

use crate::diagnostic::Refusal;
use crate::outcome::Spread;
use crate::quantity::text::{self, Style, Values};
use crate::quantity::units::{ReadError, WrittenUnit};
use crate::quantity::{Dimension, Quantity, Scale, Unit, words};
use crate::tape::{self, Number, charge};

/// What reading a letter counts as, in simple operations.
const LETTER: u64 = 30;

type Result<T> = std::result::Result<T, Refusal>;

/// A reading as a person wrote it.
pub(crate) struct Written {
    /// One number or three, in SI units.
    pub(crate) numbers: Vec<f64>,
    pub(crate) dimension: Dimension,
    pub(crate) scale: Scale,
    /// Its ±, where one was written.
    pub(crate) spread: Option<Spread>,
    /// The unit that it was written in, where it has a name.
    pub(crate) unit: Option<&'static Unit>,
}

impl Written {
    /// A quantity shown in messages in the unit of this reading.
    pub(crate) fn as_written(&self, quantity: Quantity) -> Quantity {
        self.unit.map_or(quantity, |unit| quantity.written_in(unit))
    }
}

/// Reads what a person wrote for a reading.
pub(crate) fn read(text: &str, signs: Option<&(String, String)>) -> Result<Written> {
    let signs = signs.map(|(positive, negative)| (positive.as_str(), negative.as_str()));
    charge(LETTER * text.len() as u64);
    let reading = text::read_with_signs(text, signs).map_err(|error| refused(&error, text))?;
    Ok(Written {
        numbers: match reading.values {
            Values::One(number) => vec![number],
            Values::Vector(numbers) => numbers.to_vec(),
        },
        dimension: reading.dimension,
        scale: reading.scale,
        spread: match reading.spread {
            text::Spread::None => None,
            text::Spread::Limits(0.0) => Some(Spread::Exact),
            text::Spread::Limits(width) => Some(Spread::Limits(width)),
            text::Spread::StdDev(width) => Some(Spread::Standard(width)),
        },
        unit: match reading.unit {
            WrittenUnit::Single(unit) => Some(unit),
            _ => None,
        },
    })
}

/// The numbers of a text, in SI units, and what they measure; words for the sign as in `signs`.
///
/// # Errors
/// What cannot be read.
pub(crate) fn read_reading(text: &str, signs: Option<&(String, String)>) -> Result<(Vec<f64>, Dimension)> {
    let written = read(text, signs)?;
    Ok((written.numbers, written.dimension))
}

/// `quantity("12-11/16 in")`
pub(crate) fn of_text(text: &str) -> Result<Quantity> {
    let written = read(text, None)?;
    match (&written.numbers[..], written.spread) {
        ([number], None) => Ok(written.as_written(of(*number, written.dimension, written.scale))),
        ([_], Some(_)) => Err(Refusal::new(
            "text",
            format!("`{text}` has a ±: only a reading has one"),
        )),
        _ => Err(Refusal::new("text", format!("`{text}` is a point, not one quantity"))),
    }
}

fn of(number: f64, dimension: Dimension, scale: Scale) -> Quantity {
    match scale {
        Scale::Point => Quantity::temperature_point(Number::constant(number)),
        Scale::Difference => Quantity::constant(number, dimension),
    }
}

/// `quantity(1.2, "W/(m^2 K)")`
pub(crate) fn in_unit(number: Quantity, unit: &str) -> Result<Quantity> {
    let plain = number.expect(Dimension::NONE, "the number")?;
    let unit = parse_unit(unit)?;
    let quantity = match &unit {
        WrittenUnit::Single(single) if single.scale == Scale::Point => {
            Quantity::temperature_point((plain + single.offset) * single.factor)
        }
        WrittenUnit::Single(single) if single.slope => {
            Quantity::of(tape::atan2(plain * single.factor, Number::ONE), single.dimension)
        }
        _ if plain.is_constant() => Quantity::constant(unit.to_si(plain.shown()), unit.dimension()),
        _ => Quantity::of(plain * unit.to_si(1.0), unit.dimension()),
    };
    Ok(match unit {
        WrittenUnit::Single(single) => quantity.written_in(single),
        _ => quantity,
    })
}

/// `value_in(q, "mm")`
pub(crate) fn value_in(quantity: Quantity, unit: &str) -> Result<Quantity> {
    let unit = parse_unit(unit)?;
    // A power of an angle counts as an angle, but only radians have the same size in every power.
    let same = quantity.dimension() == unit.dimension()
        || quantity.dimension().is_like(unit.dimension()) && unit.to_si(1.0) == 1.0;
    if !same {
        let wanted = words::with_article(&words::name_of(unit.dimension()));
        let message = format!(
            "{} has no value in {}, the unit of {wanted}",
            quantity.described(),
            unit.symbol()
        );
        return Err(Refusal::new("dimension", message));
    }
    let number = quantity.number();
    let value = match &unit {
        WrittenUnit::Single(single) if single.slope => tape::sin(number) / tape::cos(number) / single.factor,
        WrittenUnit::Single(single) if quantity.scale() == Scale::Point => number / single.factor - single.offset,
        WrittenUnit::Single(single) => number / single.factor,
        _ => number / unit.to_si(1.0),
    };
    Ok(Quantity::of(value, Dimension::NONE))
}

fn parse_unit(unit: &str) -> Result<WrittenUnit> {
    charge(LETTER * unit.len() as u64);
    WrittenUnit::parse(unit).map_err(|error| refused(&error, unit))
}

/// How a quantity is to be written.
pub(crate) fn style(style: &str, dimension: Dimension, scale: Scale) -> Result<Style> {
    charge(LETTER * style.len() as u64);
    Style::parse(style, dimension, scale).map_err(|error| refused(&error, style))
}

fn refused(error: &ReadError, text: &str) -> Refusal {
    let part = text.get(error.at.clone()).unwrap_or("").trim();
    let at = if part.is_empty() || part == text.trim() {
        String::new()
    } else {
        format!(" at `{part}`")
    };
    // The message often holds the text itself.
    let message = if at.is_empty() && error.message.contains(text.trim()) {
        error.message.clone()
    } else {
        format!("`{text}`{at}: {}", error.message)
    };
    Refusal::new("text", message).maybe_hint(error.hint.clone())
}
