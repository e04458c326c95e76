//! Gaps with closed forms, and certificates that no other answer is right.

use super::random::Random;
use crankline_engine::kernel::{Gap, gap};
use nalgebra::{Rotation3, Vector3};

type Corners = Vec<[f64; 3]>;

fn cuboid(low: [f64; 3], high: [f64; 3]) -> Corners {
    let pick = |i: usize, axis: usize| if i >> axis & 1 == 0 { low[axis] } else { high[axis] };
    (0..8).map(|i| [pick(i, 0), pick(i, 1), pick(i, 2)]).collect()
}

fn moved(corners: &[[f64; 3]], rotation: &Rotation3<f64>, shift: Vector3<f64>) -> Corners {
    corners
        .iter()
        .map(|&corner| (rotation * Vector3::from(corner) + shift).into())
        .collect()
}

fn random_point(random: &mut Random, size: f64) -> [f64; 3] {
    [0; 3].map(|_| random.between(-size, size))
}

/// How far b lies in front of a in a direction.
fn separation(a: &[[f64; 3]], b: &[[f64; 3]], normal: &Vector3<f64>) -> f64 {
    let along = |corner: &[f64; 3]| Vector3::from(*corner).dot(normal);
    let front_b = b.iter().map(along).fold(f64::INFINITY, f64::min);
    let front_a = a.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
    front_b - front_a
}

fn witness(corners: &[[f64; 3]], weights: &[f64]) -> Vector3<f64> {
    corners
        .iter()
        .zip(weights)
        .map(|(corner, weight)| Vector3::from(*corner) * *weight)
        .sum()
}

/// What makes a signed distance of hulls right, whatever found it.
///
/// The weights name a point of each hull; their difference is the distance times the unit normal, and the hulls lie on
/// either side of the two planes through these points. Apart, that proves the distance (no points are nearer, no plane
/// separates better). Overlapping, it proves that moving by the distance parts the hulls; that nothing shorter does is
/// shown by other directions.
fn certify(a: &[[f64; 3]], b: &[[f64; 3]], random: &mut Random) -> Gap {
    let gap = gap(a, 0.0, b, 0.0);
    let normal = Vector3::from(gap.normal);
    assert!((normal.norm() - 1.0).abs() < 1e-14);
    for weights in [&gap.weights_a, &gap.weights_b] {
        assert!(weights.iter().all(|&weight| weight >= 0.0));
        assert!((weights.iter().sum::<f64>() - 1.0).abs() < 1e-13);
    }
    let between = witness(b, &gap.weights_b) - witness(a, &gap.weights_a);
    assert!(
        (between - normal * gap.distance).norm() < 1e-8,
        "{between} {normal} {}",
        gap.distance
    );
    let tolerance = if gap.distance > 0.0 { 1e-12 } else { 1e-9 };
    assert!((separation(a, b, &normal) - gap.distance).abs() < tolerance);
    for _ in 0..50 {
        let near: Vector3<f64> = normal + Vector3::from(random_point(random, 1e-3));
        let any = Vector3::from(random_point(random, 1.0));
        for other in [near, any] {
            assert!(separation(a, b, &other.normalize()) <= gap.distance + tolerance);
        }
    }
    gap
}

#[test]
fn balls_tubes_and_boxes_have_their_closed_forms() {
    let (origin, far) = ([[0.0, 0.0, 0.0]], [[3.0, 4.0, 0.0]]);
    let balls = gap(&origin, 1.0, &far, 0.5);
    assert_eq!((balls.distance, balls.normal), (3.5, [0.6, 0.8, 0.0]));
    assert_eq!((balls.weights_a, balls.weights_b), (vec![1.0], vec![1.0]));
    // Crossing tubes, a distance apart, and one beside the end of the other.
    let along_x = [[-1.0, 0.0, 0.0], [1.0, 0.0, 0.0]];
    let along_y = [[0.5, -2.0, 3.0], [0.5, 2.0, 3.0]];
    let tubes = gap(&along_x, 0.25, &along_y, 0.5);
    assert!((tubes.distance - 2.25).abs() < 1e-15);
    assert!((tubes.weights_a[1] - 0.75).abs() < 1e-15 && (tubes.weights_b[0] - 0.5).abs() < 1e-15);
    assert!((gap(&along_x, 0.0, &[[2.0, 1.0, 0.0], [5.0, 9.0, 0.0]], 0.0).distance - 2.0_f64.sqrt()).abs() < 1e-15);
    assert_eq!(
        gap(&along_x, 0.0, &[[-5.0, 2.0, 0.0], [5.0, 2.0, 0.0]], 0.0).distance,
        2.0
    );
    // Boxes: face to face, edge to edge, corner to corner, overlapping by the least of three.
    let unit = cuboid([0.0; 3], [1.0; 3]);
    for (low, expected) in [
        ([1.5, 0.2, 0.3], 0.5),
        ([4.0, 5.0, 0.3], 5.0),
        ([3.0, 4.0, 7.0], 7.0),
        ([0.75, 0.5, 0.25], -0.25),
        ([0.2, 0.5, 0.9], -0.1),
        ([1.0, 0.5, 0.25], 0.0),
        ([0.0, 0.0, 0.0], -1.0),
    ] {
        let other = cuboid(low, low.map(|x| x + 1.0));
        assert!(
            (gap(&unit, 0.0, &other, 0.0).distance - expected).abs() < 1e-14,
            "{low:?}"
        );
        let inflated = gap(&unit, 0.3, &other, 0.1);
        assert!((inflated.distance - (expected - 0.4)).abs() < 1e-14, "{low:?}");
    }
    let inside = gap(&[[0.5, 0.9, 0.5]], 0.2, &unit, 0.0);
    assert!((inside.distance + 0.3).abs() < 1e-15 && (inside.normal[1] + 1.0).abs() < 1e-15);
}

