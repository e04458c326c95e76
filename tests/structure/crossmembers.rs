//! Crossmembers, straight, bent, and bent out of plane: values of an outside frame program and of a second solver by the
//! force method, which agree to 1e-12. Euler-Bernoulli members without weight; no transverse shear in the stress.

use super::bench::{ALL, Bench, INCH, KSI, POUND_FORCE, near};
use crankline_engine::structure::{CaseResults, Structure};
use crankline_engine::tape::{Number, norm};

/// Holds what a support holds, by the words used beside each case.
const PINNED: &[&str] = &["x", "y", "z", "ry"];
const PINNED_SLIDING: &[&str] = &["x", "z"];
const PINNED_TIGHT: &[&str] = &["x", "y", "z"];
const SLOTTED: &[&str] = &["x", "z", "rx", "ry", "rz"];

struct Frame {
    points: Vec<[f64; 3]>,
    section: (f64, f64),
    material: (f64, f64),
    mount: usize,
    force: [f64; 3],
    moment: [f64; 3],
    left: &'static [&'static str],
    right: &'static [&'static str],
}

impl Frame {
    fn inches(points: &[[f64; 3]], mount: usize, force: [f64; 3], moment: [f64; 3]) -> Self {
        Self {
            points: points.iter().map(|point| point.map(|c| c * INCH)).collect(),
            section: (1.75 * INCH, 0.120 * INCH),
            material: (29_000.0 * KSI, 0.3),
            mount,
            force: force.map(|c| c * POUND_FORCE),
            moment: moment.map(|c| c * POUND_FORCE * 12.0 * INCH),
            left: &ALL,
            right: &ALL,
        }
    }

    fn straight() -> Self {
        let points = [[0.0, -18.0, 0.0], [0.0, 0.0, 0.0], [0.0, 18.0, 0.0]];
        Self::inches(&points, 1, [0.0, 0.0, -900.0], [0.0; 3])
    }

    fn dropped(force: [f64; 3], moment: [f64; 3]) -> Self {
        let points = [
            [0.0, -18.0, 0.0],
            [0.0, -8.0, -3.5],
            [0.0, 0.0, -3.5],
            [0.0, 8.0, -3.5],
            [0.0, 18.0, 0.0],
        ];
        Self::inches(&points, 2, force, moment)
    }

    fn out_of_plane() -> Self {
        let points = [
            [0.0, -420.0, 0.0],
            [60.0, -200.0, -70.0],
            [110.0, 20.0, -95.0],
            [60.0, 230.0, -70.0],
            [0.0, 430.0, 10.0],
        ];
        Self {
            points: points.iter().map(|point| point.map(|c| c / 1000.0)).collect(),
            section: (0.0445, 0.003),
            material: (205e9, 0.29),
            mount: 2,
            force: [-900.0, 150.0, -3800.0],
            moment: [0.0, 70.0, 0.0],
            left: &ALL,
            right: &ALL,
        }
    }

    fn held(self, left: &'static [&'static str], right: &'static [&'static str]) -> Self {
        Self { left, right, ..self }
    }

    /// The frame's case, solved on this bench, then what is asked of it.
    #[track_caller]
    fn gives<const N: usize>(&self, expected: [f64; N], asked: impl Fn(&Solved<'_>) -> [Number; N]) {
        let bench = Bench::new();
        let section = bench.tube(self.section.0, self.section.1);
        let material = bench.material(self.material.0, self.material.1, 0.0);
        let mut f: Structure = bench.chain(&self.points, section, material);
        let last = format!("n{}", self.points.len() - 1);
        let mount = format!("n{}", self.mount);
        f.support("n0", self.left).unwrap();
        f.support(&last, self.right).unwrap();
        f.force(&mount, bench.v(self.force)).unwrap();
        f.moment(&mount, bench.v(self.moment)).unwrap();
        let case = f.solve().unwrap().only_case().unwrap();
        let members: Vec<String> = (0..self.points.len() - 1).map(|at| format!("m{at}")).collect();
        let solved = Solved {
            case: &case,
            mount: &mount,
            last: &last,
            members: &members,
        };
        let found = bench.read(&asked(&solved));
        for (found, expected) in found.into_iter().zip(expected) {
            near(found, expected, 1e-10);
        }
    }
}

