//! Beams with closed forms (AISC Manual table 3-23 / Roark, from memory; each follows in two lines from E I v'''' = q).

use super::bench::{ALL, Bench, near, within};
use crankline_engine::structure::CaseResults;
use crankline_engine::tape::Number;

const L: f64 = 1.2;
const E: f64 = 200e9;
const OD: f64 = 0.05;
const WALL: f64 = 0.004;

fn second_moment() -> f64 {
    let (ro, ri) = (OD / 2.0, OD / 2.0 - WALL);
    std::f64::consts::PI / 4.0 * (ro.powi(4) - ri.powi(4))
}

/// A beam along X of one or more equal members, with these supports and this load.
fn beam(
    bench: &Bench,
    members: usize,
    supports: &[(usize, &[&str])],
    load: impl Fn(&mut crankline_engine::structure::Structure),
) -> CaseResults {
    let points: Vec<[f64; 3]> = (0..=members)
        .map(|at| [L * at as f64 / members as f64, 0.0, 0.0])
        .collect();
    let mut f = bench.chain(&points, bench.tube(OD, WALL), bench.material(E, 0.3, 0.0));
    for (node, held) in supports {
        f.support(&format!("n{node}"), held).unwrap();
    }
    load(&mut f);
    f.solve().unwrap().only_case().unwrap()
}

#[test]
fn cantilever_with_a_load_at_its_end() {
    let bench = Bench::new();
    let p = 700.0;
    let case = beam(&bench, 1, &[(0, &ALL)], |f| {
        f.force("n1", bench.v([0.0, 0.0, -p])).unwrap()
    });
    let forces = case.member_forces("m0", bench.n(0.25)).unwrap();
    let found = bench.read(&[
        case.deflection("n1").unwrap()[2],
        case.rotation("n1").unwrap()[1],
        case.reaction("n0").unwrap()[2],
        case.reaction_moment("n0").unwrap()[1],
        forces.shear_z,
        forces.moment_y,
    ]);
    let ei = E * second_moment();
    near(found[0], -p * L.powi(3) / (3.0 * ei), 1e-12);
    // The tip turns nose down: positive about Y.
    near(found[1], p * L * L / (2.0 * ei), 1e-12);
    near(found[2], p, 1e-12);
    near(found[3], -p * L, 1e-12);
    // What lies beyond the cut pulls down, and stretches the top.
    near(found[4], -p, 1e-12);
    near(found[5], p * 0.75 * L, 1e-12);
}

#[test]
fn cantilever_bends_sideways_with_the_same_signs() {
    let bench = Bench::new();
    let case = beam(&bench, 1, &[(0, &ALL)], |f| {
        f.force("n1", bench.v([300.0, 500.0, 0.0])).unwrap()
    });
    let forces = case.member_forces("m0", Number::ZERO).unwrap();
    let found = bench.read(&[
        forces.axial,
        forces.shear_y,
        forces.moment_z,
        case.rotation("n1").unwrap()[2],
    ]);
    near(found[0], 300.0, 1e-12);
    near(found[1], 500.0, 1e-12);
    near(found[2], 500.0 * L, 1e-12);
    near(found[3], 500.0 * L * L / (2.0 * E * second_moment()), 1e-12);
}

#[test]
fn fixed_ends_with_a_spread_load() {
    let bench = Bench::new();
    let q = 2500.0;
    let case = beam(&bench, 2, &[(0, &ALL), (2, &ALL)], |f| {
        f.distributed("m0", bench.v([0.0, 0.0, -q])).unwrap();
        f.distributed("m1", bench.v([0.0, 0.0, -q])).unwrap();
    });
    let end = case.member_forces("m0", Number::ZERO).unwrap();
    let middle = case.member_forces("m0", Number::ONE).unwrap();
    let found = bench.read(&[
        case.deflection("n1").unwrap()[2],
        end.moment_y,
        middle.moment_y,
        end.shear_z,
    ]);
    near(found[0], -q * L.powi(4) / (384.0 * E * second_moment()), 1e-12);
    near(found[1], q * L * L / 12.0, 1e-12);
    near(found[2], -q * L * L / 24.0, 1e-12);
    near(found[3], -q * L / 2.0, 1e-12);
}

