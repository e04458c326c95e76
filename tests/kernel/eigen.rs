//! Eigenpairs against nalgebra and closed forms, derivatives against finite differences.

use super::matrices::{Sparse, chain, identity, positive_definite, random_vector};
use super::random::Random;
use crankline_engine::kernel::eigen::{EigenError, EigenPlan, Eigenpair};
use nalgebra::{DMatrix, DVector, SymmetricEigen};
use std::f64::consts::PI;

fn plan(k: &Sparse, m: &Sparse) -> EigenPlan {
    EigenPlan::new(k.pattern.clone(), m.pattern.clone()).unwrap()
}

fn smallest(k: &Sparse, m: &Sparse, which: usize) -> Eigenpair {
    plan(k, m).smallest(&k.values, &m.values, which).unwrap()
}

/// Eigenvalues by rising size, from nalgebra's tridiagonal QR.
fn reference(k: &Sparse, m: &Sparse) -> Vec<f64> {
    let inverse = m.full().cholesky().unwrap().l().try_inverse().unwrap();
    let reduced = &inverse * k.full() * inverse.transpose();
    let mut values: Vec<f64> = SymmetricEigen::new(reduced).eigenvalues.iter().copied().collect();
    values.sort_by(f64::total_cmp);
    values
}

/// K φ = λ M φ to rounding, φ of length 1 in M, largest part positive.
fn check_pair(k: &Sparse, m: &Sparse, pair: &Eigenpair, tolerance: f64) {
    let (k, m) = (k.full(), m.full());
    let shape = DVector::from_column_slice(&pair.shape);
    let rest = &k * &shape - &m * &shape * pair.value;
    // Where the value is nothing, so are its terms: then the whole matrix is the measure.
    let terms = (k.abs() * shape.abs() + m.abs() * shape.abs() * pair.value.abs()).max();
    let size = terms.max(0.01 * k.amax() * shape.amax());
    assert!(rest.amax() <= tolerance * size, "residual {} of {size}", rest.amax());
    let terms = shape.abs().dot(&(m.abs() * shape.abs()));
    assert!((shape.dot(&(&m * &shape)) - 1.0).abs() < 1e-15 * m.nrows() as f64 * terms);
    let largest = shape
        .iter()
        .copied()
        .fold(0.0, |a: f64, x| if x.abs() > a.abs() { x } else { a });
    assert!(largest > 0.0);
}

#[test]
fn pairs_agree_with_another_library() {
    let mut random = Random::new(20);
    for size in [1, 2, 3, 6, 12, 16, 17, 25, 40, 80] {
        let (k, m) = (
            positive_definite(&mut random, size),
            positive_definite(&mut random, size),
        );
        let values = reference(&k, &m);
        for which in (0..size).take(5) {
            let pair = smallest(&k, &m, which);
            let error = (pair.value - values[which]).abs();
            assert!(
                error <= 1e-11 * values[which] + 1e-14 * values[size - 1],
                "{size} {which}: {error:e}"
            );
            check_pair(&k, &m, &pair, 1e-13);
        }
    }
}

#[test]
fn a_chain_of_springs_has_its_closed_form() {
    // Held at one end: λ = 4 k sin²((2i + 1)π / (2(2n + 1))); free: λ = 4 k sin²(iπ / 2n), the first a rigid motion.
    for n in [5, 16, 17, 30, 100] {
        for which in 0..4 {
            let held = smallest(&chain(n, 3.0, true), &identity(n), which).value;
            let angle = (2 * which + 1) as f64 * PI / (2 * (2 * n + 1)) as f64;
            assert!((held / (12.0 * angle.sin().powi(2)) - 1.0).abs() < 1e-12, "{n} {which}");
            let free = smallest(&chain(n, 3.0, false), &identity(n), which);
            let expected = 12.0 * (which as f64 * PI / (2 * n) as f64).sin().powi(2);
            assert!(
                (free.value - expected).abs() < 2e-14,
                "{n} {which}: {} {expected}",
                free.value
            );
            check_pair(&chain(n, 3.0, false), &identity(n), &free, 1e-14);
        }
    }
}

