//! The same frame by hand, with `nalgebra`: element matrices of 12 × 12, one Cholesky factorisation a sample, nine right
//! sides, stresses from the end forces.

use nalgebra::{DMatrix, Matrix3, SMatrix, SVector, Vector3};

const E: f64 = 205e9;
const G: f64 = 80e9;
/// Held at the first point, at the last.
const HELD: [usize; 7] = [0, 1, 2, 4, 36, 38, 40];

/// Seven points, the mount, diameter, wall, weight, couple, fore-aft force.
pub(crate) const NOMINAL: [f64; 29] = [
    0.0, -0.380, 0.0, 0.0, -0.270, 0.0, 0.0, -0.180, -0.060, 0.0, 0.0, -0.060, 0.0, 0.180, -0.060, 0.0, 0.270, 0.0,
    0.0, 0.380, 0.0, 0.030, 0.0, -0.060, 0.04445, 0.00305, 1095.0, 620.0, 1520.0,
];

/// The largest von Mises stress of all cases at all ends of the pieces.
pub(crate) fn stress(read: &[f64; 29]) -> f64 {
    let point = |at: usize| Vector3::new(read[3 * at], read[3 * at + 1], read[3 * at + 2]);
    let (outer, inner) = (read[24] / 2.0, read[24] / 2.0 - read[25]);
    let area = std::f64::consts::PI * (outer * outer - inner * inner);
    let second_moment = std::f64::consts::PI / 4.0 * (outer.powi(4) - inner.powi(4));
    let mut k = DMatrix::<f64>::zeros(42, 42);
    let mut pieces = Vec::with_capacity(6);
    for piece in 0..6 {
        let (own, turn) = member(point(piece), point(piece + 1), area, second_moment);
        let global = turn.transpose() * own * turn;
        let mut corner = k.view_mut((6 * piece, 6 * piece), (12, 12));
        corner += global;
        pieces.push((own, turn));
    }
    let free: Vec<usize> = (0..42).filter(|at| !HELD.contains(at)).collect();
    let reduced = DMatrix::from_fn(35, 35, |i, j| k[(free[i], free[j])]);
    let loads = loads(read[26], read[27], read[28], point(7) - point(3));
    let right = DMatrix::from_fn(35, 9, |i, case| {
        if (18..24).contains(&free[i]) {
            loads[case][free[i] - 18]
        } else {
            0.0
        }
    });
    let Some(factor) = reduced.cholesky() else {
        return f64::NAN;
    };
    let moved = factor.solve(&right);
    let mut worst = 0.0_f64;
    for case in 0..9 {
        let mut all = [0.0; 42];
        for (i, at) in free.iter().enumerate() {
            all[*at] = moved[(i, case)];
        }
        for (piece, (own, turn)) in pieces.iter().enumerate() {
            let ends = SVector::<f64, 12>::from_column_slice(&all[6 * piece..6 * piece + 12]);
            let forces = own * (turn * ends);
            for end in [0, 6] {
                let bending = forces[end + 4].hypot(forces[end + 5]);
                let along = forces[end].abs() / area + bending * outer / second_moment;
                let shear = forces[end + 3] * outer / (2.0 * second_moment);
                worst = worst.max((along * along + 3.0 * shear * shear).sqrt());
            }
        }
    }
    worst
}

/// Forces and moments at the bracket's point, of loads at the mount.
fn loads(weight: f64, couple: f64, along: f64, arm: Vector3<f64>) -> [[f64; 6]; 9] {
    let case = |x: f64, y: f64, z: f64, turn: f64| {
        let moment = arm.cross(&Vector3::new(x, y, z));
        [x, y, z, moment[0] + turn, moment[1], moment[2]]
    };
    [
        case(0.0, 0.0, -weight, 0.0),
        case(0.0, 0.0, -3.0 * weight, 0.0),
        case(0.0, 0.0, weight, 0.0),
        case(0.0, 0.0, -1.5 * weight, couple),
        case(0.0, 0.0, -1.5 * weight, -couple),
        case(-along, 0.0, -1.5 * weight, 0.0),
        case(along, 0.0, -1.5 * weight, 0.0),
        case(0.0, weight, -1.5 * weight, 0.0),
        case(0.0, -weight, -1.5 * weight, 0.0),
    ]
}

/// Stiffness of a round member in its own axes, and the turn into them.
fn member(a: Vector3<f64>, b: Vector3<f64>, area: f64, i: f64) -> (SMatrix<f64, 12, 12>, SMatrix<f64, 12, 12>) {
    let length = (b - a).norm();
    let x = (b - a) / length;
    let up = if x[2].abs() < 0.9 { Vector3::z() } else { Vector3::x() };
    let y = up.cross(&x).normalize();
    let axes = Matrix3::from_columns(&[x, y, x.cross(&y)]).transpose();
    let mut turn = SMatrix::<f64, 12, 12>::zeros();
    for block in 0..4 {
        turn.fixed_view_mut::<3, 3>(3 * block, 3 * block).copy_from(&axes);
    }
    let mut k = SMatrix::<f64, 12, 12>::zeros();
    let mut pair = |at: usize, other: usize, value: f64| {
        k[(at, other)] = value;
        k[(other, at)] = value;
    };
    for (at, stiffness) in [(0, E * area / length), (3, G * 2.0 * i / length)] {
        pair(at, at, stiffness);
        pair(at + 6, at + 6, stiffness);
        pair(at, at + 6, -stiffness);
    }
    let [b12, b6, b4, b2] = [12.0, 6.0, 4.0, 2.0].map(|factor| factor * E * i);
    let (c, s) = (b12 / length.powi(3), b6 / length.powi(2));
    for (shift, turned, sign) in [(1, 5, 1.0), (2, 4, -1.0)] {
        pair(shift, shift, c);
        pair(shift + 6, shift + 6, c);
        pair(shift, shift + 6, -c);
        pair(shift, turned, sign * s);
        pair(shift, turned + 6, sign * s);
        pair(shift + 6, turned, -sign * s);
        pair(shift + 6, turned + 6, -sign * s);
        pair(turned, turned, b4 / length);
        pair(turned + 6, turned + 6, b4 / length);
        pair(turned, turned + 6, b2 / length);
    }
    (k, turn)
}
