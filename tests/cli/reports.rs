//! Reports of runs that can be done.

use super::check::{Folder, run, shown};
use serde_json::Value;

/// Every line fits a terminal of 80 columns.
fn assert_fits(text: &str) {
    for line in text.lines().skip(1) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
}

#[test]
fn first_screen_of_a_script_that_holds() {
    let text = shown(&["run", "shaft.rhai"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn first_screen_of_a_script_that_fails() {
    let text = shown(&["run", "angles.rhai"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn first_screen_of_a_trial_in_inches() {
    let text = shown(&[
        "run",
        "shaft.rhai",
        "--set",
        "wall=0.095 in +/- 0.005 in",
        "--units",
        "inch",
        "--all",
    ]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn working_puts_the_numbers_in() {
    let text = shown(&["run", "shaft.rhai", "--working"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn working_shows_the_plus_minus_of_cells_and_no_rounding() {
    let text = shown(&["run", "cells.rhai", "--working"]);
    assert_fits(&text);
    assert!(text.contains("Wipers: current 4.0 A ± 0.2 A, share 0.5"), "{text}");
    assert!(text.contains("= 0 mm\n"), "{text}");
    insta::assert_snapshot!(text);
}

#[test]
fn a_job_chooses_a_quantity() {
    let text = shown(&["run", "cells.rhai", "--set", "fuse=20000 mA", "--working"]);
    assert!(text.contains("= 20 A (trial)"), "{text}");
    insta::assert_snapshot!(shown(&["describe", "cells.rhai"]));
}

#[test]
fn markdown() {
    insta::assert_snapshot!(shown(&["run", "angles.rhai", "--format", "markdown"]));
}

#[test]
fn description() {
    let text = shown(&["describe", "shaft.rhai"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

/// A module's functions are what it is for.
#[test]
fn description_of_a_module() {
    let folder = Folder::new();
    folder.put(
        "arc.rhai",
        "//! Arcs.\n\n/// Length of an arc,\n/// along it.\nfn along(radius,\n    angle) {\n    radius * angle\n}\n\n\
         /// Not for others.\nprivate fn own(x) { x }\n\nfn bare() { 1 }\n",
    );
    let ran = folder.run(&["describe", "arc.rhai"]);
    let functions = ran.stdout.split("FUNCTIONS").nth(1).unwrap_or_default();
    assert_eq!(
        functions,
        ", FOR OTHER SCRIPTS TO IMPORT\n  along(radius, angle)\n      Length of an arc, along it.\n  bare()\n"
    );
}

/// A script by itself judges its own example, which is nobody's car.
#[test]
fn a_script_on_its_own_numbers_says_so() {
    let own = run(&["run", "shaft.rhai"]);
    assert_eq!(own.code, 0);
    let headline = "EXAMPLE    the one check would hold, on the script's own numbers\n";
    assert!(own.stdout.contains(headline), "{}", own.stdout);
    let partly = run(&["run", "shaft.rhai", "--set", "wall=2.2 mm", "--set", "top=4000 rpm"]);
    let headline = "EXAMPLE    the one check would hold, 2 of 4 numbers being the script's own\n";
    assert!(partly.stdout.contains(headline), "{}", partly.stdout);
    let all = ["run", "shaft.rhai", "--set", "wall=2.2 mm", "--set", "top=4000 rpm"];
    let all = run(&[&all[..], &["--set", "length=1.2 m", "--set", "tube_od=76 mm"]].concat());
    assert!(
        all.stdout.contains("HOLDS      the one check holds\n"),
        "{}",
        all.stdout
    );
}

#[test]
fn json() {
    let ran = run(&["run", "angles.rhai", "--format", "json"]);
    assert_eq!(ran.code, 1);
    let mut value: Value = serde_json::from_str(&ran.stdout).unwrap();
    let digest = value["script"]["sha256"].take();
    assert_eq!(digest.as_str().map(str::len), Some(64));
    insta::assert_snapshot!(serde_json::to_string_pretty(&value).unwrap());
}

/// What a pocket calculator gives for the numbers of the working: π/2·√(E I / (ρ A L⁴)) in rad/s.
#[test]
fn json_gives_the_resonance_of_the_textbook() {
    let ran = run(&["run", "shaft.rhai", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    let (outer, inner) = (0.0762_f64 / 2.0, 0.0762_f64 / 2.0 - 0.083 * 0.0254);
    let area = std::f64::consts::PI * (outer.powi(2) - inner.powi(2));
    let second_moment = std::f64::consts::PI / 4.0 * (outer.powi(4) - inner.powi(4));
    let hertz = std::f64::consts::FRAC_PI_2 * (205e9 * second_moment / (7850.0 * area * 1.2192_f64.powi(4))).sqrt();
    let rad_per_s = hertz * std::f64::consts::TAU;
    let si = value["steps"][0]["si"].as_f64().unwrap();
    assert!((si / rad_per_s - 1.0).abs() < 1e-12, "{si} is not {rad_per_s}");
    let check = &value["checks"][0];
    let margin = 1.0 - 4800.0 * std::f64::consts::PI / 30.0 / (0.75 * rad_per_s);
    assert!((check["margin"].as_f64().unwrap() - margin).abs() < 1e-12);
    let margin_u = check["margin_u"].as_f64().unwrap();
    let uncertainty = 0.75 * value["steps"][0]["std_uncertainty_si"].as_f64().unwrap();
    assert!((margin_u - check["margin_si"].as_f64().unwrap() / uncertainty).abs() < 1e-6 * margin_u);
}

#[test]
fn a_terminal_gets_colour_and_the_words_stay() {
    let folder = Folder::new();
    let plain = folder.run_on(&["run", "angles.rhai"], false).stdout;
    let coloured = folder.run_on(&["run", "angles.rhai"], true).stdout;
    assert!(coloured.contains("\u{1b}[1;31mSTOP\u{1b}[0m"), "{coloured}");
    assert!(!plain.contains('\u{1b}'));
    let mut stripped = coloured;
    for code in ["\u{1b}[1;31m", "\u{1b}[1;32m", "\u{1b}[1;33m", "\u{1b}[0m"] {
        stripped = stripped.replace(code, "");
    }
    assert_eq!(stripped, plain);
    let without = folder.run_on(&["run", "angles.rhai", "--no-color"], true).stdout;
    assert_eq!(without, plain);
}

#[test]
fn a_file_is_written_once() {
    let folder = Folder::new();
    let first = folder.run(&["run", "shaft.rhai", "--out", "sheet.txt"]);
    assert_eq!((first.code, first.stdout.as_str()), (0, "written to sheet.txt\n"));
    let written = std::fs::read_to_string(folder.0.join("sheet.txt")).unwrap();
    assert_eq!(written, folder.run(&["run", "shaft.rhai"]).stdout);
    let second = folder.run(&["run", "angles.rhai", "--out", "sheet.txt"]);
    assert_eq!(second.code, 2);
    insta::assert_snapshot!(second.stderr);
    assert_eq!(std::fs::read_to_string(folder.0.join("sheet.txt")).unwrap(), written);
    let files = std::fs::read_dir(&folder.0).unwrap().count();
    assert_eq!(files, 6, "nothing else is left behind");
}

#[test]
fn lists_hold_what_the_language_knows() {
    let units = run(&["units", "pound-force foot"]);
    insta::assert_snapshot!(units.stdout);
    assert!(run(&["functions", "sqrt"]).stdout.contains("sqrt(x)"));
    assert!(run(&["materials", "AISI 1020"]).stdout.contains("AISI 1020 DOM"));
    let none = run(&["units", "furlong"]);
    assert_eq!(
        (none.code, none.stdout.as_str()),
        (
            0,
            "no unit has `furlong` in its name\n\nCalculation aid; does not approve a vehicle.\n"
        )
    );
}

/// Whatever people read says what it is not; JSON is read by programs.
#[test]
fn lists_say_what_they_are_not() {
    for command in ["list", "functions", "units", "materials"] {
        for (format, expected) in [("text", 1), ("markdown", 1), ("json", 0)] {
            let ran = run(&[command, "--format", format]);
            let found = ran
                .stdout
                .matches("Calculation aid; does not approve a vehicle.")
                .count();
            assert_eq!(found, expected, "{command} as {format}");
        }
    }
}

#[test]
fn description_in_markdown() {
    insta::assert_snapshot!(run(&["describe", "shaft.rhai", "--format", "markdown"]).stdout);
}
