//! One eigenvalue without its shape, for one problem or for one in each lane: what a frequency takes.
//!
//! Subspace iteration as in [`super::subspace`], made for speed: an eigenvalue's error is the square of its shape's, so it
//! settles in half the steps; few vectors, four at a time; every step takes one solution and one product with M, since
//! `A X = M V` gives the stiffness within the subspace without a product with K.

use super::dense::Dense;
use super::plan::EigenPlan;
use super::spectrum::Spectrum;
use crate::kernel::lanes::{LANES, Lanes, Mask, One};
use crate::kernel::ldlt::{Elimination, Plan};
use pulp::{Arch, Scalar, Simd, WithSimd};

/// The value falls to its own from above, in the end by a constant share of its last fall in each step; what is then left
/// to fall is the sum of a geometric series. Below this, relative, it has settled,
const SETTLED: f64 = 1e-10;
/// if its last fall was below this, which rounding K's entries once does to a frame's lowest value; a fall below it that
/// is no smaller than the one before is rounding.
const ROUNDING: f64 = 1e-8;
const MOST_ITERATIONS: usize = 200;
/// Vectors that go through a factor together.
const TOGETHER: usize = 4;

/// One component of [`TOGETHER`] vectors.
type Part<S> = [Lanes<S>; TOGETHER];

/// Into how many groups of [`TOGETHER`] the vectors go for the `which`-th value: at least three more than it counts
/// (Bathe, 11.6.2: twice as many, eight more at most). Nothing where so many vectors have no room.
fn groups(plan: &EigenPlan, which: usize) -> Option<usize> {
    let count = which + 1;
    let groups = (2 * count).min(count + 8).max(count + 3).div_ceil(TOGETHER);
    (groups * TOGETHER < plan.size()).then_some(groups)
}

/// The `which`-th smallest eigenvalue; `None` where this method does not find it: K is not positive definite, there are
/// too few unknowns, it does not settle.
pub(super) fn lowest(plan: &EigenPlan, stiffness: &[f64], mass: &[f64], which: usize) -> Option<f64> {
    let groups = groups(plan, which)?;
    let both = |place: usize| match place.checked_sub(stiffness.len()) {
        None => One::of(stiffness[place]),
        Some(place) => One::of(mass[place]),
    };
    let (value, settled) = iterate(Scalar, plan, both, groups, which);
    settled.is_set().then_some(value.number())
}

/// The same for a problem in each of several lanes: K's values, then M's, a group of lanes for each place. Bit i of the
/// result says whether the value of lane i was found: then it has the bits that [`lowest`] gives.
pub(super) fn lowest_lanes(plan: &EigenPlan, values: &[[f64; LANES]], which: usize) -> ([f64; LANES], u8) {
    match groups(plan, which) {
        None => ([f64::NAN; LANES], 0),
        Some(groups) => Arch::new().dispatch(LowestLanes {
            plan,
            values,
            groups,
            which,
        }),
    }
}

struct LowestLanes<'a> {
    plan: &'a EigenPlan,
    values: &'a [[f64; LANES]],
    groups: usize,
    which: usize,
}

impl WithSimd for LowestLanes<'_> {
    type Output = ([f64; LANES], u8);

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let mut found = [f64::NAN; LANES];
        let mut settled = 0;
        for part in 0..LANES / S::F64_LANES {
            let value = |place: usize| Lanes::load(simd, &self.values[place], part);
            let (values, mask) = iterate(simd, self.plan, value, self.groups, self.which);
            values.store(&mut found, part);
            settled |= mask.bits(part);
        }
        (found, settled)
    }
}

/// The value, and where it settled.
#[inline(always)]
fn iterate<S: Simd>(
    simd: S,
    plan: &EigenPlan,
    value_at: impl Fn(usize) -> Lanes<S>,
    groups: usize,
    which: usize,
) -> (Lanes<S>, Mask<S>) {
    let number = |value: f64| Lanes::splat(simd, value);
    let storage = plan.together();
    let places = plan.stiffness().entries().len();
    let both = places + plan.mass().entries().len();

    let mut factor = Elimination::new(simd, storage);
    storage.assemble(places..both, number(0.0), &value_at, factor.matrix());
    let mass = factor.matrix().to_vec();
    let mut sound = factor.factorise(simd, storage, |_| !S::IS_SCALAR);
    storage.assemble(0..places, number(0.0), &value_at, factor.matrix());
    sound = sound.and(factor.factorise(simd, storage, |_| !S::IS_SCALAR));
    let pivots = factor.reciprocal_pivots(simd);

    let mut subspace = Subspace {
        vectors: start(simd, plan.size(), groups),
        loads: vec![vec![[number(0.0); TOGETHER]; plan.size()]; groups],
    };
    subspace.load(simd, storage, &mass);
    let mut value = number(f64::NAN);
    let (mut last, mut last_change) = (number(f64::INFINITY), number(f64::INFINITY));
    let mut going = sound;
    for _ in 0..MOST_ITERATIONS {
        if !going.any() {
            break;
        }
        let spectrum = subspace.step(simd, storage, &factor, &pivots, &mass);
        let now = number(1.0) / spectrum.values[which];
        let change = (last - now).abs();
        let left = change * change / (last_change - change);
        let falling = change.less(last_change).and(last_change.is_finite());
        let settled = falling.not().or(left.less_or_equal(number(SETTLED) * now));
        let settled = settled.and(change.less_or_equal(number(ROUNDING) * now));
        going = going.and(spectrum.definite);
        value = going.and(settled).select(now, value);
        going = going.and(settled.not());
        (last, last_change) = (now, change);
    }
    (value, value.is_finite())
}