#[test]
fn propped_cantilever_finds_its_largest_moment_within_the_span() {
    let bench = Bench::new();
    let q = 2500.0;
    let load = |f: &mut crankline_engine::structure::Structure| f.distributed("m0", bench.v([0.0, 0.0, -q])).unwrap();
    let case = beam(&bench, 1, &[(0, &ALL), (1, &["y", "z", "rx"])], load);
    let peak = case.member_forces("m0", bench.n(0.625)).unwrap();
    let found = bench.read(&[case.reaction("n1").unwrap()[2], peak.moment_y, peak.shear_z]);
    near(found[0], 3.0 / 8.0 * q * L, 1e-12);
    near(found[1], -9.0 / 128.0 * q * L * L, 1e-12);
    within(found[2], 0.0, 1e-9 * q * L);
}

/// Pinned at both ends, a spread load at a slant and a moment in its plane at one end: the stress is largest between the
/// places that are looked at always.
#[test]
fn largest_stress_is_found_between_the_stations() {
    let bench = Bench::new();
    let (q, m) = (2500.0, 137.0);
    let pins: [(usize, &[&str]); 2] = [(0, &["x", "y", "z", "rx"]), (1, &["y", "z"])];
    let case = beam(&bench, 1, &pins, |f| {
        f.distributed("m0", bench.v([0.0, 0.6 * q, -0.8 * q])).unwrap();
        f.moment("n1", bench.v([0.0, 0.8 * m, 0.6 * m])).unwrap();
    });
    let found = bench.read(&[case.max_von_mises(&["m0"]).unwrap()]);
    // In the plane of the load the moment is q x (L − x)/2 − m x/L.
    let x = L / 2.0 - m / (q * L);
    let largest = q * x * (L - x) / 2.0 - m * x / L;
    near(found[0], largest * OD / 2.0 / second_moment(), 1e-12);
}

/// δ = P L³/(3 E I) + P L/(G As); fixed at both ends in the middle P L³/(192 E I) + P L/(4 G As).
#[test]
fn shear_adds_its_own_deflection() {
    let bench = Bench::new();
    let p = 700.0;
    let area = std::f64::consts::PI * (OD * WALL - WALL * WALL);
    let shear = E / 2.6 * 0.5 * area;
    let found = |supports: &[(usize, &[&str])], members: usize, node: &str| {
        let case = beam(&bench, members, supports, |f| {
            f.include_shear(true);
            f.force(node, bench.v([0.0, 0.0, -p])).unwrap();
        });
        bench.read(&[case.deflection(node).unwrap()[2]])[0]
    };
    let ei = E * second_moment();
    near(
        found(&[(0, &ALL)], 1, "n1"),
        -(p * L.powi(3) / (3.0 * ei) + p * L / shear),
        1e-12,
    );
    let both = found(&[(0, &ALL), (2, &ALL)], 2, "n1");
    near(both, -(p * L.powi(3) / (192.0 * ei) + p * L / (4.0 * shear)), 1e-12);
}

/// Fixed at both ends under a spread load with shear: q L⁴/(384 E I) + q L²/(8 G As), the end moments as without.
#[test]
fn spread_load_with_shear() {
    let bench = Bench::new();
    let q = 2500.0;
    let area = std::f64::consts::PI * (OD * WALL - WALL * WALL);
    let shear = E / 2.6 * 0.5 * area;
    let case = beam(&bench, 2, &[(0, &ALL), (2, &ALL)], |f| {
        f.include_shear(true);
        f.distributed("m0", bench.v([0.0, 0.0, -q])).unwrap();
        f.distributed("m1", bench.v([0.0, 0.0, -q])).unwrap();
    });
    let end = case.member_forces("m0", Number::ZERO).unwrap();
    let found = bench.read(&[case.deflection("n1").unwrap()[2], end.moment_y]);
    near(
        found[0],
        -(q * L.powi(4) / (384.0 * E * second_moment()) + q * L * L / (8.0 * shear)),
        1e-12,
    );
    near(found[1], q * L * L / 12.0, 1e-12);
}

