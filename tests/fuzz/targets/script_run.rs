//! Scripts: any text gives a result or a message, within its time.
#![no_main]

use crankline_engine::script::Bindings;
use crankline_engine::source::NoSources;
use crankline_engine::tape::Recording;
use crankline_fuzz::{Patient, file};
use libfuzzer_sys::fuzz_target;
use std::rc::Rc;

thread_local! {
    static PATIENT: Patient = Patient::new(Rc::new(NoSources));
}

fuzz_target!(|text: &str| {
    PATIENT.with(|patient| {
        patient.within(|library| {
            let Ok(program) = library.compile(file("script.rhai", text)) else { return };
            let recording = Rc::new(Recording::open());
            let _ = library.run(&program, Bindings::new(), &recording, 0, None).map(|ran| ran.outcome.steps.len());
        });
    });
});
