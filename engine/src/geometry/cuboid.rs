//! A box: the outline of a casing, a battery, a pan.

use super::point::Point;
use super::rotation::Turn;
use super::triple::Triple;
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::Quantity;
use crate::tape::{self, Number, Relation};

/// A solid with six flat faces square to one another, by its eight corners.
#[derive(Clone, Copy, Debug)]
pub struct Cuboid {
    corners: [Triple; 8],
}

impl Cuboid {
    /// The box between two opposite corners, its edges along the axes: `min` is the foremost, leftmost, lowest corner,
    /// `max` the rearmost, rightmost, highest. It may be flat.
    ///
    /// # Errors
    /// A `min` that lies beyond `max` along an axis.
    pub fn new(min: Point, max: Point) -> Result<Self, Refusal> {
        let (low, high) = (min.metres(), max.metres());
        let sides = [
            (min.x(), max.x(), "x"),
            (min.y(), max.y(), "y"),
            (min.z(), max.z(), "z"),
        ];
        for (from, to, axis) in sides {
            if !tape::require(from.number(), Relation::LessOrEqual, to.number()) {
                let message = format!(
                    "a box's first corner must have the smaller {axis}: it has {}, the second {}",
                    from.shown(),
                    to.shown()
                );
                return Err(Refusal::new("range", message));
            }
        }
        let pick = |corner: usize, axis: usize| {
            if (corner >> axis) & 1 == 0 {
                low[axis]
            } else {
                high[axis]
            }
        };
        let corners = [0, 1, 2, 3, 4, 5, 6, 7].map(|corner| [0, 1, 2].map(|axis| pick(corner, axis)));
        Ok(Self { corners })
    }

    /// Turned about an axis through a point, right-handed along the axis.
    ///
    /// # Errors
    /// An axis that is the zero vector; what is not an angle.
    pub fn turned(self, about: Point, axis: Vector, angle: Quantity) -> Result<Self, Refusal> {
        let turn = Turn::new(axis, angle)?;
        let corners = self
            .corners
            .map(|corner| turn.of_point(Point::of(corner), about).metres());
        Ok(Self { corners })
    }

    /// Its corners: x changes fastest, z slowest, as before it was turned.
    #[must_use]
    pub fn corners(self) -> [Point; 8] {
        self.corners.map(Point::of)
    }

    pub(super) const fn metres(&self) -> &[[Number; 3]; 8] {
        &self.corners
    }
}
