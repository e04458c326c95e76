//! Scripts: any text gives a result or a message, within its time.
#![no_main]

use crankline_engine::source::NoSources;
use crankline_fuzz::Patient;
use libfuzzer_sys::fuzz_target;
use std::rc::Rc;

thread_local! {
    static PATIENT: Patient = Patient::new(Rc::new(NoSources));
}

fuzz_target!(|text: &str| PATIENT.with(|patient| patient.run(text, |_, _| {})));
