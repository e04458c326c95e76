//! Parts of inputs, tried one by one.

use super::bench::{job, run_with, step};
use crankline_engine::job::{Job, Ran};

fn two(measured: &str) -> Job {
    job(&format!(
        "{measured}
         [[run]]
         script = \"joint\"
         name = \"as found\"
         [[run]]
         script = \"joint\"
         name = \"with spacer\"
         [[run]]
         script = \"loads\""
    ))
}

fn tried(job: &Job, set: &[(&str, &str)]) -> Ran {
    run_with(job, set, None).unwrap_or_else(|error| panic!("{error}"))
}

fn across(ran: &Ran) -> [f64; 2] {
    [0, 1].map(|run| (step(ran, run, "across").0 * 1e6).round() / 1e3)
}

const MEASURED: &str = "[measured]\n joint = \"(900, 20, -71) mm\"";

#[test]
fn a_part_of_a_reading_is_tried_in_every_run() {
    let job = two(MEASURED);
    let ran = tried(&job, &[("joint.y", "25 mm")]);
    assert_eq!(across(&ran), [25.0, 25.0]);
    // Still one reading, of three numbers; the loads have one.
    assert_eq!(ran.tape.inputs.len(), 4);
    assert_eq!(step(&ran, 0, "across").1, step(&ran, 1, "across").1);
}

#[test]
fn a_part_is_tried_in_one_run_alone() {
    let job = two(MEASURED);
    assert_eq!(across(&tried(&job, &[("as found: joint.y", "25 mm")])), [25.0, 20.0]);
    assert_eq!(across(&tried(&job, &[("with spacer: joint.y", "25 mm")])), [20.0, 25.0]);
}

#[test]
fn a_part_of_an_example_is_tried() {
    let job = two("");
    assert_eq!(across(&tried(&job, &[("joint.y", "25 mm")])), [25.0, 25.0]);
    let total = step(&tried(&job, &[("loads[Wipers].current", "6 A")]), 2, "total").0;
    assert!((total - 6.0).abs() < 1e-12, "{total}");
}

#[test]
fn a_part_that_no_input_has_is_refused() {
    let error = |name: &str| {
        run_with(&two(MEASURED), &[(name, "5 mm")], None)
            .unwrap_err()
            .refusal
            .to_string()
    };
    assert_eq!(
        error("joint.w"),
        "`joint` has no part `joint.w` (did you mean `joint.x`?) (it has joint.x, joint.y, joint.z)"
    );
    assert!(
        error("jiont.x").starts_with("no run has an input `jiont.x`"),
        "{}",
        error("jiont.x")
    );
}
