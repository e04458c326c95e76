//! Sheets to measure by.

use super::check::{Folder, run, shown};
use super::html::Html;
use crate::browser::scenario;
use crankline_scripts::script_names;
use serde_json::{Value, json};

fn assert_fits(text: &str) {
    for line in text.lines().skip(1) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
}

#[test]
fn a_sheet_of_a_script() {
    let text = shown(&["sheet", "shaft.rhai"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

/// Tables, points, counts, choices, signs; a reading of two scripts once.
#[test]
fn a_sheet_of_several_scripts() {
    let text = shown(&["sheet", "cells.rhai", "angles.rhai", "shaft.rhai", "--units", "inch"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

const SHEETED: &str = "//! All kinds.
heading \"Room\";
input corners = [point(0.mm, 1.mm, 2.mm), point(3.mm, 4.mm, 5.mm)] plus_minus 1.mm : \"Corners\" how \"Tape\";
input gaps = [3.mm, 4.mm] : \"Gaps\";
input is_old = true : \"Is it the old one\";
input grade = \"thin\" one_of [\"thin\", \"thick\"] : \"Grade\";
input warm = 80.degC plus_minus 2.K from 0.degC to 120.degC : \"Oil\" how \"Thermometer\";
input maker = \"shop\" : \"Made by\";
input share = 0.5 plus_minus 0.1 : \"Share\";
assume who = \"shop\" : \"Welded by\";
step all = sum(gaps);
caution \"Hot oil burns.\";
";

#[test]
fn a_box_for_every_kind_of_value() {
    let folder = Folder::new();
    folder.put("kinds.rhai", SHEETED);
    let ran = folder.run(&["sheet", "kinds.rhai"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    assert_fits(&ran.stdout);
    insta::assert_snapshot!(ran.stdout);
    insta::assert_snapshot!(folder.run(&["sheet", "kinds.rhai", "--format", "markdown"]).stdout);
}

/// What is there is filled in, what is missing is blank and marked.
#[test]
fn a_sheet_of_a_job() {
    let text = shown(&["sheet", "car.toml"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
    insta::assert_snapshot!(shown(&["sheet", "car.toml", "--format", "markdown"]));
}

#[test]
fn a_sheet_as_json() {
    let ran = run(&["sheet", "angles.rhai", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!((&value["asked"], &value["missing"]), (&4.into(), &4.into()));
    let gearbox = &value["readings"][0];
    assert_eq!(gearbox["name"], "gearbox");
    assert_eq!(gearbox["signs"][1], "tail up");
    assert_eq!(gearbox["state"], "missing");
    assert_eq!(gearbox["unit"], "°");
    assert_eq!(gearbox["example"], "3.2 deg tail down +/- 0.1 deg");
    assert!((gearbox["plus_minus"].as_f64().unwrap() - 0.1).abs() < 1e-12);
    assert_eq!(value["readings"][2]["kind"], "point");
    assert_eq!(value["readings"][3]["group"], "chosen");
    let of_job = run(&["sheet", "car.toml", "--format", "json"]);
    let of_job: Value = serde_json::from_str(&of_job.stdout).unwrap();
    let states = of_job["readings"].as_array().unwrap().iter();
    let given: Vec<&Value> = states.filter(|reading| reading["state"] == "given").collect();
    assert!(
        given
            .iter()
            .all(|reading| !reading["value"].is_null() && reading["example"].is_null())
    );
    assert!(!given.is_empty());
}

#[test]
fn a_sheet_is_written_once() {
    let folder = Folder::new();
    let first = folder.run(&["sheet", "shaft.rhai", "--out", "sheet.txt"]);
    assert_eq!((first.code, first.stdout.as_str()), (0, "written to sheet.txt\n"));
    assert_eq!(folder.run(&["sheet", "angles.rhai", "--out", "sheet.txt"]).code, 2);
    let written = std::fs::read_to_string(folder.0.join("sheet.txt")).unwrap();
    assert!(written.contains("MEASURING SHEET: shaft.rhai"), "{written}");
}

#[test]
fn what_has_no_sheet_with_others() {
    let ran = run(&["sheet", "shaft.rhai", "car.toml"]);
    assert_eq!(ran.code, 2);
    assert_eq!(
        ran.stderr,
        "error: `car.toml` is a job, and has a sheet of its own\n  try: crankline sheet car.toml\n"
    );
    let unlike = run(&["sheet", "cells.rhai", "nothing.rhai"]);
    assert_eq!(unlike.code, 2);
}

/// Every reading stands on the sheet once, with the cautions and what it is not.
#[test]
fn every_shipped_script_has_a_sheet() {
    for script in script_names() {
        let json = run(&["sheet", &script, "--format", "json"]);
        let json: Value = serde_json::from_str(&json.stdout).unwrap_or_else(|error| panic!("{script}: {error}"));
        for units in ["inch", "metric"] {
            let text = run(&["sheet", &script, "--units", units]).stdout;
            assert_fits(&text);
            assert!(text.contains("Calculation aid; does not approve a vehicle."));
            let words: Vec<&str> = text.split_whitespace().collect();
            for reading in json["readings"].as_array().unwrap() {
                let name = reading["name"].as_str().unwrap();
                assert!(words.contains(&name), "{script}: {name}");
            }
            let cares = text.matches("  CARE  ").count();
            assert_eq!(cares, json["cautions"].as_array().unwrap().len(), "{script}");
        }
    }
}

/// The demonstration, whose runs share readings, link steps and try options: each reading once, what an option sets none.
#[test]
fn a_sheet_of_the_demonstration() {
    let folder = Folder::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml");
    folder.put("demo.toml", &std::fs::read_to_string(demo).unwrap());
    let sheet = folder.run(&["sheet", "demo.toml"]);
    assert_eq!((sheet.code, sheet.stderr.as_str()), (0, ""));
    assert_fits(&sheet.stdout);
    let json = folder.run(&["sheet", "demo.toml", "--format", "json"]).stdout;
    let json: Value = serde_json::from_str(&json).unwrap();
    let readings = json["readings"].as_array().unwrap();
    let mut names: Vec<(&str, Option<&str>)> = readings
        .iter()
        .map(|reading| (reading["name"].as_str().unwrap(), reading["run"].as_str()))
        .collect();
    names.sort_unstable();
    let all = names.len();
    names.dedup();
    assert_eq!(names.len(), all, "each once, or once for each run that has its own");
    let found = |name: &str| readings.iter().find(|reading| reading["name"] == name);
    let plan = found("gearbox_plan").unwrap();
    assert_eq!((&plan["on"], &plan["by"]), (&"2026-03-21".into(), &"J.".into()));
    assert_eq!(plan["value"], "1.3 deg tail left +/- 0.6 deg");
    assert!(found("shaft_possible").is_none(), "a step of another run is no reading");
    assert_eq!(found("mount_right").unwrap()["group"], "chosen");
    assert_eq!(found("grade").unwrap()["used_by"].as_array().unwrap().len(), 5);
    let weld = found("weld_leg").unwrap();
    assert_eq!(weld["state"], "missing");
}

/// For a printer: every reading, box and caution of the other sheets, nothing fetched, no script, no barrier.
#[test]
fn a_sheet_as_a_page() {
    let folder = Folder::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml");
    for (name, target) in [
        ("angles.html", "driveline/joint-angles"),
        ("loads.html", "harness/load-schedule"),
        ("cells.html", "cells.rhai"),
        ("car.html", demo),
    ] {
        let page = folder.run(&["sheet", target, "--format", "html"]);
        assert_eq!((page.code, page.stderr.as_str()), (0, ""), "{target}");
        let html = Html::read(&page.stdout);
        assert!(
            !html.elements.contains("script") && !html.attributes.contains("src"),
            "{target}"
        );
        let json = folder.run(&["sheet", target, "--format", "json"]).stdout;
        let json: Value = serde_json::from_str(&json).unwrap();
        let words: Vec<&str> = html.words.split_whitespace().collect();
        for reading in json["readings"].as_array().unwrap() {
            let reading_name = reading["name"].as_str().unwrap();
            assert!(words.contains(&reading_name), "{target}: {reading_name}");
        }
        let boxes = page.stdout.matches("class=\"box ").count();
        assert!(boxes > 0, "{target}: {boxes}");
        assert!(html.words.contains("Calculation aid; does not approve a vehicle."));
        folder.put(name, &page.stdout);
        let given = json!({"page": folder.0.join(name), "widths": [360, 794]});
        let Some(looks) = scenario("look", &given) else { return };
        for look in looks.as_array().unwrap() {
            assert_eq!(
                (&look["overflow"], &look["barriers"]),
                (&json!(0), &json!([])),
                "{target}: {look}"
            );
        }
    }
}

#[test]
fn markup_on_a_sheet_is_text() {
    let folder = Folder::new();
    folder.put(
        "odd.rhai",
        "// <b>bold</b>\ninput a = 3.mm : \"<script>alert(1)</script>\" how \"<img src=x>\";\nstep b = 2.0 * a : \"<i>\";\nshow sketch(\"</style><svg onload=x>\", \"side\").point(point(a, a, a), \"<u>\");\n",
    );
    let page = folder.run(&["sheet", "odd.rhai", "--format", "html"]);
    assert_eq!((page.code, page.stderr.as_str()), (0, ""));
    let html = Html::read(&page.stdout);
    for element in ["script", "b", "img", "u"] {
        let own = element == "b";
        assert!(own || !html.elements.contains(element), "{element}");
    }
    for words in [
        "<script>alert(1)</script>",
        "<img src=x>",
        "</style><svg onload=x>",
        "<u>",
    ] {
        assert!(html.words.contains(words), "{words}: {}", html.words);
    }
}
