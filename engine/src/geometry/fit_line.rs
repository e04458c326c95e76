//! The straight line through measured points.

use super::line::Line;
use super::point::Point;
use super::scatter::{Principal, Scatter, count, largest};
use super::triple;
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number, Relation};

/// The largest spread must exceed the next one by more than this share of it, or the direction is left to rounding.
const DISTINCT: f64 = 1e-9;

/// A straight line fitted to points, and how far each lies from it.
#[derive(Clone, Debug)]
pub struct LineFit {
    line: Line,
    residuals: Vec<Number>,
}

/// The straight line with the least sum of squared distances from two or more points: it runs through their centroid along
/// the first principal direction of their scatter, toward the rear (x ≥ 0), whichever end the points begin at. A line
/// straight across the car has no rear end: it runs from the first point toward the last.
///
/// All three coordinates count alike (total least squares); the points are taken as equally good. Source: any text on
/// principal components; the residual's degrees of freedom 2n − 4 are those of n points, each with two offsets across the
/// line, less the four numbers that fix a line in space.
///
/// # Errors
/// Fewer than two points; points that spread as far across as along; a first and last point that are not the two ends
/// (neither lies beyond the other along the line).
pub fn fit_line(points: &[Point]) -> Result<LineFit, Refusal> {
    if points.len() < 2 {
        let message = format!("a line needs two or more points, there are {}", points.len());
        return Err(Refusal::new("points", message));
    }
    let scatter = Scatter::of(points);
    let [_, across, along] = scatter.principals();
    require_distinct(across, along)?;
    let ends = match (scatter.arms.first(), scatter.arms.last()) {
        (Some(first), Some(last)) => triple::sub(*last, *first),
        _ => [Number::ZERO; 3],
    };
    let onward = triple::dot(ends, along.direction);
    if !tape::require(Number::ZERO, Relation::Less, tape::abs(onward)) {
        let message = "the first and the last point lie at the same place along the line: its sense is not known";
        return Err(Refusal::new("points", message).hint("give the points from front to rear"));
    }
    let backward = triple::negate(along.direction);
    let as_given = triple::if_less(onward, Number::ZERO, backward, along.direction);
    let direction = triple::if_less(as_given[0], Number::ZERO, triple::negate(as_given), as_given);
    let residuals = scatter
        .arms
        .iter()
        .map(|arm| triple::norm(triple::cross(*arm, direction)))
        .collect();
    Ok(LineFit {
        line: Line::of(Point::of(scatter.centroid), direction),
        residuals,
    })
}

fn require_distinct(across: Principal, along: Principal) -> Result<(), Refusal> {
    if tape::require(across.spread, Relation::Less, along.spread * (1.0 - DISTINCT)) {
        return Ok(());
    }
    let message = "the points show no line: they spread as far across as along";
    Err(Refusal::new("points", message))
}

impl LineFit {
    /// The line, through the centroid of the points.
    #[must_use]
    pub const fn line(&self) -> Line {
        self.line
    }

    /// Its direction, of length one, toward the rear.
    #[must_use]
    pub const fn direction(&self) -> Vector {
        self.line.direction()
    }

    /// The centroid of the points.
    #[must_use]
    pub const fn point(&self) -> Point {
        self.line.point()
    }

    /// The distance of each point from the line, in the order given.
    #[must_use]
    pub fn residuals(&self) -> Vec<Quantity> {
        self.residuals
            .iter()
            .map(|residual| Quantity::of(*residual, Dimension::LENGTH))
            .collect()
    }

    /// The largest residual.
    #[must_use]
    pub fn worst(&self) -> Quantity {
        Quantity::of(largest(self.residuals.iter().copied()), Dimension::LENGTH)
    }

    /// The scatter of one point across the line in one direction: √(Σd²/(2n − 4)).
    ///
    /// # Errors
    /// Two points: they always lie on a line, and say nothing of their scatter.
    pub fn rms(&self) -> Result<Quantity, Refusal> {
        let points = self.residuals.len();
        if points < 3 {
            let message = format!("the scatter about a line needs three or more points, there are {points}");
            return Err(Refusal::new("points", message));
        }
        let freedom = tape::sqrt(Number::constant(2.0 * count(points) - 4.0));
        Ok(Quantity::of(tape::norm(&self.residuals) / freedom, Dimension::LENGTH))
    }
}
