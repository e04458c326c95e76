//! Quantities as a person writes them: `3.5 in`, `48-1/16 in`, `4 ft 1-1/2 in`, `11° 30'`, `(905, 22, -70) +/- 1 mm`,
//! `3.4 deg std_dev 0.05 deg`, `3.2 deg tail up`.
//!
//! What could mean two things is refused: a comma in a number, `3-4 in`, `5/4 in`, `W/m K`. Whether a dimension is the
//! one wanted is not known here; a bare `3.5` is a plain number.

use core::ops::Range;

use super::amount::{Amount, amount};
use super::scan::Scan;
use super::sign_word::{SignWord, split_sign};
use super::vector::vector;
use crate::quantity::Dimension;
use crate::quantity::units::read_error::refuse_long;
use crate::quantity::units::{ReadError, Scale, WrittenUnit};

/// The numbers of a reading, in SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Values {
    /// A single quantity.
    One(f64),
    /// A point or a vector.
    Vector([f64; 3]),
}

/// What was written about how far off a reading may be, in SI units (a difference, for a temperature too).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Nothing.
    None,
    /// ± limits: any value between is as likely.
    Limits(f64),
    /// A standard uncertainty.
    StdDev(f64),
}

/// What a text says.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The value or the three components, in SI units.
    pub values: Values,
    /// What it measures.
    pub dimension: Dimension,
    /// Whether it is a point on a temperature scale.
    pub scale: Scale,
    /// Its ± or standard uncertainty.
    pub spread: Spread,
    /// The unit as written (the first one, of several), to write it back in.
    pub unit: WrittenUnit,
    /// The word for its sign, as the script spells it, where one was written.
    pub sign_word: Option<String>,
}

/// Reads a quantity.
///
/// # Errors
/// What cannot be read, with its place in the text.
pub fn read(text: &str) -> Result<Reading, ReadError> {
    read_with_signs(text, None)
}

/// Reads a quantity whose sign may be a word: with `("tail down", "tail up")`, the positive one first, `3.2 deg tail up`
/// is −3.2°. Letters' case and the number of spaces do not matter.
///
/// # Errors
/// As [`read`]; a word and a minus sign together.
pub fn read_with_signs(text: &str, signs: Option<(&str, &str)>) -> Result<Reading, ReadError> {
    refuse_long(text)?;
    if text.trim().is_empty() {
        return Err(
            ReadError::new(0..text.len(), "nothing is written here").hint("write a number and its unit: 3.5 in")
        );
    }
    read_parts(text, signs).map_err(|error| about_words(error, text, signs))
}

/// A word that is no unit may be meant for one of the signs.
fn about_words(error: ReadError, text: &str, signs: Option<(&str, &str)>) -> ReadError {
    let is_word = text
        .get(error.at.clone())
        .is_some_and(|found| found.starts_with(char::is_alphabetic));
    match signs.filter(|_| is_word && error.hint.is_none()) {
        Some((positive, negative)) => error.hint(format!("the words for its sign are {positive:?} and {negative:?}")),
        None => error,
    }
}

fn read_parts(text: &str, signs: Option<(&str, &str)>) -> Result<Reading, ReadError> {
    let (main, spread) = split_spread(text)?;
    let (main, word) = split_sign(main, signs);
    let (spread, late_word) = match spread {
        Some((kind, piece)) => {
            let (piece, word) = split_sign(piece, signs);
            (Some((kind, amount(piece)?)), word)
        }
        None => (None, None),
    };
    if let (Some(_), Some(second)) = (&word, &late_word) {
        return Err(ReadError::new(second.at.clone(), "the word for the sign stands here twice").hint("write it once"));
    }
    let main = main.trimmed();
    let (amounts, unit) = if main.peek() == Some('(') {
        vector(main)?
    } else {
        single(main)?
    };
    let unit = match &spread {
        Some((_, spread)) => shared_unit(&amounts, unit, spread)?,
        None => unit,
    };
    let mut reading = values_in(&amounts, unit, main.span())?;
    if let Some(word) = word.or(late_word) {
        reading.apply_word(word, main)?;
    }
    if let Some((kind, amount)) = spread {
        reading.spread = reading.read_spread(kind, &amount)?;
    }
    reading.refuse_endless(0..text.len())?;
    Ok(reading)
}