struct Solved<'a> {
    case: &'a CaseResults,
    mount: &'a str,
    last: &'a str,
    members: &'a [String],
}

impl Solved<'_> {
    fn mount(&self) -> [Number; 3] {
        self.case.deflection(self.mount).unwrap()
    }

    fn stress(&self) -> Number {
        let members: Vec<&str> = self.members.iter().map(String::as_str).collect();
        self.case.max_von_mises(&members).unwrap()
    }

    /// The largest resultant bending moment at any member end.
    fn bending(&self) -> Number {
        let ends = self
            .members
            .iter()
            .flat_map(|member| [Number::ZERO, Number::ONE].map(|t| (member, t)));
        ends.map(|(member, t)| {
            let forces = self.case.member_forces(member, t).unwrap();
            norm(&[forces.moment_y, forces.moment_z])
        })
        .reduce(crankline_engine::tape::max)
        .unwrap()
    }
}

#[test]
fn straight_pinned() {
    let frame = Frame::straight().held(PINNED, PINNED_SLIDING);
    frame.gives([-3.734_161_464_06e-3, 238.155_521_317e6], |s| {
        [s.mount()[2], s.stress()]
    });
}

#[test]
fn straight_fixed() {
    Frame::straight().gives([-0.933_540_366_016e-3, 457.588_557_562], |s| {
        [s.mount()[2], s.bending()]
    });
}

#[test]
fn dropped_centre_fixed() {
    let frame = Frame::dropped([250.0, 0.0, -900.0], [40.0, 60.0, 0.0]);
    let expected = [
        2_090.096_686_91,
        41.874_800_731_1,
        8.756_324_249_64,
        -0.313_603_840_359e-3,
        0.260_013_794_586e-3,
        348.361_199_067,
        107.807_797_46e6,
    ];
    frame.gives(expected, |s| {
        let turning = s.case.reaction_moment("n0").unwrap();
        [
            s.case.reaction("n0").unwrap()[2],
            turning[0],
            turning[1],
            s.mount()[2],
            s.mount()[0],
            s.bending(),
            s.stress(),
        ]
    });
}

#[test]
fn out_of_plane_fixed() {
    Frame::out_of_plane().gives([1_984.068_069_43, 1.062_729_795_26e-3, 128.753_072_873e6], |s| {
        [s.case.reaction(s.last).unwrap()[2], norm(&s.mount()), s.stress()]
    });
}

#[test]
fn out_of_plane_with_slots() {
    let frame = Frame::out_of_plane().held(&ALL, SLOTTED);
    frame.gives([138.096_951_944e6, 390.116_537_211, -0.253_470_494_496e-3], |s| {
        [
            s.stress(),
            s.case.reaction_moment("n0").unwrap()[0],
            s.case.deflection(s.last).unwrap()[1],
        ]
    });
}

#[test]
fn dropped_centre_cannot_spread() {
    let frame = Frame::dropped([0.0, 0.0, -900.0], [0.0; 3]).held(PINNED, PINNED_TIGHT);
    frame.gives([-7_001.936_782_87], |s| [s.case.reaction("n0").unwrap()[1]]);
}

#[test]
fn cantilever_round_a_corner() {
    let points = [[0.0, 0.0, 0.0], [0.0, 20.0, 0.0], [12.0, 20.0, 0.0]];
    let frame = Frame::inches(&points, 2, [0.0, 0.0, -150.0], [0.0; 3]).held(&ALL, &[]);
    frame.gives([-4.473_481_040_62e-3], |s| [s.mount()[2]]);
}
