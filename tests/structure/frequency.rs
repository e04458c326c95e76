//! Natural frequencies against closed forms (Blevins, *Formulas for Natural Frequency and Mode Shape*; Young, *Roark's Formulas for
//! Stress and Strain*, from memory): f = (βL)² √(E I/(ρ A L⁴))/(2π), cos βL cosh βL = ±1 and so on.

use super::bench::{ALL, Bench, INCH, near, refused};
use crankline_engine::structure::Structure;
use std::f64::consts::PI;

const L: f64 = 1.2;
const E: f64 = 200e9;
/// A frequency counts as settled within this share.
const SETTLED: f64 = 1e-3;

/// A round tube along X, supported so.
fn tube(bench: &Bench, left: &[&str], right: &[&str]) -> Structure {
    let mut f = bench.chain(&[[0.0; 3], [L, 0.0, 0.0]], bench.tube(0.02, 0.002), bench.steel());
    f.support("n0", left).unwrap();
    f.support("n1", right).unwrap();
    f
}

/// √(E I/(ρ A L⁴))/(2π) of that tube.
fn unit() -> f64 {
    let (ro, ri) = (0.01_f64, 0.008_f64);
    (E * (ro * ro + ri * ri) / 4.0 / (7850.0 * L.powi(4))).sqrt() / (2.0 * PI)
}

fn frequency(bench: &Bench, f: &Structure, n: usize) -> f64 {
    bench.read(&[f.solve().unwrap().frequency(n).unwrap()])[0]
}

#[test]
fn beams() {
    // Each bending frequency of a round tube comes twice, so the n-th pair is 2n − 1 and 2n.
    let cases: [(&[&str], &[&str], [f64; 3]); 4] = [
        (&["x", "y", "z", "rx"], &["y", "z"], [PI, 2.0 * PI, 3.0 * PI]),
        (&ALL, &[], [1.875_104_069, 4.694_091_133, 7.854_757_438]),
        (&ALL, &ALL, [4.730_040_745, 7.853_204_624, 10.995_607_838]),
        (&ALL, &["y", "z"], [3.926_602_312, 7.068_582_746, 10.210_176_123]),
    ];
    for (left, right, roots) in cases {
        let bench = Bench::new();
        let f = tube(&bench, left, right);
        for (pair, root) in roots.into_iter().enumerate() {
            for n in [2 * pair + 1, 2 * pair + 2] {
                let found = frequency(&bench, &f, n);
                near(found, root * root * unit(), SETTLED);
                // Consistent mass is never below.
                assert!(found > root * root * unit() * (1.0 - 1e-9));
            }
        }
    }
}

/// Stretching and twisting of a bar held at one end: a quarter wave, √(E/ρ)/(4L) and √(G/ρ)/(4L) of a round tube. It is
/// short and wide and its other end is held against all else, so that bending comes later.
#[test]
fn stretching_and_twisting() {
    let bench = Bench::new();
    let first = |held: &[&str]| {
        let mut f = bench.chain(&[[0.0; 3], [0.2, 0.0, 0.0]], bench.tube(0.2, 0.002), bench.steel());
        f.support("n0", &ALL).unwrap();
        f.support("n1", held).unwrap();
        frequency(&bench, &f, 1)
    };
    near(
        first(&["y", "z", "rx", "ry", "rz"]),
        (E / 7850.0).sqrt() / (4.0 * 0.2),
        SETTLED,
    );
    near(
        first(&["x", "y", "z", "ry", "rz"]),
        (E / 2.6 / 7850.0).sqrt() / (4.0 * 0.2),
        SETTLED,
    );
}

/// Timoshenko's pinned tube with Cowper's shear coefficient: the smaller root of a ω⁴ − b ω² + c = 0, computed outside as
/// 7651.482 231 38 rpm.
#[test]
fn timoshenko_pinned() {
    let bench = Bench::new();
    let (ro, wall, nu) = (1.75 * INCH, 0.083 * INCH, 0.3);
    let m = (ro - wall) / ro;
    let square = (1.0 + m * m) * (1.0 + m * m);
    let kappa = 6.0 * (1.0 + nu) * square / ((7.0 + 6.0 * nu) * square + (20.0 + 12.0 * nu) * m * m);
    let area = PI * (ro * ro - (ro - wall) * (ro - wall));
    let mut section = bench.tube(2.0 * ro, wall);
    section.shear_area_y = bench.n(kappa * area);
    section.shear_area_z = bench.n(kappa * area);
    let mut f = bench.chain(&[[0.0; 3], [54.0 * INCH, 0.0, 0.0]], section, bench.steel());
    f.support("n0", &["x", "y", "z", "rx"]).unwrap();
    f.support("n1", &["y", "z"]).unwrap();
    f.include_shear(true);
    near(60.0 * frequency(&bench, &f, 1), 7_651.482_231_38, SETTLED);
}

