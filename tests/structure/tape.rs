//! Derivatives against differences, and replays on other inputs against runs of them.

use super::bench::{ALL, Bench, near};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::kernel::LANES;
use crankline_engine::structure::{MaterialProps, SectionProps, Structure};
use crankline_engine::tape::{self, Forward, Number, Op, Recording, Replay, Reverse, Slot, Tape};
use std::f64::consts::PI;

/// Everything at once: arm, release, spring, moved support, shear, spread load, weight, two cases, frequency.
fn results(n: &dyn Fn(f64) -> Number) -> Vec<Number> {
    let v = |v: [f64; 3]| v.map(n);
    let section = SectionProps {
        area: n(6e-4),
        i_y: n(1.3e-7),
        i_z: n(0.9e-7),
        j: n(1.7e-7),
        shear_area_y: n(3e-4),
        shear_area_z: n(3.3e-4),
        z_y: n(5e-6),
        z_z: n(4e-6),
        torsion_modulus: n(7e-6),
        round: false,
    };
    let material = MaterialProps {
        e: n(205e9),
        g: n(79e9),
        density: Some(n(7850.0)),
    };
    let mut f = Structure::new();
    f.node("a", v([0.0, -0.4, 0.0])).unwrap();
    f.node("b", v([0.05, 0.03, -0.09])).unwrap();
    f.node("c", v([0.02, 0.45, 0.01])).unwrap();
    f.node("mount", v([0.08, 0.05, -0.02])).unwrap();
    f.member("left", "a", "b", section, material, None).unwrap();
    f.member("right", "b", "c", section, material, Some(v([0.1, 0.0, 1.0])))
        .unwrap();
    f.rigid("arm", "b", "mount").unwrap();
    f.support("a", &["x", "y", "z", "rx", "ry", "rz"]).unwrap();
    f.support("c", &["x", "y", "z", "rx"]).unwrap();
    f.release("right", "b", &["rz"]).unwrap();
    f.spring("mount", "x", n(3e5)).unwrap();
    f.move_support("c", "y", n(0.0004)).unwrap();
    f.mass("mount", n(60.0)).unwrap();
    f.include_shear(true);
    f.load_case("bump").unwrap();
    f.gravity(v([0.0, 0.1, -29.4])).unwrap();
    f.load_case("launch").unwrap();
    f.force("mount", v([-200.0, 40.0, -1500.0])).unwrap();
    f.moment("mount", v([20.0, 300.0, 5.0])).unwrap();
    f.distributed("left", v([10.0, 20.0, -700.0])).unwrap();
    let solution = f.solve().unwrap();
    let bump = solution.load_case("bump").unwrap();
    let launch = solution.load_case("launch").unwrap();
    vec![
        bump.deflection("mount").unwrap()[2],
        launch.rotation("mount").unwrap()[1],
        bump.reaction("c").unwrap()[1],
        launch.reaction_moment("a").unwrap()[0],
        launch.member_forces("left", n(0.3)).unwrap().moment_y,
        bump.max_von_mises(&["left", "right"]).unwrap(),
        solution.worst(|case| case.max_von_mises(&["left"])).unwrap().1,
        solution.frequency(2).unwrap(),
    ]
}

/// Runs with the inputs that `change` makes of the nominal ones.
fn run(change: &dyn Fn(usize, f64) -> f64) -> (Tape, Vec<Slot>, Vec<f64>) {
    let recording = Recording::open();
    let inputs = std::cell::RefCell::new(Vec::new());
    let n = |value: f64| {
        let value = change(inputs.borrow().len(), value);
        inputs.borrow_mut().push(value);
        recording.input(value)
    };
    let one = n(1.0);
    let numbers = results(&n);
    let before = recording.tape().graph.slots();
    for number in &numbers {
        let _ = *number * one;
    }
    let tape = recording.tape();
    let slots = (before..before + numbers.len())
        .map(|slot| Slot::try_from(slot).unwrap())
        .collect();
    assert_eq!(crankline_engine::tape::take_fault(), None);
    (tape, slots, inputs.into_inner())
}

fn values(tape: &Tape, slots: &[Slot]) -> Vec<f64> {
    slots.iter().map(|slot| tape.nominal[*slot as usize]).collect()
}

/// A replay on other inputs gives the bits of a run on them.
#[test]
fn replay_is_a_run() {
    let (tape, slots, _) = run(&|_, value| value);
    let mut replay = Replay::new(&tape);
    for round in 1..6 {
        let change = |at: usize, value: f64| {
            if at == 0 {
                value
            } else {
                value * (1.0 + 1e-3 * ((at * round) as f64 % 7.0 - 3.0))
            }
        };
        let (other, other_slots, inputs) = run(&change);
        let replayed = replay.run(&inputs).unwrap();
        for (slot, other_slot) in slots.iter().zip(&other_slots) {
            assert_eq!(slot, other_slot);
            assert_eq!(
                replayed[*slot as usize].to_bits(),
                other.nominal[*other_slot as usize].to_bits()
            );
        }
    }
}

