//! The demonstration's page against the program: fifty times some readings are moved to somewhere in or near their ±, and
//! every step has the bits, every check the verdict, of `run --set` with the same values.

use super::check::{Folder, run};
use crate::browser::scenario;
use crate::kernel::random::Random;
use serde_json::{Value, json};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml");
const SETTINGS: usize = 50;

#[test]
fn fifty_settings_of_the_demonstration_are_what_the_program_says() {
    let folder = Folder::new();
    folder.put("page.html", &run(&["run", DEMO, "--format", "html"]).stdout);
    let page = json!(folder.0.join("page.html"));
    let Some(readings) = scenario("settings", &json!({"page": page})) else {
        return;
    };
    let settings = settings(&readings);
    let given = json!({"page": page, "settings": settings});
    let found = scenario("settings", &given).expect("the browser is there");
    let found = found.as_array().unwrap();
    let (mut steps, mut verdicts, mut left) = (0, 0, 0);
    for (setting, found) in settings.iter().zip(found) {
        let refusals = found["refusals"].as_array().unwrap();
        let set: Vec<String> = setting.iter().map(|[name, value]| format!("{name}={value}")).collect();
        let mut arguments = vec!["run", DEMO, "--format", "json"];
        arguments.extend(set.iter().flat_map(|setting| ["--set", setting]));
        let ran = run(&arguments);
        let refused: Vec<&str> = refusals
            .iter()
            .filter_map(Value::as_str)
            .filter(|words| !words.is_empty())
            .collect();
        if ran.code == 2 || !refused.is_empty() {
            assert_eq!(ran.code, 2, "{set:?}: {refused:?}");
            let named = refused.iter().any(|words| ran.stderr.contains(words));
            assert!(
                named || found["way"].as_str().is_some_and(|way| !way.is_empty()),
                "{set:?}: {}",
                ran.stderr
            );
            left += 1;
            continue;
        }
        let record: Value = serde_json::from_str(&ran.stdout).unwrap();
        let runs = record["runs"].as_array().unwrap();
        let shown = found["runs"].as_array().unwrap();
        assert_eq!(runs.len(), shown.len());
        for (run, shown) in runs.iter().zip(shown) {
            steps += same_steps(run, shown, &set);
            verdicts += same_verdicts(run, shown, &set);
        }
    }
    let last = found.last().unwrap();
    assert_eq!((&last["way"], &last["tried"]), (&Value::Null, &json!(0)));
    assert!(left < SETTINGS / 5, "{left} settings are refused");
    assert!(
        steps > 500 * (SETTINGS - left) && verdicts > 150 * (SETTINGS - left),
        "{steps} numbers, {verdicts} verdicts"
    );
}

/// One to three readings, each moved by up to three times its ±.
fn settings(readings: &Value) -> Vec<Vec<[String; 2]>> {
    let mut movable: Vec<(String, f64, f64, String)> = Vec::new();
    for pair in readings.as_array().unwrap() {
        let (name, text) = (pair[0].as_str().unwrap(), pair[1].as_str().unwrap());
        let Some(found) = reading(text) else { continue };
        if movable.iter().all(|(known, ..)| known != name) {
            movable.push((name.to_owned(), found.0, found.1, found.2));
        }
    }
    assert!(movable.len() > 60, "{} readings with a ±", movable.len());
    let mut random = Random::new(20_261_126);
    let mut one = |_| {
        let (name, value, half, unit) = &movable[random.below(movable.len())];
        [
            name.clone(),
            format!("{} {unit}", value + random.between(-3.0, 3.0) * half),
        ]
    };
    (0..SETTINGS).map(|nth| (0..=nth % 3).map(&mut one).collect()).collect()
}

/// `76.2 mm ± 0.1 mm` as value, half width and unit.
fn reading(text: &str) -> Option<(f64, f64, String)> {
    let (value, width) = text.split_once(" ± ")?;
    let end = value.find(|c: char| !(c.is_ascii_digit() || "-.".contains(c)))?;
    let (value, unit) = value.split_at(end);
    let width = width.trim_end_matches(|c: char| !c.is_ascii_digit());
    let half = width.split(' ').next()?.trim_end_matches(|c: char| !c.is_ascii_digit());
    // What stands behind a degree is which way it is.
    let unit = if unit.starts_with('°') { "°" } else { unit.trim() };
    Some((value.parse().ok()?, half.parse().ok()?, unit.to_owned()))
}

/// How many numbers were compared: of each step that the page shows, those that move.
fn same_steps(run: &Value, shown: &Value, set: &[String]) -> usize {
    let (steps, shown) = (run["steps"].as_array().unwrap(), shown["steps"].as_array().unwrap());
    assert_eq!(steps.len(), shown.len(), "{} with {set:?}", run["run"]);
    let mut compared = 0;
    for (step, shown) in steps.iter().zip(shown) {
        let Some(numbers) = shown["numbers"].as_array() else {
            continue;
        };
        let mut engine = Vec::new();
        amounts(step, &mut engine);
        if step["dimension"] == "text" {
            continue;
        }
        let mut rest = engine.iter();
        for number in numbers {
            let number: f64 = number.as_str().unwrap().parse().unwrap();
            let same = rest.any(|found| found.to_bits() == number.to_bits());
            assert!(
                same,
                "{}, {} with {set:?}: {number} of {engine:?}",
                run["run"], step["name"]
            );
            compared += 1;
        }
    }
    compared
}

/// The numbers of a step in SI, in order.
fn amounts(value: &Value, found: &mut Vec<f64>) {
    if let Some(si) = value.get("si").and_then(Value::as_f64) {
        found.push(si);
    }
    for items in value.get("items").and_then(Value::as_object).into_iter() {
        items.values().for_each(|item| amounts(item, found));
    }
    for items in value.get("items").and_then(Value::as_array).into_iter() {
        items.iter().for_each(|item| amounts(item, found));
    }
}

/// How many verdicts were compared: of each check of which the page gives one.
fn same_verdicts(run: &Value, shown: &Value, set: &[String]) -> usize {
    let (checks, shown) = (run["checks"].as_array().unwrap(), shown["checks"].as_array().unwrap());
    assert_eq!(checks.len(), shown.len(), "{} with {set:?}", run["run"]);
    let mut compared = 0;
    for (check, shown) in checks.iter().zip(shown) {
        let preference = check["kind"] == "prefer";
        let word = match check["verdict"].as_str().unwrap() {
            "holds" if preference => "MET",
            "fails" if preference => "NOT MET",
            "unsure" if preference => "PERHAPS",
            "holds" => "HOLDS",
            "fails" => "FAILS",
            "unsure" => "UNSURE",
            "untrusted" => "UNTRUSTED",
            _ => "EXAMPLE",
        };
        let said = shown["word"].as_str().filter(|word| *word != "RUN IT");
        if let Some(said) = said {
            assert_eq!(said, word, "{}, {} with {set:?}", run["run"], check["label"]);
            compared += 1;
        }
    }
    compared
}
