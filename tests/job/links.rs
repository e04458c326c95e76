//! A job is one tape.

use super::bench::{input, job, run, run_with, step, with_plan};
use crankline_engine::job::Ran;
use crankline_engine::outcome::Origin;
use crankline_engine::study::{Experiment, judge};
use crankline_engine::tape::{Replay, Reverse};

const THREE: &str = "
    [measured]
    engine_speed = \"2990 rpm +/- 5 rpm\"
    shaft_length = \"1210 mm +/- 1 mm\"
    [chosen]
    ratio = 2.0
    [[run]]
    script = \"road\"
    name = \"road speed\"
    [[run]]
    script = \"shaft\"
    name = \"front shaft\"
    from = { top = \"road speed: shaft\", length = \"shaft_length\" }
    [[run]]
    script = \"gap\"
    name = \"tunnel\"
    from = { length = \"shaft_length\" }
";

/// Partial derivatives by the tape's inputs.
fn partials(ran: &Ran, slot: Option<u32>) -> Vec<f64> {
    let reverse = Reverse::of(&ran.tape, &ran.tape.nominal, &[(slot.unwrap(), 1.0)]);
    let inputs = ran.tape.inputs.iter();
    inputs.map(|slot| reverse.slot(*slot)).collect()
}

#[test]
fn a_reading_used_twice_is_one_input() {
    let ran = run(THREE);
    // engine_speed, ratio, shaft_length, and the script's own margin.
    assert_eq!(ran.tape.inputs.len(), 4);
    let (first, second) = (&input(&ran, 1, "length").parts[0], &input(&ran, 2, "length").parts[0]);
    assert_eq!((first.input, first.slot), (second.input, second.slot));
    assert_eq!(first.spread, second.spread);
}

#[test]
fn origins_follow_the_values() {
    let ran = run(THREE);
    assert_eq!(input(&ran, 0, "engine_speed").origin, Origin::Measured);
    assert_eq!(input(&ran, 0, "ratio").origin, Origin::Chosen);
    assert_eq!(input(&ran, 1, "top").origin, Origin::Linked);
    assert_eq!(input(&ran, 1, "length").origin, Origin::Measured);
    assert_eq!(input(&ran, 1, "margin").origin, Origin::Assumed);
}

#[test]
fn a_link_keeps_its_derivatives() {
    let ran = run(THREE);
    let (allowed, slot) = step(&ran, 1, "allowed");
    let engine = input(&ran, 0, "engine_speed").parts[0].input;
    let partials = partials(&ran, slot);
    // allowed = 0.75 · engine_speed / 2
    let speed = 2990.0 * std::f64::consts::TAU / 60.0;
    assert!((allowed / (0.75 * speed / 2.0) - 1.0).abs() < 1e-14);
    assert!((partials[engine] / (0.75 / 2.0) - 1.0).abs() < 1e-14);
}

#[test]
fn the_difference_of_a_reading_with_itself_moves_with_nothing() {
    let ran = run(THREE);
    let (double, in_shaft) = step(&ran, 1, "twice_length");
    let (half, in_gap) = step(&ran, 2, "half");
    assert_eq!(double - 4.0 * half, 0.0);
    let (shaft, gap) = (partials(&ran, in_shaft), partials(&ran, in_gap));
    let moved: Vec<f64> = shaft.iter().zip(&gap).map(|(shaft, gap)| shaft - 4.0 * gap).collect();
    assert!(shaft.iter().any(|partial| *partial != 0.0));
    assert_eq!(moved, vec![0.0; ran.tape.inputs.len()]);
}

#[test]
fn a_sample_run_by_the_scripts_has_the_bits_of_a_replay() {
    with_plan(&job(THREE), |plan| {
        let ran = plan.run(None).unwrap();
        let mut inputs: Vec<f64> = ran
            .tape
            .inputs
            .iter()
            .map(|slot| ran.tape.nominal[*slot as usize])
            .collect();
        for (number, value) in inputs.iter_mut().enumerate() {
            *value *= 1.0 + 0.01 * (number as f64 + 1.0);
        }
        let (tape, outcomes) = Experiment::run(plan, &inputs).unwrap();
        let mut replay = Replay::new(&ran.tape);
        let replayed = replay.run(&inputs).unwrap();
        let bits = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(replayed), bits(&tape.nominal));
        assert_eq!(outcomes.len(), 3);
    });
}

#[test]
fn a_job_is_judged() {
    with_plan(&job(THREE), |plan| {
        let ran = plan.run(None).unwrap();
        let outcomes: Vec<_> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
        let judged = judge(plan, &ran.tape, &outcomes, true);
        assert_eq!(judged.runs[1].checks[0].verdict.word(), "holds");
        assert_eq!(judged.runs[1].checks[0].examples, Vec::<String>::new());
    });
}

#[test]
fn what_rests_on_an_example_through_a_link_is_unmeasured() {
    let without = THREE.replace("engine_speed = \"2990 rpm +/- 5 rpm\"", "");
    with_plan(&job(&without), |plan| {
        let ran = plan.run(None).unwrap();
        let outcomes: Vec<_> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
        let judged = judge(plan, &ran.tape, &outcomes, true);
        assert_eq!(judged.runs[1].checks[0].verdict.word(), "unmeasured");
        assert_eq!(judged.runs[1].checks[0].examples, ["engine_speed"]);
    });
}

#[test]
fn readings_that_disagree_make_linked_runs_untrusted_and_no_others() {
    let lines = "
        [measured]
        one = \"1200 mm\"
        other = \"1250 mm\"
        top = \"4800 rpm\"
        shaft_length = \"1200 mm\"
        [[run]]
        script = \"twice\"
        [[run]]
        script = \"shaft\"
        name = \"linked\"
        from = { length = \"twice: mean\" }
        [[run]]
        script = \"shaft\"
        name = \"apart\"
        from = { length = \"shaft_length\" }
    ";
    with_plan(&job(lines), |plan| {
        let ran = plan.run(None).unwrap();
        let outcomes: Vec<_> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
        let judged = judge(plan, &ran.tape, &outcomes, true);
        let verdicts: Vec<&str> = judged.runs.iter().map(|run| run.checks[0].verdict.word()).collect();
        assert_eq!(verdicts, ["fails", "untrusted", "holds"]);
    });
}

#[test]
fn one_run_takes_along_those_that_it_links_to() {
    let ran = run_with(&job(THREE), &[], Some("front shaft")).unwrap();
    let names: Vec<(&str, bool)> = ran.runs.iter().map(|run| (run.name.as_str(), run.asked)).collect();
    assert_eq!(names, [("road speed", false), ("front shaft", true)]);
}

#[test]
fn a_trial_replaces_a_reading_everywhere_or_in_one_run() {
    let job = job(THREE);
    let everywhere = run_with(&job, &[("shaft_length", "1000 mm")], None).unwrap();
    assert_eq!(step(&everywhere, 1, "twice_length").0, 2.0);
    assert_eq!(step(&everywhere, 2, "half").0, 0.5);
    assert_eq!(input(&everywhere, 2, "length").origin, Origin::Trial);
    let one = run_with(&job, &[("tunnel: length", "1000 mm")], None).unwrap();
    assert_eq!(step(&one, 1, "twice_length").0, 2.42);
    assert_eq!(step(&one, 2, "half").0, 0.5);
    assert_eq!(one.tape.inputs.len(), 5);
}

#[test]
fn a_trial_of_what_no_run_takes_is_refused() {
    let error = |set| run_with(&job(THREE), &[set], None).unwrap_err().to_string();
    insta::assert_snapshot!(error(("shaft_lenght", "1 m")));
    insta::assert_snapshot!(error(("length", "1 m")));
    insta::assert_snapshot!(error(("tunel: length", "1 m")));
    insta::assert_snapshot!(run_with(&job(THREE), &[], Some("tunel")).unwrap_err());
}

#[test]
fn inputs_that_mean_different_things_are_fed_apart() {
    let ran = run(
        "[measured]\nlength = \"1 m\"\ntube_length = \"360 mm\"\n[[run]]\nscript = \"gap\"\n[[run]]\nscript = \"tube\"\nfrom = { length = \"tube_length\" }\n",
    );
    assert!((step(&ran, 1, "third").0 - 0.12).abs() < 1e-15);
    assert_eq!(ran.kept.len(), 0);
}

#[test]
fn a_part_of_a_step_is_linked() {
    let text = "
        [measured]
        joint = \"(900, 20, -71) +/- 1 mm\"
        [[run]]
        script = \"joint\"
        name = \"as found\"
        [[run]]
        script = \"gap\"
        name = \"tunnel\"
        from = { length = \"as found: joint.x\" }
    ";
    let ran = run(text);
    let length = input(&ran, 1, "length");
    // It is the reading's own number, ± and all.
    assert_eq!(length.origin, Origin::Measured);
    assert_eq!(length.taken_from.as_deref(), Some("as found: joint.x"));
    assert_eq!(length.parts[0].slot, input(&ran, 0, "joint").parts[0].slot);
    let missing = text.replace("joint.x", "joint.w");
    let error = run_with(&job(&missing), &[], None).unwrap_err();
    assert_eq!(error.refusal.message(), "run `as found` has no step `joint.w`");
}
