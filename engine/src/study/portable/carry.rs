//! Tape and study of some runs.

use super::checks::{Watching, checks};
use super::readings::{directions, joined, nominal, readings};
use super::slots::slots;
use super::vouch::{Positions, runs};
use crate::outcome::Outcome;
use crate::study::lanes::Key;
use crate::study::readings::{SEED, sample_count};
use crate::tape::{Place, Slot, Tape, portable};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// What an evaluator elsewhere needs of some runs on one tape.
#[derive(Clone, Debug)]
pub struct Carried {
    /// The tape: see [`portable()`](crate::tape::portable()).
    pub tape: Value,
    /// The study. Positions on the tape are pairs: how many of its lines stand before, and how many guards.
    ///
    /// `seed`, `samples` (how many where anything has a ±), `directions` of the sample points; `nominal` inputs; `readings` with
    /// a ±; `joined` inputs, which one value sets together; `runs`; `watched` numbers (place, whether it is an angle,
    /// run, position); `checks`.
    pub study: Value,
    /// Where the value of each slot that an outcome shows stands.
    pub places: BTreeMap<Slot, Place>,
    /// Which of the watched numbers each number of the steps is.
    pub steps: BTreeMap<Key, usize>,
    /// Which of the watched numbers the sides of each check are, run by run and check by check; those that do not move are
    /// none.
    pub sides: Vec<Vec<Vec<Option<usize>>>>,
    /// Where each run's inputs, steps, checks, notes, cautions and figures were reached.
    pub reached: Vec<ReachedRun>,
}

/// Where parts of an outcome were reached, in its order: how many lines of the carried tape stand before, and how many
/// guards.
#[derive(Clone, Debug, Default)]
pub struct ReachedRun {
    /// Its inputs.
    pub inputs: Vec<[usize; 2]>,
    /// Its steps.
    pub steps: Vec<[usize; 2]>,
    /// Its checks.
    pub checks: Vec<[usize; 2]>,
    /// Its notes.
    pub notes: Vec<[usize; 2]>,
    /// Its cautions.
    pub cautions: Vec<[usize; 2]>,
    /// Its figures.
    pub figures: Vec<[usize; 2]>,
}

/// Carries runs on one tape elsewhere. `names` are the names of the runs, as links have them; `in_job`: an example there
/// leaves a check unmeasured; `also`: slots that are shown besides, in a figure.
#[must_use]
pub fn carry(tape: &Tape, outcomes: &[Outcome], names: &[&str], in_job: bool, also: &[Slot]) -> Carried {
    let mut wanted: BTreeSet<Slot> = outcomes.iter().flat_map(slots).collect();
    wanted.extend(also);
    let wanted: Vec<Slot> = wanted.into_iter().collect();
    let portable = portable(tape, &wanted);
    let positions = Positions::new(&portable);
    let mut watching = Watching::new(&portable.places, &positions);
    let steps = watching.steps(outcomes);
    let (checks, sides) = checks(&mut watching, tape, outcomes, in_job);
    let samples = sample_count(tape);
    let study = json!({
        "seed": SEED,
        "samples": samples,
        "directions": directions(tape, outcomes, samples),
        "nominal": nominal(tape),
        "readings": readings(outcomes, tape),
        "joined": joined(outcomes),
        "runs": runs(&positions, &portable.places, outcomes, names),
        "watched": watching.json(),
        "checks": checks,
    });
    Carried {
        tape: portable.json.clone(),
        study,
        steps,
        sides,
        reached: outcomes.iter().map(|outcome| positions.of_outcome(outcome)).collect(),
        places: portable.places,
    }
}
