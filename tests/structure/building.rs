//! What may not be built, and what is said of it.

use super::bench::{ALL, Bench, refused};
use crankline_engine::structure::Structure;
use crankline_engine::tape::Number;

fn cantilever(bench: &Bench) -> Structure {
    let mut f = bench.chain(&[[0.0; 3], [1.0, 0.0, 0.0]], bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    f
}

#[track_caller]
fn says<T: std::fmt::Debug>(result: Result<T, crankline_engine::diagnostic::Refusal>, expected: &str) {
    let message = refused(result);
    assert!(message.contains(expected), "{message}");
}

#[test]
fn names() {
    let bench = Bench::new();
    let mut f = cantilever(&bench);
    says(f.node("n1", bench.v([0.0; 3])), "there is a node \"n1\" already");
    says(f.support("n11", &["x"]), "there is no node \"n11\" (\"n1\")");
    says(
        f.support("n1", &["rX"]),
        "there is no direction \"rX\"; there are x, y, z, rx, ry, rz (\"rx\")",
    );
    says(
        f.distributed("M0", bench.v([0.0; 3])),
        "there is no member \"M0\" (\"m0\")",
    );
    f.load_case("bump").unwrap();
    says(f.load_case("bump"), "there is a load case \"bump\" already");
    f.load_case("launch").unwrap();
    let solution = f.solve().unwrap();
    says(solution.load_case("bmp"), "there is no load case \"bmp\" (\"bump\")");
    says(solution.only_case(), "there are 2 load cases (\"bump\", \"launch\")");
    let case = solution.load_case("bump").unwrap();
    says(case.deflection("x"), "there is no node \"x\"");
    says(case.max_von_mises(&[]), "the list of members is empty");
    says(
        case.member_forces("m0", bench.n(1.01)),
        "runs from 0 to 1, this is 1.01",
    );
}

#[test]
fn shapes() {
    let bench = Bench::new();
    let (tube, steel) = (bench.tube(0.05, 0.004), bench.steel());
    let mut f = cantilever(&bench);
    says(
        f.member("m", "n1", "n1", tube, steel, None),
        "begins and ends at node \"n1\"",
    );
    says(f.rigid("m", "n1", "n1"), "begins and ends at node \"n1\"");
    f.node("twin", bench.v([1.0, 0.0, 0.0])).unwrap();
    says(f.member("m", "n1", "twin", tube, steel, None), "lie at the same place");
    let along = Some(bench.v([-2.0, 0.0, 0.0]));
    says(f.member("m", "n0", "twin", tube, steel, along), "lies along the member");
    let mut hollow = tube;
    hollow.j = Number::ZERO;
    says(
        f.member("m", "n0", "twin", hollow, steel, None),
        "the torsion constant of member \"m\" must be more than zero",
    );
    let mut light = steel;
    light.density = Some(bench.n(-1.0));
    says(
        f.member("m", "n0", "twin", tube, light, None),
        "the density of member \"m\"",
    );
    says(f.spring("n1", "x", Number::ZERO), "has no stiffness");
    says(f.mass("n1", bench.n(-1.0)), "is negative");
    says(
        f.release("m0", "twin", &["ry"]),
        "does not end at node \"twin\" but at \"n0\" and \"n1\"",
    );
    says(
        f.move_support("n1", "z", bench.n(0.001)),
        "node \"n1\" is not held in \"z\"",
    );
    says(Structure::new().solve(), "the structure has no nodes");
}

/// A member that its nodes no longer keep in place, and what they still do.
#[test]
fn releases() {
    let bench = Bench::new();
    let release = |list: &[(&str, &[&str])]| {
        let mut f = cantilever(&bench);
        f.support("n1", &ALL).unwrap();
        list.iter()
            .try_for_each(|(node, directions)| f.release("m0", node, directions))
            .map(|()| f)
    };
    says(
        release(&[("n0", &["rx"]), ("n1", &["rx"])]),
        "nothing would keep member \"m0\" in place",
    );
    says(release(&[("n0", &["x"]), ("n1", &["x"])]), "nothing would keep");
    says(release(&[("n0", &["z", "ry"]), ("n1", &["ry"])]), "nothing would keep");
    says(release(&[("n0", &["y"]), ("n1", &["y"])]), "nothing would keep");
    for possible in [
        &[("n0", &["x", "y", "z", "rx", "ry", "rz"] as &[&str])] as &[(&str, &[&str])],
        &[("n0", &["ry", "rz"]), ("n1", &["ry", "rz", "rx", "x"])],
        &[("n0", &["z", "rz"]), ("n1", &["ry", "y"])],
    ] {
        assert!(release(possible).unwrap().solve().is_ok());
    }
}

#[test]
fn shear_needs_its_areas() {
    let bench = Bench::new();
    let mut tube = bench.tube(0.05, 0.004);
    tube.shear_area_z = Number::ZERO;
    let mut f = bench.chain(&[[0.0; 3], [1.0, 0.0, 0.0]], tube, bench.steel());
    f.support("n0", &ALL).unwrap();
    assert!(f.solve().is_ok());
    f.include_shear(true);
    says(
        f.solve(),
        "the shear area along z of member \"m0\" must be more than zero",
    );
}

/// A missing value is never zero.
#[test]
fn weight_needs_a_density() {
    let bench = Bench::new();
    let mut steel = bench.steel();
    steel.density = None;
    let mut f = bench.chain(&[[0.0; 3], [1.0, 0.0, 0.0]], bench.tube(0.05, 0.004), steel);
    f.support("n0", &ALL).unwrap();
    let unknown = "the density of the material of member \"m0\" is not known (gravity and frequencies need it)";
    says(f.solve().unwrap().frequency(1), unknown);
    f.gravity(bench.v([0.0, 0.0, -9.81])).unwrap();
    says(f.solve(), unknown);
}

#[test]
fn too_much() {
    let bench = Bench::new();
    let mut f = Structure::new();
    for at in 0..2000 {
        f.node(&at.to_string(), [Number::ZERO; 3]).unwrap();
    }
    says(
        f.node("one more", [Number::ZERO; 3]),
        "this would be node number 2001; at most 2000 fit",
    );
    let mut f = cantilever(&bench);
    for at in 0..100 {
        f.load_case(&at.to_string()).unwrap();
    }
    says(f.load_case("one more"), "at most 100 fit");
}
