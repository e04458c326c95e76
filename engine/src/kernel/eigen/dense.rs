//! Small full matrices in a fixed order of operations.

/// A full matrix, row after row.
#[derive(Debug, Clone)]
pub(super) struct Dense {
    size: usize,
    values: Vec<f64>,
}

impl Dense {
    pub(super) fn zero(size: usize) -> Dense {
        Dense {
            size,
            values: vec![0.0; size * size],
        }
    }

    pub(super) fn size(&self) -> usize {
        self.size
    }

    pub(super) fn at(&self, row: usize, column: usize) -> f64 {
        self.values[row * self.size + column]
    }

    pub(super) fn at_mut(&mut self, row: usize, column: usize) -> &mut f64 {
        &mut self.values[row * self.size + column]
    }

    fn row(&self, row: usize) -> &[f64] {
        &self.values[row * self.size..(row + 1) * self.size]
    }
}

/// All eigenpairs of `a x = μ b x`, symmetric with `b` positive definite, by falling μ. Each `x` has `xᵀ b x = 1`.
///
/// Where `b` is not positive definite (a pivot not above `tolerance` of its diagonal) gives that row.
pub(super) fn generalised(a: &Dense, b: &Dense, tolerance: f64) -> Result<Vec<(f64, Vec<f64>)>, usize> {
    let lower = cholesky(b, tolerance)?;
    let mut reduced = a.clone();
    reduce(&mut reduced, &lower);
    let vectors = jacobi(&mut reduced);
    let mut order: Vec<usize> = (0..a.size()).collect();
    order.sort_by(|&i, &j| reduced.at(j, j).total_cmp(&reduced.at(i, i)).then(i.cmp(&j)));
    let pair = |&column: &usize| {
        let mut x: Vec<f64> = (0..a.size()).map(|row| vectors.at(row, column)).collect();
        solve_transposed(&lower, &mut x);
        (reduced.at(column, column), x)
    };
    Ok(order.iter().map(pair).collect())
}

/// The lower factor of a positive definite matrix, or the row whose pivot is not above `tolerance` of its diagonal.
fn cholesky(matrix: &Dense, tolerance: f64) -> Result<Dense, usize> {
    let mut lower = Dense::zero(matrix.size());
    for row in 0..matrix.size() {
        for column in 0..=row {
            let mut sum = matrix.at(row, column);
            for k in 0..column {
                sum -= lower.at(row, k) * lower.at(column, k);
            }
            if column < row {
                *lower.at_mut(row, column) = sum / lower.at(column, column);
            } else if sum > tolerance * matrix.at(row, row).abs() && sum.is_finite() {
                *lower.at_mut(row, row) = sum.sqrt();
            } else {
                return Err(row);
            }
        }
    }
    Ok(lower)
}

/// `L⁻¹ A L⁻ᵀ` in place of a symmetric A.
fn reduce(matrix: &mut Dense, lower: &Dense) {
    let size = matrix.size();
    for column in 0..size {
        for row in 0..size {
            let mut sum = matrix.at(row, column);
            for k in 0..row {
                sum -= lower.at(row, k) * matrix.at(k, column);
            }
            *matrix.at_mut(row, column) = sum / lower.at(row, row);
        }
    }
    for row in 0..size {
        for column in 0..size {
            let mut sum = matrix.at(row, column);
            for k in 0..column {
                sum -= lower.at(column, k) * matrix.at(row, k);
            }
            *matrix.at_mut(row, column) = sum / lower.at(column, column);
        }
    }
    for row in 0..size {
        for column in 0..row {
            let mean = 0.5 * (matrix.at(row, column) + matrix.at(column, row));
            *matrix.at_mut(row, column) = mean;
            *matrix.at_mut(column, row) = mean;
        }
    }
}

/// Solves `Lᵀ x = y` in place.
fn solve_transposed(lower: &Dense, x: &mut [f64]) {
    for row in (0..x.len()).rev() {
        x[row] /= lower.at(row, row);
        let value = x[row];
        for (other, left) in x[..row].iter_mut().zip(lower.row(row)) {
            *other -= left * value;
        }
    }
}

