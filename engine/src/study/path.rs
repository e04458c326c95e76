//! One way through the scripts, ready to be replayed.

use super::bands::of_curves;
use super::elsewhere::Apart;
use super::gather::Asked;
use super::lanes::{CheckKey, Key, TestLane, Watched, amounts, tests};
use super::readings::Samples;
use crate::kernel::sobol::BLOCK;
use crate::outcome::Outcome;
use crate::tape::batch::{LANES, in_blocks, threads_for};
use crate::tape::{Batch, Block, Slot, Tape};
use std::collections::{BTreeMap, BTreeSet};

/// One way through the scripts, with where the asked numbers stand on it.
pub(crate) struct Path {
    pub(crate) amounts: Vec<Option<Watched>>,
    pub(crate) tests: Vec<Option<TestLane>>,
    /// How it differs from the nominal path, where it was looked for.
    pub(crate) apart: Apart,
    /// How many slots its tape has.
    slots: usize,
    /// The slots of the asked numbers, in rising order.
    wanted: Vec<Slot>,
    /// The tape made ready; none for a path that is not kept.
    batch: Option<Batch>,
}

impl Path {
    pub(crate) fn new(tape: &Tape, outcomes: &[Outcome], asked: &Asked<'_>, apart: Apart) -> Self {
        let drawn = asked.curves.then(|| of_curves(outcomes)).into_iter().flatten();
        let amounts: BTreeMap<Key, Watched> = amounts(outcomes.iter()).into_iter().chain(drawn).collect();
        let mut tests: BTreeMap<CheckKey, TestLane> = tests(outcomes.iter()).into_iter().collect();
        let amounts: Vec<Option<Watched>> = asked.amounts.iter().map(|(key, _)| amounts.get(key).copied()).collect();
        let tests: Vec<Option<TestLane>> = asked.tests.iter().map(|(key, _)| tests.remove(key)).collect();
        let sides = tests.iter().flatten().flat_map(TestLane::sides);
        let watched = amounts.iter().flatten().copied().chain(sides);
        let wanted: BTreeSet<Slot> = watched.filter_map(Watched::slot).chain(apart.slots()).collect();
        Self {
            amounts,
            tests,
            apart,
            slots: tape.graph.slots(),
            wanted: wanted.into_iter().collect(),
            batch: None,
        }
    }

    /// Makes it ready for other samples. `known` holds the inputs that are the same in all of them.
    pub(crate) fn keep(&mut self, tape: &Tape, known: &[Option<f64>]) {
        self.batch = Some(Batch::with_known(tape, &self.wanted, known));
    }

    /// The asked numbers of a run along this path.
    pub(crate) fn taken(&self, values: &[f64]) -> Vec<f64> {
        let value = |slot: &Slot| values.get(*slot as usize).copied().unwrap_or(f64::NAN);
        self.wanted.iter().map(value).collect()
    }

    /// Puts the asked numbers back where the tape has them; other slots hold anything.
    pub(crate) fn put(&self, taken: &[f64], values: &mut Vec<f64>) {
        if values.len() < self.slots {
            values.resize(self.slots, f64::NAN);
        }
        for (slot, value) in self.wanted.iter().zip(taken) {
            values[*slot as usize] = *value;
        }
    }

    /// How many numbers of a sample are asked for.
    pub(crate) fn width(&self) -> usize {
        self.wanted.len()
    }

    /// Replays these samples: which of them stay on the path, and the asked numbers of those, one after the other.
    pub(crate) fn replay(&self, samples: &Samples<'_>, numbers: &[usize]) -> (Vec<bool>, Vec<f64>) {
        let Some(batch) = &self.batch else {
            return (vec![false; numbers.len()], Vec::new());
        };
        let blocks: Vec<&[usize]> = numbers.chunks(LANES).collect();
        let work = |block: &mut Block<'_>, number: usize| {
            draw(samples, blocks[number], block);
            block.run(blocks[number].len());
            self.lanes(block, blocks[number].len())
        };
        let threads = threads_for(batch, numbers.len());
        let done = in_blocks(blocks.len(), threads, || batch.block(), work);
        let (mut stayed, mut taken) = (Vec::with_capacity(numbers.len()), Vec::new());
        for (lanes, numbers) in done {
            stayed.extend(lanes);
            taken.extend(numbers);
        }
        (stayed, taken)
    }

    fn lanes(&self, block: &Block<'_>, lanes: usize) -> (Vec<bool>, Vec<f64>) {
        let rows: Vec<&[f64]> = self.wanted.iter().map(|slot| block.lanes(*slot)).collect();
        let stayed: Vec<bool> = (0..lanes).map(|lane| !block.left(lane)).collect();
        let mut taken = Vec::with_capacity(lanes * rows.len());
        for (lane, _) in stayed.iter().enumerate().filter(|(_, stayed)| **stayed) {
            taken.extend(rows.iter().map(|row| row[lane]));
        }
        (stayed, taken)
    }
}

/// Puts samples into a block's lanes: at once where they stand in a row.
fn draw(samples: &Samples<'_>, numbers: &[usize], block: &mut Block<'_>) {
    const _: () = assert!(LANES == BLOCK, "a block of lanes takes a block of points");
    if let [first, .., last] = numbers
        && numbers.len() == BLOCK
        && first.is_multiple_of(BLOCK)
        && *last == first + BLOCK - 1
    {
        samples.draw_block(*first, |input, values| {
            for (place, value) in block.input(input).iter_mut().zip(values) {
                *place = *value;
            }
        });
        return;
    }
    for (lane, sample) in numbers.iter().enumerate() {
        samples.draw(*sample, |input, value| {
            if let Some(place) = block.input(input).get_mut(lane) {
                *place = value;
            }
        });
    }
}
