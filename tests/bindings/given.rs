//! Points and vectors as inputs: three numbers with one ±.

use super::check::{from, given, linked, measured, replays, run, run_on, text};
use crankline_engine::outcome::{Origin, Spread, Value};
use crankline_engine::script::{Bindings, GivenValue};

const JOINT: &str = r#"
input front_joint = point(905.mm, 22.mm, -70.mm) plus_minus 1.mm : "Front joint";
step x = front_joint.x;
step y = front_joint.y;
step z = front_joint.z;
"#;

fn mm(ran: &super::check::Ran) -> [f64; 3] {
    ["x", "y", "z"].map(|axis| (ran.step(axis).si * 1e6).round() / 1e3)
}

fn spreads(ran: &super::check::Ran) -> Vec<(String, Spread)> {
    let parts = &ran.outcome.inputs[0].parts;
    parts.iter().map(|part| (part.address.clone(), part.spread)).collect()
}

#[test]
fn an_example_is_three_inputs() {
    let ran = run(JOINT);
    assert_eq!(mm(&ran), [905.0, 22.0, -70.0]);
    let each = ["front_joint.x", "front_joint.y", "front_joint.z"];
    let expected: Vec<_> = each.map(|address| (address.to_owned(), Spread::Limits(0.001))).into();
    assert_eq!(spreads(&ran), expected);
    let Value::Items(items) = &ran.outcome.inputs[0].value else {
        panic!("a point has three parts");
    };
    let keys: Vec<&str> = items.iter().map(|(key, _)| key.as_str()).collect();
    assert_eq!(keys, ["x", "y", "z"]);
    replays(JOINT);
}

#[test]
fn a_text_gives_all_three_and_their_spread() {
    let ran = given(JOINT, measured([("front_joint", text("(900, 20.5, -71) +/- 2 mm"))]));
    assert_eq!(mm(&ran), [900.0, 20.5, -71.0]);
    assert!(spreads(&ran).iter().all(|(_, spread)| *spread == Spread::Limits(0.002)));
    assert_eq!(ran.outcome.inputs[0].origin, Origin::Measured);
    assert_eq!(ran.tape.inputs.len(), 3);
}

#[test]
fn a_text_without_a_spread_takes_the_scripts_own() {
    let ran = given(JOINT, measured([("front_joint", text("(900, 20.5, -71) mm"))]));
    assert!(spreads(&ran).iter().all(|(_, spread)| *spread == Spread::Limits(0.001)));
}

#[test]
fn each_coordinate_may_be_given_by_name() {
    let fields = GivenValue::Fields(vec![
        ("z".to_owned(), text("-71 mm")),
        ("x".to_owned(), text("900 mm +/- 3 mm")),
        ("y".to_owned(), text("2 cm")),
    ]);
    let ran = given(JOINT, measured([("front_joint", fields)]));
    assert_eq!(mm(&ran), [900.0, 20.0, -71.0]);
    assert_eq!(spreads(&ran)[0].1, Spread::Limits(0.003));
    assert_eq!(spreads(&ran)[1].1, Spread::Limits(0.001));
    let list = GivenValue::List(vec![text("900 mm"), text("20 mm"), text("-71 mm")]);
    assert_eq!(
        mm(&given(JOINT, measured([("front_joint", list)]))),
        [900.0, 20.0, -71.0]
    );
}

#[test]
fn one_coordinate_on_trial_puts_the_point_on_trial() {
    let mut bindings = measured([("front_joint", text("(900, 20, -71) mm"))]);
    bindings.extend(from(Origin::Trial, [("front_joint.y", text("25 mm"))]));
    let ran = given(JOINT, bindings);
    assert_eq!(mm(&ran), [900.0, 25.0, -71.0]);
    assert_eq!(ran.outcome.inputs[0].origin, Origin::Trial);
}

#[test]
fn a_point_is_measured_when_all_of_it_is() {
    let one = given(JOINT, measured([("front_joint.x", text("900 mm"))]));
    assert_eq!(one.outcome.inputs[0].origin, Origin::Example);
    let all = measured([
        ("front_joint.x", text("900 mm")),
        ("front_joint.y", text("20 mm")),
        ("front_joint.z", text("-71 mm")),
    ]);
    assert_eq!(given(JOINT, all).outcome.inputs[0].origin, Origin::Measured);
}

