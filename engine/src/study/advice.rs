//! What would settle a check that is unsure: found by trying, on the samples themselves.

use super::gather::Asked;
use super::judge::Experiment;
use super::lanes::{CheckKey, TestLane};
use super::readings::Uncertain;
use super::sample::Sampler;
use super::verdict::Verdict;
use crate::outcome::{Outcome, Spread};
use crate::tape::Tape;

/// Samples of one trial: enough to tell a chance of 97.5 % from one of 90 %.
const TRIAL_SAMPLES: usize = 256;

/// The ± that are tried, as parts of what they are.
const FACTORS: [f64; 4] = [0.5, 0.25, 0.1, 0.03];

/// What would settle an unsure check.
#[derive(Clone, Debug, PartialEq)]
pub enum Advice {
    /// This reading alone, taken again to a smaller ± (SI units; for repeats and standard uncertainties those).
    Again {
        /// Its address.
        reading: String,
        /// Its ± now.
        from: f64,
        /// The ± that settles it.
        to: f64,
    },
    /// All readings taken again, at a fraction of their ±.
    AllAgain {
        /// The fraction.
        factor: f64,
    },
    /// Better readings will not settle it: something has to move.
    Move,
}

/// Tries smaller ± for a check; `shares` names the readings that matter, first first.
pub(crate) fn advise(
    experiment: &dyn Experiment,
    (tape, outcomes): (&Tape, &[Outcome]),
    readings: &[Uncertain],
    check: &(CheckKey, TestLane),
    shares: &[(String, f64)],
) -> Advice {
    let asked = Asked {
        tape,
        amounts: &[],
        tests: std::slice::from_ref(check),
        sides: false,
        curves: false,
    };
    let mut sampler = Sampler::new(experiment, outcomes, &asked, readings);
    let mut settles = |trial: &[Uncertain]| {
        let sampled = sampler.sample(trial, TRIAL_SAMPLES);
        let tally = sampled.tally();
        sampled.checks.first().is_some_and(|(present, holding)| {
            let there = present.saturating_sub(tally.refused);
            Verdict::of_chance(tally.chance(there, *holding)) != Verdict::Unsure
        })
    };
    // What is taken on trust nobody can measure again.
    let measured = |address: &String| {
        readings
            .iter()
            .position(|found| found.address == *address && !found.assumed)
    };
    if let Some(main) = shares.iter().find_map(|(address, _)| measured(address)) {
        for factor in FACTORS {
            let mut trial = readings.to_vec();
            trial[main] = trial[main].scaled(factor);
            if settles(&trial) {
                let from = width(&readings[main].spread);
                return Advice::Again {
                    reading: readings[main].address.clone(),
                    from,
                    to: from * factor,
                };
            }
        }
    }
    let narrowed = |reading: &Uncertain, factor: f64| match reading.assumed {
        true => reading.clone(),
        false => reading.scaled(factor),
    };
    for factor in FACTORS {
        let trial: Vec<Uncertain> = readings.iter().map(|reading| narrowed(reading, factor)).collect();
        if settles(&trial) {
            return Advice::AllAgain { factor };
        }
    }
    Advice::Move
}

fn width(spread: &Spread) -> f64 {
    match spread {
        Spread::Exact => 0.0,
        Spread::Limits(width) | Spread::Standard(width) => *width,
        Spread::Repeats { .. } => crate::script::standard(spread),
    }
}