/// Cyclic Jacobi rotations: leaves the eigenvalues on the diagonal and gives the eigenvectors as columns.
///
/// A rotation is left out once its entry is lost in the rounding of the two diagonal entries it couples. At most 60
/// sweeps; convergence is quadratic, and ten are rare. Source: G. H. Golub and C. F. Van Loan, Matrix
/// Computations (4th edition), section 8.5.
fn jacobi(matrix: &mut Dense) -> Dense {
    let size = matrix.size();
    let mut vectors = Dense::zero(size);
    for i in 0..size {
        *vectors.at_mut(i, i) = 1.0;
    }
    for _ in 0..60 {
        let mut turned = false;
        for p in 0..size {
            for q in p + 1..size {
                turned |= rotate(matrix, &mut vectors, p, q);
            }
        }
        if !turned {
            break;
        }
    }
    vectors
}

/// Turns the plane of axes `p` and `q` so that their entry vanishes; says whether there was anything to do.
fn rotate(matrix: &mut Dense, vectors: &mut Dense, p: usize, q: usize) -> bool {
    let (app, aqq, apq) = (matrix.at(p, p), matrix.at(q, q), matrix.at(p, q));
    let scale = (app.abs() * aqq.abs()).sqrt();
    let lost = apq.abs() <= 0.5 * f64::EPSILON * scale || apq.abs() < f64::MIN_POSITIVE;
    if lost || !apq.is_finite() {
        return false;
    }
    let theta = (aqq - app) / (2.0 * apq);
    let t = 1.0_f64.copysign(theta) / (theta.abs() + (1.0 + theta * theta).sqrt());
    let cosine = 1.0 / (1.0 + t * t).sqrt();
    let sine = t * cosine;
    for k in 0..matrix.size() {
        let (akp, akq) = (matrix.at(k, p), matrix.at(k, q));
        *matrix.at_mut(k, p) = cosine * akp - sine * akq;
        *matrix.at_mut(k, q) = sine * akp + cosine * akq;
    }
    for k in 0..matrix.size() {
        let (apk, aqk) = (matrix.at(p, k), matrix.at(q, k));
        *matrix.at_mut(p, k) = cosine * apk - sine * aqk;
        *matrix.at_mut(q, k) = sine * apk + cosine * aqk;
        let (vkp, vkq) = (vectors.at(k, p), vectors.at(k, q));
        *vectors.at_mut(k, p) = cosine * vkp - sine * vkq;
        *vectors.at_mut(k, q) = sine * vkp + cosine * vkq;
    }
    *matrix.at_mut(p, p) = app - t * apq;
    *matrix.at_mut(q, q) = aqq + t * apq;
    *matrix.at_mut(p, q) = 0.0;
    *matrix.at_mut(q, p) = 0.0;
    true
}

/// Solves `A x = b` in place of b by elimination with row exchange; false where a pivot is below `tolerance` of the
/// largest seen.
pub(super) fn eliminate(mut matrix: Dense, b: &mut [f64], tolerance: f64) -> bool {
    let size = matrix.size();
    let mut largest_pivot = 0.0;
    for step in 0..size {
        let mut pivot_row = step;
        for row in step + 1..size {
            if matrix.at(row, step).abs() > matrix.at(pivot_row, step).abs() {
                pivot_row = row;
            }
        }
        let pivot = matrix.at(pivot_row, step);
        largest_pivot = if pivot.abs() > largest_pivot {
            pivot.abs()
        } else {
            largest_pivot
        };
        if pivot.abs() <= tolerance * largest_pivot || !pivot.is_finite() {
            return false;
        }
        b.swap(step, pivot_row);
        for column in step..size {
            matrix.values.swap(step * size + column, pivot_row * size + column);
        }
        for row in step + 1..size {
            let factor = matrix.at(row, step) / pivot;
            b[row] -= factor * b[step];
            for column in step..size {
                let above = matrix.at(step, column);
                *matrix.at_mut(row, column) -= factor * above;
            }
        }
    }
    for row in (0..size).rev() {
        let mut sum = b[row];
        for (value, x) in matrix.row(row).iter().zip(b.iter()).skip(row + 1) {
            sum -= value * x;
        }
        b[row] = sum / matrix.at(row, row);
    }
    true
}
