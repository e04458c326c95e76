//! Quantities as people write them.
//!
//! A degree sign stands right after the number (`3.2°`), every other symbol after a space (`75 %`, `20 °C`). The minus
//! sign is a plain hyphen. Nearest fractions say how far off they are in words (`12 11/16 in less 0.007 in`): a bare
//! `-0.007` after a dimension would read as a tolerance.

use super::decimal::{Digits, digits_for, write_number};
use super::style::Style;
use super::usual::System;
use crate::kernel;
use crate::quantity::Dimension;
use crate::quantity::units::{Scale, WrittenUnit, find};

/// Beyond this many inches a fraction of one is no longer held by an `f64`.
const LONGEST_RULE: f64 = 1e9;

impl Style {
    /// A value in SI units, written so, without regard to an uncertainty.
    #[must_use]
    pub fn write(&self, si: f64) -> String {
        self.write_uncertain(si, None)
    }

    /// A value in SI units with as many digits as its standard uncertainty (in SI too) supports. The uncertainty itself
    /// is not written; see [`Style::write_plus_minus`].
    #[must_use]
    pub fn write_uncertain(&self, si: f64, uncertainty: Option<f64>) -> String {
        match self {
            Self::Decimal { unit, .. } => with_symbol(&self.number(si, uncertainty), unit),
            Self::Fraction { denominator, feet } => write_fraction(inches(si), *denominator, *feet),
        }
    }

    /// The number alone, in the unit of [`Style::symbol`]: for a table whose head names the unit.
    #[must_use]
    pub fn number(&self, si: f64, uncertainty: Option<f64>) -> String {
        let value = self.value(si);
        let digits = match self {
            Self::Decimal {
                decimals: Some(decimals),
                ..
            } => Digits::Decimals(*decimals),
            Self::Decimal { unit, .. } => digits_for(value, uncertainty.map(|width| unit.width_from_si(width, si))),
            Self::Fraction { .. } => Digits::Decimals(3),
        };
        write_number(value, digits)
    }

    /// A reading and its ±, both in SI: `3.4° ± 0.1°`. The ± has up to two significant figures, the value at least its
    /// decimals. Can be read again.
    #[must_use]
    pub fn write_plus_minus(&self, si: f64, half_width: f64) -> String {
        let Self::Decimal { unit, .. } = self else {
            let inches = write_number(inches(half_width), Digits::Significant(2));
            return format!("{} ± {inches} in", self.write(si));
        };
        let width = write_number(unit.width_from_si(half_width, si), Digits::Significant(2));
        let own = self.number(si, None);
        let decimals = decimals_of(&own).max(decimals_of(&width));
        let fixed = !own.contains('e') && !width.contains('e');
        let value = if fixed {
            write_number(self.value(si), Digits::Decimals(decimals))
        } else {
            own
        };
        format!("{} ± {}", with_symbol(&value, unit), with_symbol(&width, unit))
    }

    /// The value in the unit shown, unrounded.
    #[must_use]
    pub fn value(&self, si: f64) -> f64 {
        match self {
            Self::Decimal { unit, .. } => unit.from_si(si),
            Self::Fraction { .. } => inches(si),
        }
    }

    /// The unit shown, for people: `lbf ft`; empty for a plain number.
    #[must_use]
    pub fn symbol(&self) -> &str {
        match self {
            Self::Decimal { unit, .. } => unit.symbol(),
            Self::Fraction { .. } => "in",
        }
    }

    /// The unit shown.
    #[must_use]
    pub fn shown_unit(&self) -> WrittenUnit {
        match self {
            Self::Decimal { unit, .. } => unit.clone(),
            Self::Fraction { .. } => find("inch").map_or(WrittenUnit::None, WrittenUnit::Single),
        }
    }
}

/// An inch is 254/10 000 m exactly.
fn inches(si: f64) -> f64 {
    si * 1e4 / 254.0
}

/// A value in SI units in its usual metric unit: for messages.
#[must_use]
pub fn shown(si: f64, dimension: Dimension, scale: Scale) -> String {
    Style::usual(dimension, scale, System::Metric, si).write(si)
}

/// A number with its unit's symbol.
fn with_symbol(number: &str, unit: &WrittenUnit) -> String {
    match unit.symbol() {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        symbol => format!("{number} {symbol}"),
    }
}

fn decimals_of(number: &str) -> u8 {
    number
        .split_once('.')
        .map_or(0, |(_, decimals)| u8::try_from(decimals.len()).unwrap_or(u8::MAX))
}

/// `12 11/16 in`, `4 ft 1 1/2 in`, and by how much the value is more or less.
fn write_fraction(inches: f64, denominator: u32, feet: bool) -> String {
    let size = inches.abs();
    if size.is_nan() || size >= LONGEST_RULE {
        return format!("{} in", write_number(inches, Digits::Decimals(3)));
    }
    let steps = kernel::floor(size * f64::from(denominator) + 0.5);
    // A difference of two near numbers holds their rounding: what is a tie but for that goes away from zero.
    let off = size - steps / f64::from(denominator);
    let off = write_number(off + f64::copysign(1e-12, off), Digits::Decimals(3));
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole, below 2^37, not negative"
    )]
    let nearest = write_steps(steps as u64, u64::from(denominator), feet);
    let sign = if inches < 0.0 && steps > 0.0 { "-" } else { "" };
    // Beside a negative value, more in size is less in value.
    let (less, off) = match off.strip_prefix('-') {
        Some(off) => (inches > 0.0, off),
        None => (inches < 0.0, off.as_str()),
    };
    match off {
        "0.000" => format!("{sign}{nearest}"),
        off => format!("{sign}{nearest} {} {off} in", if less { "less" } else { "plus" }),
    }
}

/// A whole number of steps of 1/denominator inch, the fraction in lowest terms.
fn write_steps(steps: u64, denominator: u64, feet: bool) -> String {
    let (feet, steps) = if feet {
        (steps / (12 * denominator), steps % (12 * denominator))
    } else {
        (0, steps)
    };
    let (whole, rest) = (steps / denominator, steps % denominator);
    let shared = 1 << rest.trailing_zeros().min(denominator.trailing_zeros());
    let inches = match (whole, rest) {
        (whole, 0) => format!("{whole} in"),
        (0, rest) => format!("{}/{} in", rest / shared, denominator / shared),
        (whole, rest) => format!("{whole} {}/{} in", rest / shared, denominator / shared),
    };
    if feet > 0 {
        format!("{feet} ft {inches}")
    } else {
        inches
    }
}
