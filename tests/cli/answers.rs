//! Pages in a browser: a reading moved there says what a run with that value says.

use super::check::Folder;
use crate::browser::scenario;
use serde_json::{Value, json};

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml");

/// Writes the page of a run into the folder; with these values tried.
fn page(folder: &Folder, name: &str, target: &str, set: &[(&str, &str)]) -> Value {
    let settings: Vec<String> = set.iter().map(|(name, value)| format!("{name}={value}")).collect();
    let mut arguments = vec!["run", target, "--format", "html"];
    arguments.extend(settings.iter().flat_map(|setting| ["--set", setting]));
    let ran = folder.run(&arguments);
    assert_ne!(ran.code, 2, "{}", ran.stderr);
    folder.put(name, &ran.stdout);
    json!(folder.0.join(name))
}

fn moves(set: &[(&str, &str)]) -> Value {
    set.iter().map(|(name, value)| json!([name, value])).collect()
}

/// What is said in formulas, without brackets: a number that turns negative gets them, or keeps those it had.
fn without_brackets(said: &mut Value) {
    for step in said["steps"].as_array_mut().unwrap() {
        for line in step["lines"].as_array_mut().unwrap() {
            *line = json!(line.as_str().unwrap().replace(['(', ')'], ""));
        }
    }
}

/// The page with readings moved says what the page of a run with these values says, and says again what it said once they
/// are taken back.
fn moved_as_run(folder: &Folder, target: &str, set: &[(&str, &str)]) {
    let reported = page(folder, "reported.html", target, &[]);
    let run = page(folder, "run.html", target, set);
    let given = json!({"page": reported, "moves": moves(set), "back": true});
    let (Some(mut moved), Some(run)) = (scenario("answers", &given), scenario("answers", &json!({"page": run}))) else {
        return;
    };
    let mut expected = run["before"].clone();
    without_brackets(&mut expected);
    without_brackets(&mut moved["after"]);
    for part in ["checks", "steps"] {
        let (found, expected) = (
            moved["after"][part].as_array().unwrap(),
            expected[part].as_array().unwrap(),
        );
        assert_eq!(found.len(), expected.len(), "{target}: {part}");
        for (found, expected) in found.iter().zip(expected) {
            assert_eq!(found, expected, "{target} with {set:?}");
        }
    }
    for part in ["headline", "notes", "standing", "blank"] {
        assert_eq!(moved["after"][part], expected[part], "{target} with {set:?}");
    }
    assert_ne!(
        moved["after"], moved["before"],
        "{target} with {set:?}: something moves"
    );
    assert_eq!(moved["back"], moved["before"], "{target} with {set:?}");
    assert_eq!(moved["stamp"], true);
    assert_eq!(moved["overflow"], 0);
    assert_eq!(moved["barriers"], json!([]), "{target} while something is tried");
    let command = moved["bar"]["command"].as_str().unwrap();
    for (name, value) in set {
        assert!(command.contains(&format!("--set \"{name}={value}\"")), "{command}");
    }
}

#[test]
fn a_moved_reading_says_what_a_run_with_it_says() {
    let folder = Folder::new();
    for (target, set) in [
        ("shaft.rhai", [("wall", "0.12 in")].as_slice()),
        ("shaft.rhai", &[("length", "1.3 m +/- 2 mm"), ("margin", "60 %")]),
        ("angles.rhai", &[("gearbox", "3.0 deg tail down")]),
        ("cells.rhai", &[("loads[Wipers].current", "5 A std_dev 0.3 A")]),
        ("car.toml", &[("wall", "2.4 mm")]),
        (
            "driveline/critical-speed",
            &[("length", "900 mm +/- 5 mm"), ("tube_od", "3.25 in")],
        ),
    ] {
        moved_as_run(&folder, target, set);
    }
}

#[test]
fn a_reading_of_the_demonstration_moves_in_all_runs_that_use_it() {
    let folder = Folder::new();
    moved_as_run(
        &folder,
        DEMO,
        &[("gearbox_plan", "-1.3 +/- 0.15 deg"), ("nut_factor", "0.2 +/- 0.02")],
    );
}

#[test]
fn an_address_brings_the_trial_back() {
    let folder = Folder::new();
    let reported = page(&folder, "reported.html", "shaft.rhai", &[]);
    let given = json!({"page": reported, "moves": moves(&[("wall", "0.12 in"), ("top", "3000 rpm")])});
    let Some(moved) = scenario("answers", &given) else {
        return;
    };
    let again = scenario("answers", &json!({"page": reported, "hash": moved["hash"]})).unwrap();
    assert_eq!(again["after"], moved["after"]);
    assert_eq!(again["tried"], moved["tried"]);
    let back = scenario(
        "answers",
        &json!({"page": reported, "hash": moved["hash"], "back": true}),
    )
    .unwrap();
    assert_eq!(back["hashAfter"], "");
}

