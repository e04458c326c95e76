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
    assert!(
        ran.stderr
            .starts_with("error: there is no pack and no script `no-such-thing`: looked for in the program"),
        "{}",
        ran.stderr
    );
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

/// A pack of a sound script, one without worked examples, one that does not run, one that states nothing and, where it is
/// asked for, one that differs.
fn with_pack(differs: bool) -> Folder {
    let folder = Folder::new();
    std::fs::create_dir_all(folder.0.join("mine/odd-jobs")).unwrap();
    let put = |name: &str, text: &str| folder.put(&format!("mine/odd-jobs/{name}"), text);
    put("pack.toml", "format = 1\nname = \"odd-jobs\"\nversion = \"0.1.0\"\n");
    for name in ["a-differs", "sound", "unproved"] {
        put(&format!("{name}.rhai"), include_str!("scripts/angles.rhai"));
    }
    put("sound.cases.toml", CASES);
    let wrong = CASES.replace("0.05 deg\"", "0.06 deg\"");
    put("a-differs.cases.toml", if differs { &wrong } else { CASES });
    put("lends.rhai", "fn twice(x) { x + x }\n");
    folder
}

#[test]
fn scripts_without_worked_examples_are_named() {
    let folder = with_pack(false);
    let prove = |what: &[&str]| folder.run(&[&["prove"], what, &["--packs", "mine"]].concat());
    let ran = prove(&["odd-jobs"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    insta::assert_snapshot!(ran.stdout);
    // A script that does not run on its own examples is as bad as a worked example that differs.
    folder.put("mine/odd-jobs/broken.rhai", "step a = 1.mm + 1.kg : \"A\";\n");
    let ran = prove(&["odd-jobs"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.stdout
            .contains("odd-jobs/broken\n  FAILS     it does not run on its own examples: line 1: "),
        "{}",
        ran.stdout
    );
    assert!(ran.stdout.contains("\n  WRONG     odd-jobs/broken\n"), "{}", ran.stdout);
    let json = prove(&["odd-jobs", "--format", "json"]).stdout;
    let found: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(found["without_cases"], serde_json::json!(["odd-jobs/unproved"]));
    assert_eq!(found["failing"][0]["script"], "odd-jobs/broken");
    let markdown = prove(&["odd-jobs", "--format", "markdown"]).stdout;
    assert!(
        markdown.contains("odd-jobs/unproved has no worked example."),
        "{markdown}"
    );
}

/// Of all packs the sound scripts take a line each, and what differs stands at the end.
#[test]
fn what_differs_stands_at_the_end() {
    let folder = with_pack(true);
    let ran = folder.run(&["prove", "--packs", "mine"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (2, ""));
    let at = |words: &str| {
        ran.stdout
            .find(words)
            .unwrap_or_else(|| panic!("{words}: {}", ran.stdout))
    };
    let differs = at("\nodd-jobs/a-differs\n  DIFFERS   3.2°");
    for sound in [
        "  same      odd-jobs/sound, 2 worked examples\n",
        "  none      odd-jobs/unproved\n",
    ] {
        assert!(at(sound) < differs, "{}", ran.stdout);
    }
    assert!(differs < at("\n  WRONG     odd-jobs/a-differs\n"), "{}", ran.stdout);
    assert_eq!(ran.stdout.matches("odd-jobs/sound").count(), 1);
    // A file of cases that cannot be read keeps nobody from proving the rest.
    folder.put("mine/odd-jobs/sound.cases.toml", "format = 1\n[[case]]\n");
    let ran = folder.run(&["prove", "odd-jobs", "--packs", "mine"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("a case needs `"), "{}", ran.stderr);
    assert!(ran.stdout.contains("DIFFERS"), "{}", ran.stdout);
}
