//! What must not matter: how the frame stands, into how many members it is cut, which end comes first. And what must add up.

use super::bench::{ALL, Bench, near, within};
use crankline_engine::structure::{CaseResults, Structure};
use crankline_engine::tape::{Number, norm};

type Plain = [f64; 3];

/// Turned about a fixed slanted axis by a fixed angle: the columns of a rotation (from the quaternion (1, 2, −2, 4)/5).
fn turned(v: Plain) -> Plain {
    let (w, x, y, z) = (0.2, 0.4, -0.4, 0.8);
    let rows = [
        [
            1.0 - 2.0 * (y * y + z * z),
            2.0 * (x * y - z * w),
            2.0 * (x * z + y * w),
        ],
        [
            2.0 * (x * y + z * w),
            1.0 - 2.0 * (x * x + z * z),
            2.0 * (y * z - x * w),
        ],
        [
            2.0 * (x * z - y * w),
            2.0 * (y * z + x * w),
            1.0 - 2.0 * (x * x + y * y),
        ],
    ];
    rows.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

const POINTS: [Plain; 4] = [[0.0; 3], [0.2, 0.4, -0.1], [0.15, 0.9, -0.1], [0.4, 1.1, 0.1]];
const UP: Plain = [0.2, 0.1, 1.0];
const SPREAD: Plain = [100.0, -300.0, -1800.0];
const FORCE: Plain = [400.0, 150.0, -2500.0];

fn frame(bench: &Bench, turn: fn(Plain) -> Plain, shear: bool) -> CaseResults {
    let (section, material) = (bench.bar(0.025, 0.05), bench.steel());
    let mut f = Structure::new();
    for (at, point) in POINTS.iter().enumerate() {
        f.node(&format!("n{at}"), bench.v(turn(*point))).unwrap();
    }
    for at in 0..3 {
        let (a, b) = (format!("n{at}"), format!("n{}", at + 1));
        f.member(&format!("m{at}"), &a, &b, section, material, Some(bench.v(turn(UP))))
            .unwrap();
    }
    f.support("n0", &ALL).unwrap();
    f.support("n3", &ALL).unwrap();
    f.release("m1", "n2", &["ry"]).unwrap();
    f.include_shear(shear);
    f.distributed("m1", bench.v(turn(SPREAD))).unwrap();
    f.force("n2", bench.v(turn(FORCE))).unwrap();
    f.gravity(bench.v(turn([0.0, 3.0, -9.81]))).unwrap();
    f.mass("n1", bench.n(14.0)).unwrap();
    f.solve().unwrap().only_case().unwrap()
}

/// What does not change when the frame is turned.
fn invariants(bench: &Bench, case: &CaseResults) -> Vec<f64> {
    let mut numbers = Vec::new();
    for member in ["m0", "m1", "m2"] {
        for t in [0.0, 0.3, 1.0] {
            let forces = case.member_forces(member, bench.n(t)).unwrap();
            numbers.extend([forces.axial, forces.shear_y, forces.shear_z]);
            numbers.extend([forces.torsion, forces.moment_y, forces.moment_z]);
        }
    }
    numbers.push(norm(&case.deflection("n1").unwrap()) * 1e6);
    numbers.push(norm(&case.reaction("n3").unwrap()));
    numbers.push(case.max_von_mises(&["m0", "m1", "m2"]).unwrap() * 1e-3);
    bench.read(&numbers)
}

#[test]
fn turning_the_frame_turns_the_answer() {
    for shear in [false, true] {
        let bench = Bench::new();
        let straight = invariants(&bench, &frame(&bench, |v| v, shear));
        let slanted = invariants(&bench, &frame(&bench, turned, shear));
        for (a, b) in straight.into_iter().zip(slanted) {
            within(a, b, 1e-8);
        }
    }
}

#[test]
fn forces_add_up() {
    let bench = Bench::new();
    super::arms::balanced(&bench, &frame(&bench, |v| v, false));
    super::arms::balanced(&bench, &frame(&bench, turned, true));
}

/// One member with a spread load, and the same cut into three at unequal places: forces within agree.
#[test]
fn cutting_a_member_changes_nothing() {
    let bench = Bench::new();
    let (from, to) = ([0.0; 3], [0.6, 0.9, 0.3]);
    let between = |t: f64| -> Plain { std::array::from_fn(|i| from[i] + t * (to[i] - from[i])) };
    let cuts = [0.0, 0.2, 0.65, 1.0];
    let solve = |points: &[Plain], shear: bool| {
        let mut f = bench.chain(points, bench.bar(0.02, 0.04), bench.steel());
        f.support("n0", &ALL).unwrap();
        f.support(&format!("n{}", points.len() - 1), &["x", "y", "z", "ry"])
            .unwrap();
        f.include_shear(shear);
        for at in 0..points.len() - 1 {
            f.distributed(&format!("m{at}"), bench.v(SPREAD)).unwrap();
        }
        f.solve().unwrap().only_case().unwrap()
    };
    for shear in [false, true] {
        let whole = solve(&[from, to], shear);
        let cut = solve(&cuts.map(between), shear);
        for (member, ends) in cuts.windows(2).enumerate() {
            for local in [0.0, 0.4, 1.0] {
                let t = ends[0] + local * (ends[1] - ends[0]);
                let of_whole = all(&whole.member_forces("m0", bench.n(t)).unwrap());
                let of_cut = all(&cut.member_forces(&format!("m{member}"), bench.n(local)).unwrap());
                for (a, b) in bench.read(&of_whole).into_iter().zip(bench.read(&of_cut)) {
                    within(a, b, 1e-7);
                }
            }
        }
    }
}

fn all(forces: &crankline_engine::structure::MemberForces) -> [Number; 6] {
    [
        forces.axial,
        forces.shear_y,
        forces.shear_z,
        forces.torsion,
        forces.moment_y,
        forces.moment_z,
    ]
}

/// The case with the largest value is named, and guards keep a replay from naming the wrong one.
#[test]
fn worst_case_has_a_name() {
    let bench = Bench::new();
    let mut f = bench.chain(&[[0.0; 3], [1.0, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    for (name, force) in [("static", -100.0), ("bump", -300.0), ("rebound", 250.0)] {
        f.load_case(name).unwrap();
        f.force("n1", bench.v([0.0, 0.0, force])).unwrap();
    }
    let solution = f.solve().unwrap();
    let (case, value) = solution.worst(|case| case.max_von_mises(&["m0"])).unwrap();
    assert_eq!(case.name(), "bump");
    let first = solution.load_case("static").unwrap().max_von_mises(&["m0"]).unwrap();
    let found = bench.read(&[value, first]);
    near(found[0], 3.0 * found[1], 1e-12);
    let (tape, _) = bench.tape_of(&[value]);
    assert_eq!(tape.guards.len(), 2);
}
