//! Every shipped script on the tape: a replay, one by one or in a batch, has the bits of a run, and its derivatives are
//! those of differences.

use crate::tape::batch::{all_slots, check};
use crankline_engine::job::{Job, Overrides, Plan};
use crankline_engine::outcome::{Outcome, Value};
use crankline_engine::script::Library;
use crankline_engine::study::Experiment;
use crankline_engine::tape::batch::LANES;
use crankline_engine::tape::{Batch, Forward, Op, Replay, Tape};
use crankline_scripts::{Shipped, script, script_names};
use std::rc::Rc;

/// A fixed stream of numbers from −1 to 1 (Knuth's linear congruential generator, its high bits).
struct Stream(u64);

impl Stream {
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit")]
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

fn with_plan(name: &str, work: impl FnOnce(&Plan<'_>)) {
    let library = Library::new(Rc::new(Shipped));
    let programs = |name: &str| library.compile(script(name).unwrap());
    let job = Job::of_script(name);
    let plan = Plan::new(&job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| panic!("{error}"));
    work(&plan);
}

fn nominal(tape: &Tape) -> Vec<f64> {
    tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect()
}

/// The slots of all numbers of the steps.
fn results(outcome: &Outcome) -> Vec<(String, u32)> {
    fn collect(name: &str, value: &Value, found: &mut Vec<(String, u32)>) {
        match value {
            Value::Amount(amount) => found.extend(amount.slot.map(|slot| (name.to_owned(), slot))),
            Value::Items(items) => items
                .iter()
                .for_each(|(key, item)| collect(&format!("{name}.{key}"), item, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    for step in &outcome.steps {
        collect(&step.name, &step.value, &mut found);
    }
    found
}

/// Inputs about the nominal ones, within this share of them.
fn about(centre: &[f64], share: f64, stream: &mut Stream) -> Vec<f64> {
    centre
        .iter()
        .map(|value| value * (1.0 + share * stream.next()))
        .collect()
}

/// The largest script takes most of the time of all.
fn is_large(tape: &Tape) -> bool {
    tape.graph.slots() > 20_000
}

#[test]
fn a_batch_of_every_shipped_script_has_the_bits_of_a_run_and_loses_what_leaves_its_path() {
    // Of the largest, which takes most of the time of all, a few lanes.
    against_the_interpreter(|tape| if is_large(tape) { (1, 10) } else { (4, LANES) });
}

/// The same for ten thousand samples of every script: half an hour, even when compiled for speed.
#[test]
#[ignore = "takes half an hour: cargo test --release -p crankline-tests -- --ignored ten_thousand"]
fn ten_thousand_samples_of_every_shipped_script_have_the_bits_of_a_run() {
    against_the_interpreter(|_| (10_000_usize.div_ceil(LANES), LANES));
}

/// Samples near the examples, in so many blocks, and so many lanes of each run by the interpreter too.
fn against_the_interpreter(extent: impl Fn(&Tape) -> (usize, usize)) {
    for name in script_names() {
        with_plan(&name, |plan| {
            let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
            let centre = nominal(&ran.tape);
            let wanted = all_slots(&ran.tape);
            let batch = Batch::new(&ran.tape, &wanted);
            let mut block = batch.block();
            let mut stream = Stream(2026);
            let (blocks, lanes) = extent(&ran.tape);
            let mut replayed = 0;
            for _ in 0..blocks {
                let samples: Vec<Vec<f64>> = (0..LANES).map(|_| about(&centre, 0.02, &mut stream)).collect();
                for number in 0..centre.len() {
                    for (input, sample) in block.input(number).iter_mut().zip(&samples) {
                        *input = sample[number];
                    }
                }
                block.run(LANES);
                for (lane, sample) in samples.iter().enumerate().take(lanes) {
                    let run = Experiment::run(plan, sample);
                    if block.left(lane) {
                        let same_way = run.is_ok_and(|(tape, _)| way(&tape) == way(&ran.tape));
                        assert!(!same_way, "{name}: a lane left, but the script goes the same way");
                        continue;
                    }
                    replayed += 1;
                    let (tape, _) = run.unwrap_or_else(|error| panic!("{name}: {error}"));
                    for slot in &wanted {
                        let (batch, run) = (block.lanes(*slot)[lane], tape.nominal[*slot as usize]);
                        assert_eq!(batch.to_bits(), run.to_bits(), "{name}: slot {slot}");
                    }
                }
            }
            assert!(
                replayed * 2 > blocks * lanes,
                "{name}: only {replayed} of {} samples stay on the path",
                blocks * lanes
            );
        });
    }
}

/// How a script's comparisons came out, and the fixed numbers that it compared with: a whole number is one.
fn way(tape: &Tape) -> Vec<(bool, Option<u64>)> {
    let nodes = tape.graph.nodes();
    let fixed = |slot: u32| {
        let node = nodes.iter().find(|node| node.slots().contains(&(slot as usize)))?;
        matches!(node.op, Op::Constant(_)).then(|| tape.nominal[slot as usize].to_bits())
    };
    let guards = tape.guards.iter();
    guards
        .map(|guard| (guard.outcome, fixed(guard.left).or(fixed(guard.right))))
        .collect()
}

/// Ten thousand samples of each script, half of them far from its examples, so that many leave the path.
#[test]
fn a_batch_of_every_shipped_script_has_the_bits_of_a_replay() {
    for name in script_names() {
        with_plan(&name, |plan| {
            let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
            let centre = nominal(&ran.tape);
            let mut stream = Stream(31);
            let count = if is_large(&ran.tape) { 200 } else { 10_000 };
            let share = |number: usize| if number.is_multiple_of(2) { 0.02 } else { 0.5 };
            let samples: Vec<Vec<f64>> = (0..count)
                .map(|number| about(&centre, share(number), &mut stream))
                .collect();
            let wanted: Vec<u32> = results(&ran.runs[0].outcome)
                .into_iter()
                .map(|(_, slot)| slot)
                .collect();
            let stayed = check(&name, &ran.tape, &wanted, &samples);
            assert!(
                stayed * 4 > count,
                "{name}: only {stayed} of {count} samples stay on the path"
            );
        });
    }
}

#[test]
fn derivatives_of_every_shipped_script_are_those_of_differences() {
    for name in script_names() {
        with_plan(&name, |plan| {
            let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
            let results = results(&ran.runs[0].outcome);
            // Away from the examples' round numbers, where choices have their kinks.
            let mut stream = Stream(7);
            let centre: Vec<f64> = nominal(&ran.tape)
                .iter()
                .map(|value| value * (1.0 + 0.01 * stream.next()) + 1e-6 * stream.next())
                .collect();
            let Ok((tape, _)) = Experiment::run(plan, &centre) else {
                return;
            };
            let mut replay = Replay::new(&tape);
            for input in 0..centre.len() {
                let size = centre[input].abs().max(1e-3);
                let h = 1e-4 * size;
                let mut at = |steps: f64| {
                    let mut moved = centre.clone();
                    moved[input] += steps * h;
                    replay.run(&moved).ok().map(<[f64]>::to_vec)
                };
                let (Some(a), Some(b), Some(c), Some(d)) = (at(-2.0), at(-1.0), at(1.0), at(2.0)) else {
                    continue;
                };
                let forward = Forward::of(&tape, &tape.nominal, input);
                for (step, slot) in &results {
                    let [a, b, c, d] = [&a, &b, &c, &d].map(|values| values[*slot as usize]);
                    let difference = (8.0 * (c - b) - (d - a)) / (12.0 * h);
                    let exact = forward.slot(*slot);
                    // A frame's lowest frequency is known to about 1e-8 of itself only: its stiffnesses lie far apart. So
                    // good can a difference be.
                    let noise = 3e-8 * tape.nominal[*slot as usize].abs() / h;
                    let off = (exact - difference).abs();
                    assert!(
                        off <= 2e-5 * (exact.abs() + difference.abs()) + noise + 1e-12,
                        "{name}: {step} by input {input}: {exact}, {difference} by differences"
                    );
                }
            }
        });
    }
}
