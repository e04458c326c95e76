//! Runs small scripts.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::outcome::{Amount, Outcome, Phrase, Value};
use crankline_engine::quantity::{Quantity, Scale};
use crankline_engine::script::{Bindings, Library};
use crankline_engine::source::{NoSources, Sources};
use crankline_engine::tape::{Number, Recording, Tape};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Scripts that a test writes for import, by path.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shelf(pub(crate) BTreeMap<String, String>);

impl Sources for Shelf {
    fn import(&self, _from: &str, path: &str) -> Option<SourceText> {
        let text = self.0.get(path)?.clone();
        let name = format!("{path}.rhai");
        Some(SourceText { name, text })
    }
}

/// What a run yields, with the tape it recorded.
pub(crate) struct Ran {
    pub(crate) outcome: Outcome,
    pub(crate) tape: Tape,
}

pub(crate) fn library() -> Library {
    Library::new(Rc::new(NoSources))
}

/// Runs a script that has its examples for readings.
pub(crate) fn run_in(library: &Library, script: &str) -> Result<Ran, String> {
    let (name, text) = ("script.rhai".to_owned(), script.to_owned());
    let program = library
        .compile(SourceText { name, text })
        .map_err(|error| error.to_string())?;
    let recording = Rc::new(Recording::open());
    let finished = library
        .run(&program, Bindings::new(), &recording, 0, None)
        .map_err(|error| error.to_string())?;
    Ok(Ran {
        outcome: finished.outcome,
        tape: recording.tape(),
    })
}

pub(crate) fn run(script: &str) -> Ran {
    run_in(&library(), script).unwrap_or_else(|error| panic!("{script}\n{error}"))
}

/// The message of a script that must not run.
pub(crate) fn error(script: &str) -> String {
    match run_in(&library(), script) {
        Err(error) => error,
        Ok(_) => panic!("this should not run:\n{script}"),
    }
}

/// A step's value in SI units.
pub(crate) fn step(ran: &Ran, name: &str) -> f64 {
    match &found(ran, name) {
        Value::Amount(amount) => amount.si,
        #[allow(clippy::cast_precision_loss)]
        Value::Count(count) => *count as f64,
        other => panic!("{name} is {other:?}"),
    }
}

/// A step's value.
pub(crate) fn found(ran: &Ran, name: &str) -> Value {
    let step = ran.outcome.steps.iter().find(|step| step.name == name);
    step.unwrap_or_else(|| panic!("no step {name}")).value.clone()
}

/// A phrase with its numbers, each in the engine's own way of writing it.
pub(crate) fn spoken(phrase: &Phrase) -> String {
    phrase.in_words(|amount| format!("‹{}›", shown(amount)))
}

pub(crate) fn shown(amount: &Amount) -> String {
    match amount.scale {
        Scale::Point => Quantity::temperature_point(Number::constant(amount.si)).shown(),
        Scale::Difference => Quantity::constant(amount.si, amount.dimension).shown(),
    }
}

/// Checks expressions of numbers: each must have the value beside it, in SI units.
pub(crate) fn check(cases: &[(&str, f64)]) {
    for (expression, expected) in cases {
        let ran = run(&format!("step x = {expression};"));
        let found = step(&ran, "x");
        let tolerance = 1e-12 * expected.abs().max(1e-3);
        assert!(
            (found - expected).abs() <= tolerance,
            "{expression} is {found}, not {expected}"
        );
    }
}

/// Checks errors: each script's message must hold all the texts beside it.
pub(crate) fn check_errors(cases: &[(&str, &[&str])]) {
    for (script, expected) in cases {
        let message = error(script);
        for part in *expected {
            assert!(message.contains(part), "{script}\n{message}\ndoes not say `{part}`");
        }
    }
}
