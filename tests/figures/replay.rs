//! The figures of the shipped scripts on the tape: what a picture shows of a sample is what a run shows.

use crankline_engine::figure::Figure;
use crankline_engine::job::{Job, Overrides, Plan};
use crankline_engine::script::Library;
use crankline_engine::study::Experiment;
use crankline_engine::tape::Replay;
use crankline_scripts::{Shipped, script, script_names};
use std::rc::Rc;

#[test]
fn a_figure_of_a_replay_is_that_of_a_run() {
    let (mut compared, mut followed) = (0, 0);
    for name in script_names() {
        let library = Library::new(Rc::new(Shipped));
        let programs = |name: &str| library.compile(script(name).unwrap());
        let job = Job::of_run(&name, Vec::new());
        let plan =
            Plan::new(&job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| panic!("{error}"));
        let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
        let figures: Vec<&Figure> = ran
            .runs
            .iter()
            .flat_map(|run| &run.outcome.figures)
            .map(|shown| &shown.figure)
            .collect();
        if figures.is_empty() {
            continue;
        }
        let inputs: Vec<f64> = ran
            .tape
            .inputs
            .iter()
            .map(|slot| ran.tape.nominal[*slot as usize])
            .collect();
        for share in [1.0, 1.000_3] {
            let moved: Vec<f64> = inputs.iter().map(|value| value * share).collect();
            let Ok((tape, outcomes)) = Experiment::run(&plan, &moved) else {
                continue;
            };
            let mut replay = Replay::new(&ran.tape);
            let Ok(values) = replay.run(&moved) else {
                continue;
            };
            if tape.graph.slots() != ran.tape.graph.slots() {
                continue;
            }
            let again = outcomes
                .iter()
                .flat_map(|outcome| &outcome.figures)
                .map(|shown| &shown.figure);
            for (figure, again) in figures.iter().zip(again) {
                let (before, after) = (figure.amounts(), again.amounts());
                assert_eq!(before.len(), after.len(), "{name}");
                for (before, after) in before.iter().zip(after) {
                    let value = before.slot.map_or(before.si, |slot| values[slot as usize]);
                    assert_eq!(
                        value.to_bits(),
                        after.si.to_bits(),
                        "{name}: {value} is not {}",
                        after.si
                    );
                    compared += 1;
                    followed += usize::from(before.slot.is_some() && value != before.si);
                }
            }
        }
    }
    assert!(compared > 1000 && followed > 300, "{compared}, {followed}");
}
