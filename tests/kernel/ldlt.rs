//! Sparse factor against a full Cholesky factor of nalgebra, and against finite differences.

use super::matrices::{Sparse, chain, positive_definite, random_vector};
use super::random::Random;
use crankline_engine::kernel::ldlt::{Factor, Pattern, Plan, solve_adjoint};

#[test]
fn solutions_agree_with_a_full_factor() {
    let mut random = Random::new(10);
    for size in 1..60 {
        let matrix = positive_definite(&mut random, size);
        let (a, b) = (random_vector(&mut random, size), random_vector(&mut random, size));
        let plan = Plan::new(matrix.pattern.clone());
        let factor = Factor::new(&plan, &matrix.values).unwrap();
        let mut sides: Vec<f64> = a.iter().chain(b.iter()).copied().collect();
        factor.solve(&mut sides);
        let full = matrix.full().cholesky().unwrap();
        let expected: Vec<f64> = full.solve(&a).iter().chain(full.solve(&b).iter()).copied().collect();
        let scale = expected.iter().fold(0.0, |m: f64, x| m.max(x.abs()));
        for (ours, theirs) in sides.iter().zip(&expected) {
            assert!((ours - theirs).abs() <= 1e-11 * scale, "size {size}: {ours} {theirs}");
        }
    }
}

#[test]
fn one_right_side_gives_the_bits_of_several_and_a_renewed_factor_those_of_a_new_one() {
    let mut random = Random::new(11);
    let (first, second) = (positive_definite(&mut random, 40), random_vector(&mut random, 40));
    let plan = Plan::new(first.pattern.clone());
    let mut factor = Factor::new(&plan, &first.values).unwrap();
    let mut once = second.as_slice().to_vec();
    let mut thrice = [once.clone(), once.clone(), once.clone()].concat();
    factor.solve(&mut once);
    factor.solve(&mut thrice);
    assert_eq!(thrice, [once.clone(), once.clone(), once.clone()].concat());
    let doubled: Vec<f64> = first.values.iter().map(|value| value * 2.0).collect();
    factor.renew(&doubled).unwrap();
    factor.renew(&first.values).unwrap();
    let mut again = second.as_slice().to_vec();
    factor.solve(&mut again);
    assert_eq!(again, once);
}

#[test]
fn a_free_motion_is_named() {
    // Three masses in a row on springs, held nowhere: all move alike.
    let free = chain(3, 5.0, false);
    let plan = Plan::new(free.pattern.clone());
    let singular = Factor::new(&plan, &free.values).unwrap_err();
    singular
        .null_vector
        .iter()
        .for_each(|part| assert!((part - 1.0).abs() < 1e-12));
    assert_eq!(
        singular.to_string(),
        format!(
            "the matrix is singular at unknown {}: nothing holds it",
            singular.unknown
        )
    );

    // An unknown without any entry, and one with nothing but a zero.
    let lonely = Sparse::new(3, &[(0, 0, 1.0), (2, 2, 1.0)]);
    let plan = Plan::new(lonely.pattern.clone());
    let singular = Factor::new(&plan, &lonely.values).unwrap_err();
    assert_eq!((singular.unknown, singular.null_vector), (1, vec![0.0, 1.0, 0.0]));
}

#[test]
fn the_free_motion_is_found_anywhere_in_a_large_matrix() {
    let mut random = Random::new(12);
    for _ in 0..40 {
        // A definite matrix without its part along a random direction: K − (K v)(K v)ᵀ / vᵀKv.
        let size = 2 + random.below(40);
        let matrix = positive_definite(&mut random, size).full();
        let v = random_vector(&mut random, size);
        let load = &matrix * &v;
        let matrix = Sparse::of(&(&matrix - &load * load.transpose() / v.dot(&load)));
        let plan = Plan::new(matrix.pattern.clone());
        let null = Factor::new(&plan, &matrix.values).unwrap_err().null_vector;
        let largest = v
            .iter()
            .copied()
            .fold(0.0, |m: f64, x| if x.abs() > m.abs() { x } else { m });
        for (ours, theirs) in null.iter().zip(v.iter()) {
            assert!((ours - theirs / largest).abs() < 1e-8, "{ours} {theirs}");
        }
    }
}

#[test]
fn matrices_that_are_not_positive_are_refused() {
    for values in [
        [-1.0, 0.0, 1.0],
        [1.0, 2.0, 1.0],
        [f64::NAN, 0.0, 1.0],
        [1.0, f64::INFINITY, 1.0],
    ] {
        let plan = Plan::new(Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap());
        let singular = Factor::new(&plan, &values).unwrap_err();
        assert!(singular.null_vector.iter().all(|part| part.is_finite()));
    }
    let outside = Pattern::new(2, vec![(0, 0), (2, 1)]).unwrap_err();
    assert_eq!(
        outside.to_string(),
        "row 2, column 1 does not exist in a matrix of 2 rows, counted from 0"
    );
}

#[test]
fn slender_structures_are_not_taken_for_loose_ones() {
    // A cantilever of n beam elements of unit length and bending stiffness: the tip deflects by n³/3 under a unit load.
    for n in [1_usize, 10, 100, 300] {
        let mut entries = Vec::new();
        let element = [
            [12.0, 6.0, -12.0, 6.0],
            [6.0, 4.0, -6.0, 2.0],
            [-12.0, -6.0, 12.0, -6.0],
            [6.0, 2.0, -6.0, 4.0],
        ];
        for e in 0..n {
            for (i, j) in (0..4).flat_map(|i| (0..=i).map(move |j| (i, j))) {
                if let Some(column) = (2 * e + j).checked_sub(2) {
                    entries.push((2 * e + i - 2, column, element[i][j]));
                }
            }
        }
        let matrix = Sparse::new(2 * n, &entries);
        let plan = Plan::new(matrix.pattern.clone());
        let mut load = vec![0.0; 2 * n];
        load[2 * n - 2] = 1.0;
        Factor::new(&plan, &matrix.values).unwrap().solve(&mut load);
        let length = n as f64;
        let deflection = length * length * length / 3.0;
        assert!(
            (load[2 * n - 2] / deflection - 1.0).abs() < 1e-13 * length.powi(3).max(10.0),
            "{n} elements"
        );
    }
}

#[test]
fn the_adjoint_agrees_with_finite_differences() {
    let mut random = Random::new(13);
    let matrix = positive_definite(&mut random, 12);
    let plan = Plan::new(matrix.pattern.clone());
    let (load, weights) = (random_vector(&mut random, 12), random_vector(&mut random, 12));
    let solve = |values: &[f64], side: &[f64]| {
        let mut side = side.to_vec();
        Factor::new(&plan, values).unwrap().solve(&mut side);
        side
    };
    let x = solve(&matrix.values, load.as_slice());
    let lambda = solve(&matrix.values, weights.as_slice());
    let mut adjoints = vec![0.0; matrix.values.len()];
    solve_adjoint(&matrix.pattern, &x, &lambda, &mut adjoints);
    for (place, adjoint) in adjoints.iter().enumerate() {
        let objective = |step: f64| {
            let mut values = matrix.values.clone();
            values[place] += step;
            let x = solve(&values, load.as_slice());
            x.iter().zip(weights.iter()).map(|(x, w)| x * w).sum::<f64>()
        };
        let difference = (objective(1e-6) - objective(-1e-6)) / 2e-6;
        assert!(
            (difference - adjoint).abs() < 1e-6 * (1.0 + adjoint.abs()),
            "{difference} {adjoint}"
        );
    }
}
