//! A product of powers of units, while it is being put together.

use super::unit::Ratio;
use super::{Unit, find_written};
use crate::quantity::{Base, Dimension};

/// What has been multiplied so far. Powers are added before any angle is dropped, so that the order of the factors does
/// not matter.
pub(super) struct Product {
    pub(super) ratio: Ratio,
    powers: [i32; 6],
    above: Vec<String>,
    below: Vec<String>,
}

impl Product {
    pub(super) const fn one() -> Self {
        Self {
            ratio: Ratio::ONE,
            powers: [0; 6],
            above: Vec::new(),
            below: Vec::new(),
        }
    }

    /// Multiplies by another to a power.
    pub(super) fn take(&mut self, other: Self, power: i16) {
        for _ in 0..power.unsigned_abs() {
            self.ratio = if power < 0 {
                self.ratio.per(other.ratio)
            } else {
                self.ratio.times(other.ratio)
            };
        }
        for (mine, theirs) in self.powers.iter_mut().zip(other.powers) {
            *mine = mine.saturating_add(theirs.saturating_mul(i32::from(power)));
        }
        let (above, below) = if power < 0 {
            (other.below, other.above)
        } else {
            (other.above, other.below)
        };
        self.above
            .extend(above.into_iter().map(|part| raised(&part, power.unsigned_abs())));
        self.below
            .extend(below.into_iter().map(|part| raised(&part, power.unsigned_abs())));
    }

    /// `None` where the powers are too high.
    pub(super) fn dimension(&self) -> Option<Dimension> {
        // `Dimension` counts in twelfths of an `i16`.
        let mut powers = [0_i16; 6];
        for (power, &sum) in powers.iter_mut().zip(&self.powers) {
            *power = i16::try_from(sum).ok().filter(|sum| sum.unsigned_abs() < 1000)?;
        }
        let [length, mass, time, current, temperature, angle] = powers;
        Dimension::of(length, mass, time, current, temperature, angle).product(Dimension::NONE)
    }

    /// As written for people.
    pub(super) fn shown(&self) -> String {
        let above = if self.above.is_empty() {
            "1".to_owned()
        } else {
            self.above.join(" ")
        };
        match self.below.as_slice() {
            [] => above,
            [one] => format!("{above}/{one}"),
            many => format!("{above}/({})", many.join(" ")),
        }
    }
}

impl From<&Unit> for Product {
    fn from(unit: &Unit) -> Self {
        Self {
            ratio: unit.ratio(),
            powers: powers_of(unit),
            above: vec![grouped(unit)],
            below: Vec::new(),
        }
    }
}

fn powers_of(unit: &Unit) -> [i32; 6] {
    let one = Dimension::LENGTH.twelfths(Base::Length);
    Base::ALL.map(|base| i32::from(unit.dimension.twelfths(base) / one))
}

/// A symbol as a factor: one that is a product itself stands in brackets, one of several words (`US gal`) stands
/// by its name, and so does a torque per degree: its own dimension has dropped the angle that `°` would bring into the product.
fn grouped(unit: &Unit) -> String {
    let mut words = unit.symbol.split([' ', '/', '(', ')']).map(|word| split_power(word).0);
    if !words.all(|word| word.is_empty() || find_written(word).is_some()) || unit.symbol.ends_with("/°") {
        return unit.name.to_owned();
    }
    if unit.symbol.contains([' ', '/']) {
        format!("({})", unit.symbol)
    } else {
        unit.symbol.to_owned()
    }
}

fn raised(part: &str, power: u16) -> String {
    if power == 1 {
        return part.to_owned();
    }
    let (base, already) = split_power(part);
    let digits = already.saturating_mul(u32::from(power)).to_string();
    let raised: String = digits
        .chars()
        .filter_map(|c| c.to_digit(10))
        .filter_map(|d| SUPERSCRIPTS.get(d as usize))
        .collect();
    format!("{base}{raised}")
}

fn split_power(part: &str) -> (&str, u32) {
    let base = part.trim_end_matches(SUPERSCRIPTS);
    let power = part[base.len()..].chars().fold(0_u32, |sum, c| {
        let digit = SUPERSCRIPTS
            .iter()
            .position(|&known| known == c)
            .and_then(|d| u32::try_from(d).ok());
        sum.saturating_mul(10).saturating_add(digit.unwrap_or(0))
    });
    (base, power.max(1))
}

/// Raised digits, from 0.
pub(super) const SUPERSCRIPTS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