/// A cantilever of n beam elements with consistent masses; unit length, bending stiffness and mass per length.
fn cantilever(n: usize, free: bool) -> (Sparse, Sparse) {
    let l = 1.0 / n as f64;
    let k = [
        [12.0, 6.0 * l, -12.0, 6.0 * l],
        [6.0 * l, 4.0 * l * l, -6.0 * l, 2.0 * l * l],
    ];
    let k = [
        k[0],
        k[1],
        [-12.0, -6.0 * l, 12.0, -6.0 * l],
        [6.0 * l, 2.0 * l * l, -6.0 * l, 4.0 * l * l],
    ];
    let m = [
        [156.0, 22.0 * l, 54.0, -13.0 * l],
        [22.0 * l, 4.0 * l * l, 13.0 * l, -3.0 * l * l],
    ];
    let m = [
        m[0],
        m[1],
        [54.0, 13.0 * l, 156.0, -22.0 * l],
        [-13.0 * l, -3.0 * l * l, -22.0 * l, 4.0 * l * l],
    ];
    let held = if free { 0 } else { 2 };
    let assemble = |element: [[f64; 4]; 4], factor: f64| {
        let mut entries = Vec::new();
        for (e, i, j) in (0..n).flat_map(|e| (0..4).flat_map(move |i| (0..=i).map(move |j| (e, i, j)))) {
            if 2 * e + j >= held {
                entries.push((2 * e + i - held, 2 * e + j - held, factor * element[i][j]));
            }
        }
        Sparse::new(2 * n + 2 - held, &entries)
    };
    (assemble(k, 1.0 / (l * l * l)), assemble(m, l / 420.0))
}

#[test]
fn beams_vibrate_as_the_continuum_does() {
    // Roots βL of cos βL cosh βL = -1 (held at one end) and +1 (free), λ = (βL)⁴: R. D. Blevins, Formulas for Natural
    // Frequency and Mode Shape (1979), table 8-1. Elements give more than the continuum, by about (βl)⁴/720.
    let held = [1.87510407, 4.69409113, 7.85475744];
    let free = [0.0, 0.0, 4.73004074, 7.85320462];
    for n in [6, 8, 9, 20, 60] {
        for (roots, is_free) in [(held.as_slice(), false), (free.as_slice(), true)] {
            let (k, m) = cantilever(n, is_free);
            for (which, root) in roots.iter().enumerate() {
                let pair = smallest(&k, &m, which);
                let expected = f64::powi(*root, 4);
                let element = (root / n as f64).powi(4) / 500.0;
                let rounding = 1e-14 * (n as f64).powi(4);
                let error = pair.value - expected;
                assert!(
                    error.abs() <= expected * (element + 1e-7) + rounding,
                    "{n} {which}: {error:e}"
                );
                check_pair(&k, &m, &pair, 1e-11);
            }
        }
    }
}

#[test]
fn the_scatter_of_exactly_planar_points_has_a_zero() {
    let k = Sparse::of(&DMatrix::from_row_slice(
        3,
        3,
        &[2.0, 1.0, 0.0, 1.0, 3.0, 0.0, 0.0, 0.0, 0.0],
    ));
    let pair = smallest(&k, &identity(3), 0);
    assert_eq!((pair.value, pair.shape), (0.0, vec![0.0, 0.0, 1.0]));
    let nothing = Sparse::new(3, &[(0, 0, 0.0), (1, 1, 0.0), (2, 2, 0.0)]);
    assert_eq!(smallest(&nothing, &identity(3), 1).value, 0.0);
    let nothing = Sparse::new(30, &[(0, 0, 0.0)]);
    assert_eq!(smallest(&nothing, &identity(30), 1).value, 0.0);
}

