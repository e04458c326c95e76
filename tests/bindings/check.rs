//! Runs scripts, reads their values, replays their tapes.

use crankline_engine::diagnostic::{Diagnostic, SourceText};
use crankline_engine::outcome::{Amount, Origin, Outcome, Value};
use crankline_engine::script::{Bindings, Finished, Given, GivenValue, Library, Sample};
use crankline_engine::source::NoSources;
use crankline_engine::tape::{Recording, Replay, Tape};
use std::rc::Rc;

/// A run and its tape.
pub(super) struct Ran {
    pub(super) outcome: Outcome,
    pub(super) finished: Finished,
    pub(super) tape: Tape,
}

/// Runs a script on what it is given; the message where it stops.
pub(super) fn run_on(script: &str, bindings: Bindings, sample: Option<Vec<f64>>) -> Result<Ran, String> {
    let recording = Rc::new(Recording::open());
    record(script, bindings, &recording, 0, sample)
}

/// Runs one script, then another on the same tape with an input that takes what the first one had.
pub(super) fn linked(first: &str, result: &str, second: &str, input: &str) -> Result<Ran, String> {
    let recording = Rc::new(Recording::open());
    let mut ran = record(first, Bindings::new(), &recording, 0, None)?;
    let held = ran
        .finished
        .results
        .remove(result)
        .expect("the first script has this result");
    let bindings = from(Origin::Linked, [(input, GivenValue::Tracked(held))]);
    record(second, bindings, &recording, ran.finished.opened, None)
}

fn record(
    script: &str,
    bindings: Bindings,
    recording: &Rc<Recording>,
    opened: usize,
    sample: Option<Vec<f64>>,
) -> Result<Ran, String> {
    let library = Library::new(Rc::new(NoSources));
    let text = SourceText {
        name: "test".to_owned(),
        text: script.to_owned(),
    };
    let message = |error: Diagnostic| error.refusal.to_string();
    let program = library.compile(text).map_err(message)?;
    let finished = library
        .run(
            &program,
            bindings,
            recording,
            opened,
            sample.map(|values| Sample { values, read: false }),
        )
        .map_err(message)?;
    Ok(Ran {
        outcome: finished.outcome.clone(),
        finished,
        tape: recording.tape(),
    })
}

#[track_caller]
pub(super) fn run(script: &str) -> Ran {
    given(script, Bindings::new())
}

#[track_caller]
pub(super) fn given(script: &str, bindings: Bindings) -> Ran {
    run_on(script, bindings, None).unwrap_or_else(|message| panic!("{message}"))
}

/// Values as a job file or `--set` gives them.
pub(super) fn measured<const N: usize>(values: [(&str, GivenValue); N]) -> Bindings {
    from(Origin::Measured, values)
}

pub(super) fn from<const N: usize>(origin: Origin, values: [(&str, GivenValue); N]) -> Bindings {
    let entry = |(name, what): (&str, GivenValue)| {
        let places = Vec::new();
        (name.to_owned(), Given { what, origin, places })
    };
    values.into_iter().map(entry).collect()
}

pub(super) fn text(text: &str) -> GivenValue {
    GivenValue::Text(text.to_owned())
}

impl Ran {
    #[track_caller]
    pub(super) fn step(&self, name: &str) -> &Amount {
        let step = self.outcome.steps.iter().find(|step| step.name == name);
        match &step.unwrap_or_else(|| panic!("no step {name}")).value {
            Value::Amount(amount) => amount,
            other => panic!("{name} is {other:?}"),
        }
    }

    /// Every number of every step, in order.
    pub(super) fn amounts(&self) -> Vec<Amount> {
        let mut amounts = Vec::new();
        for step in &self.outcome.steps {
            collect(&step.value, &mut amounts);
        }
        amounts
    }

    /// The readings' values as they stand on the tape.
    pub(super) fn readings(&self) -> Vec<f64> {
        let inputs = self.tape.inputs.iter();
        inputs.map(|slot| self.tape.nominal[*slot as usize]).collect()
    }
}

fn collect(value: &Value, amounts: &mut Vec<Amount>) {
    match value {
        Value::Amount(amount) => amounts.push(amount.clone()),
        Value::Items(items) => items.iter().for_each(|(_, item)| collect(item, amounts)),
        Value::Count(_) | Value::Text(_) | Value::Truth(_) => {}
    }
}

/// Every step replayed on other readings has the bits of a run on them.
#[track_caller]
pub(super) fn replays(script: &str) {
    let ran = run(script);
    assert!(!ran.readings().is_empty(), "the script has readings");
    for share in [1e-3, -7e-4] {
        let readings = ran.readings();
        let moved = readings.iter().enumerate();
        #[allow(clippy::cast_precision_loss, reason = "a few readings")]
        let moved: Vec<f64> = moved
            .map(|(place, reading)| reading * (1.0 + share / (1.0 + place as f64)))
            .collect();
        let again = run_on(script, Bindings::new(), Some(moved.clone())).unwrap_or_else(|message| panic!("{message}"));
        let mut replay = Replay::new(&ran.tape);
        let values = replay.run(&moved).unwrap_or_else(|departure| panic!("{departure:?}"));
        let mut on_tape = 0;
        for (first, second) in ran.amounts().iter().zip(again.amounts()) {
            let Some(slot) = first.slot else {
                assert_eq!(first.si.to_bits(), second.si.to_bits());
                continue;
            };
            on_tape += 1;
            let replayed = values[slot as usize];
            assert_eq!(
                replayed.to_bits(),
                second.si.to_bits(),
                "{replayed} instead of {}",
                second.si
            );
        }
        assert!(on_tape > 0, "some step follows a reading");
    }
}
