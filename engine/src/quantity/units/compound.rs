//! Products of powers of units: `W/(m^2 K)`, `N mm`, `kN·m`.
//!
//! A product is written with a space, `·`, `*`, `×`, a full stop or a hyphen between letters; a power as `^2`, `**2`,
//! `²`, or digits at the end of a name (`s2`). A slash takes the one factor after it. What ISO 80000-1 calls ambiguous,
//! a product after a slash without brackets (`W/m K`), is refused.

use super::product::Product;
use super::read_error::{ReadError, refuse_long};
use super::token::{Token, tokens};
use super::unit::Ratio;
use super::{Scale, Unit, find_written, meant, nearest};
use crate::quantity::{Dimension, words};
use core::ops::Range;

/// A product of powers of units.
#[derive(Clone, Debug, PartialEq)]
pub struct CompoundUnit {
    /// SI units in one of it.
    pub factor: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// As written for people: symbols, raised powers, brackets after the slash.
    pub text: String,
    ratio: Ratio,
}

/// The highest power of one unit.
const HIGHEST: i16 = 12;
/// How deep brackets may nest.
const DEEPEST: usize = 8;

impl CompoundUnit {
    /// Reads a product of powers of units.
    ///
    /// # Errors
    /// An unknown unit (with the nearest known one), a temperature point or a slope as a factor, an ambiguous slash,
    /// a power beyond ±12, a speed with an angle left in it.
    pub fn parse(text: &str) -> Result<Self, ReadError> {
        refuse_long(text)?;
        let whole = 0..text.len();
        if let Some(unit) = find_written(text.trim()) {
            return usable(unit, &whole).map(Self::from);
        }
        let mut reader = Reader {
            tokens: tokens(text)?,
            next: 0,
            text,
        };
        let product = reader.product(0)?;
        if let Some((token, at)) = reader.peek() {
            return Err(ReadError::new(
                at.clone(),
                format!("{} has no place here", token.described()),
            ));
        }
        let dimension = product
            .dimension()
            .ok_or_else(|| ReadError::new(whole.clone(), "the powers are too high"))?;
        let factor = product.ratio.value();
        if !factor.is_normal() {
            return Err(ReadError::new(whole, "the unit is too large or too small"));
        }
        if dimension.is_motion_with_angle() {
            let message = "a speed or a flow cannot have an angle in its unit";
            return Err(ReadError::new(whole, message).hint("leave the angle away where the length is a radius"));
        }
        // `lb ft` and `mm/m` by themselves are a torque and a slope; as the products they stand in brackets.
        let shown = product.shown();
        let text = if find_written(&shown).is_some_and(|unit| unit.dimension != dimension) {
            format!("({shown})")
        } else {
            shown
        };
        Ok(Self {
            factor,
            dimension,
            text,
            ratio: product.ratio,
        })
    }

    /// The SI value of `value` in this unit.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        self.ratio.apply(value)
    }

    /// The number that states `si` in this unit.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        self.ratio.undo(si)
    }

    /// The factor as it is applied: multiplied by the first number, then divided by the second.
    #[must_use]
    pub const fn fraction(&self) -> [f64; 2] {
        self.ratio.parts()
    }
}

impl CompoundUnit {
    /// The SI unit of any dimension, spelled as a product of base units: `kg m²/s`.
    #[must_use]
    pub fn si(dimension: Dimension) -> Self {
        let text = words::product(dimension, ["m", "kg", "s", "A", "K", "rad"], [" ", "/"]);
        Self {
            factor: 1.0,
            dimension,
            text,
            ratio: Ratio::ONE,
        }
    }
}

impl From<&Unit> for CompoundUnit {
    fn from(unit: &Unit) -> Self {
        Self {
            factor: unit.factor,
            dimension: unit.dimension,
            text: unit.symbol.to_owned(),
            ratio: unit.ratio(),
        }
    }
}

struct Reader<'a> {
    tokens: Vec<(Token, Range<usize>)>,
    next: usize,
    text: &'a str,
}

