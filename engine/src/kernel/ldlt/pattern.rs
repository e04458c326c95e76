//! The places of a symmetric matrix's entries, apart from their values.

/// Where a symmetric matrix has entries: a list of (row, column), each with a value kept elsewhere, in the same order.
///
/// A place (i, j) with i ≠ j, in the lower or the upper half, stands for both K_ij and K_ji, so it is given once.
/// Values at the same place add up in the order of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    size: usize,
    entries: Vec<(usize, usize)>,
}

/// A place that the matrix does not have.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceOutside {
    /// The place: row and column.
    pub place: (usize, usize),
    /// The number of rows and of columns.
    pub size: usize,
}

impl std::fmt::Display for PlaceOutside {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let ((row, column), size) = (self.place, self.size);
        write!(
            out,
            "row {row}, column {column} does not exist in a matrix of {size} rows, counted from 0"
        )
    }
}

impl std::error::Error for PlaceOutside {}

impl Pattern {
    /// Places in a matrix of `size` rows and columns, counted from 0.
    ///
    /// # Errors
    /// The first place outside the matrix.
    pub fn new(size: usize, entries: Vec<(usize, usize)>) -> Result<Pattern, PlaceOutside> {
        match entries.iter().find(|(row, column)| *row >= size || *column >= size) {
            Some(&place) => Err(PlaceOutside { place, size }),
            None => Ok(Pattern { size, entries }),
        }
    }

    /// The number of rows and of columns.
    pub fn size(&self) -> usize {
        self.size
    }

    /// The places, in the order of their values.
    pub fn entries(&self) -> &[(usize, usize)] {
        &self.entries
    }

    /// Adds the product of the matrix and `x` to `sum`. Both slices have [`Pattern::size`] numbers.
    pub fn add_product(&self, values: &[f64], x: &[f64], sum: &mut [f64]) {
        for (&(i, j), value) in self.entries.iter().zip(values) {
            sum[i] += value * x[j];
            if i != j {
                sum[j] += value * x[i];
            }
        }
    }

    /// `xᵀ K y`. Both slices have [`Pattern::size`] numbers.
    pub fn form(&self, values: &[f64], x: &[f64], y: &[f64]) -> f64 {
        let mut product = vec![0.0; self.size];
        self.add_product(values, y, &mut product);
        let mut sum = 0.0;
        for (a, b) in x.iter().zip(&product) {
            sum += a * b;
        }
        sum
    }

    /// Adds `factor · ∂(xᵀ K y)/∂value` to each value's adjoint: `x_i y_j + x_j y_i` off the diagonal, `x_i y_i` on it.
    pub fn add_form_partials(&self, factor: f64, x: &[f64], y: &[f64], adjoints: &mut [f64]) {
        for (&(i, j), adjoint) in self.entries.iter().zip(adjoints) {
            let partial = if i == j { x[i] * y[i] } else { x[i] * y[j] + x[j] * y[i] };
            *adjoint += factor * partial;
        }
    }
}

/// Reverse derivative of `x = K⁻¹ b` with respect to K's values, added to `adjoints` (one for each place).
///
/// `lambda` is `K⁻¹ x̄`, the same factor applied to the adjoint of the solution; it is also the adjoint of `b`. Then
/// K̄ = −λ xᵀ, which for a place (i, j) standing for both halves is `−(λ_i x_j + λ_j x_i)`, on the diagonal `−λ_i x_i`.
pub fn solve_adjoint(pattern: &Pattern, x: &[f64], lambda: &[f64], adjoints: &mut [f64]) {
    pattern.add_form_partials(-1.0, lambda, x, adjoints);
}
