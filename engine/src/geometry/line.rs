//! An endless straight line.

use super::point::Point;
use super::triple::{self, Triple};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::Dimension;

/// Points closer than this, metres, show no direction: rounding would make it.
pub(super) const CLOSEST: f64 = 1e-9;

/// An endless line: a point on it and a direction of length one.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    point: Point,
    direction: Triple,
}

impl Line {
    /// Through a point, in the direction of a vector of any dimension and length.
    ///
    /// # Errors
    /// The zero vector.
    pub fn new(point: Point, direction: Vector) -> Result<Self, Refusal> {
        let direction = direction.unit("the line's direction")?;
        Ok(Self { point, direction })
    }

    /// Through two points, from the first toward the second.
    ///
    /// # Errors
    /// Points less than a nanometre apart.
    pub fn through(p: Point, q: Point) -> Result<Self, Refusal> {
        let direction = triple::unit(triple::sub(q.metres(), p.metres()), CLOSEST, || {
            Refusal::new(
                "zero vector",
                "the two points are the same: no single line goes through them",
            )
        })?;
        Ok(Self { point: p, direction })
    }

    /// A point on it, with a unit vector that is known to be one.
    pub(super) const fn of(point: Point, direction: Triple) -> Self {
        Self { point, direction }
    }

    /// The point that it was built from.
    #[must_use]
    pub const fn point(self) -> Point {
        self.point
    }

    /// Its direction, of length one.
    #[must_use]
    pub const fn direction(self) -> Vector {
        Vector::of(self.direction, Dimension::NONE)
    }

    /// The unit direction's components.
    pub(super) const fn unit(self) -> Triple {
        self.direction
    }
}
