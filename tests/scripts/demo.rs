//! The demonstration job: it runs, and as found it fails for the reasons that its head names.

use super::shelf::{Shelf, read, text};
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Job, Overrides, Plan, Ran};
use crankline_engine::outcome::{Origin, Piece, Spread};
use crankline_engine::script::Library;
use crankline_engine::study::{Judged, Verdict, judge};
use std::rc::Rc;

fn job() -> Job {
    let source = SourceText {
        name: "demo/roadster.toml".to_owned(),
        text: read("demo/roadster.toml"),
    };
    let files = |name: &str| Err(Refusal::new("csv", format!("there is no file `{name}`")));
    Job::read(source, &files).unwrap_or_else(|error| panic!("{error}"))
}

fn with_run<T>(work: impl FnOnce(&Ran, &Judged) -> T) -> T {
    let library = Library::new(Rc::new(Shelf));
    let programs = |name: &str| library.compile(text(name));
    let job = job();
    let fail = |error: Diagnostic| -> ! { panic!("{error}") };
    let plan = Plan::new(&job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| fail(error));
    let ran = plan.run(None).unwrap_or_else(|error| fail(error));
    let outcomes: Vec<_> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
    let judged = judge(&plan, &ran.tape, &outcomes, true);
    work(&ran, &judged)
}

/// The verdict on the check with this label in this run.
#[track_caller]
fn verdict(ran: &Ran, judged: &Judged, run: &str, label: &str) -> Verdict {
    let at = ran.runs.iter().position(|found| found.name == run).unwrap();
    let is_meant = |check: &crankline_engine::outcome::Check| {
        let pieces = check.label.iter().flat_map(|label| &label.pieces);
        pieces
            .map(|piece| match piece {
                Piece::Words(words) => words.as_str(),
                Piece::Amount(_) => "",
            })
            .collect::<String>()
            == label
    };
    let check = ran.runs[at].outcome.checks.iter().position(is_meant);
    judged.runs[at].checks[check.unwrap_or_else(|| panic!("no check `{label}`"))].verdict
}

#[test]
fn it_fails_as_found_for_reasons_to_learn_from() {
    with_run(|ran, judged| {
        let verdict = |run: &str, label: &str| verdict(ran, judged, run, label);
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
    });
}

#[test]
fn it_has_many_readings_and_runs_that_feed_others() {
    with_run(|ran, _| {
        let mut parts = std::collections::BTreeSet::new();
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
    });
    assert_eq!(job().sessions.len(), 2);
}
