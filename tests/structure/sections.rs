//! The engine's own sections and materials as members.

use super::bench::{ALL, Bench, near};
use crankline_engine::material::material;
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::section::Section;
use crankline_engine::structure::{MaterialProps, SectionProps};

fn length(bench: &Bench, metres: f64) -> Quantity {
    Quantity::of(bench.n(metres), Dimension::LENGTH)
}

/// A rectangular tube stands upright: under a vertical load it bends about its y, its stress is M/Z_y.
#[test]
fn rectangular_tube_stands_upright() {
    let bench = Bench::new();
    let steel = material("ASTM A36").unwrap();
    let [width, height, wall] = [0.03, 0.06, 0.003].map(|metres| length(&bench, metres));
    let tube = Section::rect_tube(width, height, wall, None).unwrap();
    let section = SectionProps::of(&tube, steel.poisson().unwrap());
    let mut f = bench.chain(
        &[[0.0; 3], [0.0, 0.8, 0.0]],
        section,
        MaterialProps::of(&steel).unwrap(),
    );
    f.support("n0", &ALL).unwrap();
    f.force("n1", bench.v([0.0, 0.0, -1000.0])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let e = steel.young().unwrap().number();
    let found = bench.read(&[
        case.deflection("n1").unwrap()[2] * e,
        case.max_von_mises(&["m0"]).unwrap(),
    ]);
    // The outside less the hole.
    let i = (0.03 * 0.06_f64.powi(3) - 0.024 * 0.054_f64.powi(3)) / 12.0;
    near(found[0], -1000.0 * 0.8_f64.powi(3) / (3.0 * i), 1e-12);
    near(found[1], 800.0 * 0.03 / i, 1e-12);
}

/// Torsion and bending of a round tube together, from a table's moduli: σ = M/Z, τ = T/(2 Z).
#[test]
fn round_tube_carries_both() {
    let bench = Bench::new();
    let steel = material("AISI 4130 normalized").unwrap();
    let tube = Section::round_tube(length(&bench, 0.05), length(&bench, 0.004)).unwrap();
    let section = SectionProps::of(&tube, steel.poisson().unwrap());
    let mut f = bench.chain(
        &[[0.0; 3], [0.8, 0.0, 0.0]],
        section,
        MaterialProps::of(&steel).unwrap(),
    );
    f.support("n0", &ALL).unwrap();
    f.include_shear(true);
    f.moment("n1", bench.v([300.0, 240.0, -320.0])).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let found = bench.read(&[case.max_von_mises(&["m0"]).unwrap()])[0];
    let z = std::f64::consts::PI / 32.0 * (0.05_f64.powi(4) - 0.042_f64.powi(4)) / 0.05;
    near(found, (400.0_f64.powi(2) + 3.0 * 150.0_f64.powi(2)).sqrt() / z, 1e-12);
}
