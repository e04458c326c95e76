//! Where inputs have to be, against places that can be worked out by hand.

use super::{Script, close};
use crankline_engine::outcome::Outcome;
use crankline_engine::study::{Adjusted, Binding, Key, Request, Solved, Target, Verdict, made_of, solve};
use crankline_engine::tape::Tape;

fn key(step: &str) -> Key {
    Key {
        run: 0,
        step: step.to_owned(),
        items: Vec::new(),
    }
}

/// Adjusts a script's first inputs within their limits.
fn adjusting(ranges: &[(f64, f64)]) -> Request {
    let adjusted = ranges.iter().enumerate().map(|(input, (low, high))| Adjusted {
        name: format!("input {input}"),
        input,
        low: *low,
        high: *high,
        now: None,
        snap: None,
    });
    Request {
        adjusted: adjusted.collect(),
        ..Request::default()
    }
}

fn aimed(ranges: &[(f64, f64)], targets: &[(&str, f64)]) -> Request {
    let targets = targets.iter().map(|(step, value)| Target {
        key: key(step),
        value: *value,
    });
    Request {
        targets: targets.collect(),
        ..adjusting(ranges)
    }
}

fn first(script: &Script) -> (Tape, Vec<Outcome>) {
    script.once(None).unwrap_or_else(|error| panic!("{error}"))
}

fn solved(text: &str, request: &Request) -> Solved {
    let script = Script::new(text);
    let (tape, outcomes) = first(&script);
    solve(&script, (&tape, &outcomes), request, false).unwrap_or_else(|error| panic!("{error}"))
}

/// Places of the solutions, in rising order.
fn places(solved: &Solved) -> Vec<Vec<f64>> {
    let mut places: Vec<Vec<f64>> = solved.solutions.iter().map(|solution| solution.at.clone()).collect();
    places.sort_by(|a, b| a[0].total_cmp(&b[0]));
    places
}

#[test]
fn every_root_of_two_equations_is_found_once() {
    // A circle and a line: (4, 3) and (-3, -4).
    let text = "input x = 0.5; input y = 0.1; step circle = x * x + y * y; step line = x - y;";
    let solved = solved(
        text,
        &aimed(&[(-6.0, 6.0), (-6.0, 6.0)], &[("circle", 25.0), ("line", 1.0)]),
    );
    let places = places(&solved);
    assert_eq!(places.len(), 2, "{places:?}");
    for (found, expected) in places.iter().flatten().zip([-3.0, -4.0, 4.0, 3.0]) {
        close(*found, expected, 1e-6);
    }
    assert!(solved.solutions.iter().all(|solution| solution.met && solution.good));
}

#[test]
fn the_smallest_margin_is_as_large_as_it_can_be() {
    // (x - 1)/1 = (4 - x)/4 at x = 1.6.
    let text = "input x = 3.0; check x >= 1; check x <= 4;";
    let solved = solved(text, &adjusting(&[(0.0, 6.0)]));
    assert_eq!(solved.solutions.len(), 1);
    let solution = &solved.solutions[0];
    close(solution.at[0], 1.6, 1e-6);
    close(solution.margin.unwrap(), 0.6, 1e-6);
    let both = [0, 1].map(|check| Binding::Check { run: 0, check });
    assert_eq!(solution.binding, both);
    assert_eq!(solution.moved, [(0, 0), (0, 1)]);
    assert!(solution.good);
}

#[test]
fn solutions_that_nothing_connects_are_told_apart() {
    // x² - 1 = (4 - x²)/4 at x² = 1.6, on either side of a forbidden middle.
    let text = "input x = 0.3; check x * x >= 1; check x * x <= 4;";
    let solved = solved(text, &adjusting(&[(-3.0, 3.0)]));
    let places = places(&solved);
    assert_eq!(places.len(), 2, "{places:?}");
    close(places[0][0], -(1.6_f64.sqrt()), 1e-5);
    close(places[1][0], 1.6_f64.sqrt(), 1e-5);
}

