//! Samples drawn in parts, each number and check followed through them (JCGM 101:2008, clause 7).

use super::moments::Moments;
use super::quantiles::{KEPT, Quantiles};
use super::shares::{ByCell, cell};
use crate::diagnostic::Refusal;
use crate::kernel::sobol::BLOCK;
use crate::outcome::Outcome;
use crate::study::elsewhere::{Elsewhere, ElsewhereCheck, Met};
use crate::study::gather::{Asked, Refused, Tally, Uncounted, moved};
use crate::study::interval::Interval;
use crate::study::judge::{Experiment, Judged, JudgedCheck};
use crate::study::lanes::{CheckKey, Key, TestLane, Watched, amounts, tests};
use crate::study::path::Path;
use crate::study::readings::{Samples, Uncertain, uncertain};
use crate::study::sample::Sampler;
use crate::study::verdict::Verdict;
use crate::tape::batch::{every_core, in_blocks};
use crate::tape::{Tape, is_stopped};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

/// Samples of one part: what is held in memory at once.
const PART: usize = 1 << 13;
/// Values of all numbers that are kept for their quantiles: more than a gigabyte and a half of them is no honest job.
const MOST_KEPT: usize = 200_000_000;

/// How many samples, and which.
#[derive(Clone, Copy, Debug)]
pub struct SpreadRequest {
    /// How many.
    pub samples: usize,
    /// The same seed draws the same samples.
    pub seed: u64,
}

/// What the ± does to everything.
#[derive(Clone, Debug, Default)]
pub struct Spread {
    /// How many samples were drawn.
    pub samples: usize,
    /// The numbers of the steps that move.
    pub numbers: Vec<SpreadNumber>,
    /// The checks, in order: run, and number among the run's checks, with how often they hold.
    pub checks: Vec<SpreadCheck>,
    /// Samples that cannot be calculated: why, and how many.
    pub uncounted: Vec<Uncounted>,
    /// Checks that the readings as they are do not lead to, but other samples do; in what share of those that can be
    /// calculated steps are there that are not there in all.
    elsewhere: Vec<ElsewhereCheck>,
    present: BTreeMap<Key, f64>,
}

/// What the ± does to one number, SI units.
#[derive(Clone, Debug, PartialEq)]
pub struct SpreadNumber {
    /// Which number.
    pub key: Key,
    /// In how many samples it is there.
    pub present: u64,
    /// The mean of the samples.
    pub mean: f64,
    /// Their standard deviation: the standard uncertainty (JCGM 101:2008, 7.6).
    pub std_dev: f64,
    /// Below it lie 2.5 %, …
    pub low: f64,
    /// … half, …
    pub median: f64,
    /// … and 97.5 % of the samples.
    pub high: f64,
    /// Whether the three are exact; of very many samples they come from counts in narrow cells.
    pub exact: bool,
    /// Each reading's share of the variance, largest first; readings that act through one another leave a rest.
    pub shares: Vec<(String, f64)>,
}

/// How often a check holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadCheck {
    /// Its run.
    pub run: usize,
    /// Its number among the run's checks.
    pub check: usize,
    /// In how many samples it is there, counting as broken where nothing can be calculated.
    pub present: u64,
    /// In how many it holds.
    pub holding: u64,
}

impl SpreadNumber {
    /// The same as an interval of a run.
    #[must_use]
    pub fn interval(&self) -> Interval {
        Interval {
            std_uncertainty: self.std_dev,
            low: self.low,
            median: self.median,
            high: self.high,
            present: usize::try_from(self.present).unwrap_or(usize::MAX),
        }
    }
}

impl SpreadCheck {
    /// The share of samples in which it holds.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
    pub fn chance(&self) -> f64 {
        if self.present == 0 {
            return 0.0;
        }
        self.holding as f64 / self.present as f64
    }
}

/// Draws the samples, in parts; `progress` is told after each how many are done.
///
/// Nothing depends on how many threads there are: parts are gathered in their order.
///
/// # Errors
/// More numbers with so many samples than memory should be asked for.
pub fn spread(
    experiment: &dyn Experiment,
    (tape, outcomes): (&Tape, &[Outcome]),
    request: SpreadRequest,
    progress: &mut dyn FnMut(usize),
) -> Result<Spread, Refusal> {
    let readings = uncertain(outcomes.iter(), tape);
    let (amounts, tests) = (amounts(outcomes.iter()), tests(outcomes.iter()));
    fits(amounts.len(), request.samples)?;
    let asked = Asked {
        tape,
        amounts: &amounts,
        tests: &tests,
        sides: false,
        curves: false,
    };
    let mut following = Following::new(&asked, &readings, outcomes);
    if readings.is_empty() {
        return Ok(following.spread);
    }
    let mut sampler = Sampler::new(experiment, outcomes, &asked, &readings);
    sampler.look_round(outcomes);
    let samples = Samples::seeded(&readings, tape, request.samples, request.seed);
    let mut done = 0;
    while done < request.samples && !is_stopped() {
        let part = done..(done + PART).min(request.samples);
        done = part.end;
        following.part(&mut sampler, &samples, part);
        progress(done);
    }
    Ok(following.finished())
}

