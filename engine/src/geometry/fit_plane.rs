//! The plane through measured points.

use super::parallel::PARALLEL;
use super::plane::Plane;
use super::point::Point;
use super::scatter::{Scatter, count, largest};
use super::triple::{self, Triple};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number, Relation};

/// By how much of the largest spread the middle one must exceed the smallest: points a metre apart must stand out of
/// one line by more than about a micrometre.
const DISTINCT: f64 = 1e-12;

/// A plane fitted to points, and how far each lies from it.
#[derive(Clone, Debug)]
pub struct PlaneFit {
    plane: Plane,
    residuals: Vec<Number>,
}

/// The plane with the least sum of squared distances from three or more points: it runs through their centroid, square to
/// the principal direction in which they scatter least. Its normal points up; that of an upright plane to the rear, that
/// of an upright plane along the car to the right.
///
/// All three coordinates count alike (total least squares); the points are taken as equally good. Source: any text on
/// principal components; a plane in space is fixed by three numbers, hence n − 3 degrees of freedom.
///
/// # Errors
/// Fewer than three points; points in one line; points that scatter as far out of the plane as in it.
pub fn fit_plane(points: &[Point]) -> Result<PlaneFit, Refusal> {
    if points.len() < 3 {
        let message = format!("a plane needs three or more points, there are {}", points.len());
        return Err(Refusal::new("points", message));
    }
    let scatter = Scatter::of(points);
    let [out, middle, most] = scatter.principals();
    if !tape::require(out.spread + most.spread * DISTINCT, Relation::Less, middle.spread) {
        let message = "the points show no plane: they lie in one line, or spread as far out of the plane as in it";
        return Err(Refusal::new("points", message));
    }
    let normal = upward(out.direction);
    let residuals = scatter.arms.iter().map(|arm| triple::dot(*arm, normal)).collect();
    Ok(PlaneFit {
        plane: Plane::of(Point::of(scatter.centroid), normal),
        residuals,
    })
}

/// The one of n and −n that points up; of level ones rearward; of those straight across, to the right. Up is what rises by
/// more than rounding makes.
fn upward(n: Triple) -> Triple {
    let [x, y, z] = n;
    let one = Number::ONE;
    let across = tape::if_less(y, Number::ZERO, -one, one);
    let level = signed(x, across);
    triple::scale(n, signed(z, level))
}

/// 1 or −1 after the sign of a component, or what is given where the component is zero to rounding.
fn signed(component: Number, otherwise: Number) -> Number {
    let not_positive = tape::if_less(component, -PARALLEL, -Number::ONE, otherwise);
    tape::if_less(PARALLEL, component, Number::ONE, not_positive)
}

impl PlaneFit {
    /// The plane, through the centroid of the points.
    #[must_use]
    pub const fn plane(&self) -> Plane {
        self.plane
    }

    /// Its normal, of length one.
    #[must_use]
    pub const fn normal(&self) -> Vector {
        self.plane.normal()
    }

    /// The centroid of the points.
    #[must_use]
    pub const fn point(&self) -> Point {
        self.plane.point()
    }

    /// How far each point lies on the side to which the normal points, in the order given.
    #[must_use]
    pub fn residuals(&self) -> Vec<Quantity> {
        self.residuals
            .iter()
            .map(|residual| Quantity::of(*residual, Dimension::LENGTH))
            .collect()
    }

    /// The largest distance of a point from the plane.
    #[must_use]
    pub fn worst(&self) -> Quantity {
        let distances = self.residuals.iter().map(|residual| tape::abs(*residual));
        Quantity::of(largest(distances), Dimension::LENGTH)
    }

    /// The scatter of one point about the plane: √(Σd²/(n − 3)).
    ///
    /// # Errors
    /// Three points: they always lie in a plane, and say nothing of their scatter.
    pub fn rms(&self) -> Result<Quantity, Refusal> {
        let points = self.residuals.len();
        if points < 4 {
            let message = format!("the scatter about a plane needs four or more points, there are {points}");
            return Err(Refusal::new("points", message));
        }
        let freedom = tape::sqrt(Number::constant(count(points) - 3.0));
        Ok(Quantity::of(tape::norm(&self.residuals) / freedom, Dimension::LENGTH))
    }
}
