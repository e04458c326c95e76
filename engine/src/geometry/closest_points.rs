//! Where two lines come closest.

use super::distance::between;
use super::line::Line;
use super::parallel::PARALLEL;
use super::point::Point;
use super::triple;
use crate::diagnostic::Refusal;
use crate::tape::{self, Relation};

/// The point of each of two lines that is closest to the other line. Where the lines cross the two are the same.
///
/// With w from the first line's point to the second's and n = d₁ × d₂: the points lie (w × d₂)·n/|n|² and
/// (w × d₁)·n/|n|² along the lines. Plain analytic geometry.
///
/// # Errors
/// Parallel lines (below 10⁻⁹ rad): all their points are equally close.
pub fn closest_points(a: Line, b: Line) -> Result<(Point, Point), Refusal> {
    let n = triple::cross(a.unit(), b.unit());
    let sine = triple::norm(n);
    if !tape::require(PARALLEL, Relation::LessOrEqual, sine) {
        return Err(Refusal::new(
            "parallel",
            "the two lines are parallel: no two of their points are closest",
        )
        .hint("distance(a, b) works for parallel lines too"));
    }
    let w = between(a.point(), b.point());
    let square = sine * sine;
    let along_a = triple::dot(triple::cross(w, b.unit()), n) / square;
    let along_b = triple::dot(triple::cross(w, a.unit()), n) / square;
    let on = |line: Line, along| Point::of(triple::add(line.point().metres(), triple::scale(line.unit(), along)));
    Ok((on(a, along_a), on(b, along_b)))
}
