//! The distance of two endless lines.

use super::distance::{between, point_line};
use super::line::Line;
use super::parallel::PARALLEL;
use super::triple;
use crate::tape::{self, Number};

/// |w·n| / |n| with w from one line to the other and n = d₁ × d₂; for parallel lines |w × d₁|.
///
/// Both are worked out and one is taken, so that a replay needs no other way: the divisor of the one that is not taken
/// is set to 1.
pub(super) fn line_line(a: Line, b: Line) -> Number {
    let n = triple::cross(a.unit(), b.unit());
    let sine = triple::norm(n);
    let divisor = tape::if_less(sine, PARALLEL, Number::ONE, sine);
    let skew = tape::abs(triple::dot(between(a.point(), b.point()), n)) / divisor;
    tape::if_less(sine, PARALLEL, point_line(b.point(), a), skew)
}
