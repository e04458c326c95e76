//! The demonstration job: it runs, and as found it fails for the reasons that its head names.

use super::trial::{self, Trial};
use crankline_engine::diagnostic::Refusal;
use crankline_engine::job::{ConsideredOption, Fate, Job, Ran};
use crankline_engine::outcome::{Origin, Spread};
use crankline_engine::study::Verdict;
use crankline_scripts::script_names;
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
    what_was_fitted_is_what_was_worked_out(&trial);
}

fn it_fails_as_found_for_reasons_to_learn_from(trial: &Trial) {
    let verdict = |run: &str, label: &str| trial.verdict(run, label);
    let short_base = "readings over a short base cannot say";
    assert_eq!(verdict("as found", ROLLING), Verdict::Unsure, "{short_base}");
    assert_eq!(verdict("as found", "What is left for the car"), Verdict::Holds);
    assert_eq!(verdict("front shaft", "Stays clear of the resonance"), Verdict::Holds);
    assert_eq!(verdict("front shaft", "Tube carries the torque"), Verdict::Holds);
    assert_eq!(
        verdict("final angles", ROLLING),
        Verdict::Holds,
        "moved, and read over a long base"
    );
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
            "fan rewired",
            "small master"
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
    assert_eq!(verdict("clutch", "The disc is freed"), Verdict::Holds);
    assert_eq!(
        verdict("small master", "The disc is freed"),
        Verdict::Fails,
        "a light pedal moves too little fluid"
    );

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
    assert!(parts.len() >= 200, "{} readings", parts.len());
    assert!(repeated >= 15, "{repeated} readings taken several times");
    assert!(linked >= 45, "{linked} linked inputs");
    let kept: Vec<&str> = ran.kept.iter().map(|reading| reading.name.as_str()).collect();
    assert_eq!(kept, ["tunnel_width", "floor_thickness"]);
}

/// The record is fed by the runs before it, and by what was ordered and bolted.
fn what_was_fitted_is_what_was_worked_out(trial: &Trial) {
    let record = trial.ran.runs.iter().position(|run| run.name == "record").unwrap();
    let verdicts: Vec<Verdict> = trial.judged.runs[record]
        .checks
        .iter()
        .map(|check| check.verdict)
        .collect();
    assert!(verdicts.len() >= 9, "{} checks", verdicts.len());
    assert!(
        verdicts.iter().all(|verdict| *verdict == Verdict::Holds),
        "{verdicts:?}"
    );
    let off = trial.step("record", "length_off");
    let length = trial.step("final angles", "shaft_length");
    assert!((off - (0.847 - length)).abs() < 1e-12);
    let plan = trial.step("gearbox line", "gearbox_plan");
    assert_eq!(plan.to_bits(), trial.step("record", "line_plan").to_bits());
}

fn pack(script: &str) -> &str {
    script.split('/').next().unwrap()
}

#[test]
fn the_demonstration_uses_every_pack() {
    let job = job();
    let used: BTreeSet<&str> = job.runs.iter().map(|run| pack(&run.script)).collect();
    let names = script_names();
    let shipped: BTreeSet<&str> = names.iter().map(|name| pack(name)).collect();
    assert_eq!(used, shipped);
}

#[test]
fn the_demonstration_feeds_one_pack_from_another() {
    let job = job();
    let pack_of = |name: &str| {
        job.runs
            .iter()
            .find(|run| run.name == name)
            .map(|run| pack(&run.script))
    };
    let mut crossed = BTreeSet::new();
    for run in &job.runs {
        for link in &run.from {
            let from = link.target.split_once(':').and_then(|(run, _)| pack_of(run));
            crossed.extend(
                from.filter(|from| *from != pack(&run.script))
                    .map(|from| (from, pack(&run.script))),
            );
        }
    }
    for pair in [
        ("gearing", "driveline"),
        ("driveline", "kit"),
        ("gearing", "crossmember"),
        ("gearing", "harness"),
        ("mockup", "driveline"),
        ("crossmember", "kit"),
        ("tunnel", "kit"),
    ] {
        assert!(crossed.contains(&pair), "{pair:?} is not among {crossed:?}");
    }
}

#[test]
fn the_demonstration_has_days_of_measuring_and_options_kept_and_rejected() {
    let job = job();
    assert!(job.sessions.len() >= 3, "{} sessions", job.sessions.len());
    assert!(job.sessions.iter().all(|session| session.by.is_some()), "who measured");
    let days: BTreeSet<_> = job.sessions.iter().map(|session| session.on.as_str()).collect();
    assert_eq!(days.len(), job.sessions.len(), "each on its own day");
    let kept = |option: &&ConsideredOption| matches!(option.fate, Fate::Kept(_));
    let rejected = |option: &&ConsideredOption| matches!(option.fate, Fate::Rejected(_));
    assert!(job.options.iter().filter(kept).count() >= 2);
    assert!(job.options.iter().filter(rejected).count() >= 2);
}
