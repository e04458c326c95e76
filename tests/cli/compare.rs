//! Two jobs, records or options side by side, and a job run with an option's values.

use super::check::{Folder, run, shown};
use crankline_engine::report::{Record, compare, comparison_json, comparison_text, unpainted};
use proptest::prelude::*;
use serde_json::{Value, json};

const SHIM: &str = "a shim below the tail";
const LOWER: &str = "mount 40 mm lower";

fn assert_fits(text: &str) {
    for line in text.lines().skip(1) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
}

/// The program's JSON without the scripts' hashes, which change with every word.
fn without_hashes(json: &str) -> String {
    let lines = json.lines().map(|line| match line.split_once("\"sha256\": ") {
        Some((before, _)) => format!("{before}\"sha256\": \"…\""),
        None => line.to_owned(),
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[test]
fn a_job_and_its_option() {
    let text = shown(&["compare", "options.toml", LOWER]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn what_is_the_same_too() {
    let text = shown(&["compare", "options.toml", SHIM, "--only", "as found", "--all"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn in_markdown() {
    let arguments = ["compare", "options.toml", LOWER, "--format", "markdown"];
    insta::assert_snapshot!(shown(&arguments));
}

#[test]
fn in_json() {
    let arguments = [
        "compare",
        "options.toml",
        LOWER,
        "--only",
        "as found",
        "--format",
        "json",
    ];
    insta::assert_snapshot!(without_hashes(&shown(&arguments)));
}

#[test]
fn in_inches() {
    let text = run(&["compare", "options.toml", SHIM, "--units", "inch", "--all"]);
    assert_eq!(text.stderr, "");
    assert!(text.stdout.contains(" in "), "{}", text.stdout);
    assert!(!text.stdout.contains(" mm"), "{}", text.stdout);
}

/// A record's numbers in the reader's units: 48.5 in are 1231.9 mm.
#[test]
fn a_record_in_other_units() {
    let folder = Folder::new();
    let record = |name: &str, length: &str| {
        let set = format!("length={length}");
        let arguments = [
            "run",
            "shaft.rhai",
            "--set",
            set.as_str(),
            "--units",
            "inch",
            "--format",
            "json",
            "--out",
            name,
        ];
        assert_ne!(folder.run(&arguments).code, 2);
    };
    record("a.json", "48.5 in");
    record("b.json", "1 m");
    let inch = folder.run(&["compare", "a.json", "b.json"]).stdout;
    assert!(inch.contains("48.50 in") && inch.contains("39.37"), "{inch}");
    let metric = folder.run(&["compare", "a.json", "b.json", "--units", "metric"]).stdout;
    assert!(metric.contains("1231.9 mm") && metric.contains("1000.0 mm"), "{metric}");
    assert!(metric.contains("-231.9 mm"), "{metric}");
}

#[test]
fn exit_codes_say_whether_a_verdict_got_worse() {
    let folder = Folder::new();
    let code = |a: &str, b: &str| {
        let ran = folder.run(&["compare", a, b]);
        assert_eq!(ran.stderr, "", "{a} {b}");
        ran.code
    };
    let lower = format!("options.toml: {LOWER}");
    // The joint bends by more than half a degree.
    assert_eq!(code("options.toml", &lower), 1);
    assert_eq!(code("options.toml", "options.toml"), 0);
    assert_eq!(code(&lower, LOWER), 0);
    // A preference is advice, however much worse it gets.
    assert_eq!(code("options.toml", SHIM), 0);
    assert_eq!(
        folder
            .run(&["compare", "options.toml", "options.toml: no such way"])
            .code,
        2
    );
}

/// A way written to a file and read again is the way run now.
#[test]
fn a_record_is_the_run_that_wrote_it() {
    let folder = Folder::new();
    let written = folder.run(&[
        "run",
        "options.toml",
        "--option",
        LOWER,
        "--format",
        "json",
        "--out",
        "lower.json",
    ]);
    assert_eq!(written.stderr, "");
    let same = folder.run(&["compare", "lower.json", &format!("options.toml: {LOWER}")]);
    assert_eq!(same.code, 0, "{}", same.stderr);
    assert!(same.stdout.contains("VERDICTS   none changed"), "{}", same.stdout);
    assert!(same.stdout.contains("INPUTS     none differ"), "{}", same.stdout);
    assert!(same.stdout.contains("STEPS      none differ"), "{}", same.stdout);
    let live = folder.run(&["compare", "options.toml", LOWER]).stdout;
    let record = folder.run(&["compare", "options.toml", "lower.json"]).stdout;
    let below = |text: &str| text.split_once("VERDICTS").map(|(_, below)| below.to_owned());
    assert_eq!(below(&live), below(&record));
}

#[test]
fn a_run_that_tries_an_option_stands_for_it() {
    let folder = Folder::new();
    let by_run = folder.run(&["compare", "options.toml", "lowered"]).stdout;
    assert_eq!(by_run, folder.run(&["compare", "options.toml", LOWER]).stdout);
}

/// Scripts are one run each, whatever their names; a script changed is said.
#[test]
fn two_scripts() {
    let folder = Folder::new();
    let script = |limit: &str| {
        format!(
            "input a = 10.mm plus_minus 0.1.mm : \"Gap\";\nstep b = 2 * a : \"Twice\";\ncheck b <= {limit} : \"Small\";\n\
             prefer b >= 30.mm : \"Large\";\n"
        )
    };
    folder.put("old.rhai", &script("25.mm"));
    folder.put("new.rhai", &script("15.mm"));
    let ran = folder.run(&["compare", "old.rhai", "new.rhai"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (1, ""));
    assert_fits(&ran.stdout);
    insta::assert_snapshot!(ran.stdout);
    let back = folder.run(&["compare", "new.rhai", "old.rhai"]);
    assert_eq!(back.code, 0);
}

/// What only one has is said; a check that has come and fails is worse than none.
#[test]
fn what_one_alone_has() {
    let folder = Folder::new();
    folder.put(
        "old.rhai",
        "input a = 10.mm;\nstep b = 2 * a;\ncheck b <= 25.mm : \"Small\";\n",
    );
    folder.put(
        "new.rhai",
        "input c = 10.mm;\nstep d = 2 * c;\ncheck d <= 15.mm : \"Very small\";\n",
    );
    let ran = folder.run(&["compare", "old.rhai", "new.rhai"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (1, ""));
    insta::assert_snapshot!(ran.stdout);
    let job = "format = 1\n[[run]]\nscript = \"shaft.rhai\"\nname = \"rear shaft\"\n";
    folder.put("other.toml", job);
    let ran = folder.run(&["compare", "options.toml", "other.toml"]);
    assert!(
        ran.stdout.contains("ONLY IN A  run as found, with 6 checks"),
        "{}",
        ran.stdout
    );
}

/// A label that holds a number is another label; its formula is the same.
#[test]
fn a_label_with_a_number_is_found_by_its_formula() {
    let folder = Folder::new();
    folder.put(
        "gear.rhai",
        "input top = 4000.rpm;\ncheck top <= 5000.rpm : `Turns at ${top}`;\n",
    );
    folder.put(
        "gear.toml",
        "format = 1\n[measured]\ntop = \"4000 rpm\"\n[[option]]\nname = \"faster\"\nset = { top = \"6000 rpm\" }\n\
         [[run]]\nscript = \"gear.rhai\"\nname = \"gear\"\n",
    );
    let ran = folder.run(&["compare", "gear.toml", "faster", "--format", "json"]);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    assert_eq!(ran.code, 1, "{}", ran.stderr);
    assert_eq!(value["runs"][0]["checks"].as_array().unwrap().len(), 1);
    assert_eq!(value["runs"][0]["checks"][0]["change"], "worse");
}

#[test]
fn a_script_beside_a_job() {
    let folder = Folder::new();
    let one = folder.run(&["compare", "car.toml", "shaft.rhai"]);
    assert_eq!(one.stderr, "");
    assert!(one.stdout.contains("wall"), "{}", one.stdout);
    let two = folder.run(&["compare", "options.toml", "shaft.rhai"]);
    insta::assert_snapshot!(two.stderr);
    let only = folder.run(&["compare", "options.toml", "shaft.rhai", "--only", "front shaft"]);
    assert_eq!(only.stderr, "");
}

#[test]
fn what_cannot_be_compared() {
    let folder = Folder::new();
    folder.put("list.json", "[1, 2]");
    folder.put("text.json", "what I measured");
    folder.put("other.json", "{\"solutions\": []}");
    folder.put("newer.json", "{\"format\": 2, \"job\": {}, \"runs\": []}");
    folder.put(
        "broken.json",
        "{\"format\": 1, \"job\": {\"title\": \"x\"}, \"runs\": [{\"run\": \"a\", \"script\": {\"name\": 3}}]}",
    );
    let written = folder.run(&["run", "car.toml", "--format", "json", "--out", "car.json"]);
    assert_ne!(written.code, 2);
    let mut text = String::new();
    for arguments in [
        &["options.toml", "options.toml: a shim below the tale"][..],
        &["options.toml", "as found"],
        &["options.toml", "charging"],
        &["car.toml", "car.toml: lowered"],
        &["options.toml", "there.json"],
        &["options.toml", "list.json"],
        &["options.toml", "text.json"],
        &["options.toml", "other.json"],
        &["options.toml", "newer.json"],
        &["options.toml", "broken.json"],
        &["car.json", "car.toml", "--only", "frond shaft"],
        &["shaft.rhai", "nowhere/at-all"],
    ] {
        let ran = folder.run(&[&["compare"], arguments].concat());
        assert_eq!((ran.code, ran.stdout.as_str()), (2, ""), "{arguments:?}");
        text.push_str(&format!("$ crankline compare {}\n{}", arguments.join(" "), ran.stderr));
    }
    insta::assert_snapshot!(text);
}

#[test]
fn a_job_run_with_an_option() {
    let text = shown(&["run", "options.toml", "--option", SHIM, "--only", "as found"]);
    assert_fits(&text);
    insta::assert_snapshot!(text);
    let working = run(&["run", "options.toml", "--option", SHIM, "--working"]).stdout;
    assert!(working.contains(&format!("option {SHIM}")), "{working}");
}

/// What somebody tries wins over the option, also where the option names one run alone.
#[test]
fn what_is_set_wins_over_the_option() {
    let folder = Folder::new();
    let job = std::fs::read_to_string(folder.0.join("options.toml")).unwrap();
    let own = "\n[[option]]\nname = \"own\"\nset = { \"as found: gearbox\" = \"4 deg\", shaft = \"3 deg\" }\n";
    folder.put("own.toml", &format!("{job}{own}"));
    let inputs = |arguments: &[&str]| {
        let ran = folder.run(
            &[
                &[
                    "run", "own.toml", "--only", "as found", "--format", "json", "--option", "own",
                ],
                arguments,
            ]
            .concat(),
        );
        let value: Value = serde_json::from_str(&ran.stdout).unwrap_or_else(|_| panic!("{}", ran.stderr));
        let inputs = value["runs"][0]["inputs"].clone();
        let of = |number: usize| {
            (
                inputs[number]["value"].as_f64().unwrap(),
                inputs[number]["option"].clone(),
            )
        };
        [of(0), of(1)]
    };
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let [gearbox, shaft] = inputs(&[]);
    assert!(close(gearbox.0, 4.0) && gearbox.1 == "own", "{gearbox:?}");
    assert!(close(shaft.0, 3.0) && shaft.1 == "own", "{shaft:?}");
    let [gearbox, shaft] = inputs(&["--set", "gearbox=5 deg"]);
    assert!(close(gearbox.0, 5.0) && gearbox.1.is_null(), "{gearbox:?}");
    assert!(close(shaft.0, 3.0) && shaft.1 == "own", "{shaft:?}");
    let [gearbox, _] = inputs(&["--set", "as found: gearbox=6 deg"]);
    assert!(close(gearbox.0, 6.0) && gearbox.1.is_null(), "{gearbox:?}");
}

#[test]
fn an_option_that_is_not_there() {
    let misspelt = run(&["run", "options.toml", "--option", "mount 40 mm lover"]);
    assert_eq!(misspelt.code, 2);
    assert_eq!(
        misspelt.stderr,
        "error: the job has no option `mount 40 mm lover`\n  try: did you mean `mount 40 mm lower`?\n"
    );
    let script = run(&["run", "shaft.rhai", "--option", "lower"]);
    assert_eq!(script.code, 2);
    insta::assert_snapshot!(script.stderr);
}

/// Solve starts from the option's values: what is not adjusted is the option's.
#[test]
fn solve_takes_an_option() {
    let arguments = [
        "solve",
        "options.toml",
        "--option",
        LOWER,
        "--only",
        "as found",
        "--adjust",
        "shaft=3 deg..5 deg",
        "--format",
        "json",
    ];
    let ran = run(&arguments);
    assert_ne!(ran.code, 2, "{}", ran.stderr);
    let value: Value = serde_json::from_str(&ran.stdout).unwrap();
    let nearest = value["solutions"].get(0).unwrap_or(&value["nearest"][0]);
    let gearbox = &nearest["outcome"]["runs"][0]["inputs"][0];
    assert!((gearbox["value"].as_f64().unwrap() - 4.6).abs() < 1e-9, "{gearbox}");
}

/// The demonstration's kept way of moving the mount: the front joint's needles roll with it.
#[test]
fn the_demonstration_with_its_kept_mount() {
    let folder = Folder::new();
    folder.put("demo.toml", include_str!("../../scripts/demo/car.toml"));
    let option = "mount 7.6 mm left, 3.5 mm down";
    let ran = folder.run(&["run", "demo.toml", "--option", option, "--only", "as found", "--all"]);
    assert_eq!(ran.stderr, "");
    assert!(ran.stdout.contains("TRIAL"), "{}", ran.stdout);
    assert!(
        ran.stdout.contains(&format!("WITH       option \"{option}\"")),
        "{}",
        ran.stdout
    );
    assert!(
        ran.stdout.contains("HOLDS      Front joint keeps its needles rolling"),
        "{}",
        ran.stdout
    );
    // The job's own run that tries it says the same numbers.
    let json = |arguments: &[&str]| -> Value {
        let ran = folder.run(&[&["run", "demo.toml", "--format", "json"], arguments].concat());
        serde_json::from_str(&ran.stdout).unwrap()
    };
    let whole = json(&["--only", "as found", "--option", option]);
    let tried = json(&["--only", "mount lowered"]);
    let steps = |value: &Value| value["runs"][0]["steps"].clone();
    assert_eq!(steps(&whole), steps(&tried));
}

fn record(numbers: &[(f64, f64, u8)]) -> Value {
    const VERDICTS: [&str; 5] = ["fails", "unsure", "untrusted", "unmeasured", "holds"];
    const UNITS: [(&str, &str); 4] = [
        ("mm", "length"),
        ("", "number"),
        ("degC", "temperature"),
        ("m^(1/2)", "length^(1/2)"),
    ];
    let number = |(si, own, kind): &(f64, f64, u8)| {
        let (unit, dimension) = UNITS[usize::from(*kind) % 4];
        json!({"value": si, "unit": unit, "si": si, "dimension": dimension, "std_uncertainty_si": own,
               "half_width_si": own, "low_si": si - own, "high_si": si + own})
    };
    let with = |name: usize, number: Value, more: Value| {
        let mut object = number;
        object["name"] = json!(format!("n{name}"));
        object["label"] = Value::Null;
        for (key, value) in more.as_object().unwrap() {
            object[key] = value.clone();
        }
        object
    };
    let inputs = numbers
        .iter()
        .enumerate()
        .map(|(at, of)| with(at, number(of), json!({"from": "measured"})));
    let steps = numbers.iter().enumerate().map(|(at, of)| {
        let items = json!({"items": {"x": number(of), "y": number(of)}});
        with(at, items, json!({}))
    });
    let checks = numbers.iter().enumerate().map(|(at, of)| {
        json!({"label": format!("check {at}"), "formula": "a < b", "kind": "check", "left": number(of), "op": "<",
               "right": number(of), "margin": of.0, "margin_si": of.0, "margin_std_uncertainty_si": of.1, "chance": 0.5,
               "verdict": VERDICTS[usize::from(of.2) % 5]})
    });
    json!({"format": 1, "script": {"name": "s", "pack_version": null, "sha256": "0"},
           "inputs": inputs.collect::<Vec<_>>(), "steps": steps.collect::<Vec<_>>(), "checks": checks.collect::<Vec<_>>()})
}

fn numbers() -> impl Strategy<Value = Vec<(f64, f64, u8)>> {
    proptest::collection::vec((-1e6..1e6_f64, 0.0..1e3_f64, any::<u8>()), 0..6)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_record_beside_itself_is_all_the_same(numbers in numbers()) {
        let record = Record::read(&record(&numbers), "r.json").unwrap();
        let comparison = compare(&record, &record).unwrap();
        prop_assert!(!comparison.got_worse());
        let value = comparison_json(&comparison);
        let count = |what: &str, key: &str| value["counts"][what][key].as_u64().unwrap();
        prop_assert_eq!(count("checks", "same"), numbers.len() as u64);
        prop_assert_eq!(count("checks", "margin_changed"), 0);
        prop_assert_eq!(count("inputs", "same"), numbers.len() as u64);
        prop_assert_eq!(count("steps", "same"), 2 * numbers.len() as u64);
        prop_assert!(comparison_text(&comparison, true, None, unpainted).contains("VERDICTS   none changed"));
    }

    /// What is worse one way is better the other way.
    #[test]
    fn turned_round_it_says_the_opposite(a in numbers(), b in numbers()) {
        let read = |numbers: &[(f64, f64, u8)]| Record::read(&record(numbers), "r.json").unwrap();
        let counts = |a: &Record, b: &Record| comparison_json(&compare(a, b).unwrap())["counts"].clone();
        let (forth, back) = (counts(&read(&a), &read(&b)), counts(&read(&b), &read(&a)));
        for what in ["checks", "inputs", "steps"] {
            for (key, turned) in [("worse", "better"), ("only_a", "only_b"), ("same", "same"), ("differ", "differ"), ("margin_changed", "margin_changed")] {
                prop_assert_eq!(&forth[what][key], &back[what][turned]);
            }
        }
    }
}

/// A difference of less than a tenth of the smaller standard uncertainty tells nothing; a better ± does.
#[test]
fn what_counts_as_the_same() {
    let changes = |a: (f64, f64), b: (f64, f64)| {
        let read = |(si, own): (f64, f64)| Record::read(&record(&[(si, own, 0)]), "r.json").unwrap();
        let value = comparison_json(&compare(&read(a), &read(b)).unwrap());
        value["runs"][0]["steps"][0]["change"].as_str().unwrap().to_owned()
    };
    assert_eq!(changes((1.0, 0.1), (1.009, 0.1)), "same");
    assert_eq!(changes((1.0, 0.1), (1.011, 0.1)), "differs");
    assert_eq!(changes((1.0, 0.1), (1.009, 0.05)), "differs");
    assert_eq!(changes((1.0, 0.1), (1.0, 0.05)), "differs");
    assert_eq!(changes((1.0, 0.0), (1.0 + 5e-10, 0.0)), "same");
    assert_eq!(changes((1.0, 0.0), (1.0 + 5e-9, 0.0)), "differs");
}
