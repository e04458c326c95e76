//! Every operation of the tape's table, on ordinary and on special numbers.

use super::node::{bits, run};
use crate::kernel::random::Random;
use crate::tape::batch::all_slots;
use crate::tape::batch::operations::{OPERATIONS, SPECIAL, any, recorded};
use crankline_engine::tape::{Departure, Replay, Slot, Stop, Tape, portable};
use serde_json::{Value, json};

/// A tape with samples, as the driver takes it: the bits of the wanted slots, or how the sample leaves.
pub(super) fn case(name: &str, tape: &Tape, wanted: &[Slot], samples: &[Vec<f64>], timed: bool) -> Value {
    let portable = portable(tape, wanted);
    let mut replay = Replay::new(tape);
    let sample = |inputs: &Vec<f64>| {
        let (stop, expected) = match replay.run(inputs) {
            Ok(values) => {
                let wanted: Vec<f64> = wanted.iter().map(|slot| values[*slot as usize]).collect();
                (Value::Null, bits(&wanted))
            }
            Err(Departure::Guard(_)) => ("guard".into(), String::new()),
            Err(Departure::Node(_, Stop::Required)) => ("require".into(), String::new()),
            Err(Departure::Node(..)) => ("no value".into(), String::new()),
        };
        json!({ "inputs": bits(inputs), "expected": expected, "stop": stop })
    };
    let samples: Vec<Value> = samples.iter().map(sample).collect();
    let places: Vec<u32> = wanted.iter().map(|slot| portable.places[slot]).collect();
    json!({ "name": name, "tape": portable.json, "places": places, "samples": samples, "timed": timed })
}

#[test]
fn every_operation_has_the_engines_bits() {
    let mut random = Random::new(12);
    let case = |(name, arguments, function)| {
        let tape = recorded(arguments, function);
        let mut samples: Vec<Vec<f64>> = (0..1500)
            .map(|_| (0..arguments).map(|_| any(&mut random)).collect())
            .collect();
        if arguments <= 2 {
            for a in SPECIAL {
                samples.extend(SPECIAL.map(|b| [a, b][..arguments].to_vec()));
            }
        }
        case(name, &tape, &all_slots(&tape), &samples, false)
    };
    let cases: Vec<Value> = OPERATIONS.into_iter().map(case).collect();
    run("tape.mjs", "operations", &cases.into());
}