#[test]
fn where_nothing_holds_the_least_violation_is_given() {
    // (x - 3)/3 = (2 - x)/2 at x = 2.4: both a fifth short.
    let text = "input x = 0.0; check x >= 3; check x <= 2;";
    let solved = solved(text, &adjusting(&[(0.0, 6.0)]));
    assert_eq!(solved.solutions.len(), 1);
    let solution = &solved.solutions[0];
    assert!(!solution.good);
    close(solution.at[0], 2.4, 1e-6);
    close(solution.margin.unwrap(), -0.2, 1e-6);
}

#[test]
fn bounds_bind_too() {
    let text = "input x = 1.0; check x <= 10;";
    let solved = solved(text, &adjusting(&[(2.0, 6.0)]));
    close(solved.solutions[0].at[0], 2.0, 1e-9);
    assert!(solved.solutions[0].binding.contains(&Binding::Lowest(0)));
}

#[test]
fn as_small_as_the_checks_allow() {
    // The lightest box of 8 over a square of x: x² h = 8, 4 x h + x² least at x³ = 16 (elementary calculus).
    let text = "
        input x = 1.0; input h = 1.0;
        step sheet = 4.0 * x * h + x * x;
        check x * x * h >= 8.0;
    ";
    let mut request = adjusting(&[(0.5, 6.0), (0.5, 6.0)]);
    request.least = Some(key("sheet"));
    let solved = solved(text, &request);
    let solution = &solved.solutions[0];
    let side = 16.0_f64.cbrt();
    close(solution.at[0], side, 1e-3);
    close(solution.at[1], 8.0 / (side * side), 1e-3);
    assert!(solution.good, "{:?}", solution.margin);
}

#[test]
fn a_step_across_a_guard_takes_the_other_path() {
    // Below 2 the way through the script is another; the root stands behind it.
    let text = "
        input x = 0.5;
        let y = x * 2;
        if x >= 2 { y = x * x; }
        step height = y;
    ";
    let solved = solved(text, &aimed(&[(0.0, 5.0)], &[("height", 9.0)]));
    assert_eq!(solved.solutions.len(), 1);
    close(solved.solutions[0].at[0], 3.0, 1e-6);
}

#[test]
fn places_that_the_script_refuses_are_kept_away_from() {
    let text = "input x = 1.0; step y = sqrt(x - 1.0);";
    let solved = solved(text, &aimed(&[(-4.0, 6.0)], &[("y", 0.5)]));
    close(solved.solutions[0].at[0], 1.25, 1e-6);
    assert!(solved.refused > 0 && solved.refused < solved.starts);
}

#[test]
fn what_exists_is_checked_again() {
    let text = "input x = 3.0; check x >= 1; check x <= 4;";
    let mut request = adjusting(&[(0.0, 6.0)]);
    request.adjusted[0].snap = Some(0.5);
    let solved = solved(text, &request);
    // 1.6 lies between 1.5 (margin 0.5) and 2 (margin 0.5): either is as good, nothing else is.
    let at = solved.solutions[0].at[0];
    assert!(at == 1.5 || at == 2.0, "{at}");
    close(solved.solutions[0].margin.unwrap(), 0.5, 1e-9);
}

#[test]
fn solutions_are_judged_with_the_readings_own_spread() {
    let text = "
        input x = 3.0;
        input load = 2.0 plus_minus 1.0;
        check load <= x;
        check x <= 4;
    ";
    // The checks are alike at x - 2 = (4 - x)/4 x or so; with ± 1 on the load the first holds not always.
    let solved = solved(text, &adjusting(&[(0.0, 6.0)]));
    let judged = &solved.solutions[0].judged.runs[0];
    assert_eq!(judged.checks[0].verdict, Verdict::Unsure);
    assert_eq!(judged.checks[1].verdict, Verdict::Holds);
}

