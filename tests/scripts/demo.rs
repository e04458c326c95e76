//! The demonstration job: it runs, and as found it fails for the reasons that its head names.

use super::trial::{self, Trial};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::job::Job;
use crankline_engine::outcome::{Origin, Spread};
use crankline_engine::study::Verdict;
use std::collections::BTreeSet;

fn job() -> Job {
    let files = |name: &str| Err(Refusal::new("csv", format!("there is no file `{name}`")));
    Job::read(crankline_scripts::demonstration("car.toml").unwrap(), &files).unwrap_or_else(|error| panic!("{error}"))
}

fn trial() -> Trial {
    trial::run(&job(), true).unwrap_or_else(|error| panic!("{error}"))
}

#[test]
fn it_fails_as_found_for_reasons_to_learn_from() {
    let trial = trial();
    let verdict = |run: &str, label: &str| trial.verdict(run, label);
    let rolling = "Front joint keeps its needles rolling";
    assert_eq!(
        verdict("as found", rolling),
        Verdict::Unsure,
        "readings over a short base cannot say"
    );
    assert_eq!(verdict("as found", "What is left for the car"), Verdict::Holds);

    assert_eq!(verdict("made parallel", "What is left for the car"), Verdict::Holds);
    assert_eq!(
        verdict("made parallel", "Shaft under drive"),
        Verdict::Fails,
        "twice the angles"
    );
    assert_eq!(verdict("made parallel", "Front joint at cruise"), Verdict::Fails);

    for label in [
        rolling,
        "Rear joint keeps its needles rolling",
        "Shaft under drive",
        "What is left for the car",
    ] {
        assert_eq!(verdict("mount lowered", label), Verdict::Holds, "{label}");
    }
    assert_eq!(
        verdict("front shaft", "Tube carries the torque"),
        Verdict::Unmeasured,
        "nobody measured the torque"
    );
    assert_eq!(verdict("front shaft", "Stays clear of the resonance"), Verdict::Holds);
    assert_eq!(verdict("charging", "Idle on a wet night is covered"), Verdict::Fails);
}

#[test]
fn it_has_many_readings_and_runs_that_feed_others() {
    let ran = trial().ran;
    let mut parts = BTreeSet::new();
    let mut repeated = 0;
    let mut linked = 0;
    for input in ran.runs.iter().flat_map(|run| &run.outcome.inputs) {
        linked += usize::from(input.origin == Origin::Linked);
        for part in input.parts.iter().filter(|_| input.origin == Origin::Measured) {
            let new = parts.insert(part.input);
            repeated += usize::from(new && matches!(part.spread, Spread::Repeats { .. }));
        }
    }
    assert!(parts.len() >= 30, "{} readings", parts.len());
    assert!(repeated >= 3, "{repeated} readings taken several times");
    assert!(linked >= 5, "{linked} linked inputs");
    let kept: Vec<&str> = ran.kept.iter().map(|reading| reading.name.as_str()).collect();
    assert_eq!(kept, ["tunnel_width", "floor_thickness"]);
    assert_eq!(job().sessions.len(), 2);
}
