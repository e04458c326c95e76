//! What a page calculates with, of any script that runs: it is JSON, and each number is made before it is used.
//!
//! The page is ours and its tape is made here: what strangers write is the script. So scripts are altered, not tapes.
//! That the page's evaluator gives the engine's bits for scripts found here is a test (`page::strangers`).
#![no_main]

mod tape_reader;

use crankline_engine::outcome::{Outcome, Test, Value};
use crankline_engine::source::NoSources;
use crankline_engine::study::carry;
use crankline_engine::tape::{Slot, portable};
use crankline_fuzz::Patient;
use libfuzzer_sys::fuzz_target;
use std::collections::BTreeSet;
use std::rc::Rc;

thread_local! {
    static PATIENT: Patient = Patient::new(Rc::new(NoSources));
}

fuzz_target!(|text: &str| {
    PATIENT.with(|patient| {
        patient.run(text, |recording, outcome| {
            let tape = recording.tape();
            let wanted: Vec<Slot> = wanted(&outcome).into_iter().collect();
            let portable = portable(&tape, &wanted);
            let text = portable.json.to_string();
            let read: serde_json::Value = serde_json::from_str(&text).expect("a tape goes out as JSON");
            assert!(read == portable.json, "a tape goes out as it is");
            let places = tape_reader::places(&read);
            for slot in &wanted {
                assert!((portable.places[slot] as usize) < places, "what is asked for has a place");
            }
            let _ = carry(&tape, &[outcome], &["script"], false, &wanted);
        });
    });
});

fn wanted(outcome: &Outcome) -> BTreeSet<Slot> {
    let mut found = BTreeSet::new();
    for step in &outcome.steps {
        of_value(&step.value, &mut found);
    }
    for check in &outcome.checks {
        match &check.test {
            Test::Sides { left, right, .. } => [left, right].into_iter().for_each(|side| of_value(side, &mut found)),
            Test::Between { value, low, high } => found.extend([value, low, high].into_iter().filter_map(|a| a.slot)),
            Test::Truth(_) => {}
        }
    }
    found
}

fn of_value(value: &Value, found: &mut BTreeSet<Slot>) {
    match value {
        Value::Amount(amount) => found.extend(amount.slot),
        Value::Items(items) => items.iter().for_each(|(_, item)| of_value(item, found)),
        _ => {}
    }
}
