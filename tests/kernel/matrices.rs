//! Symmetric matrices for tests, as places and values and as full matrices of another library.

use super::random::Random;
use crankline_engine::kernel::ldlt::Pattern;
use nalgebra::{DMatrix, DVector};

/// A symmetric matrix as places and values.
#[derive(Clone)]
pub(super) struct Sparse {
    pub(super) pattern: Pattern,
    pub(super) values: Vec<f64>,
}

impl Sparse {
    pub(super) fn new(size: usize, entries: &[(usize, usize, f64)]) -> Sparse {
        let places = entries.iter().map(|&(i, j, _)| (i, j)).collect();
        let pattern = Pattern::new(size, places).unwrap();
        Sparse {
            pattern,
            values: entries.iter().map(|&(_, _, value)| value).collect(),
        }
    }

    /// From a full matrix; every entry of its lower half that is not zero.
    pub(super) fn of(full: &DMatrix<f64>) -> Sparse {
        let mut entries = Vec::new();
        for i in 0..full.nrows() {
            entries.extend((0..=i).filter(|&j| full[(i, j)] != 0.0).map(|j| (i, j, full[(i, j)])));
        }
        Sparse::new(full.nrows(), &entries)
    }

    pub(super) fn full(&self) -> DMatrix<f64> {
        let mut full = DMatrix::zeros(self.pattern.size(), self.pattern.size());
        for (&(i, j), value) in self.pattern.entries().iter().zip(&self.values) {
            full[(i, j)] += value;
            if i != j {
                full[(j, i)] += value;
            }
        }
        full
    }
}

/// A sparse positive definite matrix in a shuffled order, some of its places given twice and in either half.
pub(super) fn positive_definite(random: &mut Random, size: usize) -> Sparse {
    let mut entries = Vec::new();
    for i in 0..size {
        entries.push((i, i, random.between(0.01, 0.5)));
        for _ in 0..2 {
            // A spring between two unknowns: 1 -1 -1 1 times its stiffness, so the whole stays definite.
            let (j, stiffness) = (random.below(size), random.between(0.1, 100.0));
            if i != j {
                entries.extend([(i, i, stiffness), (j, j, stiffness), (i, j, -stiffness)]);
            }
        }
    }
    Sparse::new(size, &entries)
}

/// A chain of springs of stiffness `k`, its first end held or both ends free.
pub(super) fn chain(size: usize, k: f64, held: bool) -> Sparse {
    let mut entries: Vec<(usize, usize, f64)> = Vec::new();
    for i in 0..size - 1 {
        entries.extend([(i, i, k), (i + 1, i + 1, k), (i, i + 1, -k)]);
    }
    if held {
        entries.push((0, 0, k));
    }
    Sparse::new(size, &entries)
}

pub(super) fn identity(size: usize) -> Sparse {
    let entries: Vec<(usize, usize, f64)> = (0..size).map(|i| (i, i, 1.0)).collect();
    Sparse::new(size, &entries)
}

pub(super) fn random_vector(random: &mut Random, size: usize) -> DVector<f64> {
    DVector::from_fn(size, |_, _| random.between(-1.0, 1.0))
}
