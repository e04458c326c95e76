//! A place.

use super::triple::{self, Triple};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::Number;

/// A place: three lengths from the origin, X toward the rear, Y to the right, Z up.
#[derive(Clone, Copy, Debug)]
pub struct Point {
    metres: Triple,
}

impl Point {
    /// From three lengths.
    ///
    /// # Errors
    /// A coordinate that is not a length.
    pub fn new(x: Quantity, y: Quantity, z: Quantity) -> Result<Self, Refusal> {
        Ok(Self::of([
            x.expect(Dimension::LENGTH, "a point's x")?,
            y.expect(Dimension::LENGTH, "a point's y")?,
            z.expect(Dimension::LENGTH, "a point's z")?,
        ]))
    }

    /// From three numbers, metres.
    #[must_use]
    pub const fn of(metres: [Number; 3]) -> Self {
        Self { metres }
    }

    /// Its coordinates, metres.
    #[must_use]
    pub const fn metres(self) -> [Number; 3] {
        self.metres
    }

    /// How far it lies to the rear.
    #[must_use]
    pub const fn x(self) -> Quantity {
        Quantity::of(self.metres[0], Dimension::LENGTH)
    }

    /// How far it lies to the right.
    #[must_use]
    pub const fn y(self) -> Quantity {
        Quantity::of(self.metres[1], Dimension::LENGTH)
    }

    /// How high it lies.
    #[must_use]
    pub const fn z(self) -> Quantity {
        Quantity::of(self.metres[2], Dimension::LENGTH)
    }

    /// The displacement from another point to this one: this − other.
    #[must_use]
    pub fn minus(self, other: Self) -> Vector {
        Vector::of(triple::sub(self.metres, other.metres), Dimension::LENGTH)
    }

    /// This point moved by a displacement.
    ///
    /// # Errors
    /// A vector that is not a displacement.
    pub fn moved(self, by: Vector) -> Result<Self, Refusal> {
        let by = by.expect(Dimension::LENGTH, "what moves a point")?;
        Ok(Self::of(triple::add(self.metres, by)))
    }

    /// This point moved the other way: point − displacement.
    ///
    /// # Errors
    /// A vector that is not a displacement.
    pub fn moved_back(self, by: Vector) -> Result<Self, Refusal> {
        let by = by.expect(Dimension::LENGTH, "what moves a point")?;
        Ok(Self::of(triple::sub(self.metres, by)))
    }
}
