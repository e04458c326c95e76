//! The whole stiffness matrix built another way, with full 12 × 12 matrices in `nalgebra`, and solved there.

use super::bench::{ALL, Bench, within};
use nalgebra::{DMatrix, DVector, Matrix3, SMatrix, Vector3};

const E: f64 = 205e9;
const NU: f64 = 0.29;
const POINTS: [[f64; 3]; 5] = [
    [0.0, -0.42, 0.0],
    [0.06, -0.2, -0.07],
    [0.11, 0.02, -0.095],
    [0.06, 0.23, -0.07],
    [0.3, 0.43, 0.2],
];
const MEMBERS: [(usize, usize); 6] = [(0, 1), (1, 2), (2, 3), (3, 4), (1, 3), (0, 4)];
const FORCE: [f64; 3] = [-900.0, 150.0, -3800.0];
const MOMENT: [f64; 3] = [30.0, 70.0, -20.0];

struct Bar {
    width: f64,
    height: f64,
    j: f64,
}

/// Bending by integrating the flexibility: the inverse of (L³/3EI + L/GAs, L²/2EI; L²/2EI, L/EI) for one end, carried to
/// the other by equilibrium. None of the closed stiffness forms is used.
fn bending(ei: f64, gas: Option<f64>, l: f64) -> SMatrix<f64, 4, 4> {
    let shear = gas.map_or(0.0, |gas| l / gas);
    let flexibility = SMatrix::<f64, 2, 2>::new(
        l.powi(3) / (3.0 * ei) + shear,
        l * l / (2.0 * ei),
        l * l / (2.0 * ei),
        l / ei,
    );
    let tip = flexibility.try_inverse().unwrap();
    let carry = SMatrix::<f64, 2, 4>::new(-1.0, -l, 1.0, 0.0, 0.0, -1.0, 0.0, 1.0);
    carry.transpose() * tip * carry
}

fn member(bar: &Bar, shear: bool, a: Vector3<f64>, b: Vector3<f64>) -> SMatrix<f64, 12, 12> {
    let (area, g) = (bar.width * bar.height, E / (2.0 * (1.0 + NU)));
    let l = (b - a).norm();
    let gas = shear.then_some(g * area * 5.0 / 6.0);
    let mut k = SMatrix::<f64, 12, 12>::zeros();
    let mut put = |places: &[(usize, f64)], matrix: &dyn Fn(usize, usize) -> f64| {
        for (i, (at_i, sign_i)) in places.iter().enumerate() {
            for (j, (at_j, sign_j)) in places.iter().enumerate() {
                k[(*at_i, *at_j)] += sign_i * sign_j * matrix(i, j);
            }
        }
    };
    let pair = |value: f64| move |i: usize, j: usize| if i == j { value } else { -value };
    put(&[(0, 1.0), (6, 1.0)], &pair(E * area / l));
    put(&[(3, 1.0), (9, 1.0)], &pair(g * bar.j / l));
    let about_z = bending(E * bar.height * bar.width.powi(3) / 12.0, gas, l);
    let about_y = bending(E * bar.width * bar.height.powi(3) / 12.0, gas, l);
    put(&[(1, 1.0), (5, 1.0), (7, 1.0), (11, 1.0)], &|i, j| about_z[(i, j)]);
    put(&[(2, 1.0), (4, -1.0), (8, 1.0), (10, -1.0)], &|i, j| about_y[(i, j)]);
    let x = (b - a) / l;
    let y = Vector3::z().cross(&x).normalize();
    let axes = Matrix3::from_columns(&[x, y, x.cross(&y)]).transpose();
    let mut turn = SMatrix::<f64, 12, 12>::zeros();
    for block in 0..4 {
        turn.fixed_view_mut::<3, 3>(3 * block, 3 * block).copy_from(&axes);
    }
    turn.transpose() * k * turn
}

fn dense(bar: &Bar, shear: bool, spring: f64) -> DVector<f64> {
    let mut k = DMatrix::<f64>::zeros(30, 30);
    for (a, b) in MEMBERS {
        let (from, to) = (Vector3::from(POINTS[a]), Vector3::from(POINTS[b]));
        let own = member(bar, shear, from, to);
        for i in 0..12 {
            for j in 0..12 {
                let place = |at: usize| 6 * if at < 6 { a } else { b } + at % 6;
                k[(place(i), place(j))] += own[(i, j)];
            }
        }
    }
    k[(18, 18)] += spring;
    let mut forces = DVector::<f64>::zeros(30);
    for i in 0..3 {
        forces[12 + i] = FORCE[i];
        forces[15 + i] = MOMENT[i];
    }
    let free = k.view((6, 6), (24, 24)).into_owned();
    free.cholesky().unwrap().solve(&forces.rows(6, 24).into_owned())
}

#[test]
fn agrees_with_full_matrices() {
    for shear in [false, true] {
        let bench = Bench::new();
        let (width, height, spring) = (0.03, 0.055, 4e5);
        let section = bench.bar(width, height);
        let j = bench.read(&[section.j])[0];
        let material = bench.material(E, NU, 0.0);
        let mut f = crankline_engine::structure::Structure::new();
        for (at, point) in POINTS.iter().enumerate() {
            f.node(&at.to_string(), bench.v(*point)).unwrap();
        }
        for (at, (a, b)) in MEMBERS.iter().enumerate() {
            f.member(&at.to_string(), &a.to_string(), &b.to_string(), section, material, None)
                .unwrap();
        }
        f.support("0", &ALL).unwrap();
        f.spring("3", "x", bench.n(spring)).unwrap();
        f.include_shear(shear);
        f.force("2", bench.v(FORCE)).unwrap();
        f.moment("2", bench.v(MOMENT)).unwrap();
        let case = f.solve().unwrap().only_case().unwrap();
        let nodes = ["1", "2", "3", "4"];
        let numbers: Vec<_> = nodes
            .iter()
            .flat_map(|node| [case.deflection(node).unwrap(), case.rotation(node).unwrap()].concat())
            .collect();
        let expected = dense(&Bar { width, height, j }, shear, spring);
        for (found, expected) in bench.read(&numbers).into_iter().zip(expected.iter()) {
            within(found, *expected, 1e-10 * expected.abs() + 1e-14);
        }
        super::arms::balanced(&bench, &case);
    }
}
