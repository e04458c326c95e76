//! A batch replay has the bits of a replay lane after lane, and loses the same lanes.

mod departures;
pub(crate) mod operations;
mod programs;
mod threads;

use crankline_engine::tape::batch::{Batch, Instructions, LANES};
use crankline_engine::tape::{Departure, Replay, Slot, Stop, Tape};

/// Every slot of a tape.
pub(crate) fn all_slots(tape: &Tape) -> Vec<Slot> {
    (0..Slot::try_from(tape.graph.slots()).unwrap()).collect()
}

/// Replays samples in a batch, on every set of instructions, and one by one: the same bits in the wanted slots, the same
/// samples leave. Gives how many stayed.
#[track_caller]
pub(crate) fn check(name: &str, tape: &Tape, wanted: &[Slot], samples: &[Vec<f64>]) -> usize {
    let batch = Batch::new(tape, wanted);
    let mut stayed = 0;
    for instructions in Instructions::all() {
        stayed = check_with(name, tape, &batch, instructions, wanted, samples);
    }
    stayed
}

fn check_with(
    name: &str,
    tape: &Tape,
    batch: &Batch,
    instructions: Instructions,
    wanted: &[Slot],
    samples: &[Vec<f64>],
) -> usize {
    let mut replay = Replay::new(tape);
    let mut block = batch.block_with(instructions);
    let mut stayed = 0;
    for samples in samples.chunks(LANES) {
        for (lane, inputs) in samples.iter().enumerate() {
            for (number, value) in inputs.iter().enumerate() {
                if let Some(input) = block.input(number).get_mut(lane) {
                    *input = *value;
                }
            }
        }
        block.run(samples.len());
        for (lane, inputs) in samples.iter().enumerate() {
            let values = replay.run(inputs);
            let place = format!(
                "{name}, {}, {inputs:?}: {:?}",
                instructions.name(),
                values.as_ref().err()
            );
            assert_eq!(block.left(lane), values.is_err(), "{place}: who leaves");
            let Ok(values) = values else { continue };
            stayed += 1;
            for slot in wanted {
                let (batch, single) = (block.lanes(*slot)[lane], values[*slot as usize]);
                assert_eq!(
                    batch.to_bits(),
                    single.to_bits(),
                    "{place}: slot {slot}: {batch:e}, {single:e}"
                );
            }
        }
    }
    stayed
}

/// Whether a sample left where a sum or product is beyond the range of numbers, which a batch may pass over.
pub(super) fn is_overflow(departure: Departure) -> bool {
    matches!(
        departure,
        Departure::Node(_, Stop::NotFinite("add" | "sub" | "mul" | "norm"))
    )
}
