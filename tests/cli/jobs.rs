//! Jobs: several runs on one car's readings.

use super::check::{Folder, run, shown};
use serde_json::Value;

#[test]
fn first_screen_of_a_job() {
    let text = shown(&["run", "car.toml"]);
    for line in text.lines().skip(1) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
    insta::assert_snapshot!(text);
}

#[test]
fn only_one_run_of_a_job() {
    let text = shown(&[
        "run",
        "car.toml",
        "--only",
        "front shaft",
        "--set",
        "top=4800 rpm",
        "--all",
    ]);
    insta::assert_snapshot!(text);
    let misspelt = run(&["run", "car.toml", "--only", "frond shaft"]);
    assert_eq!(misspelt.code, 2);
    assert!(misspelt.stderr.contains("front shaft"), "{}", misspelt.stderr);
    let unlike = run(&["run", "car.toml", "--only", "charging"]);
    assert_eq!(
        unlike.stderr,
        "error: no run is named `charging`\n  try: the runs are `front shaft`, `joint angles`\n"
    );
}

#[test]
fn strict_takes_an_example_for_an_error() {
    let folder = Folder::new();
    assert_eq!(folder.run(&["run", "car.toml"]).code, 1);
    let strict = folder.run(&["run", "car.toml", "--strict"]);
    assert_eq!(strict.code, 2);
    assert_eq!(
        strict.stderr,
        "error: nobody has measured top, shaft, and --strict asks for it\n  \
         try: put readings in the job, or leave --strict out\n"
    );
    let only = ["run", "car.toml", "--only", "front shaft"];
    assert_eq!(folder.run(&only).code, 1, "nobody has measured `top`");
    assert_eq!(
        folder
            .run(&[&only[..], &["--set", "top=4800 rpm", "--strict"]].concat())
            .code,
        0
    );
}

#[test]
fn json_of_a_job() {
    let ran = run(&["run", "car.toml", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!(value["job"]["title"], "Green two-seater, second mock-up");
    assert_eq!(value["job"]["kept"][0], "ride_height");
    assert_eq!(value["verdict"], "fails");
    let names: Vec<&Value> = value["runs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|run| &run["run"])
        .collect();
    assert_eq!(names, ["front shaft", "joint angles"]);
    let length = &value["runs"][0]["inputs"][2];
    assert_eq!(
        (&length["name"], &length["from"]),
        (&"length".into(), &"measured".into())
    );
    assert!((length["si"].as_f64().unwrap() - 48.5 * 0.0254).abs() < 1e-15);
    let check = &value["runs"][0]["checks"][0];
    assert_eq!(
        (&check["verdict"], &check["examples"][0]),
        (&"unmeasured".into(), &"top".into())
    );
}

#[test]
fn a_job_names_nothing_outside_its_folder() {
    let folder = Folder::new();
    folder.put(
        "job.toml",
        "format = 1\n[measured]\nloads = { csv = \"../loads.csv\" }\n[[run]]\nscript = \"shaft.rhai\"\n",
    );
    let ran = folder.run(&["run", "job.toml"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
}

#[test]
fn an_error_points_into_the_job_file() {
    let folder = Folder::new();
    folder.put(
        "job.toml",
        "format = 1\n[measured]\nwall = \"2 kg\"\n[[run]]\nscript = \"shaft.rhai\"\n",
    );
    let ran = folder.run(&["run", "job.toml"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
}

const TWO_RUNS: &str = "format = 1
    title = \"two runs\"
    [measured]
    a = \"2 mm +/- 1 mm\"
    [[run]]
    script = \"one.rhai\"
    name = \"one\"
    [[run]]
    script = \"two.rhai\"
    name = \"two\"
    from = { b = \"one: twice\" }
";

fn two_runs() -> Folder {
    let folder = Folder::new();
    folder.put(
        "one.rhai",
        "// One.\ninput a = 1.mm : \"A\";\nstep twice = 2 * a : \"Twice\" as mm;\n",
    );
    folder.put(
        "two.rhai",
        "// Two.\ninput b = 1.mm : \"B\";\nstep c = b : \"C\" as mm;\ncheck c < 9.mm : \"Small\";\n",
    );
    folder.put("two.toml", TWO_RUNS);
    folder
}

/// What is linked moves as the step that it is linked to: 2 a, a even in ±1 mm, has u = 2/√3 mm, and 95 % of it in ±1.9 mm.
#[test]
fn a_linked_input_moves_as_its_step() {
    let folder = two_runs();
    let ran = folder.run(&["run", "two.toml", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap_or_else(|error| panic!("{error}: {}", ran.stderr));
    let linked = &value["runs"][1]["inputs"][0];
    assert_eq!(linked["from"], "linked");
    assert_eq!(linked["plus_minus"], Value::Null);
    let number = |key: &str| linked[key].as_f64().unwrap();
    assert!((number("std_uncertainty_si") - 0.002 / 3.0_f64.sqrt()).abs() < 1e-12);
    assert!((number("low_si") - 0.0021).abs() < 1e-5 && (number("high_si") - 0.0059).abs() < 1e-5);
    let working = folder.run(&["run", "two.toml", "--working"]).stdout;
    assert!(working.contains("= 4.0 mm (2.1 to 5.9) (from one: twice)"), "{working}");
}

/// Who tries another value measures no better: the job's ± stays, unless the trial gives its own.
#[test]
fn a_trial_keeps_the_jobs_spread() {
    let folder = two_runs();
    let head = |setting: &str| folder.run(&["run", "two.toml", "--set", setting]).stdout;
    let kept = head("a=3 mm");
    assert!(
        kept.contains("a = 3 mm ± 1 mm (the job's ±); the job's: 2 mm +/- 1 mm"),
        "{kept}"
    );
    let kept = head("one: a=3 mm");
    assert!(kept.contains("a = 3 mm ± 1 mm (the job's ±)"), "{kept}");
    let own = head("a=3 mm +/- 0.5 mm");
    assert!(own.contains("a = 3.0 mm ± 0.5 mm; the job's"), "{own}");
    let json = folder
        .run(&["run", "two.toml", "--set", "a=3 mm", "--format", "json"])
        .stdout;
    let value: Value = serde_json::from_str(&json).unwrap();
    let input = &value["runs"][0]["inputs"][0];
    assert_eq!(input["plus_minus_from"], "job");
    assert!((input["plus_minus"].as_f64().unwrap() - 1.0).abs() < 1e-12);
}
