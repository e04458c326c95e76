//! Formulas made readable: what the script writes, in letters.

use super::{json, list, run};
use crankline_engine::report::in_letters;

#[track_caller]
fn letters(formula: &str, expected: &str) {
    assert_eq!(in_letters(formula).as_deref(), Some(expected), "{formula}");
}

#[test]
fn powers_are_raised_and_roots_are_in_words() {
    letters("hypot(low_by, left_by)", "root of ((low by)² + (left by)²)");
    letters("sqrt(sqrt(k1**2 + k2**2))", "fourth root of (k1² + k2²)");
    letters("sqrt(hypot(re, im)) * 1.rad", "fourth root of (re² + im²) × 1 rad");
    letters("cbrt(volume)", "cube root of (volume)");
    letters("4.0 * tan(angle / 2.0)**2", "4 × tan(angle / 2)²");
    letters("x**-2", "x⁻²");
    letters("x**(n + 1)", "x^(n + 1)");
    letters("PI * od**2 / 4.0", "π × od² / 4");
}

#[test]
fn brackets_stand_where_they_change_the_value_and_nowhere_else() {
    letters("(a - b) - c", "a - b - c");
    letters("a - (b - c)", "a - (b - c)");
    letters("a / (b * c)", "a / (b × c)");
    letters("(a / b) * c", "a / b × c");
    letters("a * (b + c)", "a × (b + c)");
    letters("-(a + b)", "-(a + b)");
    letters("a - (-b)", "a - (-b)");
    letters("(a + b)**2", "(a + b)²");
    letters("(2.mm)**2", "(2 mm)²");
    letters("gap from 0.1.mm to 2.0 * limit", "0.1 mm ≤ gap ≤ 2 × limit");
}

#[test]
fn names_are_words_and_units_are_written_as_people_do() {
    letters("shaft.side - gearbox.side", "side of shaft - side of gearbox");
    letters("cardan::strength(front)", "strength(front)");
    letters("tube.mass_per_length(m)", "mass per length of tube(m)");
    letters("max(0.001.mm, (1/8).inch)", "largest of (0.001 mm, 1/8 in)");
    letters("if_less(a, b, c, d)", "c if a < b, else d");
    letters("if wet == \"oiled\" { a } else { b }", "a if wet = \"oiled\", else b");
    letters("value_in(fall, \"deg\") * 2.0", "(fall in deg) × 2");
    letters("wire.class in [\"A\", \"B\"]", "class of wire is one of [\"A\", \"B\"]");
    letters("`${car}, frame ${frame_number}`", "\"{car}, frame {frame number}\"");
    letters("root(|x| x**2 - a, 0.0, 1.0)", "root(x² - a for each x, 0, 1)");
}

#[test]
fn what_is_no_formula_is_shown_as_it_is_written() {
    for text in ["", "a +", "(a", "a b", "`text", "a = b", "#{ re 1 }"] {
        assert_eq!(in_letters(text), None, "{text}");
    }
    let deep = format!("{}a{}", "(".repeat(500), ")".repeat(500));
    assert_eq!(in_letters(&deep), None);
}

#[test]
fn every_step_of_every_shipped_script_has_its_letters() {
    let mut as_written = Vec::new();
    for name in crankline_scripts::script_names() {
        let lesson = json(&["lesson", &name]);
        for line in list(&lesson, "lines") {
            let formula = line["formula"].as_str().unwrap();
            if in_letters(formula).is_none() {
                as_written.push(format!("{name}: {formula}"));
            }
            assert!(!line["words"].as_str().unwrap().is_empty(), "{name}: {formula}");
            let has = |key: &str| !list(line, key).is_empty();
            let told = has("answers") || has("limits") || !line["toward"].is_null();
            assert!(told, "{name}: line {} comes to nothing: {line}", line["line"]);
        }
        // What shows nothing is a module of functions.
        let steps = list(&json(&["run", &name]), "steps").len();
        let lines = list(&lesson, "lines").iter().filter(|line| line["step"].is_string());
        assert_eq!(lines.count(), steps, "{name}");
    }
    assert!(as_written.is_empty(), "{}", as_written.join("\n"));
}

#[test]
fn a_lesson_in_text_has_every_row() {
    let ran = run(&["lesson", "lessons/indicator-reading", "--format", "text"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    for words in [
        "LINE 3 OF 9",
        "bore offset = root of ((low by)² + (left by)²)",
        "= root of ((0.08 mm)² + (0.11 mm)²)",
        "= 0.136014705087354 mm, rounded 0.136 mm (0.128 to 0.144)",
        "because low by 0.08 mm below, line 1; left by 0.11 mm to the left, line 2",
        "WRONG 0.0185 mm: the root forgotten",
        "0.272 mm (0.256 to 0.288); at most 0.3 mm; 0.028 mm to spare",
        "Calculation aid; does not approve a vehicle.",
    ] {
        assert!(ran.stdout.contains(words), "`{words}` is not in:\n{}", ran.stdout);
    }
    let markdown = run(&["lesson", "lessons/indicator-reading", "--format", "markdown"]).stdout;
    assert!(
        markdown.contains("## Line 3 of 9: Offset of the bore, true"),
        "{markdown}"
    );
}

#[test]
fn a_page_needs_a_file_or_a_pipe() {
    let folder = super::super::check::Folder::new();
    let refused = folder.run_on(&["lesson", "shaft.rhai"], true);
    assert_eq!(refused.code, 2);
    assert!(refused.stderr.contains("--out lesson.html"), "{}", refused.stderr);
    let piped = folder.run(&["lesson", "shaft.rhai"]);
    assert!(piped.stdout.starts_with("<!DOCTYPE html>"), "{}", piped.stdout);
    let text = folder.run_on(&["lesson", "shaft.rhai", "--format", "text"], true);
    assert_eq!(text.code, 0, "{}", text.stderr);
}

#[test]
fn a_trial_and_a_run_of_a_job_are_shown_too() {
    let folder = super::super::check::Folder::new();
    let job = folder.run(&["lesson", "car.toml", "--format", "text"]);
    assert_eq!(job.code, 0, "{}", job.stderr);
    let tried = run(&[
        "lesson",
        "lessons/indicator-reading",
        "--set",
        "dial_top=0.2 mm",
        "--format",
        "text",
    ]);
    assert!(tried.stdout.starts_with("TRIAL: "), "{}", tried.stdout);
}

#[test]
fn the_book_shows_what_the_program_prints() {
    let page = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../book/src/lessons.md")).unwrap();
    let target = "lessons/indicator-reading";
    let lesson = run(&["lesson", target, "--format", "text"]).stdout;
    let sheets = run(&["lesson", target, "--sheets", "2", "--seed", "7", "--format", "text"]).stdout;
    let shown: Vec<&str> = page
        .split("```text\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect();
    assert_eq!(shown.len(), 2);
    for (shown, printed) in shown.iter().zip([lesson, sheets]) {
        assert!(
            printed.contains(shown),
            "the book shows:\n{shown}\nthe program prints:\n{printed}"
        );
    }
}
