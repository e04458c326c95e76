//! The readings that have a ±, and samples of them.

use crate::kernel;
use crate::kernel::sobol::BLOCK;
use crate::outcome::{Input, Origin, Outcome, Part, Spread};
use crate::script::standard;
use crate::tape::Tape;

/// Seed of the points on which every run is sampled: fixed, so that the same readings give the same verdicts. Of the
/// seeds from 1 to 1,500 the one whose 1,024 points err least in chances and 95 % intervals of sums of 2 to 24 normal
/// readings (a chance of 2.5 % by 0.4 % at the worst, one of 11 % by 0.9 %).
pub(super) const SEED: u64 = 851;

/// A reading with a ±.
#[derive(Clone, Debug)]
pub(crate) struct Uncertain {
    /// `front_joint.x`
    pub(crate) address: String,
    /// Which input of the tape.
    pub(crate) input: usize,
    pub(crate) nominal: f64,
    pub(crate) spread: Spread,
    /// Whether it is taken on trust: nobody can measure it again.
    pub(crate) assumed: bool,
}

impl Uncertain {
    /// An input without a ±, which a study moves.
    pub(crate) fn exact(input: usize) -> Self {
        Self {
            address: String::new(),
            input,
            nominal: 0.0,
            spread: Spread::Exact,
            assumed: false,
        }
    }

    /// The same without its ±.
    pub(crate) fn without_spread(&self) -> Self {
        Self {
            spread: Spread::Exact,
            ..self.clone()
        }
    }

    /// Its standard uncertainty.
    pub(crate) fn standard(&self) -> f64 {
        standard(&self.spread)
    }

    /// How many sample coordinates it takes: repeats have their own scatter beside the instrument's limits.
    fn coordinates(&self) -> usize {
        match self.spread {
            Spread::Repeats { .. } => 2,
            _ => 1,
        }
    }

    /// The same with its ± multiplied.
    pub(crate) fn scaled(&self, factor: f64) -> Self {
        let spread = match self.spread {
            Spread::Exact => Spread::Exact,
            Spread::Limits(width) => Spread::Limits(width * factor),
            Spread::Standard(width) => Spread::Standard(width * factor),
            Spread::Repeats {
                mean_scatter,
                freedoms,
                limits,
            } => Spread::Repeats {
                mean_scatter: mean_scatter * factor,
                freedoms,
                limits: limits * factor,
            },
        };
        Self { spread, ..self.clone() }
    }

    /// Its value for coordinates from 0 to 1: JCGM 101:2008, 6.4.2 (limits), 6.4.7 (normal), 6.4.9 (t, repeats).
    fn drawn(&self, coordinates: [f64; 2]) -> f64 {
        self.nominal
            + match self.spread {
                Spread::Exact => 0.0,
                Spread::Limits(width) => width * (2.0 * coordinates[0] - 1.0),
                Spread::Standard(width) => width * kernel::normal_quantile(coordinates[0]),
                Spread::Repeats {
                    mean_scatter,
                    freedoms,
                    limits,
                } => {
                    mean_scatter * kernel::student_quantile(coordinates[0], freedoms)
                        + limits * (2.0 * coordinates[1] - 1.0)
                }
            }
    }
}

/// The readings of a job's runs that have a ±, each once, in the order of the tape's inputs.
pub(crate) fn uncertain<'a>(outcomes: impl Iterator<Item = &'a Outcome>, tape: &Tape) -> Vec<Uncertain> {
    let inputs = outcomes.flat_map(|outcome| &outcome.inputs);
    let of_input = |input: &'a Input| input.parts.iter().map(|part| of_part(input, part, tape));
    let mut found: Vec<Uncertain> = inputs
        .flat_map(of_input)
        .filter(|found| found.standard() > 0.0)
        .collect();
    found.sort_by_key(|uncertain| uncertain.input);
    found.dedup_by_key(|uncertain| uncertain.input);
    found
}

fn of_part(input: &Input, part: &Part, tape: &Tape) -> Uncertain {
    Uncertain {
        address: part.address.clone(),
        input: part.input,
        nominal: tape.nominal.get(part.slot as usize).copied().unwrap_or(0.0),
        spread: part.spread,
        assumed: input.origin == Origin::Assumed,
    }
}

/// Samples: for each, the value of every input of the tape.
pub(crate) struct Samples<'a> {
    readings: &'a [Uncertain],
    nominal: Vec<f64>,
    points: kernel::sobol::Points,
}

impl<'a> Samples<'a> {
    /// The samples of every run.
    pub(crate) fn new(readings: &'a [Uncertain], tape: &Tape, count: usize) -> Self {
        Self::seeded(readings, tape, count, SEED)
    }

    /// Others: the same for the same seed.
    pub(crate) fn seeded(readings: &'a [Uncertain], tape: &Tape, count: usize, seed: u64) -> Self {
        let dimensions = readings.iter().map(Uncertain::coordinates).sum();
        let nominal = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
        Self {
            readings,
            nominal,
            points: kernel::sobol::points(dimensions, count, seed),
        }
    }

    /// Every input of the tape in one sample.
    pub(crate) fn inputs(&self, sample: usize) -> Vec<f64> {
        let mut inputs = self.nominal.clone();
        self.draw(sample, |input, value| inputs[input] = value);
        inputs
    }

    /// Hands each reading's values in the block of samples that starts with this one to `each`, by the number of its input.
    pub(crate) fn draw_block(&self, first: usize, mut each: impl FnMut(usize, &[f64; BLOCK])) {
        let mut dimension = 0;
        let (mut values, mut others) = ([0.5; BLOCK], [0.5; BLOCK]);
        for reading in self.readings {
            let taken = reading.coordinates();
            if let Spread::Limits(width) = reading.spread {
                // All at once, as most readings are.
                self.points
                    .between(first, dimension, [reading.nominal, width], &mut values);
            } else {
                self.points.coordinates(first, dimension, &mut values);
                if taken == 2 {
                    self.points.coordinates(first, dimension + 1, &mut others);
                }
                for (value, other) in values.iter_mut().zip(&others) {
                    *value = reading.drawn([*value, *other]);
                }
            }
            each(reading.input, &values);
            dimension += taken;
        }
    }

    /// Hands each reading's value in one sample to `each`, by the number of its input.
    pub(crate) fn draw(&self, sample: usize, mut each: impl FnMut(usize, f64)) {
        let mut dimension = 0;
        for reading in self.readings {
            let taken = reading.coordinates();
            let first = self.points.coordinate(sample, dimension);
            let second = if taken == 2 {
                self.points.coordinate(sample, dimension + 1)
            } else {
                0.5
            };
            each(reading.input, reading.drawn([first, second]));
            dimension += taken;
        }
    }
}

/// What all samples together may cost, in simple operations: a few seconds.
const MOST_WORK: u64 = 6_000_000_000;

/// How many samples: 1,024, on a costly tape down to 64, by the tape alone.
pub(crate) fn sample_count(tape: &Tape) -> usize {
    affordable(tape, 1)
}

/// How many samples at each of so many points: 1,024 where they cost little, down to 64, by the tape alone.
pub(crate) fn affordable(tape: &Tape, points: usize) -> usize {
    let affordable = MOST_WORK / tape.cost().max(1) / (points.max(1) as u64);
    let mut count = 1024;
    while count > 64 && count as u64 > affordable {
        count /= 2;
    }
    count
}