/// Refuses more numbers than may be kept, each with as many samples as its quantiles keep.
fn fits(numbers: usize, samples: usize) -> Result<(), Refusal> {
    let each = MOST_KEPT / numbers.max(1);
    if samples.min(KEPT) <= each {
        return Ok(());
    }
    let message = format!("{numbers} numbers with {samples} samples each take more memory than a spread may");
    Err(Refusal::new("limit", message).hint(format!("--samples {}", each.max(1))))
}

/// Everything that is followed through the samples.
struct Following<'a> {
    asked: &'a Asked<'a>,
    readings: &'a [Uncertain],
    numbers: Vec<Number>,
    spread: Spread,
    /// Values of one part, by number and sample: NaN where it is not there.
    values: Vec<Vec<f64>>,
    /// In which cell each reading lies in the same samples.
    cells: Vec<Vec<u8>>,
    elsewhere: Elsewhere,
}

/// One number that is followed.
#[derive(Clone)]
struct Number {
    moments: Moments,
    quantiles: Quantiles,
    by_reading: Vec<ByCell>,
    /// Near all its values: sums are of what lies beside it.
    about: f64,
}

impl<'a> Following<'a> {
    fn new(asked: &'a Asked<'a>, readings: &'a [Uncertain], outcomes: &[Outcome]) -> Self {
        let number = |(_, watched): &(Key, Watched)| Number {
            moments: Moments::default(),
            quantiles: Quantiles::default(),
            by_reading: vec![ByCell::default(); readings.len()],
            about: watched.value(&asked.tape.nominal),
        };
        let mut next = vec![0; outcomes.len()];
        let check = |((run, ..), _): &(CheckKey, TestLane)| {
            let check = SpreadCheck {
                run: *run,
                check: next[*run],
                present: 0,
                holding: 0,
            };
            next[*run] += 1;
            check
        };
        Self {
            asked,
            readings,
            numbers: asked.amounts.iter().map(number).collect(),
            spread: Spread {
                checks: asked.tests.iter().map(check).collect(),
                ..Spread::default()
            },
            values: vec![Vec::new(); asked.amounts.len()],
            cells: vec![Vec::new(); readings.len()],
            elsewhere: Elsewhere::default(),
        }
    }

    fn part(&mut self, sampler: &mut Sampler<'_>, samples: &Samples<'_>, part: std::ops::Range<usize>) {
        let (first, count) = (part.start, part.len());
        for values in &mut self.values {
            values.clear();
            values.resize(count, f64::NAN);
        }
        self.look(samples, part.clone());
        sampler.each(samples, part, &mut |sample, drawn| {
            self.spread.samples += 1;
            match drawn {
                Ok((path, values)) => self.take(path, values, sample - first),
                Err(refused) => self.refuse(refused),
            }
        });
        // Each number for itself: it does not matter which thread follows it.
        let numbers: Vec<Mutex<&mut Number>> = self.numbers.iter_mut().map(Mutex::new).collect();
        let (values, cells) = (&self.values, &self.cells);
        let follow = |(): &mut (), place: usize| {
            if let Ok(mut number) = numbers[place].lock() {
                number.take(&values[place], cells);
            }
        };
        in_blocks(numbers.len(), every_core(), || (), follow);
    }

    /// In which cell each reading lies in each sample.
    fn look(&mut self, samples: &Samples<'_>, part: std::ops::Range<usize>) {
        let readings = self.readings;
        let blocks = part.len().div_ceil(BLOCK);
        let look = |(): &mut (), block: usize| {
            let mut cells = Vec::with_capacity(readings.len() * BLOCK);
            let mut next = readings.iter();
            samples.draw_block(part.start + block * BLOCK, |_, values| {
                if let Some(reading) = next.next() {
                    let cell = |value: &f64| cell((value - reading.nominal) / reading.standard());
                    cells.extend(values.iter().map(cell));
                }
            });
            cells
        };
        self.cells.iter_mut().for_each(Vec::clear);
        for drawn in in_blocks(blocks, every_core(), || (), look) {
            for (cells, drawn) in self.cells.iter_mut().zip(drawn.chunks(BLOCK)) {
                cells.extend_from_slice(drawn);
            }
        }
    }

    fn take(&mut self, path: &Path, values: &[f64], sample: usize) {
        let nominal = &self.asked.tape.nominal;
        self.elsewhere.take(&path.apart, values, false);
        for (place, (_, watched)) in self.asked.amounts.iter().enumerate() {
            let value = path.amounts[place].and_then(|here| moved(here, *watched, values, nominal));
            if let Some(value) = value {
                self.values[place][sample] = value;
            }
        }
        for (check, test) in self.spread.checks.iter_mut().zip(&path.tests) {
            let Some(test) = test else { continue };
            check.present += 1;
            check.holding += u64::from(test.holds(values));
        }
    }

