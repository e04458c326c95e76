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
        (0, Verdict::Holds, Verdict::Fails)
    );
}

#[test]
fn the_spread_makes_a_stretch_unsure() {
    // x ± 1: it holds below 3 - 0.95, fails above 3 + 0.95 (97.5 % of limits), and is unsure between.
    let text = "input x = 1.0 plus_minus 1.0; check x <= 3.0;";
    let found = swept(text, &[(0, &[0.0, 2.0, 4.0, 6.0])], &[]);
    let verdicts: Vec<Verdict> = found.changes.iter().map(|change| change.after).collect();
    assert_eq!(verdicts, [Verdict::Unsure, Verdict::Fails]);
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
