//! Spread, sweep and solve on every shipped script: none needs code of its own for them.

use super::check::run;
use serde_json::Value;

/// What a study gives, as data. Checks that fail are no failure of the study.
fn found(arguments: &[&str]) -> Value {
    let ran = run(&[arguments, &["--format", "json"]].concat());
    assert!(ran.code < 2, "{arguments:?}: {}", ran.stderr);
    serde_json::from_str(&ran.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}"))
}

fn list<'a>(run: &'a Value, key: &str) -> &'a [Value] {
    run[key].as_array().map_or(&[], Vec::as_slice)
}

/// The first number that is entered, one with a ± before any other, from a little below to a little above, as it is
/// written behind `--vary`.
fn span(run: &Value) -> Option<String> {
    let width = |input: &&Value| input["plus_minus"].as_f64().filter(|width| *width > 0.0);
    let numbers = || list(run, "inputs").iter().filter(|input| input["value"].is_f64());
    let input = numbers()
        .find(|input| width(input).is_some())
        .or_else(|| numbers().next())?;
    let (name, unit) = (input["name"].as_str()?, input["unit"].as_str().unwrap_or(""));
    let value = input["value"].as_f64()?;
    let width = width(&input).unwrap_or(value.abs() / 100.0);
    Some(format!("{name}={} {unit}..{} {unit}", value - width, value + width))
}

#[test]
fn every_script_can_be_spread_swept_and_solved() {
    let (mut studied, mut moving) = (0, 0);
    for name in crankline_scripts::script_names() {
        let ran = found(&["run", &name]);
        let steps = list(&ran, "steps");
        let single = |step: &&Value| step["value"].is_number();
        let (Some(span), Some(watched)) = (span(&ran), steps.iter().rev().find(single)) else {
            // Modules have functions only.
            assert!(steps.is_empty(), "{name} has nothing to vary");
            continue;
        };
        let watched = watched["name"].as_str().unwrap();

        let spread = found(&["spread", &name, "--samples", "64"]);
        assert_eq!(list(&spread, "steps").len(), steps.len(), "{name}");
        let moves = list(&spread, "steps")
            .iter()
            .any(|step| step["std_dev_si"].as_f64().is_some_and(|by| by > 0.0));
        moving += usize::from(moves);

        let swept = found(&["sweep", &name, "--vary", &span, "--points", "3", "--watch", watched]);
        assert_eq!(list(&swept, "rows").len(), 3, "{name}");
        assert!(
            list(&swept, "rows").iter().all(|row| row["verdict"].is_string()),
            "{name}"
        );

        let solved = found(&["solve", &name, "--adjust", &span]);
        assert!(solved["solutions"].is_array() && solved["binding"].is_array(), "{name}");
        studied += 1;
    }
    assert!(studied > 50 && moving > 50, "{studied} scripts, {moving} of them move");
}
