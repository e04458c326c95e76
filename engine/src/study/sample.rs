//! The tape replayed on every sample; a sample that leads the script another way is run, and its path kept.

use super::elsewhere::{Apart, Comparing};
use super::gather::{Asked, Gathering, Refused, Sampled};
use super::judge::Experiment;
use super::path::Path;
use super::readings::{Samples, Uncertain};
use crate::outcome::Outcome;
use crate::tape::{Tape, is_stopped};
use std::ops::Range;

/// Paths that are kept ready; samples beyond are run by the script.
const MOST_PATHS: usize = 64;

/// Samples what is asked, again and again: paths found once are kept.
pub(crate) struct Sampler<'a> {
    experiment: &'a dyn Experiment,
    asked: &'a Asked<'a>,
    /// For each input its value, if no reading moves it.
    known: Vec<Option<f64>>,
    /// The nominal path first.
    paths: Vec<Path>,
    /// Looks at how other paths differ, where that is asked for.
    comparing: Option<Comparing>,
}

/// Takes a sample: its number, and the path with the values of the asked slots, or why the script refuses it.
pub(crate) type Each<'a> = dyn FnMut(usize, Result<(&Path, &[f64]), &Refused>) + 'a;

/// What becomes of a sample.
#[derive(Clone)]
enum Drawn {
    /// Nobody has looked yet, or the calculation was stopped.
    Open,
    /// The path that it is on, and where its asked numbers start among those of that path.
    On(usize, usize),
    /// The script refuses it.
    Refused(Refused),
}

/// The samples of one call.
struct Part {
    start: usize,
    drawn: Vec<Drawn>,
    /// For each path the asked numbers of its samples, one after the other.
    taken: Vec<Vec<f64>>,
}

impl Part {
    /// Keeps the asked numbers of samples on a path; gives where they start.
    fn keep(&mut self, path: usize, taken: Vec<f64>) -> usize {
        if self.taken.len() <= path {
            self.taken.resize(path + 1, Vec::new());
        }
        let kept = &mut self.taken[path];
        let at = kept.len();
        if kept.is_empty() {
            *kept = taken;
        } else {
            kept.extend(taken);
        }
        at
    }
}

impl<'a> Sampler<'a> {
    /// For readings that move these inputs and no others.
    pub(crate) fn new(
        experiment: &'a dyn Experiment,
        outcomes: &[Outcome],
        asked: &'a Asked<'a>,
        readings: &[Uncertain],
    ) -> Self {
        let tape = asked.tape;
        let nominal = tape.inputs.iter().map(|slot| tape.nominal.get(*slot as usize).copied());
        let mut known: Vec<Option<f64>> = nominal.collect();
        for reading in readings {
            if let Some(moves) = known.get_mut(reading.input) {
                *moves = None;
            }
        }
        let mut path = Path::new(tape, outcomes, asked, Apart::default());
        path.keep(tape, &known);
        Self {
            experiment,
            asked,
            known,
            paths: vec![path],
            comparing: None,
        }
    }

    /// Looks out for checks that these outcomes, the nominal ones, do not have.
    pub(crate) fn look_round(&mut self, nominal: &[Outcome]) {
        self.comparing = Some(Comparing::new(nominal));
    }

    /// Calculates every sample of these readings, along paths that are known where it can, else by the script.
    pub(crate) fn sample(&mut self, readings: &[Uncertain], count: usize) -> Sampled {
        let samples = Samples::new(readings, self.asked.tape, count);
        let mut gathering = Gathering::new(self.asked);
        self.each(&samples, 0..count, &mut |_, drawn| {
            match drawn {
                Ok((path, values)) => gathering.take(path, values),
                Err(refused) => gathering.refuse(refused),
            }
            gathering.sampled.count += 1;
        });
        gathering.sampled
    }

    /// Calculates some of the samples and hands them over in their order: the path of each and the values of the asked
    /// slots, or what the script says in refusing it. What was stopped is left out.
    pub(crate) fn each(&mut self, samples: &Samples<'_>, numbers: Range<usize>, each: &mut Each<'_>) {
        let start = numbers.start;
        let mut part = Part {
            start,
            drawn: vec![Drawn::Open; numbers.len()],
            taken: Vec::new(),
        };
        let mut open: Vec<usize> = numbers.collect();
        for path in 0..self.paths.len() {
            open = self.replay(path, samples, open, &mut part);
        }
        while !open.is_empty() && !is_stopped() {
            open = self.explore(samples, open, &mut part);
        }
        let mut values = Vec::new();
        for (place, sample) in part.drawn.iter().enumerate() {
            match sample {
                Drawn::Open => {}
                Drawn::On(number, at) => {
                    let path = &self.paths[*number];
                    path.put(&part.taken[*number][*at..*at + path.width()], &mut values);
                    each(start + place, Ok((path, &values)));
                }
                Drawn::Refused(refused) => each(start + place, Err(refused)),
            }
        }
        self.paths.truncate(1 + MOST_PATHS);
    }

    /// Replays samples along a path; gives those that leave it.
    fn replay(&self, path: usize, samples: &Samples<'_>, open: Vec<usize>, part: &mut Part) -> Vec<usize> {
        let (stayed, taken) = self.paths[path].replay(samples, &open);
        let width = self.paths[path].width();
        let mut at = part.keep(path, taken);
        let mut left = Vec::new();
        for (sample, stayed) in open.into_iter().zip(stayed) {
            if stayed {
                part.drawn[sample - part.start] = Drawn::On(path, at);
                at += width;
            } else {
                left.push(sample);
            }
        }
        left
    }

    /// Runs the script for the first open sample, and replays the others along the path that it takes; gives those that are
    /// open still.
    fn explore(&mut self, samples: &Samples<'_>, mut open: Vec<usize>, part: &mut Part) -> Vec<usize> {
        let first = open.remove(0);
        let (tape, outcomes) = match self.experiment.run(&samples.inputs(first)) {
            Ok(ran) => ran,
            Err(diagnostic) => {
                part.drawn[first - part.start] = Drawn::Refused(Refused::of(&diagnostic));
                return open;
            }
        };
        let number = self.paths.len();
        let taken = self.add(&tape, &outcomes);
        part.drawn[first - part.start] = Drawn::On(number, part.keep(number, taken));
        self.replay(number, samples, open, part)
    }

    fn add(&mut self, tape: &Tape, outcomes: &[Outcome]) -> Vec<f64> {
        let comparing = self.comparing.as_mut();
        let apart = comparing.map(|comparing| comparing.apart(tape, outcomes));
        let mut path = Path::new(tape, outcomes, self.asked, apart.unwrap_or_default());
        let taken = path.taken(&tape.nominal);
        if self.paths.len() <= MOST_PATHS {
            path.keep(tape, &self.known);
        }
        self.paths.push(path);
        taken
    }
}
