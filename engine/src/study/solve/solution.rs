//! From searches to solutions: each kind once, the best first, judged as a run is.

use super::problem::{Problem, Request, moving_checks};
use super::search::{Ended, ended, search};
use crate::diagnostic::Diagnostic;
use crate::kernel;
use crate::kernel::sobol;
use crate::outcome::Outcome;
use crate::study::gather::Asked;
use crate::study::judge::{Experiment, Judged, judge};
use crate::study::lanes::CheckKey;
use crate::tape::{Tape, is_stopped};

/// Searches for each adjusted input; solutions far from all starts may be missed.
const STARTS: usize = 16;
const MOST_STARTS: usize = 64;
const SEED: u64 = 851;
/// A target is met where it is missed by less than this part of its size.
const MET: f64 = 1e-7;
/// Places nearer than this part of the range are one.
const ONE_PLACE: f64 = 1e-3;
/// Margins that differ by less than this are alike.
const ALIKE: f64 = 1e-5;
/// The same where margins come from samples, which move in small jumps.
const ONE_PLACE_OF_SAMPLES: f64 = 0.05;
const ALIKE_OF_SAMPLES: f64 = 0.02;
const MOST_SOLUTIONS: usize = 8;

/// A place where what was wanted is had, or as nearly as it can be.
#[derive(Clone, Debug)]
pub struct Solution {
    /// Values of the adjusted inputs, SI units.
    pub at: Vec<f64>,
    /// The smallest margin of the checks that move, each over its limit; none where none moves.
    pub margin: Option<f64>,
    /// What keeps the margin from being larger, or the targets from being met.
    pub binding: Vec<Binding>,
    /// Whether it has what was wanted.
    pub good: bool,
    /// Whether the targets are met, as near as what exists allows.
    pub met: bool,
    /// By how much each target is missed, SI units: its value there less the one wanted.
    pub misses: Vec<f64>,
    /// The checks that depend on what was adjusted: run, and place among the run's checks.
    pub moved: Vec<(usize, usize)>,
    /// The tape there.
    pub tape: Tape,
    /// What the runs yield there.
    pub outcomes: Vec<Outcome>,
    /// How they are judged.
    pub judged: Judged,
}

/// What holds a solution where it is.
#[derive(Clone, Debug, PartialEq)]
pub enum Binding {
    /// A check: its run and its place among the run's checks.
    Check {
        /// The run's number.
        run: usize,
        /// Its number among the run's checks.
        check: usize,
    },
    /// An adjusted input, by its number, at its lowest.
    Lowest(usize),
    /// At its highest.
    Highest(usize),
}

/// Everything found.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    /// Distinct solutions, the best first.
    pub solutions: Vec<Solution>,
    /// From how many places it was searched.
    pub starts: usize,
    /// From how many of them the script could not be run.
    pub refused: usize,
    /// How many checks move with what is adjusted.
    pub checks: usize,
}

/// Searches for what is wanted, from the middle, from where the inputs are, and from points spread over the range.
///
/// A solution is kept once: places between which the merit does not fall are one. Where nothing meets what is wanted, the
/// one place is given that comes nearest.
///
/// # Errors
/// Where the script refuses a solution for another reason than a search sees.
pub fn solve(
    experiment: &dyn Experiment,
    first: (&Tape, &[Outcome]),
    request: &Request,
    in_job: bool,
) -> Result<Solved, Diagnostic> {
    // The middle of the ranges is a better place to take sizes from than a corner.
    let middle = middle(first.0, request);
    let middle = experiment.run(&middle).ok();
    let first = middle
        .as_ref()
        .map_or(first, |(tape, outcomes)| (tape, outcomes.as_slice()));
    let (tape, outcomes) = first;
    let tests = moving_checks(tape, outcomes, request);
    let asked = Asked {
        tape,
        amounts: &[],
        tests: &tests,
        sides: true,
    };
    let mut problem = Problem::new(experiment, outcomes, request, &asked);
    let starts = starts(&problem);
    let mut solved = Solved {
        starts: starts.len(),
        checks: problem.checks.len(),
        ..Solved::default()
    };
    let weights = problem.weights;
    let mut ends: Vec<Ended> = Vec::new();
    for start in &starts {
        if is_stopped() {
            break;
        }
        match search(&mut problem, start, weights) {
            Some(end) => keep(&mut problem, &mut ends, end),
            None => solved.refused += 1,
        }
    }
    ends.sort_by(|a, b| b.merit.total_cmp(&a.merit));
    let good = ends.iter().filter(|end| is_good(end, request)).count();
    ends.truncate(good.clamp(1, MOST_SOLUTIONS));
    for end in ends {
        let met = is_met(&end);
        let end = snapped(&mut problem, end);
        // What exists misses a target by a little that nobody can help.
        let good = if request.targets.is_empty() {
            is_good(&end, request)
        } else {
            met
        };
        let mut solution = solution(experiment, &mut problem, &end, in_job)?;
        (solution.good, solution.met) = (good, met);
        solved.solutions.push(solution);
    }
    Ok(solved)
}

/// All inputs, the adjusted ones in the middle of their ranges.
fn middle(tape: &Tape, request: &Request) -> Vec<f64> {
    let mut inputs: Vec<f64> = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
    for adjusted in &request.adjusted {
        if let Some(place) = inputs.get_mut(adjusted.input) {
            *place = (adjusted.low + adjusted.high) / 2.0;
        }
    }
    inputs
}

