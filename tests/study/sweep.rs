//! Results and verdicts between here and there.

use super::{Script, close};
use crankline_engine::study::{Axis, Key, Sweep, Swept, Verdict, sweep};

fn swept(text: &str, axes: &[(usize, &[f64])], watched: &[&str]) -> Swept {
    let script = Script::new(text);
    let (tape, outcomes) = script.once(None).unwrap_or_else(|error| panic!("{error}"));
    let axes = axes.iter().map(|(input, values)| Axis {
        input: *input,
        values: values.to_vec(),
    });
    let watched = watched.iter().map(|step| Key {
        run: 0,
        step: (*step).to_owned(),
        items: Vec::new(),
    });
    let asked = Sweep {
        axes: axes.collect(),
        watched: watched.collect(),
        left_out: Vec::new(),
    };
    sweep(&script, (&tape, &outcomes), &asked)
}

fn values(swept: &Swept, number: usize) -> Vec<Option<f64>> {
    let points = swept.points.iter();
    points
        .map(|point| point.numbers[number].map(|number| number.value))
        .collect()
}

#[test]
fn the_watched_number_at_every_point() {
    let found = swept("input x = 1.0; step y = x * x;", &[(0, &[0.0, 1.5, 3.0])], &["y"]);
    assert_eq!(values(&found, 0), [Some(0.0), Some(2.25), Some(9.0)]);
    assert_eq!(found.samples, 0, "nothing has a ±");
}

#[test]
fn a_verdict_changes_where_the_check_says() {
    // Without a ±: at 2 and nowhere else.
    let found = swept(
        "input x = 1.0; check x <= 2.0; check x >= 0.0;",
        &[(0, &[0.5, 1.2, 2.7, 4.0])],
        &[],
    );
    assert_eq!(found.changes.len(), 1);
    let change = &found.changes[0];
    close(change.at, 2.0, 1e-4);
    assert_eq!(
        (change.check, change.before, change.after),
        (0, Some(Verdict::Holds), Some(Verdict::Fails))
    );
}

#[test]
fn the_spread_makes_a_stretch_unsure() {
    // x ± 1: it holds below 3 - 0.95, fails above 3 + 0.95 (97.5 % of limits), and is unsure between.
    let text = "input x = 1.0 plus_minus 1.0; check x <= 3.0;";
    let found = swept(text, &[(0, &[0.0, 2.0, 4.0, 6.0])], &[]);
    let verdicts: Vec<Option<Verdict>> = found.changes.iter().map(|change| change.after).collect();
    assert_eq!(verdicts, [Verdict::Unsure, Verdict::Fails].map(Some));
    close(found.changes[0].at, 2.05, 0.01);
    close(found.changes[1].at, 3.95, 0.01);
}

#[test]
fn the_band_is_that_of_the_readings() {
    let text = "input x = 1.0; input y = 2.0 plus_minus 0.5; step product = x * y;";
    let found = swept(text, &[(0, &[1.0, 4.0])], &["product"]);
    let last = found.points[1].numbers[0].unwrap();
    close(last.value, 8.0, 1e-12);
    close(last.low, 8.0 - 4.0 * 0.475, 0.02);
    close(last.high, 8.0 + 4.0 * 0.475, 0.02);
}

#[test]
fn two_inputs_make_a_map() {
    let found = swept(
        "input x = 1.0; input y = 1.0; step sum = x + 10.0 * y; check sum <= 21.0;",
        &[(0, &[1.0, 2.0]), (1, &[1.0, 2.0])],
        &["sum"],
    );
    let sums: Vec<f64> = values(&found, 0).into_iter().flatten().collect();
    assert_eq!(sums, [11.0, 21.0, 12.0, 22.0], "the last moves fastest");
    let verdicts: Vec<Verdict> = found.points.iter().map(|point| point.verdict).collect();
    assert_eq!(
        verdicts,
        [Verdict::Holds, Verdict::Holds, Verdict::Holds, Verdict::Fails]
    );
    assert!(found.changes.is_empty());
}

#[test]
fn other_ways_through_the_script_are_taken_and_refusals_told() {
    let text = "
        input x = 4.0;
        let y = 0.0;
        if x < 2.0 { y = 10.0; } else { y = x; }
        step root = sqrt(y - 3.0);
    ";
    let found = swept(text, &[(0, &[1.0, 2.5, 4.0])], &["root"]);
    let roots = values(&found, 0);
    close(roots[0].unwrap(), 7.0_f64.sqrt(), 1e-12);
    assert_eq!(roots[1], None);
    assert_eq!(roots[2], Some(1.0));
    assert!(
        found.points[1]
            .refused
            .as_ref()
            .is_some_and(|message| message.contains("root"))
    );
}

#[test]
fn what_does_not_depend_on_it_is_told_apart() {
    let text = "input x = 1.0; input z = 5.0; check x <= 3.0; check z <= 1.0;";
    let found = swept(text, &[(0, &[1.0, 2.0])], &[]);
    assert_eq!(found.points[0].verdict, Verdict::Fails);
    assert_eq!(found.points[0].moved, Some(Verdict::Holds));
}