#[test]
fn what_is_no_value_for_a_reading_is_refused_in_the_engines_words() {
    let folder = Folder::new();
    let reported = page(&folder, "reported.html", "shaft.rhai", &[]);
    for (value, words) in [
        ("3 kg", "`tube_od` must be a length, this is a mass"),
        ("12", "`tube_od` must be a length, this is a number"),
        ("9 in", "outside what may be entered"),
        ("3 lengths", "is no unit that is known"),
    ] {
        let given = json!({"page": reported, "moves": moves(&[("tube_od", value)])});
        let Some(found) = scenario("answers", &given) else {
            return;
        };
        let refusal = found["refusals"][0].as_str().unwrap();
        assert!(refusal.contains(words), "{value}: {refusal}");
        assert_eq!(found["bar"], Value::Null, "nothing is tried");
        let engine = folder.run(&["run", "shaft.rhai", "--set", &format!("tube_od={value}")]);
        assert_eq!(engine.code, 2, "{value}");
        assert!(engine.stderr.contains(words), "{value}: {}", engine.stderr);
    }
}

const FORKED: &str = r#"
input wall = 2.mm plus_minus 0.01.mm : "Wall";
input od = 40.mm : "Outside";
step inside = od - 2.0 * wall : "Inside";
require inside > 0.mm : "There is room inside";
let factor = if wall > 3.mm { 2.0 } else { 1.0 };
step strength = factor * wall : "Strength";
check strength < 5.mm : "Strong enough";
step late = strength * 2.0 : "Late";
note `Late is ${late}.`;
"#;

