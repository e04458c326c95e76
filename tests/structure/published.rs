//! Kassimali, *Matrix Analysis of Structures*, 2nd ed., example 8.4 (space frame), as reproduced in the test data of a public
//! repository of solved problems. Five printed figures.

use super::bench::{ALL, Bench, INCH, KSI, POUND_FORCE, Plain, near};
use crankline_engine::structure::Structure;

const KIP: f64 = 1000.0 * POUND_FORCE;

/// The book's axes stand y up; ours do not care. A member's roll turns its y axis from the book's starting place: where
/// its z then points is our `up`.
fn frame(bench: &Bench) -> Structure {
    let section = bench.section(Plain {
        area: 32.9 * INCH * INCH,
        i_y: 236.0 * INCH.powi(4),
        i_z: 716.0 * INCH.powi(4),
        j: 15.1 * INCH.powi(4),
        shear: 1.0,
        half_y: 1.0,
        half_z: 1.0,
        torsion_radius: 1.0,
        round: false,
    });
    let mut material = bench.material(29_000.0 * KSI, 0.3, 0.0);
    material.g = bench.n(11_500.0 * KSI);
    let mut f = Structure::new();
    let far = -240.0 * INCH;
    for (name, point) in [
        ("1", [0.0; 3]),
        ("2", [far, 0.0, 0.0]),
        ("3", [0.0, far, 0.0]),
        ("4", [0.0, 0.0, far]),
    ] {
        f.node(name, bench.v(point)).unwrap();
    }
    // Rolled by ψ from y = Y (x along X, z along Z): z = (0, 0, 1).
    f.member("2-1", "2", "1", section, material, Some(bench.v([0.0, 0.0, 1.0])))
        .unwrap();
    // A vertical member starts with y = −X, z = Z; by 90° that is y = Z, z = X.
    f.member("3-1", "3", "1", section, material, Some(bench.v([1.0, 0.0, 0.0])))
        .unwrap();
    // x along Z starts with y = Y, z = −X; by 30°: z = −X cos 30° − Y sin 30°.
    let (sine, cosine) = (0.5, 0.75_f64.sqrt());
    f.member("4-1", "4", "1", section, material, Some(bench.v([-cosine, -sine, 0.0])))
        .unwrap();
    for support in ["2", "3", "4"] {
        f.support(support, &ALL).unwrap();
    }
    f
}

#[test]
fn space_frame_with_rolled_members() {
    let bench = Bench::new();
    let mut f = frame(&bench);
    f.distributed("2-1", bench.v([0.0, -0.25 * KIP / INCH, 0.0])).unwrap();
    f.moment("1", bench.v([-1800.0 * KIP * INCH, 0.0, 1800.0 * KIP * INCH]))
        .unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let [ux, uy, _] = case.deflection("1").unwrap();
    let [rx, ry, _] = case.rotation("1").unwrap();
    let [r2x, r2y, _] = case.reaction("2").unwrap();
    let m2y = case.reaction_moment("2").unwrap()[1];
    let r3y = case.reaction("3").unwrap()[1];
    let r4z = case.reaction("4").unwrap()[2];
    let m4x = case.reaction_moment("4").unwrap()[0];
    let found = bench.read(&[ux, uy, rx, ry, r2x, r2y, m2y, r3y, r4z, m4x]);
    let printed = [
        (-0.001_352_2 * INCH, 3e-4),
        (-0.002_796_5 * INCH, 3e-4),
        (-0.003_002_1, 3e-4),
        (0.001_056_9, 3e-4),
        (5.3757 * KIP, 6e-4),
        (44.106 * KIP, 6e-4),
        (58.987 * KIP * INCH, 6e-4),
        (11.117 * KIP, 6e-4),
        (7.2034 * KIP, 6e-4),
        (-383.5 * KIP * INCH, 6e-4),
    ];
    for (found, (expected, tolerance)) in found.into_iter().zip(printed) {
        near(found, expected, tolerance);
    }
    // The same example recomputed with a solver of another hand, all digits.
    near(found_at(&bench, ux) / INCH, -0.001_352_244_660_438_48, 1e-10);
}

fn found_at(bench: &Bench, number: crankline_engine::tape::Number) -> f64 {
    bench.read(&[number])[0]
}