/// The two ways to say how far off a value may be, and their marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SpreadKind {
    Limits,
    StdDev,
}

const MARKS: [(&str, SpreadKind); 7] = [
    ("±", SpreadKind::Limits),
    ("+/-", SpreadKind::Limits),
    ("+-", SpreadKind::Limits),
    ("plus_minus", SpreadKind::Limits),
    ("plus minus", SpreadKind::Limits),
    ("std_dev", SpreadKind::StdDev),
    ("std dev", SpreadKind::StdDev),
];

type Parts<'a> = (Scan<'a>, Option<(SpreadKind, Scan<'a>)>);

/// The text before and after the mark of a ±.
fn split_spread(text: &str) -> Result<Parts<'_>, ReadError> {
    let whole = Scan::new(text, 0);
    let Some((at, mark, kind)) = first_mark(text) else {
        return Ok((whole, None));
    };
    let (main, mut rest) = whole.split(at);
    rest.take(mark.len());
    if let Some((second, mark, _)) = first_mark(rest.rest()) {
        let at = rest.at() + second..rest.at() + second + mark.len();
        return Err(ReadError::new(at, "a second ± stands here"));
    }
    Ok((main, Some((kind, rest))))
}

fn first_mark(text: &str) -> Option<(usize, &'static str, SpreadKind)> {
    let found = MARKS
        .iter()
        .filter_map(|(mark, kind)| text.find(mark).map(|at| (at, *mark, *kind)));
    found.min_by_key(|(at, ..)| *at)
}

/// The unit of a reading beside its ±. A number without a unit takes that of the ±, `-1.3 +/- 0.15 deg`; a ± without
/// one takes the reading's, unless that has several.
fn shared_unit(amounts: &[Amount], unit: WrittenUnit, spread: &Amount) -> Result<WrittenUnit, ReadError> {
    let at = spread.number.at.clone();
    if spread.unit == WrittenUnit::None {
        let several = amounts
            .iter()
            .any(|amount| amount.in_parts || *own_unit(amount, &unit) != unit);
        if several {
            return Err(
                ReadError::new(at, "the ± has no unit, and the value has several").hint("write the ± with its unit")
            );
        }
        refuse_plain_only(core::slice::from_ref(spread), &unit)?;
        return Ok(unit);
    }
    if unit != WrittenUnit::None {
        return Ok(unit);
    }
    if is_percent(&spread.unit) {
        let message = "it is not clear whether the value is in percent or the ± a share of it";
        return Err(ReadError::new(at, message).hint("write 75 % +/- 5 %, or the ± as a plain number"));
    }
    refuse_plain_only(amounts, &spread.unit)?;
    Ok(spread.unit.clone())
}

fn values_in(amounts: &[Amount], unit: WrittenUnit, at: Range<usize>) -> Result<Reading, ReadError> {
    let si: Vec<f64> = amounts
        .iter()
        .map(|amount| amount.si(own_unit(amount, &unit)))
        .collect();
    let values = match si.as_slice() {
        [value] => Values::One(*value),
        [x, y, z] => Values::Vector([*x, *y, *z]),
        _ => {
            return Err(ReadError::new(
                at,
                format!("a vector has three numbers, not {}", si.len()),
            ));
        }
    };
    let (dimension, scale) = (unit.dimension(), unit.scale());
    Ok(Reading {
        values,
        dimension,
        scale,
        spread: Spread::None,
        unit,
        sign_word: None,
    })
}

const fn own_unit<'a>(amount: &'a Amount, shared: &'a WrittenUnit) -> &'a WrittenUnit {
    match amount.unit {
        WrittenUnit::None => shared,
        _ => &amount.unit,
    }
}

