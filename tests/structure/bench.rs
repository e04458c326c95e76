//! What these tests build with: inputs, tubes, and reading results off the tape.

use crankline_engine::diagnostic::Refusal;
use crankline_engine::structure::{MaterialProps, SectionProps, Structure};
use crankline_engine::tape::{Number, Recording, Replay, Slot, Tape, take_fault};
use std::cell::RefCell;
use std::f64::consts::PI;

pub(super) const INCH: f64 = 0.0254;
pub(super) const POUND_FORCE: f64 = 4.448_221_615_260_5;
pub(super) const KSI: f64 = 1000.0 * POUND_FORCE / (INCH * INCH);
pub(super) const ALL: [&str; 6] = ["x", "y", "z", "rx", "ry", "rz"];

/// A recording in which every number is an input.
pub(super) struct Bench {
    recording: Recording,
    inputs: RefCell<Vec<f64>>,
    one: Number,
}

impl Bench {
    pub(super) fn new() -> Self {
        let _ = take_fault();
        let recording = Recording::open();
        let one = recording.input(1.0);
        Self {
            recording,
            inputs: RefCell::new(vec![1.0]),
            one,
        }
    }

    pub(super) fn n(&self, value: f64) -> Number {
        self.inputs.borrow_mut().push(value);
        self.recording.input(value)
    }

    pub(super) fn v(&self, [x, y, z]: [f64; 3]) -> [Number; 3] {
        [self.n(x), self.n(y), self.n(z)]
    }

    pub(super) fn inputs(&self) -> Vec<f64> {
        self.inputs.borrow().clone()
    }

    /// The numbers' slots on the tape, and the tape. Nothing may have gone wrong, and a replay gives the same bits.
    pub(super) fn tape_of(&self, numbers: &[Number]) -> (Tape, Vec<Slot>) {
        let before = self.recording.tape().graph.slots();
        // Once a constant stands on the tape, each product takes one slot: constants are put there first. With an input
        // of its own each is a new one.
        for number in numbers {
            let _ = *number * self.one;
        }
        let ones: Vec<Number> = numbers.iter().map(|_| self.n(1.0)).collect();
        let middle = self.recording.tape().graph.slots();
        for (number, one) in numbers.iter().zip(ones) {
            let _ = *number * one;
        }
        assert_eq!(take_fault(), None);
        let tape = self.recording.tape();
        assert_eq!(tape.graph.slots() - middle, numbers.len(), "from {before}");
        let replayed = Replay::new(&tape)
            .run(&self.inputs())
            .expect("the inputs are the same")
            .to_vec();
        for (slot, (a, b)) in replayed.iter().zip(&tape.nominal).enumerate() {
            assert_eq!(a.to_bits(), b.to_bits(), "slot {slot} replayed");
        }
        let slots = (middle..middle + numbers.len())
            .map(|slot| Slot::try_from(slot).unwrap())
            .collect();
        (tape, slots)
    }

    /// What the numbers are.
    pub(super) fn read(&self, numbers: &[Number]) -> Vec<f64> {
        let (tape, slots) = self.tape_of(numbers);
        slots.iter().map(|slot| tape.nominal[*slot as usize]).collect()
    }

    pub(super) fn tube(&self, od: f64, wall: f64) -> SectionProps {
        let (ro, ri) = (od / 2.0, od / 2.0 - wall);
        let i = PI / 4.0 * (ro.powi(4) - ri.powi(4));
        self.section(Plain {
            area: PI * (ro * ro - ri * ri),
            i_y: i,
            i_z: i,
            j: 2.0 * i,
            shear: 0.5,
            half_y: ro,
            half_z: ro,
            torsion_radius: ro,
            round: true,
        })
    }

    /// A solid rectangle, `width` along y and `height` along z; torsion by a rounded series, enough for these tests.
    pub(super) fn bar(&self, width: f64, height: f64) -> SectionProps {
        let (long, short) = (width.max(height), width.min(height));
        let ratio = short / long;
        let j = long * short.powi(3) * (1.0 / 3.0 - 0.21 * ratio * (1.0 - ratio.powi(4) / 12.0));
        self.section(Plain {
            area: width * height,
            i_y: width * height.powi(3) / 12.0,
            i_z: height * width.powi(3) / 12.0,
            j,
            shear: 5.0 / 6.0,
            half_y: width / 2.0,
            half_z: height / 2.0,
            torsion_radius: short,
            round: false,
        })
    }

    pub(super) fn section(&self, plain: Plain) -> SectionProps {
        SectionProps {
            area: self.n(plain.area),
            i_y: self.n(plain.i_y),
            i_z: self.n(plain.i_z),
            j: self.n(plain.j),
            shear_area_y: self.n(plain.shear * plain.area),
            shear_area_z: self.n(plain.shear * plain.area),
            z_y: self.n(plain.i_y / plain.half_z),
            z_z: self.n(plain.i_z / plain.half_y),
            torsion_modulus: self.n(plain.j / plain.torsion_radius),
            round: plain.round,
        }
    }

    pub(super) fn material(&self, e: f64, nu: f64, density: f64) -> MaterialProps {
        MaterialProps {
            e: self.n(e),
            g: self.n(e / (2.0 * (1.0 + nu))),
            density: Some(self.n(density)),
        }
    }

    pub(super) fn steel(&self) -> MaterialProps {
        self.material(200e9, 0.3, 7850.0)
    }

    /// A chain of members `m0`, `m1`, … through nodes `n0`, `n1`, …
    pub(super) fn chain(&self, points: &[[f64; 3]], section: SectionProps, material: MaterialProps) -> Structure {
        let mut f = Structure::new();
        for (at, point) in points.iter().enumerate() {
            f.node(&format!("n{at}"), self.v(*point)).unwrap();
        }
        for at in 0..points.len() - 1 {
            let (a, b) = (format!("n{at}"), format!("n{}", at + 1));
            f.member(&format!("m{at}"), &a, &b, section, material, None).unwrap();
        }
        f
    }
}

/// A section in plain numbers.
pub(super) struct Plain {
    pub(super) area: f64,
    pub(super) i_y: f64,
    pub(super) i_z: f64,
    pub(super) j: f64,
    /// Shear area over area.
    pub(super) shear: f64,
    pub(super) half_y: f64,
    pub(super) half_z: f64,
    pub(super) torsion_radius: f64,
    pub(super) round: bool,
}

/// Close relative to what was expected.
#[track_caller]
pub(super) fn near(found: f64, expected: f64, tolerance: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= tolerance * expected.abs(),
        "found {found:e}, expected {expected:e}: off by {:e} of it",
        off / expected.abs()
    );
}

/// Close relative to a size that the numbers are of.
#[track_caller]
pub(super) fn within(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "found {found:e}, expected {expected:e}"
    );
}

/// The refusal of something that must be refused.
#[track_caller]
pub(super) fn refused<T: std::fmt::Debug>(result: Result<T, Refusal>) -> String {
    result.expect_err("this must be refused").to_string()
}