#[test]
fn bodies_without_thickness_touch_or_cross_at_nothing() {
    let x = [[-1.0, 0.0, 0.0], [1.0, 0.0, 0.0]];
    let y = [[0.0, -1.0, 0.0], [0.0, 1.0, 0.0]];
    let plate = [[-1.0, -1.0, 0.0], [1.0, -1.0, 0.0], [1.0, 1.0, 0.0], [-1.0, 1.0, 0.0]];
    let crossing = gap(&x, 0.1, &y, 0.2);
    assert!((crossing.distance + 0.3).abs() < 1e-15 && crossing.normal[2].abs() == 1.0);
    let point = [[0.5, 0.0, 0.0]];
    type Case<'a> = (&'a [[f64; 3]], &'a [[f64; 3]], f64);
    let cases: [Case<'_>; 9] = [
        (&point, &point, 0.0),
        (&point, &x, 0.0),
        (&x, &x, 0.0),
        (&x, &[[0.5, 0.0, 0.0], [2.0, 0.0, 0.0]], 0.0),
        (&x, &[[1.0, 0.0, 0.0], [2.0, 0.0, 0.0]], 0.0),
        (&plate, &plate, 0.0),
        (&plate, &x, 0.0),
        (&plate, &[[0.0, 0.0, -0.5], [0.0, 0.0, 2.0]], -0.5),
        (&[[0.5, 0.0, 0.0], [0.5, 0.0, 0.0], [0.5, 0.0, 0.0]], &plate, 0.0),
    ];
    for (case, (a, b, expected)) in cases.into_iter().enumerate() {
        for (a, b) in [(a, b), (b, a)] {
            let gap = certify(a, b, &mut Random::new(40));
            assert!((gap.distance - expected).abs() < 1e-14, "case {case}: {}", gap.distance);
        }
    }
}

#[test]
fn every_answer_carries_its_proof() {
    let mut random = Random::new(41);
    let mut overlapping = 0;
    for case in 0..3000 {
        let (count_a, count_b) = (1 + random.below(20), 1 + random.below(20));
        let offset = random_point(&mut random, 2.0);
        let mut a: Corners = (0..count_a).map(|_| random_point(&mut random, 1.0)).collect();
        let mut b: Corners = (0..count_b).map(|_| random_point(&mut random, 1.0)).collect();
        for corner in &mut b {
            (0..3).for_each(|axis| corner[axis] += offset[axis]);
        }
        if case % 3 == 0 {
            // Flat, and on a grid, so that many corners coincide or lie on lines.
            a.iter_mut()
                .for_each(|corner| *corner = corner.map(|x| (2.0 * x).round() / 2.0));
            b.iter_mut()
                .for_each(|corner| *corner = [(2.0 * corner[0]).round() / 2.0, corner[1].round(), 0.0]);
        }
        let gap = certify(&a, &b, &mut random);
        overlapping += usize::from(gap.distance < 0.0);
    }
    assert!(overlapping > 300, "{overlapping}");
}