fn starts(problem: &Problem<'_>) -> Vec<Vec<f64>> {
    let adjusted = &problem.request.adjusted;
    if adjusted.is_empty() {
        return vec![Vec::new()];
    }
    let now: Option<Vec<f64>> = adjusted.iter().map(|adjusted| adjusted.now).collect();
    let now = now.map(|now| problem.scaled(&now));
    let count = (STARTS * adjusted.len()).min(MOST_STARTS);
    let points = sobol::points(adjusted.len(), count, SEED);
    let spread = (0..count).map(|point| (0..adjusted.len()).map(|axis| points.coordinate(point, axis)).collect());
    now.into_iter()
        .chain([vec![0.5; adjusted.len()]])
        .chain(spread)
        .collect()
}

/// Keeps an end unless it is one that is known; of two that are one the better.
fn keep(problem: &mut Problem<'_>, ends: &mut Vec<Ended>, end: Ended) {
    match ends.iter().position(|known| are_one(problem, known, &end)) {
        Some(same) if ends[same].merit < end.merit => ends[same] = end,
        Some(_) => {}
        None => ends.push(end),
    }
}

/// Whether the merit does not fall between two ends.
fn are_one(problem: &mut Problem<'_>, one: &Ended, other: &Ended) -> bool {
    let (one_place, alike) = if problem.request.robust {
        (ONE_PLACE_OF_SAMPLES, ALIKE_OF_SAMPLES)
    } else {
        (ONE_PLACE, ALIKE)
    };
    let apart = one
        .scaled
        .iter()
        .zip(&other.scaled)
        .fold(0.0, |most, (a, b)| kernel::max(most, (a - b).abs()));
    if apart < one_place {
        return true;
    }
    let lower = kernel::min(one.merit, other.merit);
    let slack = alike * (1.0 + lower.abs());
    let weights = problem.weights;
    [0.25, 0.5, 0.75].into_iter().all(|share| {
        let between = one
            .scaled
            .iter()
            .zip(&other.scaled)
            .map(|(a, b)| a + share * (b - a))
            .collect();
        ended(problem, between, weights).is_some_and(|between| between.merit >= lower - slack)
    })
}

/// Whether it has what was wanted: targets met, checks held where they steer.
fn is_good(end: &Ended, request: &Request) -> bool {
    let met = is_met(end);
    let holds = end.found.margins.iter().all(|margin| margin.value >= -ALIKE);
    if request.targets.is_empty() { met && holds } else { met }
}

fn is_met(end: &Ended) -> bool {
    end.found.misses.iter().all(|miss| miss.value.abs() <= MET)
}

/// The best place among the neighbours that exist.
fn snapped(problem: &mut Problem<'_>, end: Ended) -> Ended {
    let sizes: Vec<Option<f64>> = problem.request.adjusted.iter().map(|adjusted| adjusted.snap).collect();
    if sizes.iter().all(Option::is_none) {
        return end;
    }
    let values = problem.values(&end.scaled);
    let mut places = vec![values.clone()];
    for (axis, size) in sizes.iter().enumerate() {
        let Some(size) = size else { continue };
        let below = kernel::floor(values[axis] / size) * size;
        let adjusted = &problem.request.adjusted[axis];
        let near = [below, below + size].into_iter();
        let near: Vec<f64> = near
            .filter(|value| *value >= adjusted.low - 1e-9 * size && *value <= adjusted.high + 1e-9 * size)
            .collect();
        places = places
            .iter()
            .flat_map(|place| {
                near.iter().map(|value| {
                    let mut place = place.clone();
                    place[axis] = *value;
                    place
                })
            })
            .collect();
    }
    let weights = problem.weights;
    let tried = places.iter().filter_map(|place| {
        let scaled = problem.scaled(place);
        ended(problem, scaled, weights)
    });
    let best = tried.max_by(|a, b| a.merit.total_cmp(&b.merit));
    best.unwrap_or(end)
}

fn solution(
    experiment: &dyn Experiment,
    problem: &mut Problem<'_>,
    end: &Ended,
    in_job: bool,
) -> Result<Solution, Diagnostic> {
    let (tape, outcomes) = experiment.run_to_be_read(&problem.inputs(&end.scaled))?;
    let judged = judge(experiment, &tape, &outcomes, in_job);
    let margins = problem.margins(&end.scaled).unwrap_or_default();
    let margin = margins.iter().flatten().copied().reduce(kernel::min);
    let mut binding = Vec::new();
    for (key, found) in problem.checks.iter().zip(&margins) {
        let near = |margin: f64, found: f64| found <= margin + ALIKE * (1.0 + margin.abs());
        if let (Some(margin), Some(found)) = (margin, found)
            && near(margin, *found)
            && let Some((run, check)) = place_of(&outcomes, key)
        {
            binding.push(Binding::Check { run, check });
        }
    }
    for (number, scaled) in end.scaled.iter().enumerate() {
        if *scaled <= MET {
            binding.push(Binding::Lowest(number));
        } else if *scaled >= 1.0 - MET {
            binding.push(Binding::Highest(number));
        }
    }
    Ok(Solution {
        at: problem.values(&end.scaled),
        margin,
        binding,
        good: is_good(end, problem.request),
        met: is_met(end),
        misses: problem.misses(&end.found),
        moved: problem
            .checks
            .iter()
            .filter_map(|key| place_of(&outcomes, key))
            .collect(),
        tape,
        outcomes,
        judged,
    })
}

/// Where a check stands among those of its run.
fn place_of(outcomes: &[Outcome], (run, formula, nth): &CheckKey) -> Option<(usize, usize)> {
    let checks = outcomes.get(*run)?.checks.iter().enumerate();
    let mut same = checks.filter(|(_, check)| check.formula == *formula);
    let (check, _) = same.nth(*nth)?;
    Some((*run, check))
}
