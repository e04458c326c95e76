//! What a job gives where some of its inputs are adjusted: margins and numbers with their slopes.

use super::known::Known;
use crate::outcome::Outcome;
use crate::study::judge::Experiment;
use crate::study::lanes::{Key, Lane, TestLane, Watched, amounts};
use crate::tape::{Forward, Part, Replay, Slot, Tape};

/// Ways through the scripts that are kept; one more takes the place of the last.
const MOST_WAYS: usize = 64;

/// What is looked at, at one place.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) value: f64,
    /// Partial derivatives by the adjusted inputs, in SI units.
    pub(super) slopes: Vec<f64>,
}

/// All that is looked at, at one place.
#[derive(Clone, Debug)]
pub(super) struct There {
    /// How far each check that leads the search is from turning, by its number; those that are there. One of yes or no
    /// asks nothing where it holds, and is missed by its whole size where it does not.
    pub(super) margins: Vec<(usize, Found)>,
    /// The steps asked for.
    pub(super) numbers: Vec<Option<Found>>,
}

/// One way through the scripts: what of its tape moves with the adjusted inputs.
struct Way {
    part: Part,
    checks: Vec<(usize, TestLane)>,
    numbers: Vec<Option<Watched>>,
}

/// Asked again and again at other values of the adjusted inputs; everything else stays.
pub(super) struct Ground<'a> {
    experiment: &'a dyn Experiment,
    /// The checks of all ways.
    pub(super) known: Known,
    /// Steps that are asked for.
    numbers: Vec<Key>,
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
        known: Known,
        numbers: Vec<Key>,
        adjusted: Vec<usize>,
    ) -> Self {
        let inputs = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
        let mut ground = Self {
            experiment,
            known,
            numbers,
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

    /// What is looked at, at these values of the adjusted inputs; `None` where a script refuses them.
    pub(super) fn at(&mut self, at: &[f64]) -> Option<There> {
        if let Some(found) = self.ways.iter().find_map(|way| way.at(at, &self.known)) {
            return Some(found);
        }
        let (tape, outcomes) = self.experiment.run(&self.inputs(at)).ok()?;
        let way = self.way(&tape, &outcomes);
        let found = way.at(at, &self.known);
        self.ways.truncate(MOST_WAYS - 1);
        self.ways.push(way);
        found
    }

    fn way(&mut self, tape: &Tape, outcomes: &[Outcome]) -> Way {
        let checks = self.known.meet(tape, outcomes);
        let amounts = amounts(outcomes.iter());
        let number = |key: &Key| {
            let found = amounts.iter().find(|(known, _)| known == key);
            found.map(|(_, watched)| *watched)
        };
        let numbers: Vec<Option<Watched>> = self.numbers.iter().map(number).collect();
        let sides = checks.iter().flat_map(|(_, test)| test.sides());
        let wanted = sides.chain(numbers.iter().flatten().copied());
        let wanted: Vec<Slot> = wanted.filter_map(Watched::slot).collect();
        let part = Part::of(tape, &self.adjusted, &wanted);
        let place = |lane: Lane| match lane {
            Lane::Slot(slot) => part
                .slot(slot)
                .map_or(Lane::Fixed(tape.nominal[slot as usize]), Lane::Slot),
            fixed @ Lane::Fixed(_) => fixed,
        };
        let checks = checks
            .into_iter()
            .map(|(number, test)| (number, test.elsewhere(&place)));
        let moved = |watched: Watched| Watched {
            lane: place(watched.lane),
            ..watched
        };
        Way {
            checks: checks.collect(),
            numbers: numbers.into_iter().map(|number| number.map(moved)).collect(),
            part,
        }
    }
}

impl Way {
    /// What is looked at there; nothing where that is another way.
    fn at(&self, at: &[f64], known: &Known) -> Option<There> {
        let tape = self.part.tape();
        let mut replay = Replay::new(tape);
        let values = replay.run(at).ok()?;
        let passes: Vec<Forward> = (0..at.len()).map(|input| Forward::of(tape, values, input)).collect();
        let found = |value: f64, slots: &[(Slot, f64)]| {
            let slope = |pass: &Forward| {
                slots
                    .iter()
                    .fold(0.0, |sum, (slot, sign)| sum + sign * pass.slot(*slot))
            };
            Found {
                value,
                slopes: passes.iter().map(slope).collect(),
            }
        };
        let margin = |(number, test): &(usize, TestLane)| {
            let value = match test.margin(values) {
                Some(margin) => margin,
                None if test.holds(values) => return None,
                None => -known.size(*number),
            };
            Some((*number, found(value, &test.margin_slots(values))))
        };
        let leading = self.checks.iter().filter(|(number, _)| known.leads(*number));
        let number = |watched: &Watched| {
            let slots: Vec<(Slot, f64)> = watched.slot().map(|slot| (slot, 1.0)).into_iter().collect();
            found(watched.value(values), &slots)
        };
        Some(There {
            margins: leading.filter_map(margin).collect(),
            numbers: self
                .numbers
                .iter()
                .map(|watched| watched.as_ref().map(number))
                .collect(),
        })
    }
}
