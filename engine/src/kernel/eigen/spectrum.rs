//! All eigenpairs of small full matrices, for one problem or for one in each lane.

use super::dense::Dense;
use crate::kernel::lanes::{Lanes, Mask, One};
use pulp::{Scalar, Simd};

/// All eigenpairs of `a x = μ b x`, by falling μ. Each `x` has `xᵀ b x = 1`.
pub(super) struct Spectrum<S: Simd> {
    pub(super) values: Vec<Lanes<S>>,
    /// One after the other.
    pub(super) vectors: Vec<Vec<Lanes<S>>>,
    /// Where b is positive definite; elsewhere the rest has no meaning.
    pub(super) definite: Mask<S>,
    /// The first row whose pivot is not above the tolerance times its diagonal entry in some lane.
    indefinite_at: Option<usize>,
}

/// All eigenpairs of one problem `a x = μ b x`, symmetric with `b` positive definite, as [`Spectrum`] has them.
///
/// Where `b` is not positive definite (a pivot not above `tolerance` of its diagonal) gives that row.
pub(super) fn generalised(a: &Dense<f64>, b: &Dense<f64>, tolerance: f64) -> Result<Vec<(f64, Vec<f64>)>, usize> {
    let spectrum = Spectrum::of(Scalar, a.map(One::of), &b.map(One::of), tolerance);
    match spectrum.indefinite_at {
        Some(row) => Err(row),
        None => {
            let plain = |vector: Vec<One>| vector.into_iter().map(One::number).collect();
            let vectors = spectrum.vectors.into_iter().map(plain);
            Ok(spectrum.values.into_iter().map(One::number).zip(vectors).collect())
        }
    }
}

impl<S: Simd> Spectrum<S> {
    #[inline(always)]
    pub(super) fn of(simd: S, mut a: Dense<Lanes<S>>, b: &Dense<Lanes<S>>, tolerance: f64) -> Self {
        let size = a.size();
        let (lower, definite, indefinite_at) = cholesky(simd, b, tolerance);
        reduce(simd, &mut a, &lower);
        let vectors = if S::IS_SCALAR && indefinite_at.is_some() {
            Dense::filled(size, Lanes::splat(simd, 0.0))
        } else {
            jacobi(simd, &mut a)
        };
        let mut values: Vec<Lanes<S>> = (0..size).map(|column| a.at(column, column)).collect();
        let mut vectors: Vec<Vec<Lanes<S>>> = (0..size)
            .map(|column| (0..size).map(|row| vectors.at(row, column)).collect())
            .collect();
        sort(&mut values, &mut vectors);
        for vector in &mut vectors {
            solve_transposed(&lower, vector);
        }
        Self {
            values,
            vectors,
            definite,
            indefinite_at,
        }
    }
}

/// The lower factor of a positive definite matrix, where it is one, and the first row in which some lane's pivot is not
/// above `tolerance` of its diagonal.
#[inline(always)]
fn cholesky<S: Simd>(simd: S, matrix: &Dense<Lanes<S>>, tolerance: f64) -> (Dense<Lanes<S>>, Mask<S>, Option<usize>) {
    let mut lower = Dense::filled(matrix.size(), Lanes::splat(simd, 0.0));
    let mut definite = Mask::splat(simd, true);
    let mut indefinite_at = None;
    for row in 0..matrix.size() {
        for column in 0..=row {
            let mut sum = matrix.at(row, column);
            for k in 0..column {
                sum = sum - lower.at(row, k) * lower.at(column, k);
            }
            if column < row {
                *lower.at_mut(row, column) = sum / lower.at(column, column);
                continue;
            }
            let least = Lanes::splat(simd, tolerance) * matrix.at(row, row).abs();
            let sound = least.less(sum).and(sum.is_finite());
            if !sound.all() && indefinite_at.is_none() {
                indefinite_at = Some(row);
            }
            definite = definite.and(sound);
            *lower.at_mut(row, row) = sound.select(sum.sqrt(), Lanes::splat(simd, 1.0));
        }
    }
    (lower, definite, indefinite_at)
}

/// `L⁻¹ A L⁻ᵀ` in place of a symmetric A.
#[inline(always)]
fn reduce<S: Simd>(simd: S, matrix: &mut Dense<Lanes<S>>, lower: &Dense<Lanes<S>>) {
    let size = matrix.size();
    for column in 0..size {
        for row in 0..size {
            let mut sum = matrix.at(row, column);
            for k in 0..row {
                sum = sum - lower.at(row, k) * matrix.at(k, column);
            }
            *matrix.at_mut(row, column) = sum / lower.at(row, row);
        }
    }
    for row in 0..size {
        for column in 0..size {
            let mut sum = matrix.at(row, column);
            for k in 0..column {
                sum = sum - lower.at(column, k) * matrix.at(row, k);
            }
            *matrix.at_mut(row, column) = sum / lower.at(column, column);
        }
    }
    let half = Lanes::splat(simd, 0.5);
    for row in 0..size {
        for column in 0..row {
            let mean = half * (matrix.at(row, column) + matrix.at(column, row));
            *matrix.at_mut(row, column) = mean;
            *matrix.at_mut(column, row) = mean;
        }
    }
}