/// From 2 on a branch asks for x >= 3: it fails from 2 to 3, holds from there on, and below 2 is not there.
#[test]
fn checks_of_another_branch_are_in_the_rows_that_have_them() {
    let text = "input x = 1.0; check x <= 10.0; if x >= 2.0 { check x >= 3.0; }";
    let found = swept(text, &[(0, &[1.0, 2.5, 4.0])], &[]);
    assert_eq!(found.checks.len(), 2);
    assert_eq!(found.checks[1].check.formula, "x >= 3.0");
    assert_eq!(
        found.checks.iter().map(|check| check.elsewhere).collect::<Vec<_>>(),
        [false, true]
    );
    let rows: Vec<Option<Verdict>> = found.points.iter().map(|point| point.checks[1]).collect();
    assert_eq!(rows, [None, Some(Verdict::Fails), Some(Verdict::Holds)]);
    let verdicts: Vec<Verdict> = found.points.iter().map(|point| point.verdict).collect();
    assert_eq!(verdicts, [Verdict::Holds, Verdict::Fails, Verdict::Holds]);
    assert_eq!(found.points[1].moved, Some(Verdict::Fails));
    let [begins, turns] = found.changes.as_slice() else {
        panic!("{:?}", found.changes)
    };
    close(begins.at, 2.0, 1e-4);
    assert_eq!(
        (begins.check, begins.before, begins.after),
        (1, None, Some(Verdict::Fails))
    );
    close(turns.at, 3.0, 1e-4);
    assert_eq!(
        (turns.before, turns.after),
        (Some(Verdict::Fails), Some(Verdict::Holds))
    );
}

/// It holds at 1 and is not there at 3, and yet fails from 1.5 to 2: what ends between two points is looked for.
#[test]
fn a_check_that_ends_between_two_points_may_fail_there() {
    let text = "input x = 1.0; if x <= 2.0 { check x <= 1.5; }";
    let found = swept(text, &[(0, &[1.0, 3.0])], &[]);
    let changes: Vec<_> = found
        .changes
        .iter()
        .map(|change| (change.before, change.after))
        .collect();
    assert_eq!(
        changes,
        [
            (Some(Verdict::Holds), Some(Verdict::Fails)),
            (Some(Verdict::Fails), None)
        ]
    );
    close(found.changes[0].at, 1.5, 1e-4);
    close(found.changes[1].at, 2.0, 1e-4);
}

/// The other way round: the first run has the branch's check, and where the branch ends so does it.
#[test]
fn a_check_of_the_first_run_may_be_in_some_rows_only() {
    let text = "input x = 1.0; input load = 9.0; if x <= 2.0 { check load <= 5.0; }";
    let found = swept(text, &[(0, &[1.0, 3.0])], &[]);
    let rows: Vec<Option<Verdict>> = found.points.iter().map(|point| point.checks[0]).collect();
    assert_eq!(rows, [Some(Verdict::Fails), None]);
    // Nothing of it moves, but it comes and goes with x.
    let moved: Vec<Option<Verdict>> = found.points.iter().map(|point| point.moved).collect();
    assert_eq!(moved, [Some(Verdict::Fails), None]);
    assert_eq!(found.changes.len(), 1);
    close(found.changes[0].at, 2.0, 1e-4);
    assert_eq!(
        (found.changes[0].before, found.changes[0].after),
        (Some(Verdict::Fails), None)
    );
}

/// The branch is there where load < x, load 5 ± 1, in (x - 4)/2 of the samples: a quarter at x = 4.5. There it fails; so
/// from 4.05 on, with one sample of forty, it is no longer sure to hold, and fails from 5.95 on.
#[test]
fn samples_lead_to_another_branch() {
    let text = "input x = 1.0; input load = 5.0 plus_minus 1.0; if load < x { check x >= 100.0; }";
    let found = swept(text, &[(0, &[3.0, 4.5, 7.0])], &[]);
    let rows: Vec<Option<Verdict>> = found.points.iter().map(|point| point.checks[0]).collect();
    assert_eq!(rows, [None, Some(Verdict::Unsure), Some(Verdict::Fails)]);
    assert_eq!(found.points[1].verdict, Verdict::Unsure);
    let at: Vec<f64> = found.changes.iter().map(|change| change.at).collect();
    assert_eq!(at.len(), 2, "{:?}", found.changes);
    close(at[0], 4.05, 0.01);
    close(at[1], 5.95, 0.01);
}

/// A check on its own way holds in all the samples that lead there, and in the others asks nothing: as a run judges it.
#[test]
fn a_row_is_judged_as_a_run_is() {
    let text = "
        input x = 5.0;
        input load = 5.0 plus_minus 1.0;
        if load < x { check load <= 4.5; } else { check load >= 5.5; }
    ";
    // At x = 5: load to 4 … 5, half of which above 4.5 fails; likewise the other: a quarter of all fails.
    let found = swept(text, &[(0, &[5.0])], &[]);
    assert_eq!(found.points[0].checks, [Some(Verdict::Unsure); 2]);
    let judged = super::judged(text);
    close(super::check(&judged, 0).chance, 0.75, 0.002);
    close(judged.runs[0].elsewhere[0].judged.chance, 0.75, 0.002);
    // At x = 20 the first way alone is left, and fails in three of four.
    let found = swept(text, &[(0, &[20.0])], &[]);
    assert!(found.points[0].checks.contains(&None));
}
