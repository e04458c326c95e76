//! Rigid arms: a load on an arm is a load and its moment; arms chain; supports and springs may sit on them.

use super::bench::{ALL, Bench, refused, within};
use crankline_engine::structure::{CaseResults, Structure};
use crankline_engine::tape::Number;

const POINTS: [[f64; 3]; 3] = [[0.0; 3], [0.3, 0.5, 0.1], [0.2, 1.1, 0.0]];
const ARM: [f64; 3] = [0.04, -0.03, -0.11];
const FORCE: [f64; 3] = [300.0, -120.0, -1900.0];

fn crossmember(bench: &Bench) -> Structure {
    let mut f = bench.chain(&POINTS, bench.bar(0.03, 0.05), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.support("n2", &["x", "z", "rx"]).unwrap();
    f
}

fn tip() -> [f64; 3] {
    std::array::from_fn(|i| POINTS[1][i] + ARM[i])
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn all_of(case: &CaseResults) -> Vec<Number> {
    let mut numbers = Vec::new();
    for node in ["n0", "n1", "n2"] {
        numbers.extend(case.deflection(node).unwrap());
        numbers.extend(case.rotation(node).unwrap());
        numbers.extend(case.reaction(node).unwrap().map(|force| force * 1e-9));
    }
    numbers
}

#[track_caller]
fn same(bench: &Bench, a: &CaseResults, b: &CaseResults) {
    let (a, b) = (bench.read(&all_of(a)), bench.read(&all_of(b)));
    for (a, b) in a.into_iter().zip(b) {
        within(a, b, 1e-14);
    }
}

#[test]
fn load_on_an_arm_is_a_load_and_its_moment() {
    let bench = Bench::new();
    let mut plain = crossmember(&bench);
    plain.force("n1", bench.v(FORCE)).unwrap();
    plain.moment("n1", bench.v(cross(ARM, FORCE))).unwrap();
    let plain = plain.solve().unwrap().only_case().unwrap();
    let mut armed = crossmember(&bench);
    armed.node("elbow", bench.v([0.3, 0.5, 0.4])).unwrap();
    armed.node("tip", bench.v(tip())).unwrap();
    armed.rigid("first", "n1", "elbow").unwrap();
    armed.rigid("second", "elbow", "tip").unwrap();
    armed.force("tip", bench.v(FORCE)).unwrap();
    let armed = armed.solve().unwrap().only_case().unwrap();
    same(&bench, &plain, &armed);
    let [u, turn, at_tip] = [armed.deflection("n1"), armed.rotation("n1"), armed.deflection("tip")].map(Result::unwrap);
    let found = bench.read(&[u, turn, at_tip].concat());
    let swept = cross([found[3], found[4], found[5]], ARM);
    for axis in 0..3 {
        within(found[6 + axis], found[axis] + swept[axis], 1e-14);
    }
    balanced(&bench, &armed);
}

/// Which node is named first, and which leads, does not matter.
#[test]
fn members_may_end_on_arms() {
    let bench = Bench::new();
    let build = |lead_first: bool| {
        let mut f = Structure::new();
        let tube = bench.tube(0.05, 0.003);
        let order: [(&str, [f64; 3]); 2] = [("hub", POINTS[1]), ("tip", tip())];
        let order = if lead_first { order } else { [order[1], order[0]] };
        for (name, point) in order {
            f.node(name, bench.v(point)).unwrap();
        }
        f.node("n0", bench.v(POINTS[0])).unwrap();
        f.node("n2", bench.v(POINTS[2])).unwrap();
        f.rigid("arm", "hub", "tip").unwrap();
        f.member("m0", "n0", "hub", tube, bench.steel(), None).unwrap();
        f.member("m1", "tip", "n2", tube, bench.steel(), None).unwrap();
        f.support("n0", &ALL).unwrap();
        f.support("n2", &ALL).unwrap();
        f.spring("tip", "x", bench.n(2e5)).unwrap();
        f.distributed("m1", bench.v([0.0, 40.0, -900.0])).unwrap();
        f.force("hub", bench.v(FORCE)).unwrap();
        f.solve().unwrap().only_case().unwrap()
    };
    let (a, b) = (build(true), build(false));
    balanced(&bench, &a);
    balanced(&bench, &b);
    for node in ["hub", "tip"] {
        let moved =
            |case: &CaseResults| bench.read(&[case.deflection(node).unwrap(), case.rotation(node).unwrap()].concat());
        for (a, b) in moved(&a).into_iter().zip(moved(&b)) {
            within(a, b, 1e-15);
        }
    }
}

/// A supported arm holds what it is joined to.
#[test]
fn support_at_the_end_of_an_arm() {
    let bench = Bench::new();
    let (l, arm, p) = (0.8, 0.1, 500.0);
    let mut f = bench.chain(&[[0.0; 3], [l, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
    f.node("bolt", bench.v([-arm, 0.0, 0.0])).unwrap();
    f.rigid("bracket", "n0", "bolt").unwrap();
    f.support("bolt", &ALL).unwrap();
    f.force("n1", bench.v([0.0, 0.0, -p])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let found = bench.read(&[
        case.reaction("bolt").unwrap()[2],
        case.reaction_moment("bolt").unwrap()[1],
        case.deflection("n0").unwrap()[2],
        case.reaction("n0").unwrap()[2],
    ]);
    within(found[0], p, 1e-9);
    within(found[1], -p * (l + arm), 1e-9);
    within(found[2], 0.0, 1e-15);
    within(found[3], 0.0, 0.0);
}

#[test]
fn impossible_bodies_are_refused() {
    let bench = Bench::new();
    let mut f = crossmember(&bench);
    f.rigid("across", "n0", "n2").unwrap();
    let message = refused(f.solve());
    assert!(
        message.contains("nodes \"n0\" and \"n2\" are supported and joined by rigid arms"),
        "{message}"
    );
    let mut f = crossmember(&bench);
    f.rigid("along", "n0", "n1").unwrap();
    let message = refused(f.solve());
    assert!(
        message.contains("member \"m0\" joins two nodes of one rigid body"),
        "{message}"
    );
}

/// Loads and reactions add up to nothing.
#[track_caller]
pub(super) fn balanced(bench: &Bench, case: &CaseResults) {
    let sums = case.equilibrium();
    for sum in bench.read(&[sums.force, sums.moment].concat()) {
        within(sum, 0.0, 1e-7);
    }
}
