//! Ways considered, runs that try one, and readings that do not agree.

use super::check::{Folder, run, shown};
use serde_json::Value;

fn assert_fits(text: &str) {
    for line in text.lines().skip(1) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
}

#[test]
fn first_screen_of_a_job_with_options() {
    let text = shown(&["run", "options.toml"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn working_of_a_job_with_options() {
    let text = shown(&["run", "options.toml", "--working"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn markdown_of_a_job_with_options() {
    insta::assert_snapshot!(shown(&["run", "options.toml", "--format", "markdown"]));
}

#[test]
fn a_run_that_only_tries_an_option() {
    let text = shown(&["run", "options.toml", "--only", "lowered"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

/// What is tried fails on paper: the car as it is decides the exit code, whatever an option does.
#[test]
fn an_option_decides_nothing() {
    let folder = Folder::new();
    let job = |tries: &str| {
        format!(
            "format = 1\n[measured]\nlength = \"1220 +/- 1 mm\"\nwall = \"2.1 +/- 0.01 mm\"\ntube_od = \"76.2 mm\"\n\
             top = \"4800 rpm\"\n[[option]]\nname = \"longer\"\nset = {{ length = \"2000 +/- 1 mm\" }}\n\
             [[run]]\nscript = \"shaft.rhai\"\nname = \"shaft\"\n\
             [[run]]\nscript = \"shaft.rhai\"\nname = \"long shaft\"\n{tries}"
        )
    };
    folder.put("tried.toml", &job("tries = \"longer\"\n"));
    folder.put("meant.toml", &job("with = { length = \"2000 +/- 1 mm\" }\n"));
    let tried = folder.run(&["run", "tried.toml", "--strict"]);
    assert_eq!((tried.code, tried.stderr.as_str()), (0, ""), "{}", tried.stdout);
    assert!(
        tried.stdout.contains("HOLDS      the one check holds"),
        "{}",
        tried.stdout
    );
    assert!(
        tried
            .stdout
            .contains("long shaft: 1 would fail (Stays clear of the resonance)"),
        "{}",
        tried.stdout
    );
    assert!(!tried.stdout.contains("TRIAL"), "the job tries, not whoever runs it");
    assert_eq!(folder.run(&["run", "meant.toml"]).code, 1);
}

#[test]
fn json_holds_options_tries_doubts_and_where_values_come_from() {
    let ran = run(&["run", "options.toml", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!(value["verdict"], "fails");
    let options = value["job"]["options"].as_array().unwrap();
    assert_eq!(options.len(), 2);
    assert_eq!(options[0]["state"], "rejected");
    assert_eq!(options[0]["why"], "the joint bends too far");
    assert_eq!(options[1]["set"]["gearbox"], "3.4 deg tail down +/- 0.05 deg");
    let doubts = value["job"]["doubts"].as_array().unwrap();
    assert!(doubts[0].as_str().unwrap().starts_with("shaft: 3.6°"), "{doubts:?}");
    let runs = value["runs"].as_array().unwrap();
    let tries: Vec<&Value> = runs.iter().map(|run| &run["tries"]).collect();
    assert_eq!(
        tries,
        [&Value::Null, &"mount 40 mm lower".into(), &Value::Null, &Value::Null]
    );
    assert!(
        runs[0]["doubts"][0]
            .as_str()
            .unwrap()
            .starts_with("gearbox: two readings")
    );
    let top = &runs[3]["inputs"][3];
    assert_eq!(
        (&top["name"], &top["taken_from"]),
        (&"top".into(), &"front shaft: critical".into())
    );
}

#[test]
fn a_trial_names_what_the_job_has() {
    let text = shown(&[
        "run",
        "options.toml",
        "--set",
        "length=1300 mm",
        "--only",
        "front shaft",
    ]);
    assert!(text.contains("TRIAL"), "{text}");
    assert!(
        text.contains("length = 1300 mm ± 2 mm (the job's ±); the job's: 1220 +/- 2 mm\n"),
        "{text}"
    );
    let other = shown(&["run", "options.toml", "--set", "top=4000 rpm", "--only", "front shaft"]);
    assert!(other.contains("top = 4000 rpm; the script's own: 4800 rpm"), "{other}");
}

/// A study with an option is the study of the job in which the option's values stand.
#[test]
fn studies_of_an_option() {
    let folder = Folder::new();
    let job = |wall: &str| {
        format!(
            "format = 1\n[measured]\nlength = \"1220 +/- 1 mm\"\nwall = \"{wall}\"\ntube_od = \"76.2 +/- 0.1 mm\"\n\
             top = \"4800 rpm\"\n[[option]]\nname = \"thicker\"\nset = {{ wall = \"3 +/- 0.1 mm\" }}\n\
             [[run]]\nscript = \"shaft.rhai\"\nname = \"shaft\"\n"
        )
    };
    folder.put("thin.toml", &job("2.1 +/- 0.1 mm"));
    folder.put("thick.toml", &job("3 +/- 0.1 mm"));
    let numbers = |arguments: &[&str], key: &str, list: &str| {
        let ran = folder.run(&[arguments, &["--format", "json"]].concat());
        let found: Value = serde_json::from_str(&ran.stdout).unwrap_or_else(|error| panic!("{error}: {}", ran.stderr));
        let runs = found["runs"].as_array().map_or(&found, |runs| &runs[0]);
        runs[list]
            .as_array()
            .map(|steps| steps.iter().map(|step| step[key].clone()).collect::<Vec<_>>())
    };
    let spread = |job: &str, option: &[&str]| {
        numbers(
            &[&["spread", job, "--samples", "256"], option].concat(),
            "mean_si",
            "steps",
        )
    };
    let option: &[&str] = &["--option", "thicker"];
    assert_eq!(spread("thin.toml", option), spread("thick.toml", &[]));
    assert_ne!(spread("thin.toml", &[]), spread("thick.toml", &[]));

    let rows = |job: &str, option: &[&str]| {
        let vary = [
            "sweep",
            job,
            "--vary",
            "length=1100 mm..1300 mm",
            "--points",
            "3",
            "--watch",
            "critical",
        ];
        let ran = folder.run(&[&vary[..], option, &["--format", "csv"]].concat());
        assert!(ran.code < 2, "{}", ran.stderr);
        ran.stdout
    };
    assert_eq!(rows("thin.toml", option), rows("thick.toml", &[]));
    assert_ne!(rows("thin.toml", &[]), rows("thick.toml", &[]));
}
