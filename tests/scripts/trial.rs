//! One script run on what is set, and judged.

use super::shelf::{Shelf, text};
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::outcome::Outcome;
use crankline_engine::script::{Bindings, Library, Program};
use crankline_engine::study::{Experiment, Judged, judge};
use crankline_engine::tape::{Recording, Tape};
use std::rc::Rc;

/// What came of a run.
pub(super) struct Trial {
    pub(super) outcome: Outcome,
    pub(super) judged: Judged,
}

struct Again<'a> {
    library: &'a Library,
    program: &'a Program,
    bindings: &'a Bindings,
}

impl Experiment for Again<'_> {
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        let recording = Rc::new(Recording::open());
        let sample = Some(inputs.to_vec());
        let finished = self
            .library
            .run(self.program, self.bindings.clone(), &recording, 0, sample)?;
        Ok((recording.tape(), vec![finished.outcome]))
    }
}

/// Runs a shipped script on what is set.
pub(super) fn run(name: &str, bindings: &Bindings) -> Result<Trial, Diagnostic> {
    let library = Library::new(Rc::new(Shelf));
    let program = library.compile(text(name))?;
    let recording = Rc::new(Recording::open());
    let finished = library.run(&program, bindings.clone(), &recording, 0, None)?;
    let outcomes = [finished.outcome];
    let again = Again {
        library: &library,
        program: &program,
        bindings,
    };
    let judged = judge(&again, &recording.tape(), &outcomes, false);
    let [outcome] = outcomes;
    Ok(Trial { outcome, judged })
}
