//! The demonstration job: it runs, and as found it fails for the reasons that its head names.

use super::trial::{self, Trial};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::job::{Job, Ran};
use crankline_engine::outcome::{Origin, Spread};
use crankline_engine::study::Verdict;
use std::collections::BTreeSet;

const ROLLING: &str = "Front joint keeps its needles rolling";
const FUSE: &str = "The fuse protects the wire where it is warmest";

fn job() -> Job {
    let files = |name: &str| Err(Refusal::new("csv", format!("there is no file `{name}`")));
    Job::read(crankline_scripts::demonstration("car.toml").unwrap(), &files).unwrap_or_else(|error| panic!("{error}"))
}

/// One test for all: its crossmember takes seconds.
#[test]
fn the_demonstration_job() {
    let trial = trial::run(&job(), true).unwrap_or_else(|error| panic!("{error}"));
    it_fails_as_found_for_reasons_to_learn_from(&trial);
    what_was_considered_is_tried_beside_the_car(&trial);
    it_has_many_readings_and_runs_that_feed_others(&trial.ran);
}

fn it_fails_as_found_for_reasons_to_learn_from(trial: &Trial) {
    let verdict = |run: &str, label: &str| trial.verdict(run, label);
    let short_base = "readings over a short base cannot say";
    assert_eq!(verdict("as found", ROLLING), Verdict::Unsure, "{short_base}");
    assert_eq!(verdict("as found", "What is left for the car"), Verdict::Holds);
    assert_eq!(verdict("front shaft", "Stays clear of the resonance"), Verdict::Holds);
    assert_eq!(verdict("front shaft", "Tube carries the torque"), Verdict::Holds);
    assert_eq!(verdict("crossmember", "Tube, ends free to spread"), Verdict::Holds);
    assert_eq!(
        verdict("crossmember", "Ends do not slide on the rails"),
        Verdict::Unsure,
        "a torque says little about the grip of a bolt"
    );
    assert_eq!(
        verdict("crossmember", "Ring weld"),
        Verdict::Unmeasured,
        "nobody gauged its leg"
    );
    assert_eq!(verdict("radiator fan", FUSE), Verdict::Fails, "a wire in the hot bay");
    assert_eq!(verdict("charging", "Idle on a wet night is covered"), Verdict::Fails);
    assert_eq!(
        verdict("road speed", "The car cannot go faster than it will be driven"),
        Verdict::Fails,
        "what is passed is passed for the speed entered only"
    );
}

fn what_was_considered_is_tried_beside_the_car(trial: &Trial) {
    let tried = trial.ran.runs.iter().filter(|run| run.tries.is_some());
    let tried: Vec<&str> = tried.map(|run| run.name.as_str()).collect();
    assert_eq!(
        tried,
        [
            "mount raised",
            "made parallel",
            "mount moved left",
            "mount lowered",
            "length to order",
            "fan rewired"
        ]
    );

    let verdict = |run: &str, label: &str| trial.verdict(run, label);
    assert_eq!(verdict("made parallel", "What is left for the car"), Verdict::Holds);
    for label in ["Shaft under drive", "Front joint at cruise", "Rear joint at cruise"] {
        assert_eq!(
            verdict("made parallel", label),
            Verdict::Fails,
            "{label}: twice the angles"
        );
    }
    for label in [
        ROLLING,
        "Rear joint keeps its needles rolling",
        "Shaft under drive",
        "What is left for the car",
    ] {
        assert_eq!(verdict("mount lowered", label), Verdict::Holds, "{label}");
    }
    assert_eq!(verdict("fan rewired", FUSE), Verdict::Holds);

    let length = |run: &str| trial.step(run, "shaft_length");
    assert_eq!(length("length to order").to_bits(), length("mount lowered").to_bits());
    assert!(length("length to order") < length("as found"));
}

fn it_has_many_readings_and_runs_that_feed_others(ran: &Ran) {
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
    assert!(parts.len() >= 60, "{} readings", parts.len());
    assert!(repeated >= 5, "{repeated} readings taken several times");
    assert!(linked >= 15, "{linked} linked inputs");
    let kept: Vec<&str> = ran.kept.iter().map(|reading| reading.name.as_str()).collect();
    assert_eq!(kept, ["tunnel_width", "floor_thickness"]);
    assert_eq!(job().sessions.len(), 2);
}