fn refuse_plain_only(amounts: &[Amount], unit: &WrittenUnit) -> Result<(), ReadError> {
    let refused = amounts.iter().find_map(|amount| amount.number.only_plain.clone());
    refused.filter(|_| *unit != WrittenUnit::None).map_or(Ok(()), Err)
}

fn single(main: Scan<'_>) -> Result<(Vec<Amount>, WrittenUnit), ReadError> {
    let amount = amount(main)?;
    let unit = amount.unit.clone();
    Ok((vec![amount], unit))
}

impl Reading {
    fn apply_word(&mut self, word: SignWord, main: Scan<'_>) -> Result<(), ReadError> {
        let Values::One(value) = &mut self.values else {
            let message = format!("a vector has no sign that {:?} could name", word.word);
            return Err(ReadError::new(word.at, message).hint("give each number its sign"));
        };
        if main.peek().is_some_and(|c| matches!(c, '-' | '−' | '+')) {
            let message = format!("a sign and the word {:?} stand together", word.word);
            return Err(ReadError::new(word.at, message).hint("write one of the two"));
        }
        if word.negative {
            *value = -*value;
        }
        self.sign_word = Some(word.word);
        Ok(())
    }

    /// What a ± comes to in SI: in its own unit, in the value's, or in percent of the value.
    fn read_spread(&self, kind: SpreadKind, amount: &Amount) -> Result<Spread, ReadError> {
        let at = amount.number.at.clone();
        if amount.number.value < 0.0 || amount.number.negative {
            return Err(ReadError::new(at, "a ± cannot be negative").hint("write 3.4 +/- 0.1 deg"));
        }
        let width = if is_percent(&amount.unit) && !self.dimension.is_none() {
            self.share(amount, at)?
        } else {
            self.width(amount, at)?
        };
        Ok(match kind {
            SpreadKind::Limits => Spread::Limits(width),
            SpreadKind::StdDev => Spread::StdDev(width),
        })
    }

    fn share(&self, amount: &Amount, at: Range<usize>) -> Result<f64, ReadError> {
        match (self.values, self.scale) {
            (Values::One(value), Scale::Difference) => Ok(value.abs() * amount.si(&amount.unit)),
            _ => {
                let message = "a ± in percent needs a single value that is no point on a scale";
                Err(ReadError::new(at, message).hint("write the ± with its unit"))
            }
        }
    }

    fn width(&self, amount: &Amount, at: Range<usize>) -> Result<f64, ReadError> {
        let unit = own_unit(amount, &self.unit);
        if unit.dimension() != self.dimension {
            let words = crate::quantity::words::name_of;
            let message = format!(
                "the ± is in {}, the value in {}",
                words(unit.dimension()),
                words(self.dimension)
            );
            return Err(ReadError::new(at, message).hint("give both the same kind of unit"));
        }
        let Values::One(value) = self.values else {
            return Ok(unit.width_to_si(amount.number.value, 0.0) + amount.parts);
        };
        Ok(unit.width_to_si(amount.number.value, unit.from_si(value)) + amount.parts)
    }

    /// Refuses numbers beyond what an `f64` holds.
    fn refuse_endless(&self, at: Range<usize>) -> Result<(), ReadError> {
        let values = match self.values {
            Values::One(value) => [value; 3],
            Values::Vector(values) => values,
        };
        let spread = match self.spread {
            Spread::None => 0.0,
            Spread::Limits(width) | Spread::StdDev(width) => width,
        };
        let finite = spread.is_finite() && values.iter().all(|value| value.is_finite());
        if finite {
            Ok(())
        } else {
            Err(ReadError::new(at, "this quantity is too large"))
        }
    }
}

fn is_percent(unit: &WrittenUnit) -> bool {
    matches!(unit, WrittenUnit::Single(unit) if unit.name == "percent")
}