#[test]
fn a_target_that_comes_to_a_point_names_what_it_is_made_of() {
    let text = "
        input x = 1.0; input y = 2.0;
        step re = x - 1.5; step im = y + 0.5;
        step left = sqrt(hypot(re, im));
        step sum = re + im;
    ";
    let script = Script::new(text);
    let (tape, outcomes) = first(&script);
    let (there, at_the_point) = script
        .once(Some(vec![1.5, -0.5]))
        .unwrap_or_else(|error| panic!("{error}"));
    let parts = |step: &str| made_of((&there, &at_the_point), (&tape, &outcomes), &key(step));
    assert_eq!(parts("left"), ["im", "re"]);
    assert!(parts("sum").is_empty());
    // Elsewhere nothing has come to a point.
    assert!(made_of((&tape, &outcomes), (&tape, &outcomes), &key("left")).is_empty());
    let ranges = [(-4.0, 4.0), (-4.0, 4.0)];
    let parts = solved(text, &aimed(&ranges, &[("re", 0.0), ("im", 0.0)]));
    close(parts.solutions[0].at[0], 1.5, 1e-9);
    close(parts.solutions[0].at[1], -0.5, 1e-9);
}

#[test]
fn a_robust_margin_is_what_the_readings_leave() {
    // x has to be above the load, known to ± 1, and below 4: with the load's upper end 2 + 0.95 (97.5 % of its limits)
    // the margins over their sizes are alike where (x - 2.95)/3 = (4 - x)/4 or so; without ± at another place.
    let text = "
        input x = 3.0;
        input load = 2.0 plus_minus 1.0;
        check load <= x;
        check x <= 4.0;
    ";
    let mut request = adjusting(&[(0.0, 6.0)]);
    request.robust = true;
    let solved = solved(text, &request);
    let solution = &solved.solutions[0];
    // Sizes come from the middle of the range, x = 3: 3 for the first check, 4 for the second.
    let expected = (3.0 * 4.0 + 4.0 * 2.95) / 7.0;
    close(solution.at[0], expected, 0.01);
    let judged = &solution.judged.runs[0];
    assert!(judged.checks.iter().all(|check| check.verdict == Verdict::Holds));
}

#[test]
fn a_target_is_met_as_near_as_what_exists() {
    let text = "input x = 1.0; step y = 2.0 * x;";
    let mut request = aimed(&[(0.0, 6.0)], &[("y", 5.3)]);
    request.adjusted[0].snap = Some(0.5);
    let solved = solved(text, &request);
    let solution = &solved.solutions[0];
    assert!(solution.good && solution.met);
    assert_eq!(solution.at, [2.5]);
    close(solution.misses[0], -0.3, 1e-12);
}

/// Below 2 the first check is short; above 2 a lug asks for 3 <= x <= 5 too. Without those checks the far end is best.
const LUG: &str = "
    input x = 0.5;
    check x * x >= 4.4;
    if x >= 2 { check x >= 3.0; check x <= 5.0; }
";

#[test]
fn checks_of_another_branch_lead() {
    // (x - 3)/3 = (5 - x)/5 at x = 3.75: a quarter either way; the first check is far from turning there.
    let solved = solved(LUG, &adjusting(&[(0.0, 3.9)]));
    let [solution] = solved.solutions.as_slice() else {
        panic!("{:?}", places(&solved))
    };
    assert!(solution.good);
    close(solution.at[0], 3.75, 1e-6);
    close(solution.margin.unwrap(), 0.25, 1e-6);
    assert_eq!(solution.binding, [1, 2].map(|check| Binding::Check { run: 0, check }));
    assert_eq!(solution.moved, [(0, 0), (0, 1), (0, 2)]);
    assert_eq!((solved.checks, solved.beside), (3, 2));
}

