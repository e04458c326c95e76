//! Small full matrices in a fixed order of operations.

/// A full matrix, row after row.
#[derive(Debug, Clone)]
pub(super) struct Dense<T> {
    size: usize,
    values: Vec<T>,
}

impl Dense<f64> {
    pub(super) fn zero(size: usize) -> Self {
        Self::filled(size, 0.0)
    }
}

impl<T: Copy> Dense<T> {
    #[inline(always)]
    pub(super) fn filled(size: usize, value: T) -> Self {
        Self {
            size,
            values: vec![value; size * size],
        }
    }

    /// The same with another kind of numbers.
    pub(super) fn map<U: Copy>(&self, each: impl Fn(T) -> U) -> Dense<U> {
        Dense {
            size: self.size,
            values: self.values.iter().map(|value| each(*value)).collect(),
        }
    }

    #[inline(always)]
    pub(super) fn size(&self) -> usize {
        self.size
    }

    #[inline(always)]
    pub(super) fn at(&self, row: usize, column: usize) -> T {
        self.values[row * self.size + column]
    }

    #[inline(always)]
    pub(super) fn at_mut(&mut self, row: usize, column: usize) -> &mut T {
        &mut self.values[row * self.size + column]
    }

    #[inline(always)]
    pub(super) fn row(&self, row: usize) -> &[T] {
        &self.values[row * self.size..(row + 1) * self.size]
    }
}

/// Solves `A x = b` in place of b by elimination with row exchange; false where a pivot is below `tolerance` of the
/// largest seen.
pub(super) fn eliminate(mut matrix: Dense<f64>, b: &mut [f64], tolerance: f64) -> bool {
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
