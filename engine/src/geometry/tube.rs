//! A tube: a shaft, a pipe, a hose, as a body that things must clear.

use super::point::Point;
use super::triple::Triple;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number, Relation};

/// A round rod with half balls as ends: all that lies within a radius of the piece of line between two points.
///
/// So it reaches one radius beyond each end. What passes a tube's flat end closely is shown nearer than it is, by one
/// radius at most: on the safe side.
#[derive(Clone, Copy, Debug)]
pub struct Tube {
    ends: [Triple; 2],
    radius: Number,
}

impl Tube {
    /// Between two points on its axis; where they are the same it is a ball. The radius is the outside one.
    ///
    /// # Errors
    /// A radius that is not a length, or negative.
    pub fn between(p: Point, q: Point, radius: Quantity) -> Result<Self, Refusal> {
        let metres = radius.expect(Dimension::LENGTH, "the tube's radius")?;
        if !tape::require(Number::ZERO, Relation::LessOrEqual, metres) {
            let message = format!("the tube's radius must not be negative, this is {}", radius.shown());
            return Err(Refusal::new("range", message));
        }
        Ok(Self {
            ends: [p.metres(), q.metres()],
            radius: metres,
        })
    }

    /// The two ends of its axis.
    #[must_use]
    pub fn ends(self) -> [Point; 2] {
        self.ends.map(Point::of)
    }

    /// Its outside radius.
    #[must_use]
    pub const fn radius(self) -> Quantity {
        Quantity::of(self.radius, Dimension::LENGTH)
    }

    pub(super) const fn metres(&self) -> &[[Number; 3]; 2] {
        &self.ends
    }
}