/// Systems and eigenvalues of several samples at once have the bits of one replay after the other.
#[test]
fn lanes_are_replays() {
    let (tape, _, inputs) = run(&|_, value| value);
    let graph = &tape.graph;
    let mut replay = Replay::new(&tape);
    let samples: [Vec<f64>; LANES] = std::array::from_fn(|lane| {
        let moved = |(at, value): (usize, &f64)| value * (1.0 + 1e-3 * ((at * (lane + 1)) as f64 % 7.0 - 3.0));
        let inputs: Vec<f64> = inputs.iter().enumerate().map(moved).collect();
        replay.run(&inputs).unwrap().to_vec()
    });
    let mut matrices = 0;
    for node in graph.nodes() {
        let across = |slot: usize| std::array::from_fn(|lane| samples[lane][slot]);
        let given: Vec<[f64; LANES]> = graph
            .arguments_of(node)
            .iter()
            .map(|slot| across(*slot as usize))
            .collect();
        let mut found = vec![[0.0; LANES]; node.slots().len()];
        let good = match &node.op {
            Op::SolveSymmetric(plan) => plan.value_lanes(&given, &mut found),
            Op::EigenSymmetric(plan) => plan.value_lanes(&given, &mut found),
            _ => continue,
        };
        matrices += 1;
        assert_eq!(good, 0xff);
        for (slot, found) in node.slots().zip(&found) {
            assert_eq!(
                across(slot).map(f64::to_bits),
                found.map(f64::to_bits),
                "{}",
                node.op.name()
            );
        }
    }
    assert_eq!(matrices, 2);
}

#[test]
fn derivatives_agree_with_differences() {
    let (tape, slots, inputs) = run(&|_, value| value);
    let nominal = values(&tape, &slots);
    let reverse: Vec<Reverse> = slots
        .iter()
        .map(|slot| Reverse::of(&tape, &tape.nominal, &[(*slot, 1.0)]))
        .collect();
    let mut replay = Replay::new(&tape);
    let mut at = |input: usize, step: f64| {
        let mut moved = inputs.clone();
        moved[input] += step;
        let replayed = replay.run(&moved).unwrap();
        slots.iter().map(|slot| replayed[*slot as usize]).collect::<Vec<f64>>()
    };
    for (input, value) in inputs.iter().enumerate().skip(1) {
        let size = if *value == 0.0 { 1.0 } else { value.abs() };
        let step = 2e-5 * size;
        let (low, high) = (at(input, -step), at(input, step));
        let forward = Forward::of(&tape, &tape.nominal, input);
        for (result, slot) in slots.iter().enumerate() {
            let difference = (high[result] - low[result]) / (2.0 * step);
            let (ahead, back) = (forward.slot(*slot), reverse[result].slot(tape.inputs[input]));
            let scale = nominal[result].abs() / size;
            assert!(
                (ahead - difference).abs() <= 2e-6 * (scale + difference.abs()),
                "result {result}, input {input}: {ahead} and {difference}"
            );
            assert!(
                (ahead - back).abs() <= 1e-9 * (scale + ahead.abs()),
                "result {result}, input {input}: {ahead}, {back}"
            );
        }
    }
}

/// A replay refuses what a run refuses.
#[test]
fn replay_refuses() {
    let bench = Bench::new();
    let points = [[0.0; 3], [1.0, 0.0, 0.0]];
    let mut f = Structure::new();
    let mut ends = Vec::new();
    for (name, point) in ["a", "b"].into_iter().zip(points) {
        ends.push(bench.inputs().len());
        f.node(name, bench.v(point)).unwrap();
    }
    f.member("m", "a", "b", bench.tube(0.05, 0.004), bench.steel(), None)
        .unwrap();
    f.support("a", &["x", "y", "z", "rx", "ry", "rz"]).unwrap();
    let case = f.solve().unwrap().only_case().unwrap();
    let (tape, _) = bench.tape_of(&case.deflection("b").unwrap());
    let mut inputs = bench.inputs();
    inputs[ends[1]] = 0.0;
    assert!(Replay::new(&tape).run(&inputs).is_err());
}

/// A structure may be solved inside a closure: which length sags by so much under its tip load, and which one has a given
/// frequency?
#[test]
fn structure_in_a_closure() {
    let bench = Bench::new();
    let (tube, steel) = (bench.tube(0.05, 0.004), bench.steel());
    let cantilever = |length: Number| {
        let mut f = Structure::new();
        f.node("a", [Number::ZERO; 3])?;
        f.node("b", [length, Number::ZERO, Number::ZERO])?;
        f.member("m", "a", "b", tube, steel, None)?;
        f.support("a", &ALL)?;
        f.force("b", bench.v([0.0, 0.0, -500.0]))?;
        f.solve()
    };
    let sag = |length: Number| Ok::<_, Refusal>(cantilever(length)?.only_case()?.deflection("b")?[2] + 0.004);
    let length = tape::root(bench.n(0.2), bench.n(4.0), sag).unwrap();
    let pitch = |length: Number| Ok::<_, Refusal>(cantilever(length)?.frequency(1)? - 30.0);
    let other = tape::root(bench.n(0.5), bench.n(4.0), pitch).unwrap();
    let found = bench.read(&[length, other]);
    let (area, i) = (
        PI * (0.025_f64.powi(2) - 0.021_f64.powi(2)),
        PI / 4.0 * (0.025_f64.powi(4) - 0.021_f64.powi(4)),
    );
    near(found[0], (0.004 * 3.0 * 200e9 * i / 500.0).cbrt(), 1e-10);
    let expected = 1.875_104_069 * (200e9 * i / (7850.0 * area)).sqrt().sqrt() / (2.0 * PI * 30.0).sqrt();
    near(found[1], expected, 1e-4);
}
