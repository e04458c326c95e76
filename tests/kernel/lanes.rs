//! Several samples at once against one after the other: every lane has the bits that it would have alone.

use super::matrices::{Sparse, chain, identity, positive_definite, random_vector};
use super::random::Random;
use crankline_engine::kernel::LANES;
use crankline_engine::kernel::eigen::EigenPlan;
use crankline_engine::kernel::ldlt::{Factor, Plan, solve_lanes};

/// Samples in their lanes: one group for each place.
fn across(samples: &[Vec<f64>; LANES]) -> Vec<[f64; LANES]> {
    (0..samples[0].len())
        .map(|place| std::array::from_fn(|lane| samples[lane][place]))
        .collect()
}

/// Eight samples of a matrix, each value changed by up to a share of itself.
fn samples(random: &mut Random, values: &[f64], share: f64) -> [Vec<f64>; LANES] {
    std::array::from_fn(|_| {
        values
            .iter()
            .map(|value| value * (1.0 + share * random.between(-1.0, 1.0)))
            .collect()
    })
}

#[track_caller]
fn solves_as_one_by_one(plan: &Plan, matrices: &[Vec<f64>; LANES], sides: &[Vec<f64>; LANES]) -> u8 {
    let mut solved = across(sides);
    let definite = solve_lanes(plan, &across(matrices), &mut solved);
    for lane in 0..LANES {
        let Ok(factor) = Factor::new(plan, &matrices[lane]) else {
            assert_eq!(definite >> lane & 1, 0, "lane {lane} is singular");
            continue;
        };
        assert_eq!(definite >> lane & 1, 1, "lane {lane} is regular");
        let mut alone = sides[lane].clone();
        factor.solve(&mut alone);
        for (at, value) in alone.iter().enumerate() {
            assert_eq!(value.to_bits(), solved[at][lane].to_bits(), "lane {lane}, number {at}");
        }
    }
    definite
}

#[test]
fn systems_have_the_bits_of_one_by_one() {
    let mut random = Random::new(40);
    for size in 1..50 {
        let matrix = positive_definite(&mut random, size);
        let plan = Plan::new(matrix.pattern.clone());
        let matrices = samples(&mut random, &matrix.values, 1e-3);
        let sides = std::array::from_fn(|_| random_vector(&mut random, 3 * size).as_slice().to_vec());
        solves_as_one_by_one(&plan, &matrices, &sides);
    }
}

#[test]
fn a_singular_lane_leaves_the_others_alone() {
    let mut random = Random::new(41);
    for size in [2, 9, 30] {
        let (held, free) = (chain(size, 3.0, true), chain(size, 3.0, false));
        let plan = Plan::new(held.pattern.clone());
        let mut loose = free.values.clone();
        loose.push(0.0); // the spring that holds the chain, gone
        let mut matrices: [Vec<f64>; LANES] = std::array::from_fn(|_| {
            held.values
                .iter()
                .map(|value| value * random.between(0.5, 2.0))
                .collect()
        });
        // Springs that differ from lane to lane, but hold together: the entries of a spring are alike.
        for (lane, matrix) in matrices.iter_mut().enumerate() {
            *matrix = held.values.iter().map(|value| value * (1.0 + lane as f64)).collect();
        }
        matrices[1] = loose.clone();
        matrices[4] = vec![f64::NAN; held.values.len()];
        matrices[6] = loose.iter().map(|value| value * -1.0).collect();
        let sides = std::array::from_fn(|_| random_vector(&mut random, size).as_slice().to_vec());
        assert_eq!(
            solves_as_one_by_one(&plan, &matrices, &sides),
            0b1010_1101,
            "size {size}"
        );
    }
}

