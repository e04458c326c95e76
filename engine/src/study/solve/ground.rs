//! What a job gives where some of its inputs are adjusted: values of the goals and their slopes.

use crate::diagnostic::Diagnostic;
use crate::outcome::Outcome;
use crate::study::judge::Experiment;
use crate::study::lanes::{CheckKey, Key, Lane, TestLane, Watched, amounts, tests};
use crate::tape::{Forward, Part, Replay, Slot, Tape};

/// Ways through the scripts that are kept; one more takes the place of the last.
const MOST_WAYS: usize = 64;

/// What a search looks at.
#[derive(Clone, Debug)]
pub(super) enum Goal {
    /// How far a check is from turning.
    Margin(CheckKey),
    /// A number of a step.
    Number(Key),
}

/// A goal at one place.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) value: f64,
    /// Partial derivatives by the adjusted inputs, in SI units.
    pub(super) slopes: Vec<f64>,
}

/// Where a goal's numbers stand on a part of a tape.
enum GoalLane {
    Margin(TestLane),
    Number(Watched),
}

/// One way through the scripts: what of its tape moves with the adjusted inputs.
struct Way {
    part: Part,
    lanes: Vec<Option<GoalLane>>,
}

/// Asked again and again at other values of the adjusted inputs; everything else stays.
pub(super) struct Ground<'a> {
    experiment: &'a dyn Experiment,
    goals: Vec<Goal>,
    /// Which inputs of the tape are adjusted.
    adjusted: Vec<usize>,
    /// The values of all inputs.
    inputs: Vec<f64>,
    ways: Vec<Way>,
}

impl<'a> Ground<'a> {
    /// From a first run.
    pub(super) fn new(
        experiment: &'a dyn Experiment,
        (tape, outcomes): (&Tape, &[Outcome]),
        goals: Vec<Goal>,
        adjusted: Vec<usize>,
    ) -> Self {
        let inputs = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
        let mut ground = Self {
            experiment,
            goals,
            adjusted,
            inputs,
            ways: Vec::new(),
        };
        let way = ground.way(tape, outcomes);
        ground.ways.push(way);
        ground
    }

    /// All inputs with the adjusted ones at these values.
    pub(super) fn inputs(&self, at: &[f64]) -> Vec<f64> {
        let mut inputs = self.inputs.clone();
        for (input, value) in self.adjusted.iter().zip(at) {
            if let Some(place) = inputs.get_mut(*input) {
                *place = *value;
            }
        }
        inputs
    }

    /// The goals at these values of the adjusted inputs, each where it is there.
    ///
    /// # Errors
    /// Where a script refuses them.
    pub(super) fn at(&mut self, at: &[f64]) -> Result<Vec<Option<Found>>, Diagnostic> {
        if let Some(found) = self.ways.iter().find_map(|way| way.at(at)) {
            return Ok(found);
        }
        let (tape, outcomes) = self.experiment.run(&self.inputs(at))?;
        let way = self.way(&tape, &outcomes);
        let found = way.at(at);
        self.ways.truncate(MOST_WAYS - 1);
        self.ways.push(way);
        Ok(found.unwrap_or_default())
    }

    fn way(&self, tape: &Tape, outcomes: &[Outcome]) -> Way {
        let (numbers, checks) = (amounts(outcomes.iter()), tests(outcomes.iter()));
        let lanes: Vec<Option<GoalLane>> = self
            .goals
            .iter()
            .map(|goal| match goal {
                Goal::Margin(key) => {
                    let found = checks.iter().find(|(known, _)| known == key);
                    found.map(|(_, test)| GoalLane::Margin(test.clone()))
                }
                Goal::Number(key) => {
                    let found = numbers.iter().find(|(known, _)| known == key);
                    found.map(|(_, watched)| GoalLane::Number(*watched))
                }
            })
            .collect();
        let wanted: Vec<Slot> = lanes.iter().flatten().flat_map(GoalLane::slots).collect();
        let part = Part::of(tape, &self.adjusted, &wanted);
        let place = |lane: Lane| match lane {
            Lane::Slot(slot) => part
                .slot(slot)
                .map_or(Lane::Fixed(tape.nominal[slot as usize]), Lane::Slot),
            fixed @ Lane::Fixed(_) => fixed,
        };
        let lanes = lanes.into_iter().map(|lane| Some(lane?.elsewhere(&place))).collect();
        Way { part, lanes }
    }
}

impl Way {
    /// The goals there; nothing where that is another way.
    fn at(&self, at: &[f64]) -> Option<Vec<Option<Found>>> {
        let tape = self.part.tape();
        let mut replay = Replay::new(tape);
        let values = replay.run(at).ok()?;
        let passes: Vec<Forward> = (0..at.len()).map(|input| Forward::of(tape, values, input)).collect();
        let found = |lane: &GoalLane| {
            let (value, slots) = match lane {
                GoalLane::Margin(test) => (test.margin(values)?, test.margin_slots(values)),
                GoalLane::Number(watched) => {
                    let slots = watched.slot().map(|slot| (slot, 1.0));
                    (watched.value(values), slots.into_iter().collect())
                }
            };
            let slope = |pass: &Forward| {
                slots
                    .iter()
                    .fold(0.0, |sum, (slot, sign)| sum + sign * pass.slot(*slot))
            };
            Some(Found {
                value,
                slopes: passes.iter().map(slope).collect(),
            })
        };
        Some(self.lanes.iter().map(|lane| found(lane.as_ref()?)).collect())
    }
}

impl GoalLane {
    fn slots(&self) -> Vec<Slot> {
        match self {
            Self::Margin(test) => test.sides().into_iter().filter_map(Watched::slot).collect(),
            Self::Number(watched) => watched.slot().into_iter().collect(),
        }
    }

    fn elsewhere(self, place: &dyn Fn(Lane) -> Lane) -> Self {
        match self {
            Self::Margin(test) => Self::Margin(test.elsewhere(place)),
            Self::Number(watched) => Self::Number(Watched {
                lane: place(watched.lane),
                ..watched
            }),
        }
    }
}
