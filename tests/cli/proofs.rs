//! Worked examples of scripts.

use super::check::{Folder, run};

const CASES: &str = r#"format = 1
[[case]]
title = "3.2° against 3.25°"
source = "a difference, by hand"
set = { gearbox = "3.2 deg +/- 0 deg", shaft = "3.25 deg +/- 0 deg" }
[case.expect]
bend = { value = "0.05 deg", within = "0.000001 deg" }
"check: Joint runs smoothly" = "holds"
"check: Gearbox lies flat" = "fails"
[[case]]
title = "an angle that is a length"
source = "by hand"
set = { gearbox = "3 mm" }
expect_error = "angle"
"#;

#[test]
fn cases_that_come_out() {
    let folder = Folder::new();
    folder.put("angles.cases.toml", CASES);
    let ran = folder.run(&["prove", "angles.rhai"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    insta::assert_snapshot!(ran.stdout);
}

#[test]
fn a_case_that_differs() {
    let folder = Folder::new();
    folder.put("angles.cases.toml", &CASES.replace("0.05 deg\"", "0.06 deg\""));
    let ran = folder.run(&["prove", "angles.rhai"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stdout);
}

#[test]
fn all_shipped_cases_come_out() {
    let ran = Folder::new().run(&["prove"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
}

#[test]
fn a_misspelt_script() {
    let ran = Folder::new().run(&["prove", "no-such-thing"]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.stderr, "error: there is no pack and no script `no-such-thing`\n");
}

#[test]
fn worked_examples_in_markdown() {
    let ran = run(&["prove", "clutch/release-gap", "--format", "markdown"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
    let rows: Vec<&str> = ran
        .stdout
        .lines()
        .filter(|line| line.starts_with("| clutch/release-gap |"))
        .collect();
    assert!(
        !rows.is_empty() && rows.iter().all(|row| row.ends_with("| yes |")),
        "{}",
        ran.stdout
    );
    assert!(
        ran.stdout.contains(&format!("\n{0} of {0} come out.\n", rows.len())),
        "{}",
        ran.stdout
    );
}
