//! An endless plane.

use super::point::Point;
use super::triple::Triple;
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::Dimension;

/// An endless plane: a point on it and a normal of length one. As the face of something it is free on the side to which
/// the normal points.
#[derive(Clone, Copy, Debug)]
pub struct Plane {
    point: Point,
    normal: Triple,
}

impl Plane {
    /// Through a point, square to a vector of any dimension and length. Through three points: `normal` is
    /// (b − a) × (c − a).
    ///
    /// # Errors
    /// The zero vector.
    pub fn new(point: Point, normal: Vector) -> Result<Self, Refusal> {
        let normal = normal.unit("the plane's normal")?;
        Ok(Self { point, normal })
    }

    /// A point on it, with a unit vector that is known to be one.
    pub(super) const fn of(point: Point, normal: Triple) -> Self {
        Self { point, normal }
    }

    /// The point that it was built from.
    #[must_use]
    pub const fn point(self) -> Point {
        self.point
    }

    /// Its normal, of length one.
    #[must_use]
    pub const fn normal(self) -> Vector {
        Vector::of(self.normal, Dimension::NONE)
    }

    /// The unit normal's components.
    pub(super) const fn unit(self) -> Triple {
        self.normal
    }
}
