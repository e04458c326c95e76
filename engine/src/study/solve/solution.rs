//! An end of a search as a solution, judged as a run is.

use super::known::Known;
use super::problem::{Problem, Request, inputs};
use super::search::{Ended, ended};
use crate::diagnostic::Diagnostic;
use crate::kernel;
use crate::outcome::{CheckKind, Outcome};
use crate::study::judge::{Experiment, Judged, judge};
use crate::study::lanes::CheckKey;
use crate::tape::Tape;

/// A target is met where it is missed by less than this part of its size.
const MET: f64 = 1e-7;
/// Margins that differ by less than this are alike.
pub(super) const ALIKE: f64 = 1e-5;

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
    /// The checks that depend on what was adjusted: run, and place among the run's checks as
    /// [`crate::study::JudgedRun::all`] has them.
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
        /// Its number among the run's checks, as [`crate::study::JudgedRun::all`] has them.
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
    /// How many checks depend on what is adjusted.
    pub checks: usize,
    /// How many of them are only on other ways through the scripts than the one in the middle of the ranges.
    pub beside: usize,
}

/// An end as a solution: moved to what exists, run and judged there.
pub(super) fn solution(
    experiment: &dyn Experiment,
    problem: &mut Problem<'_>,
    end: Ended,
    in_job: bool,
) -> Result<Solution, Diagnostic> {
    let met = is_met(&end);
    let end = snapped(problem, end);
    // What exists misses a target by a little that nobody can help.
    let good = if problem.request.targets.is_empty() {
        is_good(&end, problem.request)
    } else {
        met
    };
    Ok(Solution {
        good,
        met,
        ..judged(experiment, problem, &end, in_job)?
    })
}

/// Whether it has what was wanted: targets met, checks held where they steer.
pub(super) fn is_good(end: &Ended, request: &Request) -> bool {
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

fn judged(
    experiment: &dyn Experiment,
    problem: &mut Problem<'_>,
    end: &Ended,
    in_job: bool,
) -> Result<Solution, Diagnostic> {
    let (tape, outcomes) = experiment.run_to_be_read(&problem.inputs(&end.scaled))?;
    let judged = judge(experiment, &tape, &outcomes, in_job);
    let margins = problem.margins(&end.scaled);
    let margin = margins.iter().map(|(_, margin)| *margin).reduce(kernel::min);
    let moved = moved(&problem.ground.known, problem.request, (&tape, &outcomes), &judged);
    let mut binding = Vec::new();
    for (number, found) in margins {
        let near = |margin: f64| found <= margin + ALIKE * (1.0 + margin.abs());
        let key = problem.ground.known.key(number);
        if let (Some(margin), Some(key)) = (margin, key)
            && near(margin)
            && let Some((run, check)) = place_of(&outcomes, &judged, key)
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
        moved,
        tape,
        outcomes,
        judged,
    })
}

/// The checks that depend on what was adjusted, those of other ways among the samples too.
fn moved(
    known: &Known,
    request: &Request,
    (tape, outcomes): (&Tape, &[Outcome]),
    judged: &Judged,
) -> Vec<(usize, usize)> {
    let leading = known.leading().into_iter().filter_map(|number| known.key(number));
    let mut moved: Vec<(usize, usize)> = leading.filter_map(|key| place_of(outcomes, judged, key)).collect();
    for (run, found) in judged.runs.iter().enumerate() {
        for (number, check) in found.elsewhere.iter().enumerate() {
            let place = (run, found.checks.len() + number);
            let counts = check.check.kind != CheckKind::Prefer && !request.left_out.contains(&run);
            if counts && !moved.contains(&place) && check.met.depends_on(&inputs(request), tape) {
                moved.push(place);
            }
        }
    }
    moved
}

/// Where a check stands among those of its run, as [`crate::study::JudgedRun::all`] has them.
fn place_of(outcomes: &[Outcome], judged: &Judged, key: &CheckKey) -> Option<(usize, usize)> {
    let (run, formula, nth) = key;
    let checks = outcomes.get(*run)?.checks.iter().enumerate();
    let mut same = checks.filter(|(_, check)| check.formula == *formula);
    if let Some((check, _)) = same.nth(*nth) {
        return Some((*run, check));
    }
    let found = judged.runs.get(*run)?;
    let beside = found.elsewhere.iter().position(|check| check.key == *key)?;
    Some((*run, found.checks.len() + beside))
}