#[test]
fn another_way_through_the_script_takes_a_run() {
    let folder = Folder::new();
    folder.put("forked.rhai", FORKED);
    let reported = page(&folder, "reported.html", "forked.rhai", &[]);
    let given = json!({"page": reported, "moves": moves(&[("wall", "4 mm")]), "back": true});
    let Some(found) = scenario("answers", &given) else {
        return;
    };
    let way = found["bar"]["way"].as_str().unwrap();
    assert!(way.contains("another way through the script"), "{way}");
    assert_eq!(found["bar"]["command"], "crankline run forked.rhai --set \"wall=4 mm\"");
    let steps: Vec<&str> = found["after"]["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|step| step["what"].as_str().unwrap())
        .collect();
    assert_eq!(
        steps,
        ["Inside"],
        "what stands before the fork is known, the rest blank"
    );
    assert_eq!(found["after"]["notes"], json!([]));
    let headline = found["after"]["headline"].as_str().unwrap();
    assert!(headline.contains("to be run again"), "{headline}");
    assert_eq!(found["back"], found["before"]);
}

#[test]
fn what_a_script_of_the_demonstration_refuses_is_left_to_a_run() {
    let folder = Folder::new();
    let reported = page(&folder, "reported.html", DEMO, &[]);
    let given = json!({"page": reported, "moves": moves(&[("idle_speed", "450 rpm")]), "back": true});
    let Some(found) = scenario("answers", &given) else {
        return;
    };
    let way = found["bar"]["way"].as_str().unwrap();
    assert!(way.starts_with("The script refuses to go on with this."), "{way}");
    assert!(found["after"]["blank"].as_u64() > Some(0));
    let steps = |when: &str| found[when]["steps"].as_array().unwrap().len();
    assert!(
        0 < steps("after") && steps("after") < steps("before"),
        "what comes after is blank"
    );
    assert_eq!(found["back"], found["before"]);
    let engine = folder.run(&["run", DEMO, "--set", "idle_speed=450 rpm"]);
    assert_eq!(engine.code, 2, "{}", engine.stdout);
}

#[test]
fn a_page_on_a_screen_of_any_width_has_no_barrier_and_stays_on_it() {
    let folder = Folder::new();
    // Between them every kind of figure: bars and charts; sketches and a dial; a map; bars in parts.
    for (name, target) in [
        ("alone.html", "driveline/critical-speed"),
        ("angles.html", "driveline/joint-angles"),
        ("mount.html", "driveline/mount-move"),
        ("stack.html", "kit/hole-stack"),
        ("job.html", "car.toml"),
    ] {
        let page = page(&folder, name, target, &[]);
        let Some(found) = scenario("look", &json!({"page": page, "widths": [360, 794, 1280]})) else {
            return;
        };
        for look in found.as_array().unwrap() {
            assert_eq!(
                look["overflow"], 0,
                "{target} at {} {}",
                look["width"], look["colorScheme"]
            );
            assert_eq!(
                look["barriers"],
                json!([]),
                "{target} at {} {}",
                look["width"],
                look["colorScheme"]
            );
            assert_eq!(look["pale"], json!([]), "{target} {}", look["colorScheme"]);
        }
    }
}

#[test]
fn a_reading_can_be_moved_by_keys_alone() {
    let folder = Folder::new();
    let page = page(&folder, "alone.html", "shaft.rhai", &[]);
    let Some(found) = scenario("keyboard", &json!({"page": page})) else {
        return;
    };
    assert_eq!(found["opened"], "true");
    assert_eq!((&found["inBox"], &found["inSlider"]), (&json!("text"), &json!("range")));
    assert_ne!(found["ring"], "none", "focus can be seen");
    assert_ne!(found["value"], "76.2 mm");
    assert_eq!((&found["back"], &found["controls"]), (&json!(true), &json!(0)));
}

#[test]
fn every_printed_page_says_what_is_tried_what_nobody_measured_and_which_texts_it_is() {
    let folder = Folder::new();
    let page = page(&folder, "alone.html", "shaft.rhai", &[]);
    let Some(found) = scenario("paper", &json!({"page": page, "hash": "#try&wall=0.1+in"})) else {
        return;
    };
    let running = found["running"].as_str().unwrap();
    for words in [
        "TRIAL wall",
        "Not measured tube_od",
        "Digest",
        "Calculation aid; does not approve a vehicle.",
    ] {
        assert!(
            running.split_whitespace().collect::<Vec<_>>().join(" ").contains(words),
            "{running}"
        );
    }
    assert_eq!(found["repeated"], "table-header-group");
    assert_eq!(found["bar"], false);
    for size in ["A4", "Letter"] {
        assert!(found["sizes"][size].as_u64().unwrap() <= 2, "{found}");
    }
}

/// The numbers of two places on the page; the words around them have to be the same.
fn apart(before: &str, after: &str) -> f64 {
    let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
    let numbers = |text: &str| -> Vec<f64> {
        let words = text.split(|c: char| !is_number(c)).filter(|word| !word.is_empty());
        words.map(|word| word.parse().unwrap()).collect()
    };
    assert_eq!(before.replace(is_number, ""), after.replace(is_number, ""));
    let (before, after) = (numbers(before), numbers(after));
    assert_eq!(before.len(), after.len());
    let differences = before.iter().zip(&after).map(|(a, b)| (a - b).abs());
    differences.fold(0.0, f64::max)
}

#[test]
fn pictures_and_their_bands_follow_and_stay_where_nothing_moved() {
    let folder = Folder::new();
    let page = page(&folder, "alone.html", "driveline/critical-speed", &[]);
    // Its own value with its own ±: each line and each band is drawn anew where it was.
    let same = json!({"page": page, "moves": [["length", "1219.2 mm +/- 1.5 mm"]]});
    let Some(found) = scenario("pictures", &same) else {
        return;
    };
    let shapes = |found: &Value, when: &str| found[when].as_array().unwrap().clone();
    let before = shapes(&found, "before");
    assert!(
        before
            .iter()
            .any(|shape| shape["band"] == true && shape["hidden"] == false)
    );
    let text = |shape: &Value| shape["place"].as_str().unwrap().to_owned();
    for (before, after) in before.iter().zip(&shapes(&found, "after")) {
        assert_eq!(before["hidden"], after["hidden"], "{before} {after}");
        // Half a tenth goes either way.
        assert!(apart(&text(before), &text(after)) < 0.11, "{before} {after}");
    }
    assert_eq!(found["back"], found["before"]);
    // A wider ± makes a wider band about the same line.
    let wider = scenario(
        "pictures",
        &json!({"page": page, "moves": [["wall", "2.108 mm +/- 0.5 mm"]]}),
    )
    .unwrap();
    let pairs = before.iter().zip(shapes(&wider, "after"));
    for (before, after) in pairs {
        let moved = apart(&text(before), &text(&after));
        assert_eq!(moved > 0.5, before["band"] == true, "{before} {after}");
    }
    assert_eq!(wider["back"], wider["before"]);
}
