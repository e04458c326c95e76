//! The factor LDLᵀ of a positive definite matrix.

use super::Plan;

/// A pivot below this share of its diagonal entry counts as vanished.
///
/// Rounding leaves about 1e-14 of the diagonal where nothing holds a motion; a slender cantilever of a thousand
/// elements leaves about 1e-10 at its tip.
pub const SINGULAR_BELOW: f64 = 1e-10;

/// The factor of one matrix: solves for any number of right sides.
#[derive(Debug, Clone)]
pub struct Factor<'plan> {
    plan: &'plan Plan,
    /// Rows of L left of the diagonal, in the plan's storage; in the diagonal's place the pivot.
    rows: Vec<f64>,
    diagonal: Vec<f64>,
}

/// The matrix is not positive definite: a pivot vanished or is negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Singular {
    /// The unknown whose pivot it is. Any other with a large part in the null vector would have done as well.
    pub unknown: usize,
    /// The free motion: a vector `v` with `K v = 0` up to the tolerance, its largest component 1.
    pub null_vector: Vec<f64>,
}

impl std::fmt::Display for Singular {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            out,
            "the matrix is singular at unknown {}: nothing holds it",
            self.unknown
        )
    }
}

impl std::error::Error for Singular {}

impl<'plan> Factor<'plan> {
    /// Factors the matrix of the plan's pattern and `values`, one for each place.
    ///
    /// # Errors
    /// [`Singular`] where a pivot is not above [`SINGULAR_BELOW`] times its diagonal entry, or not a number.
    ///
    /// # Panics
    /// If there are not as many values as places: the caller mixed up two matrices.
    pub fn new(plan: &'plan Plan, values: &[f64]) -> Result<Factor<'plan>, Singular> {
        let mut factor = Factor {
            plan,
            rows: vec![0.0; plan.storage()],
            diagonal: vec![0.0; plan.size()],
        };
        factor.renew(values)?;
        Ok(factor)
    }

    /// Factors anew with other values, in the same memory. After an error the factor is of no use until renewed.
    ///
    /// # Errors
    /// As [`Factor::new`].
    ///
    /// # Panics
    /// As [`Factor::new`].
    pub fn renew(&mut self, values: &[f64]) -> Result<(), Singular> {
        assert_eq!(
            values.len(),
            self.plan.pattern().entries().len(),
            "one value for each place of the matrix"
        );
        self.plan.assemble(values, &mut self.rows);
        for row in 0..self.plan.size() {
            self.eliminate(row)?;
        }
        Ok(())
    }

    /// Solves in place: `right_sides` holds one or several right sides one after the other, then their solutions.
    ///
    /// # Panics
    /// If the length is no multiple of the number of unknowns.
    pub fn solve(&self, right_sides: &mut [f64]) {
        let size = self.plan.size();
        if size == 0 {
            return;
        }
        assert_eq!(right_sides.len() % size, 0, "whole right sides");
        let mut ordered = vec![0.0; size];
        for side in right_sides.chunks_exact_mut(size) {
            for (value, &unknown) in ordered.iter_mut().zip(self.plan.order()) {
                *value = side[unknown];
            }
            self.forward(&mut ordered);
            for (value, pivot) in ordered.iter_mut().zip(&self.diagonal) {
                *value /= pivot;
            }
            self.backward(&mut ordered);
            for (value, &unknown) in ordered.iter().zip(self.plan.order()) {
                side[unknown] = *value;
            }
        }
    }

    /// Turns a row of the matrix into a row of L and a pivot; the rows above are done.
    fn eliminate(&mut self, row: usize) -> Result<(), Singular> {
        let first = self.plan.first_column(row);
        let (above, here) = self.rows.split_at_mut(self.plan.row(row).start);
        let here = &mut here[..=row - first];
        let entry = here[row - first];
        // U = L D first, so that each column needs one sum.
        for column in first..row {
            let other_first = self.plan.first_column(column);
            let from = first.max(other_first);
            let other = &above[self.plan.row(column)];
            here[column - first] -= dot(&here[from - first..column - first], &other[from - other_first..]);
        }
        let mut pivot = entry;
        for (value, divisor) in here.iter_mut().zip(&self.diagonal[first..row]) {
            let scaled = *value / divisor;
            pivot -= *value * scaled;
            *value = scaled;
        }
        if pivot > SINGULAR_BELOW * entry.abs() && pivot.is_finite() {
            self.diagonal[row] = pivot;
            return Ok(());
        }
        Err(Singular {
            unknown: self.plan.order()[row],
            null_vector: self.null_vector(row),
        })
    }

    /// The vector that the leading part of the matrix, up to and with `row`, takes to nothing.
    fn null_vector(&self, row: usize) -> Vec<f64> {
        let mut ordered = vec![0.0; self.plan.size()];
        ordered[row] = 1.0;
        self.backward(&mut ordered);
        let mut largest = 1.0;
        for &value in &ordered {
            largest = if value.abs() > f64::abs(largest) {
                value
            } else {
                largest
            };
        }
        let mut vector = vec![0.0; self.plan.size()];
        let finite = ordered.iter().all(|value| value.is_finite());
        for (at, &unknown) in self.plan.order().iter().enumerate() {
            let alone = if at == row { 1.0 } else { 0.0 };
            vector[unknown] = if finite { ordered[at] / largest } else { alone };
        }
        vector
    }

    /// Solves `L y = b` in place.
    fn forward(&self, values: &mut [f64]) {
        for row in 0..values.len() {
            let first = self.plan.first_column(row);
            let left = &self.rows[self.plan.row(row)];
            values[row] -= dot(&values[first..row], left);
        }
    }

    /// Solves `Lᵀ x = y` in place.
    fn backward(&self, values: &mut [f64]) {
        for row in (0..values.len()).rev() {
            let value = values[row];
            if value == 0.0 {
                continue; // rows not yet factored hold anything: the null vector has zeros there
            }
            let first = self.plan.first_column(row);
            for (other, left) in values[first..row].iter_mut().zip(&self.rows[self.plan.row(row)]) {
                *other -= left * value;
            }
        }
    }
}

/// Sum of products over the shorter of the two slices, in four interleaved sums: a fixed order, and four times as
/// fast as one sum whose every addition waits for the one before.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let length = a.len().min(b.len());
    let (a, b) = (&a[..length], &b[..length]);
    let (fours_a, fours_b) = (a.chunks_exact(4), b.chunks_exact(4));
    let (rest_a, rest_b) = (fours_a.remainder(), fours_b.remainder());
    for (four_a, four_b) in fours_a.zip(fours_b) {
        for lane in 0..4 {
            sums[lane] += four_a[lane] * four_b[lane];
        }
    }
    for (lane, (x, y)) in rest_a.iter().zip(rest_b).enumerate() {
        sums[lane] += x * y;
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3])
}
