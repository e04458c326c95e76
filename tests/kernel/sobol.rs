//! Sobol points against another implementation, and what scrambling must keep.

use crankline_engine::kernel::sobol::{BLOCK, points, unscrambled};

/// Point, then dimensions 0, 1, 2, 3, 9, 99, 999: `scipy.stats.qmc.Sobol(d=1000, scramble=False)` of scipy 1.17.1.
#[rustfmt::skip]
const UNSCRAMBLED: [(usize, [f64; 7]); 8] = [
    (0, [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
    (1, [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]),
    (2, [0.75, 0.25, 0.25, 0.25, 0.75, 0.75, 0.75]),
    (3, [0.25, 0.75, 0.75, 0.75, 0.25, 0.25, 0.25]),
    (7, [0.125, 0.625, 0.375, 0.125, 0.875, 0.625, 0.375]),
    (100, [0.4140625, 0.2578125, 0.7734375, 0.7265625, 0.6953125, 0.8828125, 0.9140625]),
    (1023, [0.0009765625, 0.7529296875, 0.6123046875, 0.1455078125, 0.8505859375, 0.5302734375, 0.8564453125]),
    (4095, [
        0.000244140625, 0.941162109375, 0.334228515625, 0.901611328125, 0.246337890625, 0.962646484375, 0.308349609375,
    ]),
];

#[test]
fn the_sequence_is_the_published_one() {
    for (point, coordinates) in UNSCRAMBLED {
        for (dimension, expected) in [0, 1, 2, 3, 9, 99, 999].into_iter().zip(coordinates) {
            assert_eq!(
                unscrambled(point, dimension),
                expected,
                "point {point}, dimension {dimension}"
            );
        }
    }
    assert!(unscrambled(0, 1000).is_nan());
}

#[test]
fn a_block_has_the_bits_of_its_points() {
    let points = points(1003, 1 << 20, 7);
    let mut block = [0.0; BLOCK];
    for dimension in [0, 1, 2, 17, 999, 1000, 1002, 1003] {
        for first in [0, 64, 128, 192, 64 * 1001, (1 << 20) - 64, 5] {
            points.coordinates(first, dimension, &mut block);
            for (lane, found) in block.iter().enumerate() {
                let alone = points.coordinate(first + lane, dimension);
                assert_eq!(
                    found.to_bits(),
                    alone.to_bits(),
                    "{first} + {lane}, dimension {dimension}"
                );
            }
            points.between(first, dimension, [0.7, 0.03], &mut block);
            for (lane, found) in block.iter().enumerate() {
                let alone = 0.7 + 0.03 * (2.0 * points.coordinate(first + lane, dimension) - 1.0);
                assert_eq!(
                    found.to_bits(),
                    alone.to_bits(),
                    "{first} + {lane}, dimension {dimension}"
                );
            }
        }
    }
}

#[test]
fn every_coordinate_is_stratified() {
    let points = points(1010, 4096, 7);
    for dimension in [0, 1, 2, 3, 50, 500, 998, 999, 1000, 1001, 1009] {
        for (first, cells) in [
            (0, 1),
            (0, 2),
            (0, 64),
            (0, 1024),
            (1024, 1024),
            (64, 64),
            (0, 4096),
            (5 * 4096, 4096),
        ] {
            let mut hit = vec![false; cells];
            for point in first..first + cells {
                let x = points.coordinate(point, dimension);
                assert!(x > 0.0 && x < 1.0);
                hit[(x * cells as f64) as usize] = true;
            }
            assert!(
                hit.into_iter().all(|hit| hit),
                "dimension {dimension}: {cells} cells from point {first}"
            );
        }
    }
}

#[test]
fn pairs_keep_the_stratification_of_the_sequence() {
    // The first two dimensions are a (0, 2)-sequence in base 2: 2^k points hit every cell of 2^a by 2^b, a + b = k.
    for seed in 0..20 {
        let points = points(2, 256, seed);
        for columns in 0..=8 {
            let (wide, high) = (1 << columns, 256 >> columns);
            let mut hit = vec![false; 256];
            for point in points.iter() {
                hit[(point[0] * wide as f64) as usize * high + (point[1] * high as f64) as usize] = true;
            }
            assert!(hit.into_iter().all(|hit| hit), "seed {seed}: {wide} by {high}");
        }
    }
}

#[test]
fn a_scrambled_sample_integrates_better_than_a_random_one() {
    // The mean of a product of cosines over five dimensions is (sin 1)^5. Root mean square error over 50 seeds.
    let expected = f64::sin(1.0).powi(5);
    let error = |seed: u64| {
        let points = points(5, 1024, seed);
        let mean = points
            .iter()
            .map(|x| x.iter().map(|x| x.cos()).product::<f64>())
            .sum::<f64>()
            / 1024.0;
        mean - expected
    };
    let errors: Vec<f64> = (0..50).map(error).collect();
    let spread = (errors.iter().map(|error| error * error).sum::<f64>() / 50.0).sqrt();
    let mean = errors.iter().sum::<f64>() / 50.0;
    // A random sample of this size has 0.0046; the sample of any one seed must not lean to one side either.
    assert!(
        spread < 2e-4 && mean.abs() < 3.0 * spread / 50_f64.sqrt(),
        "{spread:e} {mean:e}"
    );
}

#[test]
fn coordinates_are_independent_of_each_other() {
    // No two dimensions may follow each other, padded ones least of all: correlation about 1/√n, at most.
    let points = points(1003, 1024, 99);
    let dimensions = [0, 1, 2, 3, 10, 11, 12, 400, 998, 999, 1000, 1001, 1002];
    for (at, &i) in dimensions.iter().enumerate() {
        for &j in &dimensions[at + 1..] {
            let product = |point| (points.coordinate(point, i) - 0.5) * (points.coordinate(point, j) - 0.5);
            let correlation = 12.0 * (0..1024).map(product).sum::<f64>() / 1024.0;
            assert!(correlation.abs() < 0.12, "dimensions {i} and {j}: {correlation}");
        }
    }
}

#[test]
fn points_depend_on_the_seed_and_on_nothing_else() {
    let first = points(3, 10, 1);
    assert_eq!((first.dimensions(), first.count(), first.iter().count()), (3, 10, 10));
    let all: Vec<Vec<f64>> = first.iter().collect();
    assert_eq!(all, points(3, 10, 1).iter().collect::<Vec<_>>());
    assert_ne!(all, points(3, 10, 2).iter().collect::<Vec<_>>());
    // More dimensions or more points change nothing that was there before.
    assert_eq!(points(8, 5000, 1).coordinate(7, 2), all[7][2]);
    assert!(first.coordinate(0, 3).is_nan());
    assert_eq!(points(0, 3, 1).iter().count(), 3);
    // These bits are part of every study that was ever saved.
    let bits = |point, dimension| points(2000, 1, 1).coordinate(point, dimension) * 8_589_934_592.0;
    let three = [bits(0, 0), bits(1023, 5), bits(77, 1500)];
    assert_eq!(three, [561_089_051.0, 2_911_706_721.0, 8_011_846_997.0]);
}