#[test]
fn a_point_of_an_earlier_run_stays_the_same_reading() {
    let first =
        "input p = point(1.mm, 2.mm, 3.mm) plus_minus 1.mm; step q = p + vector(0.mm, 0.mm, 4.mm); step v = q - p;";
    let ran = linked(first, "q", JOINT, "front_joint").unwrap_or_else(|message| panic!("{message}"));
    assert_eq!(mm(&ran), [1.0, 2.0, 7.0]);
    assert_eq!(ran.tape.inputs.len(), 3);
    assert_eq!(ran.outcome.inputs[0].parts.len(), 0);
    let same = linked(first, "p", JOINT, "front_joint").unwrap_or_else(|message| panic!("{message}"));
    assert_eq!(same.tape.inputs.len(), 3);
    assert_eq!(spreads(&same)[2].0, "front_joint.z");
    let message = linked(first, "v", JOINT, "front_joint").err().unwrap();
    assert_eq!(message, "`front_joint` must be a point, this is a vector (length)");
}

#[test]
fn repeats_give_each_coordinate_its_scatter() {
    let repeats = ["(900, 20, -70) mm", "(902, 20, -71) mm", "(904, 20, -72) mm"].map(str::to_owned);
    let repeats = GivenValue::Repeats(repeats.into(), Some("1 mm".to_owned()));
    let ran = given(JOINT, measured([("front_joint", repeats)]));
    assert_eq!(mm(&ran), [902.0, 20.0, -71.0]);
    // Scatter of the mean s/√n (JCGM 100:2008, 4.2.3): s = 2 mm along x, none along y.
    let scatter = |part: usize| match spreads(&ran)[part].1 {
        Spread::Repeats { mean_scatter, .. } => mean_scatter,
        other => panic!("{other:?}"),
    };
    assert!((scatter(0) - 0.002 / 3f64.sqrt()).abs() < 1e-15);
    assert!(scatter(1).abs() < 1e-15);
}

#[test]
fn forces_directions_and_lists_of_points() {
    let ran = run(r#"
        input pull = vector(0.N, 0.N, -900.N) std_dev 10.N;
        input marks = [point(0.mm, 0.mm, 0.mm), point(1.m, 0.mm, 0.mm)] plus_minus 2.mm;
        step x = pull.z;
        step y = polyline_length(marks);
    "#);
    assert_eq!(ran.outcome.inputs[0].parts[2].spread, Spread::Standard(10.0));
    let addresses: Vec<&str> = ran.outcome.inputs[1]
        .parts
        .iter()
        .map(|part| part.address.as_str())
        .collect();
    assert_eq!(addresses[..2], ["marks[0].x", "marks[0].y"]);
    assert_eq!(addresses.len(), 6);
    let other = GivenValue::List(vec![text("(0, 0, 0) m"), text("(3, 4, 0) m"), text("(3, 4, 1) m")]);
    let ran = given(
        "input marks = [point(0.mm, 0.mm, 0.mm), point(1.m, 0.mm, 0.mm)]; step y = polyline_length(marks);",
        measured([("marks", other)]),
    );
    assert!((ran.step("y").si - 6.0).abs() < 1e-12);
}

#[test]
fn a_point_stands_in_a_text() {
    let ran = run(r#"input p = point(905.mm, 22.mm, -70.mm); note `the joint is at ${p}`;"#);
    assert_eq!(ran.outcome.notes[0].pieces.len(), 7);
}

#[test]
fn what_is_no_point_is_refused() {
    let cases = [
        (text("905 mm"), "`front_joint` is three numbers, `905 mm` is one"),
        (
            text("(1, 2, 3) deg"),
            "`front_joint` must be a point, the numbers of `(1, 2, 3) deg` are each an angle",
        ),
        (
            GivenValue::Number(905.0),
            "`front_joint` must be a point, this is the number 905",
        ),
        (
            GivenValue::Fields(vec![("x".to_owned(), text("905 mm"))]),
            "`front_joint` lacks its y",
        ),
        (
            GivenValue::Fields(vec![("up".to_owned(), text("905 mm"))]),
            "`front_joint` has x, y and z, no `up`",
        ),
    ];
    for (what, expected) in cases {
        let bindings: Bindings = measured([("front_joint", what)]);
        let message = run_on(JOINT, bindings, None).err().unwrap();
        assert!(message.starts_with(expected), "{message}");
    }
    let script = "input n = 3.mm; step m = n;";
    let message = run_on(script, measured([("n.x", text("1 mm"))]), None).err().unwrap();
    assert_eq!(message, "`n` has no part `n.x` (`n` has no parts)");
    let range = "input p = point(1.mm, 2.mm, 3.mm) from 0.mm to 5.mm; step q = p.x;";
    let message = run_on(range, measured([("p", text("(1, 2, 30) mm"))]), None)
        .err()
        .unwrap();
    assert!(
        message.starts_with("`p.z` is 30 mm, outside what may be entered"),
        "{message}"
    );
}