/// Torque on a fixed bar, T L/(G J); weight of its own and of a mass at its end.
#[test]
fn torsion_and_weight() {
    let bench = Bench::new();
    let mut f = bench.chain(
        &[[0.0; 3], [L, 0.0, 0.0]],
        bench.tube(OD, WALL),
        bench.material(E, 0.3, 7850.0),
    );
    f.support("n0", &ALL).unwrap();
    f.mass("n1", bench.n(12.0)).unwrap();
    f.load_case("twist").unwrap();
    f.moment("n1", bench.v([90.0, 0.0, 0.0])).unwrap();
    f.load_case("weight").unwrap();
    f.gravity(bench.v([0.0, 0.0, -9.81])).unwrap();
    let solution = f.solve().unwrap();
    let twist = solution.load_case("twist").unwrap();
    let weight = solution.load_case("weight").unwrap();
    let found = bench.read(&[
        twist.rotation("n1").unwrap()[0],
        twist.max_von_mises(&["m0"]).unwrap(),
        weight.reaction("n0").unwrap()[2],
        weight.reaction_moment("n0").unwrap()[1],
        twist.member_forces("m0", Number::ONE).unwrap().torsion,
    ]);
    let (i, area) = (second_moment(), std::f64::consts::PI * (OD * WALL - WALL * WALL));
    near(found[0], 90.0 * L / (E / 2.6 * 2.0 * i), 1e-12);
    near(found[1], 3.0_f64.sqrt() * 90.0 * (OD / 2.0) / (2.0 * i), 1e-12);
    let own = 7850.0 * area * L;
    near(found[2], 9.81 * (own + 12.0), 1e-12);
    near(found[3], -9.81 * L * (own / 2.0 + 12.0), 1e-12);
    near(found[4], 90.0, 1e-12);
}

/// A bar is stiffer on edge: `up` and the default say which way round it stands.
#[test]
fn up_says_which_way_a_bar_stands() {
    let bench = Bench::new();
    let (width, height) = (0.02, 0.06);
    let sag = |run: [f64; 3], up: Option<[f64; 3]>, push: [f64; 3]| {
        let mut f = crankline_engine::structure::Structure::new();
        f.node("a", bench.v([0.0; 3])).unwrap();
        f.node("b", bench.v(run)).unwrap();
        f.member(
            "m",
            "a",
            "b",
            bench.bar(width, height),
            bench.steel(),
            up.map(|up| bench.v(up)),
        )
        .unwrap();
        f.support("a", &ALL).unwrap();
        f.force("b", bench.v(push)).unwrap();
        let moved = f.solve().unwrap().only_case().unwrap().deflection("b").unwrap();
        let moved = bench.read(&moved);
        push[0] * moved[0] + push[1] * moved[1] + push[2] * moved[2]
    };
    let on_edge = L.powi(3) / (3.0 * 200e9 * width * height.powi(3) / 12.0);
    let flat = L.powi(3) / (3.0 * 200e9 * height * width.powi(3) / 12.0);
    let (x, y, z) = ([1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]);
    let long = |axis: [f64; 3]| axis.map(|c| c * L);
    near(sag(long(x), None, z), on_edge, 1e-12);
    near(sag(long(y), None, z), on_edge, 1e-12);
    near(sag(long(y), None, x), flat, 1e-12);
    // Upright, z is the vehicle's X: also where the post leans by less than a degree.
    near(sag(long(z), None, x), on_edge, 1e-12);
    near(sag(long(z), None, y), flat, 1e-12);
    near(sag([0.0, 0.015, L], None, x), on_edge, 1e-3);
    near(sag([0.0, 0.03, L], None, x), flat, 1e-3);
    near(sag(long(x), Some([5.0, 1.0, 0.0]), y), on_edge, 1e-12);
    near(sag(long(x), Some([5.0, 1.0, 0.0]), z), flat, 1e-12);
}
