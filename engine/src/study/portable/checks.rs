//! Watched numbers and checks.

use super::vouch::Positions;
use crate::outcome::{CheckKind, Input, Outcome, Step};
use crate::quantity::Dimension;
use crate::study::lanes::{Key, Lane, TestLane, Watched, amounts, tests};
use crate::study::reach::{Reach, reached_examples};
use crate::tape::{Place, Slot, Tape};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Numbers whose samples are watched.
pub(super) struct Watching<'a> {
    places: &'a BTreeMap<Slot, Place>,
    positions: &'a Positions<'a>,
    /// Place, whether it is an angle, run, position.
    watched: Vec<[usize; 5]>,
    known: BTreeMap<[usize; 5], usize>,
}

impl<'a> Watching<'a> {
    pub(super) fn new(places: &'a BTreeMap<Slot, Place>, positions: &'a Positions<'a>) -> Self {
        Self {
            places,
            positions,
            watched: Vec::new(),
            known: BTreeMap::new(),
        }
    }

    /// The numbers of the steps.
    pub(super) fn steps(&mut self, outcomes: &[Outcome]) -> BTreeMap<Key, usize> {
        let reached = |key: &Key| {
            let steps = outcomes.get(key.run)?.steps.iter();
            let step: &Step = steps.into_iter().find(|step| step.name == key.step)?;
            Some(self.positions.of(step.reached))
        };
        let found: Vec<(Key, Watched, [usize; 2])> = amounts(outcomes.iter())
            .into_iter()
            .filter_map(|(key, watched)| reached(&key).map(|at| (key, watched, at)))
            .collect();
        let watch = |(key, watched, at): (Key, Watched, [usize; 2])| {
            let number = self.watch(watched, key.run, at)?;
            Some((key, number))
        };
        found.into_iter().filter_map(watch).collect()
    }

    /// Watches a number of a run; none that does not move.
    fn watch(&mut self, watched: Watched, run: usize, at: [usize; 2]) -> Option<usize> {
        let place = *self.places.get(&watched.slot()?)?;
        let is_angle = usize::from(watched.dimension == Dimension::ANGLE);
        let entry = [place as usize, is_angle, run, at[0], at[1]];
        let next = self.watched.len();
        let number = *self.known.entry(entry).or_insert(next);
        if number == next {
            self.watched.push(entry);
        }
        Some(number)
    }

    fn side(&self, side: Watched) -> Value {
        let place = side.slot().and_then(|slot| self.places.get(&slot));
        match (place, side.lane) {
            (Some(place), _) => json!({ "place": place }),
            (None, Lane::Fixed(value)) => json!({ "value": value }),
            (None, Lane::Slot(_)) => json!({ "value": Value::Null }),
        }
    }

    pub(super) fn json(self) -> Value {
        json!(self.watched)
    }
}

type Sides = Vec<Vec<Vec<Option<usize>>>>;

/// All checks, in order: `run`, position `at`, `kind`, `test`, and the `examples` that it rests on, each by its inputs; and
/// which watched numbers their sides are.
pub(super) fn checks(
    watching: &mut Watching<'_>,
    tape: &Tape,
    outcomes: &[Outcome],
    in_job: bool,
) -> (Vec<Value>, Sides) {
    let reach = Reach::new(tape);
    let mut sides: Sides = vec![Vec::new(); outcomes.len()];
    let mut found = Vec::new();
    for ((run, ..), test) in tests(outcomes.iter()) {
        let Some(check) = outcomes
            .get(run)
            .and_then(|outcome| outcome.checks.get(sides[run].len()))
        else {
            continue;
        };
        let at = watching.positions.of(check.reached);
        let examples = match in_job {
            true => reached_examples(outcomes, run, &test, &reach),
            false => Vec::new(),
        };
        let examples: Vec<Vec<usize>> = examples.into_iter().map(inputs).collect();
        found.push(json!({
            "run": run,
            "at": at,
            "kind": kind(check.kind),
            "test": test_json(watching, &test),
            "examples": examples,
        }));
        let watched = test.sides().into_iter().map(|side| watching.watch(side, run, at));
        let watched = watched.collect();
        sides[run].push(watched);
    }
    (found, sides)
}

fn inputs(input: &Input) -> Vec<usize> {
    input.parts.iter().map(|part| part.input).collect()
}

const fn kind(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::Check => "check",
        CheckKind::Prefer => "prefer",
        CheckKind::Require => "require",
    }
}

fn test_json(watching: &Watching<'_>, test: &TestLane) -> Value {
    let sides: Vec<Value> = test.sides().into_iter().map(|side| watching.side(side)).collect();
    match test {
        TestLane::Settled(holds) => json!({ "settled": holds }),
        TestLane::Sides { comparison, .. } => json!({ "comparison": comparison.sign(), "sides": sides }),
        TestLane::Between { .. } => json!({ "sides": sides }),
    }
}
