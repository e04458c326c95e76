//! One script with its readings, run and judged.

use crate::deadline::Deadline;
use crate::settings;
use crate::target::Target;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::outcome::Outcome;
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Identity, Sheet, SheetRun};
use crankline_engine::script::{Bindings, Library, Program};
use crankline_engine::study::{Experiment, Judged, judge};
use crankline_engine::tape::{Recording, Tape};
use std::rc::Rc;

/// A script ready to run on what it was given.
pub(crate) struct Single {
    library: Library,
    program: Program,
    bindings: Bindings,
    deadline: Deadline,
    identity: Identity,
}

/// What a run of it gave.
pub(crate) struct Ran {
    pub(crate) outcome: Outcome,
    pub(crate) judged: Judged,
}

impl Single {
    /// Reads the script and the values tried.
    pub(crate) fn new(target: Target, settings: &[String]) -> Result<Self, Diagnostic> {
        let identity = Identity::of(&target.text, target.pack_version);
        let deadline = Deadline::new();
        let mut library = Library::new(target.sources);
        let clock = deadline.clone();
        library.stop_when(move || clock.is_over());
        let program = library.compile(target.text)?;
        let bindings = settings::read(settings, &program)?;
        Ok(Self {
            library,
            program,
            bindings,
            deadline,
            identity,
        })
    }

    /// Runs it and judges its checks.
    pub(crate) fn judged(&self) -> Result<Ran, Diagnostic> {
        let (tape, mut outcomes) = self.recorded(None)?;
        self.deadline.study();
        let judged = judge(self, &tape, &outcomes, false);
        if self.deadline.was_missed() {
            let message = "running the script again for samples within the ± takes too long";
            return Err(Refusal::new("limit", message).into());
        }
        let outcome = outcomes.pop().unwrap_or_default();
        Ok(Ran { outcome, judged })
    }

    pub(crate) fn program(&self) -> &Program {
        &self.program
    }

    /// What is to be written of a run of it.
    pub(crate) fn sheet<'a>(&self, ran: &'a Ran, system: System) -> Sheet<'a> {
        Sheet {
            title: self.identity.name.clone(),
            about: first_paragraph(&self.program.description()),
            runs: vec![SheetRun {
                name: self.identity.name.clone(),
                script: self.identity.clone(),
                outcome: &ran.outcome,
            }],
            judged: &ran.judged,
            system,
            in_job: false,
        }
    }

    fn recorded(&self, sample: Option<Vec<f64>>) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        let recording = Rc::new(Recording::open());
        let finished = self
            .library
            .run(&self.program, self.bindings.clone(), &recording, 0, sample)?;
        Ok((recording.tape(), vec![finished.outcome]))
    }
}

impl Experiment for Single {
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        self.recorded(Some(inputs.to_vec()))
    }
}

/// The text up to the first empty line.
pub(crate) fn first_paragraph(text: &str) -> String {
    let lines = text.lines().skip_while(|line| line.trim().is_empty());
    let lines: Vec<&str> = lines.take_while(|line| !line.trim().is_empty()).collect();
    lines.join(" ")
}
