//! A number and what it measures, and arithmetic that keeps the two in step.

use super::text::Style;
use super::units::{Unit, WrittenUnit};
use super::{Dimension, Scale, words};
use crate::diagnostic::Refusal;
use crate::tape::{self, Decision, Number, Relation};

/// A number and its dimension.
///
/// It is in SI inside; units exist only where it is read or written. Its number may depend on readings, and then every
/// operation on it is recorded. There is no way to its value but through the two doors, [`Quantity::compare`] and
/// [`Quantity::whole`], and for showing.
#[derive(Clone, Copy, Debug)]
pub struct Quantity {
    number: Number,
    dimension: Dimension,
    scale: Scale,
    /// The unit that it was written in, for the words of a message alone.
    written: Option<&'static Unit>,
}

type Result<T> = std::result::Result<T, Refusal>;

#[allow(
    clippy::should_implement_trait,
    reason = "these say what is wrong with the dimensions; the operators cannot"
)]
impl Quantity {
    /// A quantity that depends on no reading: its value in SI units and its dimension.
    #[must_use]
    pub const fn constant(si: f64, dimension: Dimension) -> Self {
        Self {
            number: Number::constant(si),
            dimension,
            scale: Scale::Difference,
            written: None,
        }
    }

    /// A plain number.
    #[must_use]
    pub const fn plain(value: f64) -> Self {
        Self::constant(value, Dimension::NONE)
    }

    /// A number with a dimension.
    #[must_use]
    pub const fn of(number: Number, dimension: Dimension) -> Self {
        Self {
            number,
            dimension,
            scale: Scale::Difference,
            written: None,
        }
    }

    /// A point on the temperature scale, in kelvin.
    #[must_use]
    pub const fn temperature_point(kelvin: Number) -> Self {
        Self {
            number: kelvin,
            dimension: Dimension::TEMPERATURE,
            scale: Scale::Point,
            written: None,
        }
    }