impl Reader<'_> {
    fn peek(&self) -> Option<&(Token, Range<usize>)> {
        self.tokens.get(self.next)
    }

    fn step(&mut self, wanted: &Token) -> bool {
        let found = self.peek().is_some_and(|(token, _)| token == wanted);
        self.next += usize::from(found);
        found
    }

    fn end(&self) -> Range<usize> {
        self.text.len()..self.text.len()
    }

    /// factor { [·] factor | / factor }, until a closing bracket or the end.
    fn product(&mut self, depth: usize) -> Result<Product, ReadError> {
        let mut product = Product::one();
        let (first, power) = self.factor(depth)?;
        product.take(first, power);
        let mut slashed = false;
        loop {
            let slash = self.step(&Token::Slash);
            let times = !slash && self.step(&Token::Times);
            let Some((token, at)) = self.peek().cloned() else {
                if slash || times {
                    return Err(ReadError::new(self.end(), "a unit is missing at the end"));
                }
                return Ok(product);
            };
            if !slash && !times && token == Token::Close {
                return Ok(product);
            }
            if slashed && !slash {
                let message = "it is not clear whether this unit stands below the slash";
                return Err(ReadError::new(at, message).hint("write brackets: W/(m K)"));
            }
            slashed |= slash;
            let (factor, power) = self.factor(depth)?;
            product.take(factor, if slash { -power } else { power });
        }
    }

    /// A unit, a one or a bracket, and its power.
    fn factor(&mut self, depth: usize) -> Result<(Product, i16), ReadError> {
        let Some((token, at)) = self.peek().cloned() else {
            return Err(ReadError::new(self.end(), "a unit is missing"));
        };
        self.next += 1;
        let base = match token {
            Token::Name(name) => {
                let (unit, power) = named(&name, &at)?;
                let single = Product::from(unit);
                if let Some(power) = power {
                    return Ok((single, power));
                }
                single
            }
            Token::Number(1) if self.next == 1 && matches!(self.peek(), Some((Token::Slash, _))) => Product::one(),
            Token::Open if depth < DEEPEST => {
                let inner = self.product(depth + 1)?;
                if !self.step(&Token::Close) {
                    return Err(ReadError::new(at, "this bracket is not closed"));
                }
                inner
            }
            Token::Open => return Err(ReadError::new(at, "brackets nest too deep")),
            other => {
                return Err(ReadError::new(
                    at,
                    format!("a unit was expected, not {}", other.described()),
                ));
            }
        };
        Ok((base, self.power()?))
    }

    fn power(&mut self) -> Result<i16, ReadError> {
        let Some((Token::Power(power), at)) = self.peek().cloned() else {
            return Ok(1);
        };
        self.next += 1;
        in_range(power, at)
    }
}

fn in_range(power: i32, at: Range<usize>) -> Result<i16, ReadError> {
    i16::try_from(power)
        .ok()
        .filter(|power| *power != 0 && power.abs() <= HIGHEST)
        .ok_or_else(|| {
            ReadError::new(
                at,
                format!("a power of a unit is a whole number from 1 to {HIGHEST}, or less than 0"),
            )
        })
}

/// The unit of a name, or of a name with its power at the end: `s2`.
fn named(name: &str, at: &Range<usize>) -> Result<(&'static Unit, Option<i16>), ReadError> {
    if let Some(unit) = find_written(name) {
        return Ok((usable(unit, at)?, None));
    }
    let bare = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &name[bare.len()..];
    match (find_written(bare), digits.parse::<i32>()) {
        (Some(unit), Ok(power)) => Ok((usable(unit, at)?, Some(in_range(power, at.clone())?))),
        _ => Err(unknown(name, at.clone())),
    }
}

/// The error about a name that is no unit.
pub(in crate::quantity) fn unknown(name: &str, at: Range<usize>) -> ReadError {
    let error = ReadError::new(at, format!("{name:?} is no unit that is known"));
    match (meant(name), nearest(name)) {
        ([_, ..], _) => error.hint(format!("did you mean {}?", meant(name).join(" or "))),
        ([], Some(unit)) => error.hint(format!("did you mean {}?", unit.name)),
        ([], None) => error,
    }
}

fn usable(unit: &'static Unit, at: &Range<usize>) -> Result<&'static Unit, ReadError> {
    if unit.scale == Scale::Point {
        let message = format!(
            "{} is a point on a temperature scale, and a product needs a difference",
            unit.symbol
        );
        return Err(ReadError::new(at.clone(), message).hint(format!("write delta_{} or K", unit.name)));
    }
    if unit.slope {
        let message = format!("{} is a slope, and has no place in a product", unit.symbol);
        return Err(ReadError::new(at.clone(), message).hint("write rad or deg"));
    }
    Ok(unit)
}
