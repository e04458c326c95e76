//! The elimination itself, for one matrix or for one in each lane.

use super::Plan;
use super::factor::SINGULAR_BELOW;
use crate::kernel::lanes::{Lanes, Mask};
use pulp::Simd;

/// The factor LDLᵀ in the plan's storage and order.
#[derive(Debug, Clone)]
pub(in crate::kernel) struct Elimination<S: Simd> {
    /// Rows of L left of the diagonal, in the plan's storage; in the diagonal's place the matrix's own entry.
    pub(super) rows: Vec<Lanes<S>>,
    pub(super) diagonal: Vec<Lanes<S>>,
}

impl<S: Simd> Elimination<S> {
    #[inline(always)]
    pub(in crate::kernel) fn new(simd: S, plan: &Plan) -> Self {
        let nothing = Lanes::splat(simd, 0.0);
        Self {
            rows: vec![nothing; plan.storage()],
            diagonal: vec![nothing; plan.size()],
        }
    }

    /// Turns the matrix that stands in the storage into its factor, and says in which lanes it is positive definite. The
    /// other lanes hold no factor; `failed` hears of the first row in which one of them fails, and may end the work.
    #[inline(always)]
    pub(in crate::kernel) fn factorise(
        &mut self,
        simd: S,
        plan: &Plan,
        mut go_on: impl FnMut(usize) -> bool,
    ) -> Mask<S> {
        let mut definite = Mask::splat(simd, true);
        for row in 0..plan.size() {
            let sound = self.eliminate(simd, plan, row);
            let before = definite;
            definite = definite.and(sound);
            if before.and(sound.not()).any() && !go_on(row) {
                break;
            }
        }
        definite
    }

    /// Turns a row of the matrix into a row of L and a pivot; the rows above are done. Says where the pivot is sound;
    /// elsewhere it is replaced by one, which does not spread anything that is not finite.
    #[inline(always)]
    fn eliminate(&mut self, simd: S, plan: &Plan, row: usize) -> Mask<S> {
        let first = plan.first_column(row);
        let (above, here) = self.rows.split_at_mut(plan.row(row).start);
        let here = &mut here[..=row - first];
        let entry = here[row - first];
        // U = L D first, so that each column needs one sum.
        for column in first..row {
            let other_first = plan.first_column(column);
            let from = first.max(other_first);
            let other = &above[plan.row(column)];
            let sum = dot(simd, &here[from - first..column - first], &other[from - other_first..]);
            here[column - first] = here[column - first] - sum;
        }
        let mut pivot = entry;
        for (value, divisor) in here.iter_mut().zip(&self.diagonal[first..row]) {
            let scaled = *value / *divisor;
            pivot = pivot - *value * scaled;
            *value = scaled;
        }
        let least = Lanes::splat(simd, SINGULAR_BELOW) * entry.abs();
        let sound = least.less(pivot).and(pivot.is_finite());
        self.diagonal[row] = sound.select(pivot, Lanes::splat(simd, 1.0));
        sound
    }

    /// Where the matrix is put before it is factorised.
    #[inline(always)]
    pub(in crate::kernel) fn matrix(&mut self) -> &mut [Lanes<S>] {
        &mut self.rows
    }

    #[inline(always)]
    pub(in crate::kernel) fn reciprocal_pivots(&self, simd: S) -> Vec<Lanes<S>> {
        let one = Lanes::splat(simd, 1.0);
        self.diagonal.iter().map(|pivot| one / *pivot).collect()
    }

    /// Solves for N right sides at once, one after the other in each row, in the order of elimination and in place. Its sums
    /// run in one piece where those of [`Elimination::solve`] run in four: N sides keep the processor as busy.
    #[inline(always)]
    pub(in crate::kernel) fn solve_together<const N: usize>(
        &self,
        plan: &Plan,
        reciprocal_pivots: &[Lanes<S>],
        values: &mut [[Lanes<S>; N]],
    ) {
        for row in 0..values.len() {
            let (done, rest) = values.split_at_mut(row);
            let mut sums = rest[0];
            for (left, value) in self.rows[plan.row(row)].iter().zip(&done[plan.first_column(row)..]) {
                for i in 0..N {
                    sums[i] = sums[i] - *left * value[i];
                }
            }
            rest[0] = sums;
        }
        for (value, reciprocal) in values.iter_mut().zip(reciprocal_pivots) {
            *value = value.map(|value| value * *reciprocal);
        }
        for row in (0..values.len()).rev() {
            let (others, rest) = values.split_at_mut(row);
            let own = rest[0];
            for (left, other) in self.rows[plan.row(row)]
                .iter()
                .zip(&mut others[plan.first_column(row)..])
            {
                for i in 0..N {
                    other[i] = other[i] - *left * own[i];
                }
            }
        }
    }

    /// Solves for one right side, in the order of elimination and in place.
    #[inline(always)]
    pub(super) fn solve(&self, simd: S, plan: &Plan, values: &mut [Lanes<S>]) {
        for row in 0..values.len() {
            let first = plan.first_column(row);
            let left = &self.rows[plan.row(row)];
            values[row] = values[row] - dot(simd, &values[first..row], left);
        }
        for (value, pivot) in values.iter_mut().zip(&self.diagonal) {
            *value = *value / *pivot;
        }
        self.backward(plan, values);
    }

    /// Solves `Lᵀ x = y` in place, of the leading rows as many as there are values.
    #[inline(always)]
    pub(super) fn backward(&self, plan: &Plan, values: &mut [Lanes<S>]) {
        for row in (0..values.len()).rev() {
            let value = values[row];
            let first = plan.first_column(row);
            for (other, left) in values[first..row].iter_mut().zip(&self.rows[plan.row(row)]) {
                *other = *other - *left * value;
            }
        }
    }
}

/// Sum of products over the shorter of the two slices, in four interleaved sums: a fixed order, and four times as
/// fast as one sum whose every addition waits for the one before.
#[inline(always)]
fn dot<S: Simd>(simd: S, a: &[Lanes<S>], b: &[Lanes<S>]) -> Lanes<S> {
    let mut sums = [Lanes::splat(simd, 0.0); 4];
    let length = a.len().min(b.len());
    let (a, b) = (&a[..length], &b[..length]);
    let (fours_a, fours_b) = (a.chunks_exact(4), b.chunks_exact(4));
    let (rest_a, rest_b) = (fours_a.remainder(), fours_b.remainder());
    for (four_a, four_b) in fours_a.zip(fours_b) {
        for term in 0..4 {
            sums[term] = sums[term] + four_a[term] * four_b[term];
        }
    }
    for (term, (x, y)) in rest_a.iter().zip(rest_b).enumerate() {
        sums[term] = sums[term] + *x * *y;
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3])
}