/// The middle of the range is on the way with the checks; what it lacks elsewhere is known all the same.
#[test]
fn from_the_other_branch_it_is_the_same() {
    let solved = solved(LUG, &adjusting(&[(0.0, 10.0)]));
    close(solved.solutions[0].at[0], 3.75, 1e-6);
    assert_eq!((solved.checks, solved.beside), (3, 0));
}

#[test]
fn a_check_that_moves_in_another_branch_only_leads() {
    // Up to 4 nothing moves, and 3 >= 5 fails. Beyond it x - 1 >= 5 asks for 6, x <= 8 for less: (x - 6)/5 = (8 - x)/8
    // at x = 88/13.
    let text = "
        input x = 0.5;
        let y = 3.0;
        if x > 4.0 { y = x - 1.0; }
        check y >= 5.0;
        check x <= 8.0;
    ";
    let solved = solved(text, &adjusting(&[(0.0, 7.9)]));
    let solution = &solved.solutions[0];
    assert!(solution.good, "{:?}", places(&solved));
    close(solution.at[0], 88.0 / 13.0, 1e-6);
    assert_eq!(solved.checks, 2);
}

/// A way on which something fails wherever it is gone has no solution, though nothing of it moves.
#[test]
fn a_branch_in_which_something_always_fails_is_no_solution() {
    for check in [
        "check load <= 5.0;",
        "check load == 3.0;",
        "let fits = false; check fits;",
    ] {
        let text = format!("input x = 1.0; input load = 6.0; check x >= 1.0; if x > 2.0 {{ {check} }}");
        let solved = solved(&text, &adjusting(&[(0.0, 10.0)]));
        let solution = &solved.solutions[0];
        assert!(solution.good, "{check}");
        close(solution.at[0], 2.0, 1e-6);
        assert_eq!(solution.moved, [(0, 0)], "{check}");
    }
}

/// The load is 5 ± 1: from x = 4 on samples lead to the branch and its check. The reading itself does not, up to 5.
const SELDOM: &str = "
    input x = 1.0;
    input load = 5.0 plus_minus 1.0;
    check x >= 2.0;
    if load < x { check x <= 4.2; }
";

#[test]
fn a_robust_search_is_led_by_checks_that_only_samples_have() {
    let mut request = adjusting(&[(0.0, 4.9)]);
    request.robust = true;
    let robust = solved(SELDOM, &request);
    let solution = &robust.solutions[0];
    assert!(solution.good);
    // The check is there in (x - 4)/2 of the samples: beyond 4.05 in more than one of forty, and little is left of it.
    close(solution.at[0], 4.05, 0.01);
    assert_eq!((robust.checks, robust.beside), (2, 1));
    assert!(
        solution.judged.runs[0]
            .all()
            .all(|check| check.verdict == Verdict::Holds)
    );
    // Without the ± the far end is best, and the check of the samples is said to fail there in 45 of 100.
    let plain = solved(SELDOM, &adjusting(&[(0.0, 4.9)]));
    let solution = &plain.solutions[0];
    close(solution.at[0], 4.9, 1e-6);
    assert_eq!(solution.moved, [(0, 0), (0, 1)]);
    assert_eq!(solution.judged.runs[0].elsewhere[0].judged.verdict, Verdict::Unsure);
    close(solution.judged.runs[0].elsewhere[0].judged.chance, 0.55, 0.01);
}

/// The reading decides about the way alone, and stands in no check: it is sampled all the same.
#[test]
fn a_robust_search_samples_what_decides_the_way() {
    // The check is there where load > x / 2: with load 2 ± 1 in more than one sample of forty until x / 2 = 2.95.
    let text = "
        input x = 7.0;
        input load = 2.0 plus_minus 1.0;
        check x <= 10.0;
        if load > x / 2.0 { check x >= 100.0; }
    ";
    let mut request = adjusting(&[(0.0, 8.0)]);
    request.robust = true;
    let solved = solved(text, &request);
    let solution = &solved.solutions[0];
    assert!(solution.good, "{:?}", places(&solved));
    close(solution.at[0], 5.9, 0.02);
}
