//! Subspace iteration on a sparse factor.

use super::dense::Dense;
use super::plan::{EigenError, EigenPlan, Eigenpair};
use super::spectrum;
use crate::kernel::ldlt::{Factor, Pattern, SINGULAR_BELOW};

/// A pair's residual, relative to the size of its terms, is below this where only rounding is left.
const SETTLED: f64 = 4e-16;
/// A pair whose relative residual is not below this is no solution.
const ACCEPTABLE: f64 = 1e-8;
/// Give up improving after this many iterations without halving the residual.
const PATIENCE: usize = 6;
const MOST_ITERATIONS: usize = 500;

/// The `which`-th smallest pair of a problem with more unknowns than a full matrix should have.
///
/// Iterates on `(K + σM)⁻¹ M`, which turns the smallest values into the largest; σ is zero where K is positive
/// definite. The residual `K φ − λ M φ`, measured against the size of its terms, decides when to stop: it falls also
/// where the eigenvalue is repeated and the shape never settles.
pub(super) fn smallest(plan: &EigenPlan, k: &[f64], m: &[f64], which: usize) -> Result<Eigenpair, EigenError> {
    check_mass(plan, m)?;
    let (factor, shift) = shifted_factor(plan, k, m)?;
    let width = plan.size().min((2 * which + 2).max(which + 9));
    let mut vectors = start(plan.size(), width);
    let mut best = (
        f64::INFINITY,
        Eigenpair {
            value: f64::NAN,
            shape: Vec::new(),
        },
    );
    let mut since_halved = 0;
    let mut to_halve = f64::INFINITY;
    for _ in 0..MOST_ITERATIONS {
        let shape = iterate(plan, m, &factor, &mut vectors, which)?;
        let value = plan.stiffness().form(k, &shape, &shape) / plan.mass().form(m, &shape, &shape);
        let residual = residual(plan, k, m, value, shift, &shape);
        if residual < best.0 {
            best = (residual, Eigenpair { value, shape });
        }
        since_halved = if residual <= to_halve { 0 } else { since_halved + 1 };
        to_halve = if residual <= to_halve { 0.5 * residual } else { to_halve };
        if best.0 <= SETTLED || (best.0 <= ACCEPTABLE && since_halved >= PATIENCE) {
            break;
        }
    }
    if best.0 <= ACCEPTABLE {
        Ok(best.1)
    } else {
        Err(EigenError::NotConverged)
    }
}

/// M must be positive definite: its own factor says where it is not.
fn check_mass(plan: &EigenPlan, m: &[f64]) -> Result<(), EigenError> {
    let values: Vec<f64> = plan
        .stiffness()
        .entries()
        .iter()
        .map(|_| 0.0)
        .chain(m.iter().copied())
        .collect();
    match Factor::new(plan.together(), &values) {
        Ok(_) => Ok(()),
        Err(singular) => Err(EigenError::NoMass {
            unknown: singular.unknown,
        }),
    }
}

/// The factor of K, or of K + σM with σ four times the first of a rising row that makes it positive definite: the
/// first alone may lie next to an eigenvalue.
fn shifted_factor<'plan>(plan: &'plan EigenPlan, k: &[f64], m: &[f64]) -> Result<(Factor<'plan>, f64), EigenError> {
    let factor = |shift: f64| {
        let values: Vec<f64> = k.iter().copied().chain(m.iter().map(|value| shift * value)).collect();
        Factor::new(plan.together(), &values).ok()
    };
    if let Some(factor) = factor(0.0) {
        return Ok((factor, 0.0));
    }
    let mut shift = first_shift(plan, k, m);
    for _ in 0..60 {
        if factor(shift).is_some() {
            let shift = 4.0 * shift;
            return factor(shift)
                .map(|factor| (factor, shift))
                .ok_or(EigenError::NotConverged);
        }
        shift *= 10.0;
    }
    Err(EigenError::NotConverged)
}

/// A thousand times the vanishing share of the smallest of K_ii/M_ii, which bounds the smallest eigenvalue from above.
fn first_shift(plan: &EigenPlan, k: &[f64], m: &[f64]) -> f64 {
    let (k, m) = (diagonal(plan.stiffness(), k), diagonal(plan.mass(), m));
    let mut smallest = f64::INFINITY;
    for (k, m) in k.iter().zip(&m) {
        let ratio = k.abs() / m;
        smallest = if ratio > 0.0 && ratio < smallest {
            ratio
        } else {
            smallest
        };
    }
    if smallest.is_finite() {
        1e3 * SINGULAR_BELOW * smallest
    } else {
        1.0
    }
}