/// Vectors in the order of elimination, in groups.
struct Subspace<S: Simd> {
    vectors: Vec<Vec<Part<S>>>,
    /// M times each vector.
    loads: Vec<Vec<Part<S>>>,
}

impl<S: Simd> Subspace<S> {
    #[inline(always)]
    fn load(&mut self, simd: S, storage: &Plan, mass: &[Lanes<S>]) {
        for (vectors, loads) in self.vectors.iter().zip(&mut self.loads) {
            product(simd, storage, mass, vectors, loads);
        }
    }

    /// One step: `X = A⁻¹ M V`, then within X the combinations with `XᵀAX` and `XᵀMX` both diagonal, by falling 1/λ; the
    /// loads of the next step are those of the combinations.
    #[inline(always)]
    fn step(
        &mut self,
        simd: S,
        storage: &Plan,
        factor: &Elimination<S>,
        pivots: &[Lanes<S>],
        mass: &[Lanes<S>],
    ) -> Spectrum<S> {
        for (vectors, loads) in self.vectors.iter_mut().zip(&self.loads) {
            vectors.copy_from_slice(loads);
            factor.solve_together(storage, pivots, vectors);
        }
        let stiffness = gram(simd, &self.vectors, &self.loads); // XᵀAX, since A X are the loads
        self.load(simd, storage, mass);
        let inertia = gram(simd, &self.vectors, &self.loads);
        let spectrum = Spectrum::of(simd, inertia, &stiffness, 0.0);
        // Length 1 in M instead of A: the start of the next step then neither grows nor shrinks.
        let mut weights = spectrum.vectors.clone();
        for (weights, reciprocal) in weights.iter_mut().zip(&spectrum.values) {
            let length = reciprocal.abs().sqrt();
            weights.iter_mut().for_each(|weight| *weight = *weight / length);
        }
        combine(simd, &self.loads, &weights, &mut self.vectors);
        std::mem::swap(&mut self.vectors, &mut self.loads);
        spectrum
    }
}

/// Fixed start vectors without any symmetry, so that none of the shapes is missed.
#[inline(always)]
fn start<S: Simd>(simd: S, size: usize, groups: usize) -> Vec<Vec<Part<S>>> {
    let group = |group: usize| {
        let part = |at: usize| {
            std::array::from_fn(|i| Lanes::splat(simd, super::subspace::start_at(group * TOGETHER + i, at)))
        };
        (0..size).map(part).collect()
    };
    (0..groups).map(group).collect()
}

/// The symmetric matrix in the plan's storage times four vectors.
#[inline(always)]
fn product<S: Simd>(simd: S, storage: &Plan, matrix: &[Lanes<S>], x: &[Part<S>], out: &mut [Part<S>]) {
    out.fill([Lanes::splat(simd, 0.0); TOGETHER]);
    for (row, own) in x.iter().enumerate() {
        let first = storage.first_column(row);
        let entries = &matrix[storage.row(row)];
        let mut sum = out[row];
        for ((entry, other), out) in entries.iter().zip(&x[first..row]).zip(&mut out[first..row]) {
            for i in 0..TOGETHER {
                sum[i] = sum[i] + *entry * other[i];
                out[i] = out[i] + *entry * own[i];
            }
        }
        let diagonal = entries[row - first];
        for i in 0..TOGETHER {
            sum[i] = sum[i] + diagonal * own[i];
        }
        out[row] = sum;
    }
}

/// `XᵀY` where it is symmetric: the lower half is worked out.
#[inline(always)]
fn gram<S: Simd>(simd: S, x: &[Vec<Part<S>>], y: &[Vec<Part<S>>]) -> Dense<Lanes<S>> {
    let nothing = Lanes::splat(simd, 0.0);
    let mut matrix = Dense::filled(x.len() * TOGETHER, nothing);
    for (group, left) in x.iter().enumerate() {
        for (other, right) in y.iter().enumerate().take(group + 1) {
            let mut sums = [[nothing; TOGETHER]; TOGETHER];
            for (left, right) in left.iter().zip(right) {
                for i in 0..TOGETHER {
                    for j in 0..TOGETHER {
                        sums[i][j] = sums[i][j] + left[i] * right[j];
                    }
                }
            }
            for (i, sums) in sums.iter().enumerate() {
                for (j, sum) in sums
                    .iter()
                    .enumerate()
                    .take(if group == other { i + 1 } else { TOGETHER })
                {
                    let (row, column) = (group * TOGETHER + i, other * TOGETHER + j);
                    *matrix.at_mut(row, column) = *sum;
                    *matrix.at_mut(column, row) = *sum;
                }
            }
        }
    }
    matrix
}

/// The combinations of vectors with these weights.
#[inline(always)]
fn combine<S: Simd>(simd: S, vectors: &[Vec<Part<S>>], weights: &[Vec<Lanes<S>>], out: &mut [Vec<Part<S>>]) {
    for (out, weights) in out.iter_mut().zip(weights.chunks_exact(TOGETHER)) {
        out.fill([Lanes::splat(simd, 0.0); TOGETHER]);
        for (group, vectors) in vectors.iter().enumerate() {
            for (out, parts) in out.iter_mut().zip(vectors) {
                for j in 0..TOGETHER {
                    for i in 0..TOGETHER {
                        out[j] = out[j] + weights[j][group * TOGETHER + i] * parts[i];
                    }
                }
            }
        }
    }
}
