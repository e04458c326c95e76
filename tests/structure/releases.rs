//! Ends let go of, springs, and supports that move.

use super::bench::{ALL, Bench, near, within};
use crankline_engine::tape::Number;

const P: f64 = 1300.0;

/// A pin in a cantilever that is propped at its end: what lies beyond the pin is a beam on two supports.
#[test]
fn pin_carries_no_moment() {
    let bench = Bench::new();
    let points = [[0.0; 3], [0.7, 0.0, 0.0], [1.1, 0.0, 0.0], [1.5, 0.0, 0.0]];
    let mut f = bench.chain(&points, bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.support("n3", &["y", "z"]).unwrap();
    f.release("m1", "n1", &["ry", "rz"]).unwrap();
    f.force("n2", bench.v([0.0, 0.0, -P])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let at_pin = case.member_forces("m1", Number::ZERO).unwrap();
    let found = bench.read(&[
        at_pin.moment_y,
        case.reaction("n3").unwrap()[2],
        case.reaction_moment("n0").unwrap()[1],
        at_pin.shear_z,
    ]);
    within(found[0], 0.0, 1e-9);
    near(found[1], P / 2.0, 1e-12);
    near(found[2], -P / 2.0 * 0.7, 1e-12);
    near(found[3], -P / 2.0, 1e-12);
}

/// A loaded member released at one end gives the propped cantilever, at both ends the beam on two supports.
#[test]
fn releases_hand_a_spread_load_on() {
    let bench = Bench::new();
    let (q, l) = (2500.0, 1.2);
    let moments = |releases: &[(&str, &str)]| {
        let mut f = bench.chain(&[[0.0; 3], [l, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
        f.support("n0", &ALL).unwrap();
        f.support("n1", &ALL).unwrap();
        for (node, direction) in releases {
            f.release("m0", node, &[direction]).unwrap();
        }
        f.distributed("m0", bench.v([0.0, q, -q])).unwrap();
        let case = f.solve().unwrap().only_case().unwrap();
        let [a, b] = [Number::ZERO, Number::ONE].map(|t| case.member_forces("m0", t).unwrap());
        bench.read(&[a.moment_y, b.moment_y, a.shear_z, a.moment_z])
    };
    let whole = q * l * l;
    let one = moments(&[("n1", "ry")]);
    near(one[0], whole / 8.0, 1e-12);
    within(one[1], 0.0, 1e-12 * whole);
    near(one[2], -5.0 / 8.0 * q * l, 1e-12);
    near(one[3], whole / 12.0, 1e-12);
    let both = moments(&[("n0", "ry"), ("n1", "ry")]);
    within(both[0], 0.0, 1e-12 * whole);
    near(both[2], -q * l / 2.0, 1e-12);
    // A sliding end hands all of it to the other: a cantilever whose tip cannot turn.
    let slides = moments(&[("n1", "z")]);
    near(slides[0], whole / 3.0, 1e-12);
    near(slides[1], -whole / 6.0, 1e-12);
}

/// A three-bar truss made by releases: joints by hand.
#[test]
fn truss_by_releases() {
    let bench = Bench::new();
    let mut f = crankline_engine::structure::Structure::new();
    let points = [("a", [-0.4, 0.0, 0.0]), ("b", [0.4, 0.0, 0.0]), ("c", [0.0, 0.0, 0.3])];
    for (name, point) in points {
        f.node(name, bench.v(point)).unwrap();
    }
    for (name, a, b) in [("left", "a", "c"), ("right", "b", "c"), ("tie", "a", "b")] {
        f.member(name, a, b, bench.tube(0.03, 0.002), bench.steel(), None)
            .unwrap();
        f.release(name, a, &["ry", "rz"]).unwrap();
        f.release(name, b, &["ry", "rz"]).unwrap();
    }
    f.support("a", &ALL).unwrap();
    f.support("b", &["y", "z", "rx", "ry", "rz"]).unwrap();
    f.support("c", &["y", "rx", "ry", "rz"]).unwrap();
    f.force("c", bench.v([0.0, 0.0, -P])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let axial = |member: &str| case.member_forces(member, bench.n(0.5)).unwrap().axial;
    let found = bench.read(&[axial("left"), axial("right"), axial("tie")]);
    near(found[0], -P / 2.0 * 5.0 / 3.0, 1e-12);
    near(found[1], -P / 2.0 * 5.0 / 3.0, 1e-12);
    near(found[2], P / 2.0 * 4.0 / 3.0, 1e-12);
}

#[test]
fn spring_shares_the_load_with_the_beam() {
    let bench = Bench::new();
    let (l, k) = (1.2, 40_000.0);
    let mut f = bench.chain(&[[0.0; 3], [l, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.spring("n1", "z", bench.n(k / 4.0)).unwrap();
    f.spring("n1", "z", bench.n(3.0 * k / 4.0)).unwrap();
    f.force("n1", bench.v([0.0, 0.0, -P])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let found = bench.read(&[case.deflection("n1").unwrap()[2], case.reaction("n1").unwrap()[2]]);
    let i = std::f64::consts::PI / 4.0 * (0.025_f64.powi(4) - 0.021_f64.powi(4));
    let beam = 3.0 * 200e9 * i / l.powi(3);
    near(found[0], -P / (beam + k), 1e-12);
    near(found[1], P * k / (beam + k), 1e-12);
}

/// A frame on just enough supports follows a moved one without force; one support more, and it is bent.
#[test]
fn moved_support_bends_only_what_is_held_twice() {
    let bench = Bench::new();
    let step = 0.004;
    let points = [[0.0; 3], [0.6, 0.1, 0.3], [1.2, 0.0, 0.0]];
    let solved = |right: &[&str]| {
        let mut f = bench.chain(&points, bench.tube(0.05, 0.004), bench.steel());
        f.support("n0", &["x", "y", "z", "rx"]).unwrap();
        f.support("n2", right).unwrap();
        f.move_support("n2", "z", bench.n(step)).unwrap();
        let case = f.solve().unwrap().only_case().unwrap();
        let middle = case.deflection("n1").unwrap()[2];
        bench.read(&[
            case.max_von_mises(&["m0", "m1"]).unwrap(),
            middle,
            case.deflection("n2").unwrap()[2],
        ])
    };
    let loose = solved(&["y", "z"]);
    within(loose[0], 0.0, 1.0); // 1 Pa, of stresses in the MPa
    near(loose[1], step / 2.0, 1e-10);
    near(loose[2], step, 1e-15);
    assert!(solved(&ALL)[0] > 1e6);
}

/// Fixed at both ends, one of them raised by δ: 6 E I δ/L² at each end, 12 E I δ/L³ across.
#[test]
fn moved_support_of_a_fixed_beam() {
    let bench = Bench::new();
    let (l, step) = (1.2, 0.0015);
    let mut f = bench.chain(&[[0.0; 3], [l, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    f.support("n1", &ALL).unwrap();
    f.move_support("n1", "z", bench.n(step)).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let found = bench.read(&[case.reaction("n1").unwrap()[2], case.reaction_moment("n0").unwrap()[1]]);
    let ei = 200e9 * std::f64::consts::PI / 4.0 * (0.025_f64.powi(4) - 0.021_f64.powi(4));
    near(found[0], 12.0 * ei * step / l.powi(3), 1e-12);
    near(found[1], 6.0 * ei * step / (l * l), 1e-12);
}
