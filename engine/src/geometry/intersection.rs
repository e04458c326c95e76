//! Where a line meets a plane.

use super::distance::height;
use super::line::Line;
use super::parallel::PARALLEL;
use super::plane::Plane;
use super::point::Point;
use super::triple;
use crate::diagnostic::Refusal;
use crate::tape::{self, Relation};

/// The point in which an endless line meets a plane: p + d·((a − p)·n)/(d·n). Plain analytic geometry.
///
/// # Errors
/// A line parallel to the plane (below 10⁻⁹ rad).
pub fn intersection(line: Line, plane: Plane) -> Result<Point, Refusal> {
    let rise = triple::dot(line.unit(), plane.unit());
    if !tape::require(PARALLEL, Relation::LessOrEqual, tape::abs(rise)) {
        let message = "the line is parallel to the plane: they do not meet in one point";
        return Err(Refusal::new("parallel", message));
    }
    let start = line.point().metres();
    let along = -height(start, plane) / rise;
    Ok(Point::of(triple::add(start, triple::scale(line.unit(), along))))
}
