//! The foot of the perpendicular from a point.

use super::distance::{between, height};
use super::line::Line;
use super::plane::Plane;
use super::point::Point;
use super::triple;

/// The point of a line closest to `p`: a + d·((p − a)·d). Plain analytic geometry.
#[must_use]
pub fn project_to_line(p: Point, line: Line) -> Point {
    let along = triple::dot(between(line.point(), p), line.unit());
    Point::of(triple::add(line.point().metres(), triple::scale(line.unit(), along)))
}

/// The point of a plane closest to `p`: p − n·((p − a)·n). Plain analytic geometry.
#[must_use]
pub fn project_to_plane(p: Point, plane: Plane) -> Point {
    let height = height(p.metres(), plane);
    Point::of(triple::sub(p.metres(), triple::scale(plane.unit(), height)))
}