#[track_caller]
fn values_as_one_by_one(k: &Sparse, m: &Sparse, ks: &[Vec<f64>; LANES], ms: &[Vec<f64>; LANES], which: usize) -> u8 {
    let plan = EigenPlan::new(k.pattern.clone(), m.pattern.clone()).unwrap();
    let both = [across(ks), across(ms)].concat();
    let (found, settled) = plan.smallest_value_lanes(&both, which);
    for lane in 0..LANES {
        let alone = plan.smallest_value(&ks[lane], &ms[lane], which);
        assert_eq!(settled >> lane & 1 == 1, alone.is_ok(), "lane {lane}");
        if let Ok(alone) = alone {
            assert_eq!(
                alone.to_bits(),
                found[lane].to_bits(),
                "lane {lane}: {alone} {}",
                found[lane]
            );
            let with_shape = plan.smallest(&ks[lane], &ms[lane], which).unwrap().value;
            let highest = k.full().amax() / m.full().diagonal().amin();
            assert!(
                (alone - with_shape).abs() <= 1e-8 * with_shape.abs() + 1e-14 * highest,
                "lane {lane}: {alone} {with_shape}"
            );
        }
    }
    settled
}

#[test]
fn eigenvalues_have_the_bits_of_one_by_one() {
    let mut random = Random::new(42);
    for size in [3, 16, 17, 30, 90] {
        for which in [0, 1, 5] {
            let (k, m) = (
                positive_definite(&mut random, size),
                positive_definite(&mut random, size),
            );
            let ks = samples(&mut random, &k.values, 1e-4);
            let ms = samples(&mut random, &m.values, 1e-4);
            let settled = values_as_one_by_one(&k, &m, &ks, &ms, which);
            assert_eq!(settled, if which < size { 0xff } else { 0 });
        }
    }
}

#[test]
fn repeated_and_clustered_eigenvalues_settle_lane_by_lane() {
    let size = 40;
    let m = identity(size);
    let masses: [Vec<f64>; LANES] = std::array::from_fn(|_| m.values.clone());
    // Pairs of equal values and pairs that nearly are; in every other lane the lowest three pairs within a thousandth.
    let springs: [Vec<f64>; LANES] = std::array::from_fn(|lane| {
        let apart = [0.0, 1e-15, 1e-12, 1e-9, 1e-6, 1e-3, 0.1, 0.5][lane];
        (0..size)
            .map(|at| {
                let close = if lane % 2 == 1 && at < 6 { 5e-4 } else { 1.0 };
                2.0 + (at / 2) as f64 * close + apart * (at % 2) as f64
            })
            .collect()
    });
    let entries: Vec<(usize, usize, f64)> = springs[0].iter().enumerate().map(|(i, value)| (i, i, *value)).collect();
    let k = Sparse::new(size, &entries);
    for which in 0..4 {
        assert_eq!(values_as_one_by_one(&k, &m, &springs, &masses, which), 0xff);
    }
}

#[test]
fn lanes_without_an_eigenvalue_leave_the_others_alone() {
    let (k, m) = (chain(30, 2.0, true), identity(30));
    let mut ks: [Vec<f64>; LANES] =
        std::array::from_fn(|lane| k.values.iter().map(|value| value * (1.0 + 0.1 * lane as f64)).collect());
    let mut ms: [Vec<f64>; LANES] = std::array::from_fn(|_| m.values.clone());
    // The spring that holds the chain is gone: a free motion, whose value is zero.
    *ks[2].last_mut().unwrap() = 0.0;
    ks[3][4] = f64::INFINITY;
    ms[5][7] = 0.0;
    ms[6][7] = f64::NAN;
    assert_eq!(values_as_one_by_one(&k, &m, &ks, &ms, 0), 0b1001_0111);
}

#[test]
fn an_eigenvalue_alone_is_that_of_the_closed_form() {
    // λ = 4 k sin²((2i + 1)π / (2(2n + 1))) of a chain held at one end.
    for n in [17, 40, 200] {
        let (k, m) = (chain(n, 3.0, true), identity(n));
        let plan = EigenPlan::new(k.pattern.clone(), m.pattern.clone()).unwrap();
        for which in 0..5 {
            let value = plan.smallest_value(&k.values, &m.values, which).unwrap();
            let angle = (2 * which + 1) as f64 * std::f64::consts::PI / (2 * (2 * n + 1)) as f64;
            assert!((value / (12.0 * angle.sin().powi(2)) - 1.0).abs() < 1e-9, "{n} {which}");
        }
    }
}
