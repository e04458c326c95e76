//! A pack tried on this machine: whether its worked examples come out, and what its scripts lack to be given to others.

use super::{Desk, FoundPack};
use crate::command::{Proved, proved};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::outcome::Outcome;
use crankline_engine::pack::{Expectation, asks_closely, lacking, read_cases, states_something};
use std::time::{Duration, Instant};

/// More are no examples but mischief.
const MOST_CASES: usize = 1000;
const MOST_TIME: Duration = Duration::from_secs(300);

/// What came of it.
#[derive(Default)]
pub(crate) struct Trial {
    /// How many worked examples there are.
    pub(crate) cases: usize,
    /// Those that do not come out, each in words.
    pub(crate) failing: Vec<String>,
    /// What scripts lack, each in words.
    pub(crate) lacking: Vec<String>,
}

impl Trial {
    /// Runs every script of a pack on its own examples, and all worked examples. The desk sees the pack.
    pub(crate) fn of(pack: &FoundPack, desk: &Desk) -> Result<Self, Diagnostic> {
        let mut trial = Self::default();
        let over = Instant::now() + MOST_TIME * desk.effort;
        for own in pack.scripts() {
            let script = format!("{}/{own}", pack.name());
            let cases = match pack.cases(&own)? {
                Some(text) => read_cases(text)?,
                None => Vec::new(),
            };
            trial.cases += cases.len();
            if trial.cases > MOST_CASES {
                let message = format!("the pack `{}` has more than {MOST_CASES} worked examples", pack.name());
                return Err(Refusal::new("prove", message).into());
            }
            let outcome = match Work::open(&script, desk).and_then(|work| work.ran()) {
                Ok(ran) => ran.outcomes().into_iter().next(),
                Err(error) => {
                    let message = error.refusal.message();
                    trial
                        .failing
                        .push(format!("{script} does not run on its own examples: {message}"));
                    continue;
                }
            };
            let mut outcomes: Vec<Outcome> = outcome.into_iter().collect();
            let shows = |expectation: &Expectation| matches!(expectation, Expectation::Results(_));
            let has_case = cases.iter().any(|case| shows(&case.expectation));
            let states_something = outcomes.iter().any(states_something);
            let mut asks = false;
            for case in &cases {
                let (proved, outcome) = proved(&script, case, desk);
                asks |= outcome.as_ref().is_some_and(|outcome| asks_closely(case, outcome));
                outcomes.extend(outcome);
                trial.failing.extend(failure(&proved));
                if Instant::now() > over {
                    let message = format!("the worked examples of the pack `{}` take too long", pack.name());
                    let refusal = Refusal::new("limit", message);
                    return Err(refusal
                        .hint("--effort 10 gives them ten times as long, for this once")
                        .into());
                }
            }
            let lacks = match (has_case, asks) {
                _ if !states_something => None,
                (false, _) => Some("no worked example says what comes out of it"),
                (true, false) => Some(
                    "its worked examples would come out whatever it calculated: none asks for a result within a tenth \
                     of itself",
                ),
                (true, true) => None,
            };
            trial.lacking.extend(lacks.map(|lacks| format!("{script}: {lacks}")));
            let lacks = lacking(outcomes.iter()).into_iter();
            trial.lacking.extend(lacks.map(|lacks| format!("{script}: {lacks}")));
        }
        Ok(trial)
    }
}

fn failure(proved: &Proved) -> Option<String> {
    let differences = proved.differences.join("; ");
    (!differences.is_empty()).then(|| format!("{}, \"{}\": {differences}", proved.script, proved.title))
}
