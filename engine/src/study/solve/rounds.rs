//! Searches from many starts, and again where they come upon checks that they did not know.

use super::known::Known;
use super::problem::{Problem, Request};
use super::search::{Ended, ended, search};
use super::solution::{ALIKE, Solution, Solved, is_good, solution};
use crate::diagnostic::Diagnostic;
use crate::kernel;
use crate::kernel::sobol;
use crate::outcome::Outcome;
use crate::study::gather::Asked;
use crate::study::judge::Experiment;
use crate::tape::{Tape, is_stopped};

/// Searches for each adjusted input; solutions far from all starts may be missed.
const STARTS: usize = 16;
const MOST_STARTS: usize = 64;
const SEED: u64 = 851;
/// Searches over again, each with the checks that the one before came upon.
const MOST_ROUNDS: usize = 4;
/// Places nearer than this part of the range are one.
const ONE_PLACE: f64 = 1e-3;
/// The same where margins come from samples, which move in small jumps.
const ONE_PLACE_OF_SAMPLES: f64 = 0.05;
const ALIKE_OF_SAMPLES: f64 = 0.02;
const MOST_SOLUTIONS: usize = 8;

/// Searches for what is wanted, from the middle, from where the inputs are, and from points spread over the range; again
/// where a search comes upon checks of another branch that it did not know to go by.
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
    let (tape, outcomes) = middle
        .as_ref()
        .map_or(first, |(tape, outcomes)| (tape, outcomes.as_slice()));
    let mut known = Known::new(request);
    known.meet(tape, outcomes);
    let mut round = 0;
    loop {
        round += 1;
        let tests = known.tests();
        let asked = Asked {
            tape,
            amounts: &[],
            tests: &tests,
            sides: true,
            curves: false,
        };
        let mut problem = Problem::new(experiment, outcomes, request, &asked, known);
        let (ends, searched) = searched(&mut problem);
        let has_met_more = problem.steered_by_checks && problem.ground.known.leading().len() > tests.len();
        if has_met_more && round < MOST_ROUNDS && !is_stopped() {
            known = problem.known();
            continue;
        }
        let solutions = ends
            .into_iter()
            .map(|end| solution(experiment, &mut problem, end, in_job));
        let solutions = solutions.collect::<Result<Vec<Solution>, Diagnostic>>()?;
        let known = problem.known();
        return Ok(Solved {
            solutions,
            checks: known.leading().len(),
            beside: known.beside(),
            ..searched
        });
    }
}

/// Searches once from every start: the ends worth showing, the best first, and from how many starts.
fn searched(problem: &mut Problem<'_>) -> (Vec<Ended>, Solved) {
    let starts = starts(problem);
    let mut solved = Solved {
        starts: starts.len(),
        ..Solved::default()
    };
    let weights = problem.weights;
    let mut ends: Vec<Ended> = Vec::new();
    for start in &starts {
        if is_stopped() {
            break;
        }
        match search(problem, start, weights) {
            Some(end) => keep(problem, &mut ends, end),
            None => solved.refused += 1,
        }
    }
    ends.sort_by(|a, b| b.merit.total_cmp(&a.merit));
    let good = ends.iter().filter(|end| is_good(end, problem.request)).count();
    ends.truncate(good.clamp(1, MOST_SOLUTIONS));
    (ends, solved)
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
