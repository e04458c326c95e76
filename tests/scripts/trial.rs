//! A job on the shipped scripts, run and judged.

use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::{Job, Overrides, Plan, Ran};
use crankline_engine::outcome::{Check, Outcome, Phrase, Piece, Value};
use crankline_engine::script::Library;
use crankline_engine::study::{Bands, Judged, Verdict, bands, judge};
use crankline_scripts::Shipped;
use std::rc::Rc;

/// What came of a job.
pub(crate) struct Trial {
    pub(crate) ran: Ran,
    pub(crate) judged: Judged,
    /// Bands of the lines of its charts.
    pub(crate) bands: Bands,
}

/// Runs a job; `in_job`: what rests on an example is unmeasured.
pub(super) fn run(job: &Job, in_job: bool) -> Result<Trial, Diagnostic> {
    let library = Library::new(Rc::new(Shipped));
    let programs = |name: &str| match crankline_scripts::script(name) {
        Some(text) => library.compile(text),
        None => Err(Refusal::new("unknown script", format!("there is no script `{name}`")).into()),
    };
    let plan = Plan::new(job, &library, &programs, &Overrides::new(), None)?;
    let ran = plan.run(None)?;
    let outcomes: Vec<Outcome> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
    let judged = judge(&plan, &ran.tape, &outcomes, in_job);
    let bands = bands(&plan, &ran.tape, &outcomes);
    Ok(Trial { ran, judged, bands })
}

/// A script with its examples.
pub(crate) fn with_examples(script: &str) -> Trial {
    run(&Job::of_run(script, Vec::new()), false).unwrap_or_else(|error| panic!("{error}"))
}

impl Trial {
    /// The outcome of the only run.
    pub(crate) fn outcome(&self) -> &Outcome {
        &self.ran.runs[0].outcome
    }

    /// A step of this run, in SI units.
    #[track_caller]
    pub(super) fn step(&self, run: &str, name: &str) -> f64 {
        let run = self.ran.runs.iter().find(|found| found.name == run);
        let run = run.unwrap_or_else(|| panic!("no such run"));
        let step = run.outcome.steps.iter().find(|step| step.name == name);
        match &step.unwrap_or_else(|| panic!("no step `{name}`")).value {
            Value::Amount(amount) => amount.si,
            other => panic!("`{name}` is no number: {other:?}"),
        }
    }

    /// The verdict on the check with this label in this run.
    #[track_caller]
    pub(super) fn verdict(&self, run: &str, label: &str) -> Verdict {
        let at = self.ran.runs.iter().position(|found| found.name == run);
        let at = at.unwrap_or_else(|| panic!("no run `{run}`"));
        let is_meant = |check: &Check| check.label.as_ref().map(words).as_deref() == Some(label);
        let check = self.ran.runs[at].outcome.checks.iter().position(is_meant);
        self.judged.runs[at].checks[check.unwrap_or_else(|| panic!("no check `{label}`"))].verdict
    }
}

/// A text's words; numbers in it are left out.
fn words(phrase: &Phrase) -> String {
    let words = phrase.pieces.iter().filter_map(|piece| match piece {
        Piece::Words(words) => Some(words.as_str()),
        Piece::Amount(_) => None,
    });
    words.collect()
}
