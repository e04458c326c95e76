//! The factor LDLᵀ of a positive definite matrix.

use super::Plan;
use super::elimination::Elimination;
use crate::kernel::lanes::{LANES, Lanes, One};
use pulp::{Arch, Scalar, Simd, WithSimd};

/// A pivot below this share of its diagonal entry counts as vanished.
///
/// Rounding leaves about 1e-14 of the diagonal where nothing holds a motion; a slender cantilever of a thousand
/// elements leaves about 1e-10 at its tip.
pub const SINGULAR_BELOW: f64 = 1e-10;

/// The factor of one matrix: solves for any number of right sides.
#[derive(Debug, Clone)]
pub struct Factor<'plan> {
    plan: &'plan Plan,
    elimination: Elimination<Scalar>,
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
            elimination: Elimination::new(Scalar, plan),
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
        let places = self.plan.pattern().entries().len();
        assert_eq!(values.len(), places, "one value for each place of the matrix");
        let rows = self.elimination.rows.as_mut_slice();
        self.plan
            .assemble(0..places, One::of(0.0), |place| One::of(values[place]), rows);
        let mut failed = None;
        self.elimination.factorise(Scalar, self.plan, |row| {
            failed = Some(row);
            false
        });
        match failed {
            None => Ok(()),
            Some(row) => Err(Singular {
                unknown: self.plan.order()[row],
                null_vector: self.null_vector(row),
            }),
        }
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
        let mut ordered = vec![One::of(0.0); size];
        for side in right_sides.chunks_exact_mut(size) {
            for (value, &unknown) in ordered.iter_mut().zip(self.plan.order()) {
                *value = One::of(side[unknown]);
            }
            self.elimination.solve(Scalar, self.plan, &mut ordered);
            for (value, &unknown) in ordered.iter().zip(self.plan.order()) {
                side[unknown] = value.number();
            }
        }
    }

    /// The vector that the leading part of the matrix, up to and with `row`, takes to nothing.
    fn null_vector(&self, row: usize) -> Vec<f64> {
        let mut ordered = vec![One::of(0.0); self.plan.size()];
        ordered[row] = One::of(1.0);
        self.elimination.backward(self.plan, &mut ordered[..=row]);
        let mut largest = 1.0;
        for value in &ordered {
            let value = value.number();
            largest = if value.abs() > f64::abs(largest) {
                value
            } else {
                largest
            };
        }
        let mut vector = vec![0.0; self.plan.size()];
        let finite = ordered.iter().all(|value| value.number().is_finite());
        for (at, &unknown) in self.plan.order().iter().enumerate() {
            let alone = if at == row { 1.0 } else { 0.0 };
            vector[unknown] = if finite { ordered[at].number() / largest } else { alone };
        }
        vector
    }
}

/// Solves a system in each of several lanes: `values` has a group of lanes for each place of the matrix; `right_sides`
/// holds one or several right sides one after the other, then their solutions, in each lane the bits that [`Factor`]
/// gives. Bit i of the result says whether the matrix of lane i is positive definite; if not, what stands in the lane
/// has no meaning.
///
/// # Panics
/// If there are not as many values as places, or the length of the right sides is no multiple of the number of unknowns.
pub fn solve_lanes(plan: &Plan, values: &[[f64; LANES]], right_sides: &mut [[f64; LANES]]) -> u8 {
    let places = plan.pattern().entries().len();
    assert_eq!(values.len(), places, "one value for each place of the matrix");
    assert_eq!(right_sides.len() % plan.size().max(1), 0, "whole right sides");
    Arch::new().dispatch(SolveLanes {
        plan,
        values,
        right_sides,
    })
}

struct SolveLanes<'a> {
    plan: &'a Plan,
    values: &'a [[f64; LANES]],
    right_sides: &'a mut [[f64; LANES]],
}

impl WithSimd for SolveLanes<'_> {
    type Output = u8;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> u8 {
        let Self {
            plan,
            values,
            right_sides,
        } = self;
        let size = plan.size();
        let nothing = Lanes::splat(simd, 0.0);
        let mut elimination = Elimination::new(simd, plan);
        let mut ordered = vec![nothing; size];
        let mut definite = 0;
        for part in 0..LANES / S::F64_LANES {
            let value = |place: usize| Lanes::load(simd, &values[place], part);
            plan.assemble(0..values.len(), nothing, value, &mut elimination.rows);
            definite |= elimination.factorise(simd, plan, |_| true).bits(part);
            for side in right_sides.chunks_exact_mut(size.max(1)) {
                for (value, &unknown) in ordered.iter_mut().zip(plan.order()) {
                    *value = Lanes::load(simd, &side[unknown], part);
                }
                elimination.solve(simd, plan, &mut ordered);
                for (value, &unknown) in ordered.iter().zip(plan.order()) {
                    value.store(&mut side[unknown], part);
                }
            }
        }
        definite
    }
}