/// Solves `Lᵀ x = y` in place.
#[inline(always)]
fn solve_transposed<S: Simd>(lower: &Dense<Lanes<S>>, x: &mut [Lanes<S>]) {
    for row in (0..x.len()).rev() {
        x[row] = x[row] / lower.at(row, row);
        let value = x[row];
        for (other, left) in x[..row].iter_mut().zip(lower.row(row)) {
            *other = *other - *left * value;
        }
    }
}

/// Cyclic Jacobi rotations: leaves the eigenvalues on the diagonal and gives the eigenvectors as columns.
///
/// A rotation is left out once its entry is lost in the rounding of the two diagonal entries it couples. At most 60
/// sweeps; convergence is quadratic, and ten are rare. Source: G. H. Golub and C. F. Van Loan, Matrix
/// Computations (4th edition), section 8.5.
#[inline(always)]
fn jacobi<S: Simd>(simd: S, matrix: &mut Dense<Lanes<S>>) -> Dense<Lanes<S>> {
    let size = matrix.size();
    let mut vectors = Dense::filled(size, Lanes::splat(simd, 0.0));
    for i in 0..size {
        *vectors.at_mut(i, i) = Lanes::splat(simd, 1.0);
    }
    for _ in 0..60 {
        let mut turned = false;
        for p in 0..size {
            for q in p + 1..size {
                turned |= rotate(simd, matrix, &mut vectors, p, q);
            }
        }
        if !turned {
            break;
        }
    }
    vectors
}

/// Turns the plane of axes `p` and `q` so that their entry vanishes; says whether there was anything to do in any lane.
#[inline(always)]
fn rotate<S: Simd>(simd: S, matrix: &mut Dense<Lanes<S>>, vectors: &mut Dense<Lanes<S>>, p: usize, q: usize) -> bool {
    let number = |value: f64| Lanes::splat(simd, value);
    let (app, aqq, apq) = (matrix.at(p, p), matrix.at(q, q), matrix.at(p, q));
    let scale = (app.abs() * aqq.abs()).sqrt();
    let kept = (number(0.5 * f64::EPSILON) * scale).less(apq.abs());
    let turn = kept
        .and(number(f64::MIN_POSITIVE).less_or_equal(apq.abs()))
        .and(apq.is_finite());
    if !turn.any() {
        return false;
    }
    let one = number(1.0);
    let theta = (aqq - app) / (number(2.0) * apq);
    let t = theta.sign() / (theta.abs() + (one + theta * theta).sqrt());
    let cosine = one / (one + t * t).sqrt();
    let sine = t * cosine;
    let turned = |a: Lanes<S>, b: Lanes<S>| {
        let (new_a, new_b) = (cosine * a - sine * b, sine * a + cosine * b);
        (turn.select(new_a, a), turn.select(new_b, b))
    };
    for k in 0..matrix.size() {
        (*matrix.at_mut(k, p), *matrix.at_mut(k, q)) = turned(matrix.at(k, p), matrix.at(k, q));
    }
    for k in 0..matrix.size() {
        (*matrix.at_mut(p, k), *matrix.at_mut(q, k)) = turned(matrix.at(p, k), matrix.at(q, k));
        (*vectors.at_mut(k, p), *vectors.at_mut(k, q)) = turned(vectors.at(k, p), vectors.at(k, q));
    }
    *matrix.at_mut(p, p) = turn.select(app - t * apq, matrix.at(p, p));
    *matrix.at_mut(q, q) = turn.select(aqq + t * apq, matrix.at(q, q));
    let rest = turn.select(number(0.0), apq);
    *matrix.at_mut(p, q) = rest;
    *matrix.at_mut(q, p) = rest;
    true
}

/// Puts values, and vectors with them, in falling order; equal ones stay in theirs. By exchanges of neighbours, since
/// each lane has an order of its own.
#[inline(always)]
fn sort<S: Simd>(values: &mut [Lanes<S>], vectors: &mut [Vec<Lanes<S>>]) {
    for sorted in (1..values.len()).rev() {
        for at in 0..sorted {
            let (left, right) = (values[at], values[at + 1]);
            let exchange = left.less(right);
            if !exchange.any() {
                continue;
            }
            values[at] = exchange.select(right, left);
            values[at + 1] = exchange.select(left, right);
            let (lefts, rights) = vectors.split_at_mut(at + 1);
            for (left, right) in lefts[at].iter_mut().zip(&mut rights[0]) {
                (*left, *right) = (exchange.select(*right, *left), exchange.select(*left, *right));
            }
        }
    }
}
