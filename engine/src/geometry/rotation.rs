//! Turning about an axis.

use super::line::Line;
use super::point::Point;
use super::triple::{self, Triple};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number};

impl Vector {
    /// Turned about an axis through the origin, right-handed: thumb along the axis, fingers the way it turns.
    ///
    /// # Errors
    /// An axis that is the zero vector; what is not an angle.
    pub fn rotated(self, axis: Vector, angle: Quantity) -> Result<Self, Refusal> {
        let turn = Turn::new(axis, angle)?;
        Ok(Self::of(turn.of(self.components()), self.dimension()))
    }
}

impl Point {
    /// Turned about a line, right-handed along the line's direction.
    ///
    /// # Errors
    /// What is not an angle.
    pub fn rotated(self, about: Line, angle: Quantity) -> Result<Self, Refusal> {
        let turn = Turn::new(about.direction(), angle)?;
        Ok(turn.of_point(self, about.point()))
    }
}

/// A turn about an axis of known direction.
pub(super) struct Turn {
    axis: Triple,
    sine: Number,
    /// 1 − cos θ as 2 sin²(θ/2), which keeps its digits for small angles.
    versine: Number,
}

impl Turn {
    pub(super) fn new(axis: Vector, angle: Quantity) -> Result<Self, Refusal> {
        let axis = axis.unit("the axis")?;
        let theta = angle.expect(Dimension::ANGLE, "the angle of a turn")?;
        let half = tape::sin(theta * 0.5);
        Ok(Self {
            axis,
            sine: tape::sin(theta),
            versine: 2.0 * (half * half),
        })
    }

    /// Rodrigues' formula as v + sin θ · k × v + (1 − cos θ) · k × (k × v): a turn by nothing changes no bit.
    pub(super) fn of(&self, v: Triple) -> Triple {
        let across = triple::cross(self.axis, v);
        let inward = triple::cross(self.axis, across);
        let change = triple::add(triple::scale(across, self.sine), triple::scale(inward, self.versine));
        triple::add(v, change)
    }

    /// A point turned about the axis through another one.
    pub(super) fn of_point(&self, p: Point, about: Point) -> Point {
        let arm = triple::sub(p.metres(), about.metres());
        Point::of(triple::add(about.metres(), self.of(arm)))
    }
}
