//! What is said of a structure that can move.

use super::bench::{ALL, Bench, refused};
use crankline_engine::structure::Structure;

#[track_caller]
fn says(f: &Structure, expected: &str) {
    assert_eq!(refused(f.solve()), expected);
}

fn portal(bench: &Bench) -> Structure {
    let points = [[0.0; 3], [0.0, 0.0, 0.5], [0.0, 0.8, 0.5], [0.0, 0.8, 0.0]];
    bench.chain(&points, bench.tube(0.04, 0.003), bench.steel())
}

#[test]
fn whole_structure() {
    let bench = Bench::new();
    let mut f = portal(&bench);
    f.support("n0", &["x", "z", "rx", "ry", "rz"]).unwrap();
    f.support("n3", &["x", "z"]).unwrap();
    says(
        &f,
        "the whole structure can slide along y: nothing holds it (support(\"n0\", [\"y\"]) would hold it)",
    );
    let mut f = portal(&bench);
    f.support("n0", &["x", "y", "z", "rx", "ry"]).unwrap();
    says(
        &f,
        "the whole structure can turn about z, the axis of member \"m0\": nothing holds it (support(\"n0\", [\"rz\"]) would \
         hold it)",
    );
    let message = refused(portal(&bench).solve());
    assert!(message.starts_with("the whole structure can "), "{message}");
}

#[test]
fn one_node() {
    let bench = Bench::new();
    let points = [[0.0; 3], [0.0, 0.6, 0.8], [0.0, 1.2, 0.0]];
    let mut f = bench.chain(&points, bench.tube(0.04, 0.003), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.release("m0", "n0", &["rx"]).unwrap();
    f.release("m0", "n1", &["ry", "rz"]).unwrap();
    f.release("m1", "n1", &["rx", "ry", "rz"]).unwrap();
    f.support("n2", &ALL).unwrap();
    let message = refused(f.solve());
    assert!(message.starts_with("node \"n1\" can turn about "), "{message}");
    let mut f = portal(&bench);
    f.support("n0", &ALL).unwrap();
    f.node("lost", bench.v([1.0; 3])).unwrap();
    says(
        &f,
        "node \"lost\" is joined to no member (hold it in all six directions, or leave it out)",
    );
}

#[test]
fn member_about_its_own_axis() {
    let bench = Bench::new();
    let slanted = [[0.0; 3], [0.3, 0.4, 0.0]];
    let mut f = bench.chain(&slanted, bench.tube(0.04, 0.003), bench.steel());
    f.support("n0", &["x", "y", "z"]).unwrap();
    f.support("n1", &["x", "y", "z"]).unwrap();
    says(
        &f,
        "the whole structure can turn about the axis of member \"m0\": nothing holds it (add a support or a member, or take \
         back a release)",
    );
}

/// Four bars on pins: a mechanism, not one body.
#[test]
fn mechanism() {
    let bench = Bench::new();
    let mut f = portal(&bench);
    f.support("n0", &ALL).unwrap();
    f.support("n3", &ALL).unwrap();
    for (member, node) in [("m0", "n0"), ("m0", "n1"), ("m2", "n2"), ("m2", "n3")] {
        f.release(member, node, &["rz"]).unwrap();
    }
    let message = refused(f.solve());
    assert_eq!(
        message,
        "nodes \"n1\", \"n2\" together can slide along y: nothing holds it (support(\"n1\", \
         [\"y\"]) would hold it)"
    );
}

/// A hinge in the middle of a beam on two pins: the halves turn opposite ways.
#[test]
fn hinge_in_a_beam() {
    let bench = Bench::new();
    let points = [[0.0; 3], [0.5, 0.0, 0.0], [1.0, 0.0, 0.0]];
    let mut f = bench.chain(&points, bench.tube(0.04, 0.003), bench.steel());
    f.support("n0", &["x", "y", "z", "rx", "rz"]).unwrap();
    f.support("n2", &["y", "z", "rz"]).unwrap();
    f.release("m0", "n1", &["ry"]).unwrap();
    let message = refused(f.solve());
    assert!(
        message.contains("can move without bending anything: node \"n"),
        "{message}"
    );
}

/// Slender and stiff side by side is no mechanism.
#[test]
fn slender_cantilever_of_many_members_is_stable() {
    let bench = Bench::new();
    let points: Vec<[f64; 3]> = (0..=400).map(|at| [0.05 * f64::from(at), 0.0, 0.0]).collect();
    let mut f = bench.chain(&points, bench.tube(0.006, 0.001), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.force("n400", bench.v([0.0, 0.0, -0.01])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let found = bench.read(&[case.deflection("n400").unwrap()[2]])[0];
    let i = std::f64::consts::PI / 4.0 * (0.003_f64.powi(4) - 0.002_f64.powi(4));
    super::bench::near(found, -0.01 * 20.0_f64.powi(3) / (3.0 * 200e9 * i), 1e-6);
}
