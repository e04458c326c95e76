//! The distance of two points, lines or planes.

use super::distance_line_line::line_line;
use super::line::Line;
use super::parallel::PARALLEL;
use super::plane::Plane;
use super::point::Point;
use super::triple::{self, Triple};
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number};

/// What a distance is measured between.
#[derive(Clone, Copy, Debug)]
pub enum Place {
    /// A point.
    Point(Point),
    /// An endless line.
    Line(Line),
    /// An endless plane.
    Plane(Plane),
}

impl From<Point> for Place {
    fn from(point: Point) -> Self {
        Self::Point(point)
    }
}

impl From<Line> for Place {
    fn from(line: Line) -> Self {
        Self::Line(line)
    }
}

impl From<Plane> for Place {
    fn from(plane: Plane) -> Self {
        Self::Plane(plane)
    }
}

/// The shortest distance between two points, lines or planes: a length, never negative (which side of a plane a point
/// lies on is told by [`super::clearance`]).
///
/// Lines and planes are endless: a line and a plane that are not parallel meet, and their distance is 0, as is that of
/// two planes. They count as parallel below 10⁻⁹ rad (a nanometre a metre). There the distance jumps, as it does on
/// paper: lines that are all but parallel cross, or pass close, far outside the car. For pieces of finite length use
/// the clearance of tubes.
///
/// Distance zero is a kink: its derivative is taken as 0. Plain analytic geometry.
#[must_use]
pub fn distance(a: impl Into<Place>, b: impl Into<Place>) -> Quantity {
    let metres = match (a.into(), b.into()) {
        (Place::Point(p), Place::Point(q)) => triple::norm(between(p, q)),
        (Place::Point(p), Place::Line(line)) | (Place::Line(line), Place::Point(p)) => point_line(p, line),
        (Place::Point(p), Place::Plane(plane)) | (Place::Plane(plane), Place::Point(p)) => point_plane(p, plane),
        (Place::Line(a), Place::Line(b)) => line_line(a, b),
        (Place::Line(line), Place::Plane(plane)) | (Place::Plane(plane), Place::Line(line)) => line_plane(line, plane),
        (Place::Plane(a), Place::Plane(b)) => plane_plane(a, b),
    };
    Quantity::of(metres, Dimension::LENGTH)
}

/// From one point to another, metres.
pub(super) fn between(from: Point, to: Point) -> Triple {
    triple::sub(to.metres(), from.metres())
}

/// |(p − a) × d|
pub(super) fn point_line(p: Point, line: Line) -> Number {
    triple::norm(triple::cross(between(line.point(), p), line.unit()))
}

/// How far a point lies on the side to which the normal points: (p − a)·n.
pub(super) fn height(p: Triple, plane: Plane) -> Number {
    triple::dot(triple::sub(p, plane.point().metres()), plane.unit())
}

fn point_plane(p: Point, plane: Plane) -> Number {
    tape::abs(height(p.metres(), plane))
}

fn line_plane(line: Line, plane: Plane) -> Number {
    let rise = tape::abs(triple::dot(line.unit(), plane.unit()));
    tape::if_less(rise, PARALLEL, point_plane(line.point(), plane), Number::ZERO)
}

fn plane_plane(a: Plane, b: Plane) -> Number {
    let lean = triple::norm(triple::cross(a.unit(), b.unit()));
    tape::if_less(lean, PARALLEL, point_plane(b.point(), a), Number::ZERO)
}
