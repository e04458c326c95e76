//! How points scatter about their centroid: what straight lines and planes are fitted from.

use super::point::Point;
use super::triple::{self, Triple};
use crate::kernel::eigen;
use crate::kernel::ldlt::Pattern;
use crate::tape::{self, EigenPlan, Number};
use std::sync::Arc;

/// The places of the upper half of a matrix of three rows.
const PLACES: [(usize, usize); 6] = [(0, 0), (0, 1), (0, 2), (1, 1), (1, 2), (2, 2)];

/// Points about their centroid, with the matrix Σ (Pᵢ − c)(Pᵢ − c)ᵀ.
pub(super) struct Scatter {
    pub(super) centroid: Triple,
    /// Each point seen from the centroid.
    pub(super) arms: Vec<Triple>,
    /// The matrix, in the order of [`PLACES`], m².
    entries: [Number; 6],
}

/// An eigenvalue of the matrix (the sum of squared offsets along a direction) and that direction, of length one.
#[derive(Clone, Copy)]
pub(super) struct Principal {
    pub(super) spread: Number,
    pub(super) direction: Triple,
}

impl Scatter {
    /// Of one or more points.
    pub(super) fn of(points: &[Point]) -> Self {
        let count = count(points.len());
        let centroid = [0, 1, 2].map(|axis| {
            let along: Vec<Number> = points.iter().map(|point| point.metres()[axis]).collect();
            tape::sum(&along) / count
        });
        let arms: Vec<Triple> = points
            .iter()
            .map(|point| triple::sub(point.metres(), centroid))
            .collect();
        let entries = PLACES.map(|(row, column)| {
            let products: Vec<Number> = arms.iter().map(|arm| arm[row] * arm[column]).collect();
            tape::sum(&products)
        });
        Self {
            centroid,
            arms,
            entries,
        }
    }

    /// All three principal directions, by rising spread.
    pub(super) fn principals(&self) -> [Principal; 3] {
        [0, 1, 2].map(|which| {
            let (spread, shape) = tape::eigen_symmetric(&plan(which), &self.entries, &[Number::ONE; 3]);
            let component = |axis: usize| shape.get(axis).copied().unwrap_or(Number::ZERO);
            Principal {
                spread,
                direction: [component(0), component(1), component(2)],
            }
        })
    }
}

fn plan(which: usize) -> Arc<EigenPlan> {
    let pattern = |places: &[(usize, usize)]| Pattern::new(3, places.to_vec()).expect("places within three rows");
    let scatter = pattern(&PLACES);
    let identity = pattern(&[(0, 0), (1, 1), (2, 2)]);
    let plan = eigen::EigenPlan::new(scatter, identity).expect("two matrices of three rows");
    Arc::new(EigenPlan::new(plan, which))
}

/// A count as a float: exact up to 2⁵³.
pub(super) fn count(of: usize) -> f64 {
    #[allow(
        clippy::cast_precision_loss,
        reason = "points are counted by hand, not by the billion"
    )]
    let count = of as f64;
    count
}

/// The largest of some numbers, none negative; 0 of none. Of equal ones the first counts, with its derivative: residuals
/// are often equal by symmetry (four corners of a rectangle), and move together.
pub(super) fn largest(numbers: impl Iterator<Item = Number>) -> Number {
    numbers
        .reduce(|most, next| tape::if_less(most, next, next, most))
        .unwrap_or(Number::ZERO)
}