    /// The unit that somebody wrote it in, where its dimension is still that unit's.
    #[must_use]
    pub fn written(self) -> Option<&'static Unit> {
        let suits = |unit: &&Unit| unit.dimension == self.dimension && unit.scale == self.scale;
        self.written.filter(suits)
    }

    /// The same, shown in messages in the unit that somebody wrote it in. Sums and differences keep it, and so do
    /// products with plain numbers.
    #[must_use]
    pub const fn written_in(self, unit: &'static Unit) -> Self {
        Self {
            written: Some(unit),
            ..self
        }
    }

    /// The same with this number: what a replay or a reading puts in its place.
    #[must_use]
    pub const fn with_number(self, number: Number) -> Self {
        Self { number, ..self }
    }

    /// Its number in SI units, still tracked.
    #[must_use]
    pub const fn number(self) -> Number {
        self.number
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        self.dimension
    }

    /// Whether it is a point on a scale (a temperature in °C) or a difference.
    #[must_use]
    pub const fn scale(self) -> Scale {
        self.scale
    }

    /// Its dimension in words: "length", "temperature on the scale".
    #[must_use]
    pub fn kind(self) -> String {
        match self.scale {
            Scale::Point => "temperature".to_owned(),
            Scale::Difference => words::name_of(self.dimension),
        }
    }

    /// Its number, if it has the dimension asked for.
    ///
    /// # Errors
    /// Names both dimensions.
    pub fn expect(self, dimension: Dimension, what: &str) -> Result<Number> {
        if self.scale == Scale::Point {
            return Err(point_used(self));
        }
        if self.dimension == dimension || (self.dimension.is_like(dimension) && !self.dimension.is_none()) {
            return Ok(self.number);
        }
        let expected = words::with_article(&words::name_of(dimension));
        let refusal = Refusal::new(
            "dimension",
            format!("{what} must be {expected}, this is {}", self.described()),
        );
        Err(self.hint_about(dimension, refusal))
    }

    /// a + b
    ///
    /// # Errors
    /// Unlike dimensions; two temperature points.
    pub fn add(self, other: Self) -> Result<Self> {
        let scale = match (self.scale, other.scale) {
            (Scale::Difference, Scale::Difference) => Scale::Difference,
            (Scale::Point, Scale::Point) => {
                let message = "two temperatures cannot be added: only a difference can be added to a temperature";
                return Err(Refusal::new("temperature", message).hint("t + 20.delta_degC"));
            }
            _ => Scale::Point,
        };
        self.same_kind(other, "add")?;
        Ok(Self {
            number: self.number + other.number,
            dimension: self.dimension,
            scale,
            written: self.written.or(other.written),
        })
    }

    /// a − b
    ///
    /// # Errors
    /// Unlike dimensions; a difference minus a temperature point.
    pub fn sub(self, other: Self) -> Result<Self> {
        let scale = match (self.scale, other.scale) {
            (Scale::Point, Scale::Difference) => Scale::Point,
            (Scale::Difference, Scale::Point) => return Err(point_used(other)),
            _ => Scale::Difference,
        };
        self.same_kind(other, "subtract")?;
        Ok(Self {
            number: self.number - other.number,
            dimension: self.dimension,
            scale,
            written: self.written.or(other.written),
        })
    }

    /// a · b
    ///
    /// # Errors
    /// A temperature point; powers beyond what is counted.
    pub fn mul(self, other: Self) -> Result<Self> {
        let (a, b) = (self.difference()?, other.difference()?);
        let dimension = a.dimension.product(b.dimension).ok_or_else(too_high)?;
        let written = match (a.dimension.is_none(), b.dimension.is_none()) {
            (_, true) => a.written,
            (true, _) => b.written,
            _ => None,
        };
        Ok(Self {
            written,
            ..Self::of(a.number * b.number, dimension)
        })
    }

    /// a / b
    ///
    /// # Errors
    /// A temperature point; a divisor that is zero.
    pub fn div(self, other: Self) -> Result<Self> {
        let (a, b) = (self.difference()?, other.difference()?);
        let dimension = a.dimension.quotient(b.dimension).ok_or_else(too_high)?;
        a.divisible(b)?;
        Ok(Self {
            written: a.written.filter(|_| b.dimension.is_none()),
            ..Self::of(a.number / b.number, dimension)
        })
    }

    /// −a
    ///
    /// # Errors
    /// A temperature point.
    pub fn neg(self) -> Result<Self> {
        let a = self
            .difference()
            .map_err(|refusal| refusal.hint("(-30).degC is thirty degrees below zero"))?;
        Ok(a.with_number(-a.number))
    }

    /// |a|
    ///
    /// # Errors
    /// A temperature point.
    pub fn abs(self) -> Result<Self> {
        let a = self.difference()?;
        Ok(a.with_number(tape::abs(a.number)))
    }

    /// Square root; its dimension's powers are halved.
    ///
    /// # Errors
    /// A negative; a temperature point.
    pub fn sqrt(self) -> Result<Self> {
        let a = self.difference()?;
        let dimension = a.dimension.power(1, 2).ok_or_else(too_high)?;
        if !tape::require(Number::ZERO, Relation::LessOrEqual, a.number) {
            return Err(Refusal::new(
                "negative root",
                format!("the square root of {} does not exist", a.described()),
            ));
        }
        Ok(Self::of(tape::sqrt(a.number), dimension))
    }

    /// Cube root; its dimension's powers are divided by three.
    ///
    /// # Errors
    /// A temperature point.
    pub fn cbrt(self) -> Result<Self> {
        let a = self.difference()?;
        let dimension = a.dimension.power(1, 3).ok_or_else(too_high)?;
        Ok(Self::of(tape::cbrt(a.number), dimension))
    }

    /// a to a constant power: any whole one, or a fraction that the dimension can carry.
    ///
    /// # Errors
    /// A dimension with a power that depends on a reading; a negative number to a broken power.
    pub fn pow(self, exponent: Self) -> Result<Self> {
        let (a, e) = (self.difference()?, exponent.difference()?);
        if !e.dimension.is_none() {
            let message = format!("a power must be a plain number, this is {}", e.described());
            return Err(Refusal::new("dimension", message));
        }
        let dimension = if a.dimension.is_none() {
            Dimension::NONE
        } else if e.number.is_constant() {
            raised(a.dimension, e.number.shown()).ok_or_else(|| {
                let what = words::with_article(&a.kind());
                Refusal::new("dimension", format!("{what} has no power {}", e.number.shown()))
            })?
        } else {
            let what = words::with_article(&a.kind());
            let message = format!("{what} can only be raised to a fixed power, this one depends on a reading");
            return Err(Refusal::new("dimension", message));
        };
        let broken = !e.number.is_constant() || e.number.shown().fract() != 0.0;
        if broken && !tape::require(Number::ZERO, Relation::LessOrEqual, a.number) {
            let message = format!("{} has no power {}", a.described(), e.number.shown());
            return Err(Refusal::new("negative root", message));
        }
        Ok(Self::of(tape::power(a.number, e.number), dimension))
    }

    /// The first door: how it compares with another. The outcome is kept as a guard.
    ///
    /// # Errors
    /// Unlike dimensions; inside a closure, a number that depends on its argument.
    pub fn compare(self, relation: Relation, other: Self) -> Result<bool> {
        self.same_kind(other, "compare")?;
        if self.scale != other.scale {
            return Err(point_used(if self.scale == Scale::Point { self } else { other }));
        }
        match tape::decide(self.number, relation, other.number) {
            Decision::Known(outcome) => Ok(outcome),
            Decision::Symbolic => Err(symbolic()),
        }
    }

    /// The second door: the whole number k with k ≤ q < k + 1, for an index or a loop.
    ///
    /// # Errors
    /// Not a plain number; too large to count; depends on the argument of a closure.
    pub fn whole(self) -> Result<i64> {
        let number = self.expect(Dimension::NONE, "a count")?;
        if tape::is_symbolic(number) {
            return Err(symbolic());
        }
        tape::decide_whole(number)
            .ok_or_else(|| Refusal::new("whole", format!("{:e} is too large to count", number.shown())))
    }

    /// Refuses, now and in every replay, unless a relation with another holds.
    ///
    /// # Errors
    /// What `message` makes, where it does not hold now.
    pub fn require(self, relation: Relation, other: Self, message: impl FnOnce() -> Refusal) -> Result<()> {
        if tape::require(self.number, relation, other.number) {
            Ok(())
        } else {
            Err(message())
        }
    }

    /// Refuses unless both may be added, compared or chosen from.
    ///
    /// # Errors
    /// "cannot add a length (3 in) and an angle (2°)"
    pub fn same_kind(self, other: Self, verb: &str) -> Result<()> {
        if self.dimension.is_like(other.dimension) {
            return Ok(());
        }
        let (mine, theirs) = (self.described(), other.described());
        let joint = if verb == "compare" { "with" } else { "and" };
        let refusal = Refusal::new("dimension", format!("cannot {verb} {mine} {joint} {theirs}"));
        Err(self.hint_about(other.dimension, other.hint_about(self.dimension, refusal)))
    }

    /// Refuses unless both are of one kind, and both points on a temperature scale or both differences.
    ///
    /// # Errors
    /// As [`Quantity::same_kind`]; a point beside a difference.
    pub fn same_sort(self, other: Self, verb: &str) -> Result<()> {
        self.same_kind(other, verb)?;
        if self.scale == other.scale {
            return Ok(());
        }
        Err(point_used(if self.scale == Scale::Point { self } else { other }))
    }

    /// Refuses a quantity of another run: its number stands on no tape that is open.
    ///
    /// # Errors
    /// It is left over.
    pub fn here(self) -> Result<Self> {
        if tape::is_known(self.number) {
            return Ok(self);
        }
        Err(Refusal::new("foreign", "a quantity from another run was used"))
    }

    /// "a length (3 in)"
    #[must_use]
    pub fn described(self) -> String {
        let kind = words::with_article(&self.kind());
        if tape::is_symbolic(self.number) {
            return format!("{kind} (the closure's argument is in it)");
        }
        format!("{kind} ({})", self.shown())
    }

    /// As people write it: in the unit that it was written in, else in a metric one.
    #[must_use]
    pub fn shown(self) -> String {
        match self.written() {
            Some(unit) => Style::unit(WrittenUnit::Single(unit)).write(self.number.shown()),
            None => super::shown(self.number.shown(), self.dimension, self.scale),
        }
    }

    /// Refuses a divisor that is zero, or so small that the quotient is not finite.
    fn divisible(self, by: Self) -> Result<()> {
        let (a, b) = (self.number.shown(), by.number.shown());
        if tape::is_symbolic(by.number) || tape::is_symbolic(self.number) && b != 0.0 || (a / b).is_finite() {
            return Ok(());
        }
        let message = match (b == 0.0, by.dimension.is_none()) {
            (true, true) => format!("{} is divided by zero", self.described()),
            (true, false) => {
                let kind = words::with_article(&by.kind());
                format!(
                    "{} is divided by {kind} that is zero ({})",
                    self.described(),
                    by.shown()
                )
            }
            _ => {
                let (mine, theirs) = (self.described(), by.described());
                format!("{mine} divided by {theirs} gives no finite number: the divisor is too near zero")
            }
        };
        Err(Refusal::new("division", message))
    }

    fn difference(self) -> Result<Self> {
        if self.scale == Scale::Point {
            Err(point_used(self))
        } else {
            Ok(self)
        }
    }

    fn hint_about(self, other: Dimension, refusal: Refusal) -> Refusal {
        if self.dimension.is_motion_with_angle() {
            return refusal
                .hint("rim_speed(omega, r), or / 1.rad, where the length is a radius")
                .hint("turn_rate(n) * c, or / 1.turn, where the length is so much a turn");
        }
        if self.dimension == Dimension::RATE && other.is_like(Dimension::ANGULAR_SPEED) {
            return refusal.hint("angular_speed(f) makes turns of a plain rate");
        }
        if self.dimension.is_like(Dimension::ANGULAR_SPEED) && other == Dimension::RATE {
            return refusal.hint("turn_rate(omega) counts its turns");
        }
        if self.dimension.is_none() && self.number.shown() == 0.0 && self.number.is_constant() && !other.is_none() {
            return refusal.hint("a zero needs its unit too: 0.mm, 0.A");
        }
        if self.dimension.is_none() && other == Dimension::ANGLE {
            return refusal.hint("write x * 1.rad for a calculated number, 3.deg for a plain one");
        }
        refusal
    }
}

fn raised(dimension: Dimension, exponent: f64) -> Option<Dimension> {
    let twelfths = exponent * 12.0;
    if twelfths.fract() != 0.0 || twelfths.abs() > 1200.0 {
        return None;
    }
    #[allow(clippy::cast_possible_truncation, reason = "a whole number within ±1200")]
    dimension.power(twelfths as i16, 12)
}

fn too_high() -> Refusal {
    Refusal::new(
        "dimension",
        "the power of a unit leaves what is counted (halves, thirds and quarters up to 100)",
    )
}

fn symbolic() -> Refusal {
    Refusal::new("closure", "the way through this closure depends on its argument")
        .hint("write if_less(a, b, then, otherwise)")
}

fn point_used(point: Quantity) -> Refusal {
    let message = format!("{} is a point on the scale, not a difference", point.shown());
    Refusal::new("temperature", message)
        .hint("t - 20.degC is a difference")
        .hint("absolute(t) counts from absolute zero, for radiation and gas laws")
}
