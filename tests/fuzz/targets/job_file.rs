//! Job files: any text is read and run, or refused.
#![no_main]

use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::{Job, Overrides, Plan};
use crankline_fuzz::{Patient, file};
use crankline_scripts::{Shipped, script};
use libfuzzer_sys::fuzz_target;
use std::rc::Rc;

thread_local! {
    static PATIENT: Patient = Patient::new(Rc::new(Shipped));
}

fuzz_target!(|text: &str| {
    let csv = |name: &str| match name {
        "loads.csv" => Ok(file(name, "name,current\nWipers,4 A\nFan,8 A\n")),
        _ => Err(Refusal::new("file", format!("there is no file `{name}`"))),
    };
    let Ok(job) = Job::read(file("car.toml", text), &csv) else { return };
    PATIENT.with(|patient| {
        patient.within(|library| {
            let programs = |name: &str| match script(name) {
                Some(text) => library.compile(text),
                None => Err(Diagnostic::from(Refusal::new("script", format!("there is no script `{name}`")))),
            };
            let overrides = Overrides::new();
            let Ok(plan) = Plan::new(&job, library, &programs, &overrides, None) else { return };
            let _ = plan.run(None).map(|ran| ran.outcomes().len());
        });
    });
});