#[test]
fn indefinite_and_repeated_cases_are_solved() {
    let mut random = Random::new(21);
    for size in [4, 24] {
        let entries: Vec<(usize, usize, f64)> = (0..size).map(|i| (i, i, (i / 2) as f64 - 1.0)).collect();
        let k = Sparse::new(size, &entries);
        for (which, value) in [-1.0, -1.0, 0.0, 0.0].into_iter().enumerate() {
            let pair = smallest(&k, &identity(size), which);
            assert!((pair.value - value).abs() < 1e-14);
            check_pair(&k, &identity(size), &pair, 1e-13);
            let weights = random_vector(&mut random, size);
            let plan = plan(&k, &identity(size));
            let adjoints = plan.adjoint(&k.values, &vec![1.0; size], &pair, 0.0, weights.as_slice());
            assert!(
                adjoints
                    .stiffness
                    .iter()
                    .chain(&adjoints.mass)
                    .all(|&adjoint| adjoint == 0.0)
            );
            let tangent = plan.tangent(
                (&k.values, &vec![1.0; size]),
                &pair,
                (&vec![1.0; size], &vec![0.0; size]),
            );
            assert!((tangent.value - 1.0).abs() < 1e-13 && tangent.shape.iter().all(|&part| part == 0.0));
        }
    }
}

#[test]
fn derivatives_agree_with_finite_differences_and_with_each_other() {
    let mut random = Random::new(22);
    for (size, which) in [(3, 0), (3, 2), (8, 1), (20, 0), (20, 2)] {
        let (k, m) = (
            positive_definite(&mut random, size),
            positive_definite(&mut random, size),
        );
        let plan = plan(&k, &m);
        let pair = plan.smallest(&k.values, &m.values, which).unwrap();
        let weights = random_vector(&mut random, size);
        let weight = random.between(-1.0, 1.0);
        let adjoints = plan.adjoint(&k.values, &m.values, &pair, weight, weights.as_slice());
        for _ in 0..10 {
            let k_rate = random_vector(&mut random, k.values.len());
            let m_rate = random_vector(&mut random, m.values.len()) * 0.1;
            let rates = (k_rate.as_slice(), m_rate.as_slice());
            let tangent = plan.tangent((&k.values, &m.values), &pair, rates);
            let at = |step: f64| {
                let k: Vec<f64> = k.values.iter().zip(k_rate.iter()).map(|(v, r)| v + step * r).collect();
                let m: Vec<f64> = m.values.iter().zip(m_rate.iter()).map(|(v, r)| v + step * r).collect();
                plan.smallest(&k, &m, which).unwrap()
            };
            let (up, down) = (at(1e-6), at(-1e-6));
            let close = |a: f64, b: f64| (a - b).abs() < 2e-5 * (1.0 + a.abs());
            assert!(
                close(tangent.value, (up.value - down.value) / 2e-6),
                "value {size} {which}"
            );
            for ((rate, up), down) in tangent.shape.iter().zip(&up.shape).zip(&down.shape) {
                assert!(
                    close(*rate, (up - down) / 2e-6),
                    "shape {size} {which}: {rate} {}",
                    (up - down) / 2e-6
                );
            }
            let forward = weight * tangent.value
                + tangent
                    .shape
                    .iter()
                    .zip(weights.iter())
                    .map(|(a, b)| a * b)
                    .sum::<f64>();
            let reverse = adjoints
                .stiffness
                .iter()
                .zip(k_rate.iter())
                .map(|(a, b)| a * b)
                .sum::<f64>()
                + adjoints.mass.iter().zip(m_rate.iter()).map(|(a, b)| a * b).sum::<f64>();
            assert!(
                (forward - reverse).abs() < 1e-10 * (1.0 + forward.abs()),
                "{forward} {reverse}"
            );
        }
    }
}

#[test]
fn what_cannot_be_solved_is_refused() {
    let (k, m) = (chain(3, 1.0, true), identity(3));
    let unsolved = |k: &Sparse, m: &Sparse, which| plan(k, m).smallest(&k.values, &m.values, which).unwrap_err();
    assert_eq!(unsolved(&k, &m, 3), EigenError::NoSuchValue { which: 3, size: 3 });
    for size in [3, 30] {
        let mut massless = identity(size);
        massless.values[1] = 0.0;
        assert_eq!(
            unsolved(&chain(size, 1.0, true), &massless, 0),
            EigenError::NoMass { unknown: 1 }
        );
        let mut infinite = chain(size, 1.0, true);
        infinite.values[0] = f64::INFINITY;
        assert_eq!(unsolved(&infinite, &identity(size), 0), EigenError::NotFinite);
    }
    let differ = EigenPlan::new(k.pattern.clone(), identity(4).pattern.clone()).unwrap_err();
    assert_eq!(differ, EigenError::SizesDiffer { stiffness: 3, mass: 4 });
}
