//! Random programs.

use super::operations::{OPERATIONS, any};
use super::{all_slots, check, is_overflow};
use crate::kernel::random::Random;
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::batch::{Batch, LANES};
use crankline_engine::tape::{Number, Recording, Relation, Replay, Slot, Tape, take_fault};

const INPUTS: usize = 4;

/// A program of random operations on random earlier numbers; a guard now and then.
fn program(random: &mut Random, length: usize) -> Tape {
    let recording = Recording::open();
    let mut numbers: Vec<Number> = (0..INPUTS)
        .map(|_| recording.input(random.between(-3.0, 3.0)))
        .collect();
    numbers.extend([Number::constant(0.75), Number::constant(-2.0)]);
    for _ in 0..length {
        // Simple operations are most of a script; solvers are there, but few.
        let range = if random.below(12) == 0 { OPERATIONS.len() } else { 24 };
        let (name, arguments, function) = OPERATIONS[random.below(range)];
        let taken: Vec<Number> = (0..arguments).map(|_| numbers[random.below(numbers.len())]).collect();
        if arguments == 2 && random.below(10) == 0 {
            let [left, right] = [taken[0], taken[1]].map(|side| Quantity::of(side, Dimension::NONE));
            let relation = [Relation::Less, Relation::LessOrEqual, Relation::Equal][random.below(3)];
            let _ = left.compare(relation, right);
        } else if !name.starts_with("require") {
            numbers.extend(function(&taken));
        }
        // A number that cannot be calculated is recorded as zero: the tape is as good as any.
        let _ = take_fault();
    }
    recording.tape()
}

fn nominal(tape: &Tape) -> Vec<f64> {
    tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect()
}

#[test]
fn random_programs_have_the_bits_of_a_replay() {
    let mut random = Random::new(12);
    let mut stayed = 0;
    for number in 0..400 {
        let length = 1 + random.below(30);
        let tape = program(&mut random, length);
        let mut samples: Vec<Vec<f64>> = (0..40)
            .map(|_| (0..INPUTS).map(|_| any(&mut random)).collect())
            .collect();
        let near = |value: f64, random: &mut Random| value * (1.0 + random.between(-1e-3, 1e-3));
        for _ in 0..60 {
            samples.push(
                nominal(&tape)
                    .into_iter()
                    .map(|value| near(value, &mut random))
                    .collect(),
            );
        }
        stayed += check(&format!("program {number}"), &tape, &all_slots(&tape), &samples);
    }
    assert!(stayed > 4000, "{stayed} samples stayed");
}

/// Where a few slots are wanted and the rest is dead, only a sum or a product that is too large may go unnoticed.
#[test]
fn dead_numbers_are_dropped_and_refusals_kept() {
    let mut random = Random::new(13);
    let (mut shorter, mut left) = (0, 0);
    for number in 0..300 {
        let length = 10 + random.below(30);
        let tape = program(&mut random, length);
        let wanted = [Slot::try_from(random.below(tape.graph.slots())).unwrap()];
        let batch = Batch::new(&tape, &wanted);
        shorter += usize::from(batch.len() < Batch::new(&tape, &all_slots(&tape)).len());
        let (mut block, mut replay) = (batch.block(), Replay::new(&tape));
        let samples: Vec<Vec<f64>> = (0..LANES)
            .map(|_| (0..INPUTS).map(|_| any(&mut random)).collect())
            .collect();
        for (lane, inputs) in samples.iter().enumerate() {
            for (number, value) in inputs.iter().enumerate() {
                block.input(number)[lane] = *value;
            }
        }
        block.run(LANES);
        for (lane, inputs) in samples.iter().enumerate() {
            match replay.run(inputs) {
                Ok(values) => {
                    assert!(!block.left(lane), "program {number}, {inputs:?}");
                    let slot = wanted[0];
                    assert_eq!(block.lanes(slot)[lane].to_bits(), values[slot as usize].to_bits());
                }
                Err(departure) => {
                    left += 1;
                    assert!(
                        block.left(lane) || is_overflow(departure),
                        "program {number}, {inputs:?}: {departure:?}"
                    );
                }
            }
        }
    }
    assert!(shorter > 200 && left > 1000, "{shorter} {left}");
}

/// Inputs that are the same in every sample are calculated once: the same bits, the same samples leave.
#[test]
fn known_inputs_are_calculated_once() {
    let mut random = Random::new(14);
    for number in 0..200 {
        let length = 5 + random.below(30);
        let tape = program(&mut random, length);
        let mut inputs = nominal(&tape);
        let known: Vec<Option<f64>> = inputs
            .iter()
            .map(|value| (random.below(2) == 0).then_some(*value))
            .collect();
        let wanted = all_slots(&tape);
        let batch = Batch::with_known(&tape, &wanted, &known);
        assert!(batch.len() <= Batch::new(&tape, &wanted).len());
        let (mut block, mut replay) = (batch.block(), Replay::new(&tape));
        for (input, value) in inputs.iter_mut().enumerate() {
            if known[input].is_none() {
                *value = random.between(-3.0, 3.0);
            }
            block.input(input).fill(*value);
        }
        block.run(1);
        let values = replay.run(&inputs);
        assert_eq!(block.left(0), values.is_err(), "program {number}: {:?}", values.err());
        for slot in values.iter().flat_map(|_| &wanted) {
            let (batch, single) = (block.lanes(*slot)[0], values.as_ref().unwrap()[*slot as usize]);
            assert_eq!(batch.to_bits(), single.to_bits(), "program {number}, slot {slot}");
        }
    }
}