    /// A sample that cannot be calculated counts its checks as not holding.
    fn refuse(&mut self, refused: &Refused) {
        for check in &mut self.spread.checks {
            check.present += 1;
        }
        Uncounted::count(&mut self.spread.uncounted, refused);
    }

    fn finished(mut self) -> Spread {
        for ((key, _), number) in self.asked.amounts.iter().zip(self.numbers) {
            if let Some(found) = number.finished(key, self.readings) {
                self.spread.numbers.push(found);
            }
        }
        let tally = self.spread.tally();
        self.spread.present = tally.shares(&self.elsewhere.lacking);
        let found = self.elsewhere.found.iter();
        self.spread.elsewhere = found
            .map(|counted| elsewhere(&counted.met, tally, counted.there, counted.holding))
            .collect();
        self.spread
    }
}

impl Number {
    /// Takes the values of one part, and in which cell each reading lies beside each of them.
    fn take(&mut self, values: &[f64], cells: &[Vec<u8>]) {
        let there: Vec<f64>;
        let present = if values.iter().any(|value| value.is_nan()) {
            there = values.iter().copied().filter(|value| !value.is_nan()).collect();
            &there
        } else {
            values
        };
        self.moments = self.moments.and(Moments::of(present));
        self.quantiles.take(present);
        for (by_cell, cells) in self.by_reading.iter_mut().zip(cells) {
            for (value, cell) in values.iter().zip(cells).filter(|(value, _)| !value.is_nan()) {
                by_cell.take(*cell, value - self.about);
            }
        }
    }

    /// None of one that does not move.
    fn finished(mut self, key: &Key, readings: &[Uncertain]) -> Option<SpreadNumber> {
        let exact = self.quantiles.is_exact();
        let [least, low, median, high, most] = self.quantiles.at([0.0, 0.025, 0.5, 0.975, 1.0])?;
        if least == most {
            return None;
        }
        let share = |(reading, by_cell): (&Uncertain, &ByCell)| {
            (reading.address.clone(), by_cell.share(self.moments, self.about))
        };
        let mut shares: Vec<(String, f64)> = readings.iter().zip(&self.by_reading).map(share).collect();
        shares.retain(|(_, share)| *share > 0.0);
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        Some(SpreadNumber {
            key: key.clone(),
            present: self.moments.count,
            mean: self.moments.mean,
            std_dev: self.moments.deviation(),
            low,
            median,
            high,
            exact,
            shares,
        })
    }
}

/// A check of another way, by its count alone.
fn elsewhere(met: &Arc<Met>, tally: Tally, there: usize, holding: usize) -> ElsewhereCheck {
    let chance = tally.chance(there, holding);
    let judged = JudgedCheck {
        verdict: Verdict::of_chance(chance),
        chance,
        present: tally.present(there),
        margin: None,
        margin_uncertainty: 0.0,
        rests_on: Vec::new(),
        examples: Vec::new(),
        advice: None,
    };
    ElsewhereCheck {
        key: met.key.clone(),
        check: met.check_without_slots(),
        judged,
        met: Arc::clone(met),
    }
}

impl Spread {
    fn tally(&self) -> Tally {
        Tally {
            count: self.samples,
            refused: self.uncounted.iter().map(|uncounted| uncounted.samples).sum(),
        }
    }

    /// What a run's samples said, replaced by what these say: chances and verdicts, intervals.
    #[must_use]
    pub fn judged(&self, before: &Judged) -> Judged {
        let mut judged = before.clone();
        judged.samples = self.samples;
        judged.uncounted.clone_from(&self.uncounted);
        let tally = self.tally();
        for found in &self.checks {
            let run = judged.runs.get_mut(found.run);
            let Some(check) = run.and_then(|run| run.checks.get_mut(found.check)) else {
                continue;
            };
            if self.samples == 0 {
                continue;
            }
            let [there, holding] = [found.present, found.holding].map(|count| usize::try_from(count).unwrap_or(0));
            let there = there.saturating_sub(tally.refused);
            replace(check, tally.chance(there, holding), tally.present(there));
        }
        if self.samples > 0 {
            judged.present.clone_from(&self.present);
        }
        for found in &self.elsewhere {
            let Some(run) = judged.runs.get_mut(found.key.0) else {
                continue;
            };
            match run.elsewhere.iter_mut().find(|known| known.key == found.key) {
                Some(known) => replace(&mut known.judged, found.judged.chance, found.judged.present),
                None => run.elsewhere.push(found.clone()),
            }
        }
        for number in &self.numbers {
            judged.intervals.insert(number.key.clone(), number.interval());
        }
        judged
    }
}

/// What other samples say of a check; what rests on examples or contradictions still does.
fn replace(check: &mut JudgedCheck, chance: f64, present: f64) {
    check.chance = chance;
    check.present = present;
    if matches!(check.verdict, Verdict::Holds | Verdict::Fails | Verdict::Unsure) {
        check.verdict = Verdict::of_chance(chance);
    }
}