fn diagonal(pattern: &Pattern, values: &[f64]) -> Vec<f64> {
    let mut diagonal = vec![0.0; pattern.size()];
    for (&(i, j), value) in pattern.entries().iter().zip(values) {
        if i == j {
            diagonal[i] += value;
        }
    }
    diagonal
}

/// Fixed start vectors without any symmetry, so that none of the shapes is missed.
fn start(size: usize, width: usize) -> Vec<Vec<f64>> {
    (0..width)
        .map(|vector| (0..size).map(|at| start_at(vector, at)).collect())
        .collect()
}

/// One component of a start vector.
pub(super) fn start_at(vector: usize, at: usize) -> f64 {
    let bits = (vector as u64 * 0x1_0000_0001 + at as u64 + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    let bits = (bits ^ (bits >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    (bits >> 32) as f64 / 4_294_967_296.0 - 0.5
}

/// One step: `X = A⁻¹ M V`, then within X the combinations with `XᵀAX` and `XᵀMX` both diagonal, by falling 1/(λ+σ).
/// Gives the one asked for.
fn iterate(
    plan: &EigenPlan,
    m: &[f64],
    factor: &Factor<'_>,
    vectors: &mut [Vec<f64>],
    which: usize,
) -> Result<Vec<f64>, EigenError> {
    let loads: Vec<Vec<f64>> = vectors.iter().map(|vector| product(plan.mass(), m, vector)).collect();
    for (vector, load) in vectors.iter_mut().zip(&loads) {
        vector.copy_from_slice(load);
        factor.solve(vector);
    }
    let mass_loads: Vec<Vec<f64>> = vectors.iter().map(|vector| product(plan.mass(), m, vector)).collect();
    let stiffness = gram(vectors, &loads); // XᵀAX, since A X are the loads
    let mass = gram(vectors, &mass_loads);
    let pairs = spectrum::generalised(&mass, &stiffness, 0.0).map_err(|_| EigenError::NotConverged)?;
    let combine = |weights: &[f64], reciprocal: f64| {
        // Length 1 in M instead of A: the start of the next step then neither grows nor shrinks.
        let length = reciprocal.abs().sqrt();
        let mut sum = vec![0.0; plan.size()];
        for (weight, vector) in weights.iter().zip(vectors.iter()) {
            sum.iter_mut()
                .zip(vector)
                .for_each(|(total, value)| *total += weight / length * value);
        }
        sum
    };
    let turned: Vec<Vec<f64>> = pairs
        .iter()
        .map(|(reciprocal, weights)| combine(weights, *reciprocal))
        .collect();
    for (vector, new) in vectors.iter_mut().zip(turned) {
        *vector = new;
    }
    vectors.get(which).cloned().ok_or(EigenError::NotConverged)
}

fn product(pattern: &Pattern, values: &[f64], x: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; x.len()];
    pattern.add_product(values, x, &mut sum);
    sum
}

/// `XᵀY` where it is symmetric: the lower half is worked out.
fn gram(x: &[Vec<f64>], y: &[Vec<f64>]) -> Dense<f64> {
    let mut matrix = Dense::zero(x.len());
    for (i, left) in x.iter().enumerate() {
        for (j, right) in y.iter().enumerate().take(i + 1) {
            let mut sum = 0.0;
            for (a, b) in left.iter().zip(right) {
                sum += a * b;
            }
            *matrix.at_mut(i, j) = sum;
            *matrix.at_mut(j, i) = sum;
        }
    }
    matrix
}

/// The largest component of `K φ − λ M φ` against the largest of φ, each unknown measured by the root of its own
/// diagonal entry: so that forces and moments, metres and radians count alike.
fn residual(plan: &EigenPlan, k: &[f64], m: &[f64], value: f64, shift: f64, shape: &[f64]) -> f64 {
    let mut rest = product(plan.stiffness(), k, shape);
    for (rest, load) in rest.iter_mut().zip(product(plan.mass(), m, shape)) {
        *rest -= value * load;
    }
    let own = diagonal(plan.stiffness(), k).into_iter().zip(diagonal(plan.mass(), m));
    let (mut worst, mut largest) = (0.0, 0.0);
    for ((rest, part), (k, m)) in rest.iter().zip(shape).zip(own) {
        let scale = (k.abs() + (value.abs() + shift) * m).sqrt();
        let scale = if scale > 0.0 { scale } else { 1.0 };
        let (rest, part) = ((rest / scale).abs(), (part * scale).abs());
        worst = if rest > worst || rest.is_nan() { rest } else { worst };
        largest = if part > largest { part } else { largest };
    }
    worst / if largest > 0.0 { largest } else { 1.0 }
}