/// A mass on a spring; a heavy mass at the tip of a light cantilever, √(3 E I/(L³ (M + 33/140 m)))/(2π).
#[test]
fn mass_on_a_spring_and_on_a_beam() {
    let bench = Bench::new();
    let mut f = Structure::new();
    f.node("a", bench.v([0.0; 3])).unwrap();
    f.support("a", &["x", "y", "rx", "ry", "rz"]).unwrap();
    f.spring("a", "z", bench.n(260_000.0)).unwrap();
    f.mass("a", bench.n(111.6)).unwrap();
    near(
        frequency(&bench, &f, 1),
        (260_000.0_f64 / 111.6).sqrt() / (2.0 * PI),
        1e-12,
    );
    let mut f = tube(&bench, &ALL, &[]);
    f.mass("n1", bench.n(100.0)).unwrap();
    let (ro, ri) = (0.01_f64, 0.008_f64);
    let own = 7850.0 * PI * (ro * ro - ri * ri) * L;
    let stiffness = 3.0 * E * PI / 4.0 * (ro.powi(4) - ri.powi(4)) / L.powi(3);
    let expected = (stiffness / (100.0 + 33.0 / 140.0 * own)).sqrt() / (2.0 * PI);
    near(frequency(&bench, &f, 1), expected, 1e-5);
}

/// The rigid pendulum's moment of inertia: a mass on an arm on a torsion spring, √(k/(m r²))/(2π), and a rod turning
/// about one end, m L²/3.
#[test]
fn arms_and_rods_have_their_moment_of_inertia() {
    let bench = Bench::new();
    let mut f = tube(&bench, &["x", "y", "z", "rx", "rz"], &[]);
    f.spring("n0", "ry", bench.n(0.005)).unwrap();
    f.node("tip", bench.v([L, 0.0, 0.3])).unwrap();
    f.rigid("arm", "n1", "tip").unwrap();
    f.mass("tip", bench.n(20.0)).unwrap();
    let own = 7850.0 * PI * (0.01_f64 * 0.01 - 0.008 * 0.008) * L;
    let inertia = 20.0 * (L * L + 0.09) + own * L * L / 3.0;
    near(frequency(&bench, &f, 1), (0.005 / inertia).sqrt() / (2.0 * PI), 1e-5);
}

/// A pin at one end made by a release instead of the support.
#[test]
fn released_end_is_a_pin() {
    let bench = Bench::new();
    let mut f = tube(&bench, &ALL, &ALL);
    f.release("m0", "n1", &["ry", "rz"]).unwrap();
    near(
        frequency(&bench, &f, 1),
        3.926_602_312 * 3.926_602_312 * unit(),
        SETTLED,
    );
}

#[test]
fn refusals() {
    let bench = Bench::new();
    let f = tube(&bench, &ALL, &[]);
    let solved = f.solve().unwrap();
    assert!(refused(solved.frequency(0)).contains("from 1 to 20, this is 0"));
    assert!(refused(solved.frequency(21)).contains("from 1 to 20, this is 21"));
    let mut f = bench.chain(
        &[[0.0; 3], [L, 0.0, 0.0]],
        bench.tube(0.05, 0.004),
        bench.material(E, 0.3, 0.0),
    );
    f.support("n0", &ALL).unwrap();
    f.mass("n1", bench.n(10.0)).unwrap();
    let message = refused(f.solve().unwrap().frequency(1));
    assert!(message.contains("no mass"), "{message}");
    let points: Vec<[f64; 3]> = (0..=600).map(|at| [0.1 * f64::from(at), 0.0, 0.0]).collect();
    let mut f = bench.chain(&points, bench.tube(0.05, 0.004), bench.steel());
    f.support("n0", &ALL).unwrap();
    assert!(refused(f.solve().unwrap().frequency(1)).contains("at most 4000 pieces fit"));
}
