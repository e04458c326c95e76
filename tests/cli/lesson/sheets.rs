//! Exercise sheets: the same seed gives the same bytes, a sheet is the same whatever else is drawn, and its answers are
//! those of the program on its readings.

use super::super::check::Folder;
use super::{json, list, run};
use serde_json::Value;

const TARGET: &str = "lessons/indicator-reading";

#[test]
fn the_same_seed_gives_the_same_bytes() {
    for format in ["html", "text", "markdown", "json"] {
        let sheets = |seed: &str| run(&["lesson", TARGET, "--sheets", "3", "--seed", seed, "--format", format]);
        let (a, b, other) = (sheets("7"), sheets("7"), sheets("8"));
        assert_eq!((a.code, a.stderr.as_str()), (0, ""), "{format}");
        assert!(a.stdout == b.stdout, "{format}: two runs of one seed differ");
        assert!(a.stdout != other.stdout, "{format}: two seeds are alike");
    }
}

#[test]
fn a_sheet_is_the_same_whatever_else_is_drawn() {
    let few = json(&["lesson", TARGET, "--sheets", "3", "--seed", "2026"]);
    let many = json(&["lesson", TARGET, "--sheets", "20", "--seed", "2026"]);
    assert_eq!(list(&many, "sheets").len(), 20);
    assert_eq!(list(&few, "sheets")[2], list(&many, "sheets")[2]);
    let readings: Vec<&Value> = list(&many, "sheets").iter().map(|sheet| &sheet["set"]).collect();
    for (number, set) in readings.iter().enumerate() {
        assert!(
            !readings[..number].contains(set),
            "sheet {} is like another: {set}",
            number + 1
        );
    }
}

/// The answers of a sheet against `run --set` with its readings; how many there are.
fn against_run(name: &str, sheet: &Value) -> usize {
    let set = sheet["set"].as_object().unwrap().iter();
    let set: Vec<String> = set
        .map(|(address, text)| format!("{address}={}", text.as_str().unwrap()))
        .collect();
    let mut arguments = vec!["run", name, "--format", "json"];
    arguments.extend(set.iter().flat_map(|set| ["--set", set.as_str()]));
    let ran = run(&arguments);
    assert!(ran.code < 2, "{arguments:?}: {}", ran.stderr);
    let ran: Value = serde_json::from_str(&ran.stdout).unwrap();
    for check in list(&ran, "checks").iter().filter(|check| check["kind"] == "require") {
        let [left, right] = ["left", "right"].map(|side| check[side]["si"].as_f64());
        if let (Some(left), Some(right), "<=") = (left, right, check["op"].as_str().unwrap_or("")) {
            assert!(left <= right, "{name}: a requirement does not hold: {check}");
        }
    }
    let mut count = 0;
    for question in list(sheet, "questions") {
        let step = list(&ran, "steps")
            .iter()
            .find(|step| step["name"] == question["step"])
            .unwrap();
        for answer in list(question, "answers") {
            let mut value = step;
            for key in answer["key"]
                .as_str()
                .unwrap()
                .split(", ")
                .filter(|key| !key.is_empty())
            {
                value = &value["items"][key];
            }
            assert_eq!(answer["si"], value["si"], "{name}: {} with {set:?}", question["step"]);
            count += 1;
        }
    }
    count
}

#[test]
fn answers_are_those_of_a_run_with_the_sheets_readings() {
    let mut asked = 0;
    for name in crankline_scripts::script_names() {
        let ran = run(&["lesson", &name, "--sheets", "1", "--seed", "3", "--format", "json"]);
        if ran.code != 0 {
            // Modules have functions only.
            assert!(
                ran.stderr.contains("nothing is measured here"),
                "{name}: {}",
                ran.stderr
            );
            continue;
        }
        let sheets: Value = serde_json::from_str(&ran.stdout).unwrap();
        asked += against_run(&name, &list(&sheets, "sheets")[0]);
    }
    assert!(asked > 800, "only {asked} answers compared");
    for sheet in list(&json(&["lesson", TARGET, "--sheets", "5"]), "sheets") {
        against_run(TARGET, sheet);
    }
}

#[test]
fn a_page_of_sheets_keeps_its_answers_and_the_table_goes_to_another_file() {
    let folder = Folder::new();
    let ran = folder.run(&["lesson", TARGET, "--sheets", "2", "--out", "sheets.html"]);
    assert_eq!(
        ran.stdout, "written to sheets.html\nanswers written to sheets-answers.html\n",
        "{}",
        ran.stderr
    );
    let read = |name: &str| std::fs::read_to_string(folder.0.join(name)).unwrap();
    let (sheets, answers) = (read("sheets.html"), read("sheets-answers.html"));
    let found = json(&["lesson", TARGET, "--sheets", "2"]);
    let question = &list(&list(&found, "sheets")[0], "questions")[2];
    let shown = list(question, "answers")[0]["rounded"].as_str().unwrap();
    assert!(answers.contains(shown), "{shown}");
    assert!(!sheets.contains(shown), "{shown} stands in plain sight");
    let again = folder.run(&["lesson", TARGET, "--sheets", "2", "--out", "sheets.html"]);
    assert_eq!(again.code, 2);
    assert!(again.stderr.contains("is not written over"), "{}", again.stderr);
}

#[test]
fn what_is_set_stays_and_what_cannot_be_is_refused() {
    let found = json(&[
        "lesson",
        TARGET,
        "--sheets",
        "2",
        "--set",
        "dial_top=0.05 mm",
        "--set",
        "dial_again=0.05 mm",
    ]);
    for sheet in list(&found, "sheets") {
        assert!(sheet["set"]["dial_top"].is_null(), "{}", sheet["set"]);
    }
    for (arguments, words) in [
        (&["--sheets", "0"][..], "from 1 to 1000"),
        (&["--sheets", "1001"], "from 1 to 1000"),
        (&["--seed", "4"], "--sheets"),
    ] {
        let ran = run(&[&["lesson", TARGET], arguments].concat());
        assert_eq!(ran.code, 2);
        assert!(ran.stderr.contains(words), "{}", ran.stderr);
    }
}
