//! A unit: its names, what it measures, and how a value in it becomes SI and back.

use crate::kernel;
use crate::quantity::Dimension;

/// Whether a number in a unit is a place on a scale (20 °C) or an amount (20 K more).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Scale {
    /// An amount; zero is zero in every unit.
    Difference,
    /// A point on a scale whose zero lies elsewhere: `degC`, `degF`.
    Point,
}

/// A unit by name.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// The identifier in scripts and after `as`: `lbf_ft`.
    pub name: &'static str,
    /// As written for people: `lbf ft`.
    pub symbol: &'static str,
    /// In words: `pound-force foot`.
    pub words: &'static str,
    /// Other spellings that are accepted in text (not as an identifier): `ft lb`.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// SI units in one of it, rounded to the nearest `f64`. For `slope` units the tangent of one of it.
    pub factor: f64,
    /// What is added to a reading before the factor is applied: 273.15 for `degC`, 459.67 for `degF`, else 0.
    pub offset: f64,
    /// Whether a number in it is a point on a scale.
    pub scale: Scale,
    /// Whether it states an angle by its tangent (`mm_per_m`): the conversion is then `atan`, not a factor.
    pub slope: bool,
    /// Where the factor comes from.
    pub source: &'static str,
    ratio: Ratio,
}

/// A factor as a fraction of two numbers that `f64` holds exactly (to 1 ulp for the longest ones), so that decimal
/// factors convert with a single rounding: 29 cm and 290 mm are the same bits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Ratio {
    numerator: f64,
    divisor: f64,
}

impl Ratio {
    pub(super) const ONE: Self = over(1.0, 1.0);

    /// As one number, rounded.
    pub(super) const fn value(self) -> f64 {
        self.numerator / self.divisor
    }

    pub(super) const fn parts(self) -> [f64; 2] {
        [self.numerator, self.divisor]
    }

    pub(super) fn apply(self, value: f64) -> f64 {
        value * self.numerator / self.divisor
    }

    pub(super) fn undo(self, value: f64) -> f64 {
        value * self.divisor / self.numerator
    }

    pub(super) const fn times(self, other: Self) -> Self {
        over(self.numerator * other.numerator, self.divisor * other.divisor)
    }

    pub(super) const fn per(self, other: Self) -> Self {
        over(self.numerator * other.divisor, self.divisor * other.numerator)
    }
}

/// The factor `numerator / divisor`.
pub(super) const fn over(numerator: f64, divisor: f64) -> Ratio {
    Ratio { numerator, divisor }
}

/// The factor `numerator`.
pub(super) const fn times(numerator: f64) -> Ratio {
    over(numerator, 1.0)
}

impl Unit {
    pub(super) const fn new(
        name: &'static str,
        symbol: &'static str,
        words: &'static str,
        dimension: Dimension,
        ratio: Ratio,
        source: &'static str,
    ) -> Self {
        Self {
            name,
            symbol,
            words,
            spellings: &[],
            dimension,
            factor: ratio.value(),
            offset: 0.0,
            scale: Scale::Difference,
            slope: false,
            source,
            ratio,
        }
    }

    pub(super) const fn spelt(mut self, spellings: &'static [&'static str]) -> Self {
        self.spellings = spellings;
        self
    }

    pub(super) const fn point(mut self, offset: f64) -> Self {
        self.offset = offset;
        self.scale = Scale::Point;
        self
    }

    pub(super) const fn slope(mut self) -> Self {
        self.slope = true;
        self
    }

    /// The SI value of `value` in this unit. A point on a temperature scale comes out in kelvin from absolute zero.
    #[must_use]
    pub fn to_si(&self, value: f64) -> f64 {
        let scaled = self.ratio.apply(value + self.offset);
        if self.slope { kernel::atan(scaled) } else { scaled }
    }

    /// The number that states `si` in this unit: the inverse of [`Unit::to_si`].
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        let flat = if self.slope {
            kernel::sin(si) / kernel::cos(si)
        } else {
            si
        };
        self.ratio.undo(flat) - self.offset
    }

    /// The SI size of a small difference `width` in this unit about the reading `at` (also in this unit): a ± of a
    /// temperature has no offset, a ± of a slope goes by the slope of `atan`, 1 / (1 + tan²).
    #[must_use]
    pub fn width_to_si(&self, width: f64, at: f64) -> f64 {
        let scaled = self.ratio.apply(width);
        if self.slope {
            let tangent = self.ratio.apply(at);
            scaled / (1.0 + tangent * tangent)
        } else {
            scaled
        }
    }

    pub(super) const fn ratio(&self) -> Ratio {
        self.ratio
    }

    /// The factor as it is applied: multiplied by the first number, then divided by the second.
    #[must_use]
    pub const fn fraction(&self) -> [f64; 2] {
        self.ratio.parts()
    }
}