#[test]
fn turned_boxes_and_round_bodies_carry_their_proof_too() {
    let mut random = Random::new(42);
    for case in 0..400 {
        let turn = |random: &mut Random| {
            let axis = random_point(random, 3.0);
            Rotation3::new(if case % 4 == 0 {
                Vector3::new(0.0, 0.0, axis[2])
            } else {
                Vector3::from(axis)
            })
        };
        let (turn_a, turn_b) = (turn(&mut random), turn(&mut random));
        let shift = Vector3::from(random_point(&mut random, 1.5));
        let block = cuboid([-1.0, -0.5, -0.2], [1.0, 0.5, 0.2]);
        // A disc of 32 corners on either face.
        let corner = |i: usize| (std::f64::consts::TAU * (i / 2) as f64 / 32.0).sin_cos();
        let disc: Corners = (0..64)
            .map(|i| [corner(i).0, corner(i).1, (i % 2) as f64 * 0.3])
            .collect();
        let (a, b) = (moved(&block, &turn_a, Vector3::zeros()), moved(&disc, &turn_b, shift));
        let first = certify(&a, &b, &mut random);
        // The same with the bodies exchanged, and far from the origin.
        let exchanged = certify(&b, &a, &mut random);
        assert!((first.distance - exchanged.distance).abs() < 1e-9);
        let away = Vector3::new(100.0, -50.0, 30.0);
        let (a, b) = (
            moved(&a, &Rotation3::identity(), away),
            moved(&b, &Rotation3::identity(), away),
        );
        assert!((gap(&a, 0.0, &b, 0.0).distance - first.distance).abs() < 1e-9);
    }
}

#[test]
fn moving_apart_by_the_depth_leaves_the_bodies_touching() {
    let mut random = Random::new(43);
    for _ in 0..300 {
        let a: Corners = (0..8).map(|_| random_point(&mut random, 1.0)).collect();
        let b: Corners = (0..8).map(|_| random_point(&mut random, 1.0)).collect();
        let overlap = gap(&a, 0.0, &b, 0.0);
        if overlap.distance < 0.0 {
            let along = Vector3::from(overlap.normal) * -overlap.distance;
            let apart = moved(&b, &Rotation3::identity(), along);
            assert!(gap(&a, 0.0, &apart, 0.0).distance.abs() < 1e-9);
            let beyond = moved(&b, &Rotation3::identity(), along + Vector3::from(overlap.normal) * 1e-3);
            assert!((gap(&a, 0.0, &beyond, 0.0).distance - 1e-3).abs() < 1e-9);
        }
    }
}

#[test]
fn derivatives_by_every_corner_agree_with_differences() {
    let mut random = Random::new(44);
    let (mut compared, mut overlapping) = (0, 0);
    for _ in 0..300 {
        let offset = random.between(0.0, 3.0);
        let a: Corners = (0..6).map(|_| random_point(&mut random, 1.0)).collect();
        let b: Corners = (0..6)
            .map(|_| random_point(&mut random, 1.0).map(|x| x + offset))
            .collect();
        let here = gap(&a, 0.0, &b, 0.0);
        overlapping += usize::from(here.distance < 0.0);
        for corner in 0..12 {
            for axis in 0..3 {
                let at = |step: f64| {
                    let (mut a, mut b) = (a.clone(), b.clone());
                    if corner < 6 {
                        a[corner][axis] += step
                    } else {
                        b[corner - 6][axis] += step
                    }
                    gap(&a, 0.0, &b, 0.0).distance
                };
                let (up, down) = ((at(1e-6) - here.distance) / 1e-6, (here.distance - at(-1e-6)) / 1e-6);
                if (up - down).abs() > 1e-4 {
                    continue; // a kink: the nearest features change just here
                }
                compared += 1;
                let weight = if corner < 6 {
                    -here.weights_a[corner]
                } else {
                    here.weights_b[corner - 6]
                };
                let partial = weight * here.normal[axis];
                assert!(
                    ((up + down) / 2.0 - partial).abs() < 1e-4,
                    "{up} {down} {partial} {}",
                    here.distance
                );
            }
        }
    }
    assert!(compared > 10_000 && overlapping > 50, "{compared} {overlapping}");
}

#[test]
fn what_is_no_body_gives_nan() {
    let point = [[0.0; 3]];
    let many = vec![[0.0; 3]; 65];
    assert!(gap(&[], 0.0, &point, 0.0).distance.is_nan() && gap(&point, 0.0, &many, 0.0).distance.is_nan());
    let unknown = gap(&[[f64::NAN, 0.0, 0.0]], 0.0, &point, 0.0);
    assert!(unknown.distance.is_nan() && unknown.weights_a.len() == 1 && unknown.weights_b.len() == 1);
    assert!(gap(&[[f64::INFINITY, 0.0, 0.0]], 0.0, &point, 0.0).distance.is_nan());
    assert!(gap(&[[1e200, 0.0, 0.0]], 0.0, &point, 0.0).distance.is_nan());
}
