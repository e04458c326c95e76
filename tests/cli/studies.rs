//! Spread, sweep and solve as somebody types them.

use super::check::{Folder, run, shown};
use serde_json::{Value, json};

fn json(arguments: &[&str]) -> Value {
    let with_format = [arguments, &["--format", "json"]].concat();
    serde_json::from_str(&run(&with_format).stdout).unwrap()
}

fn narrow(text: &str) {
    for line in text.lines().skip_while(|line| line.starts_with('$')) {
        assert!(line.chars().count() <= 80, "too wide: {line}");
    }
}

const MOUNT: [&str; 8] = [
    "--adjust",
    "mount_right=-25 mm..25 mm",
    "--adjust",
    "mount_up=-20 mm..20 mm",
    "--for",
    "moved_fall=2.6 deg",
    "--for",
    "moved_plan=0 deg",
];

#[test]
fn a_spread() {
    let text = shown(&["spread", "shaft.rhai", "--samples", "4096"]);
    narrow(&text);
    insta::assert_snapshot!(text);
    insta::assert_snapshot!(
        "a_spread_in_markdown",
        shown(&["spread", "shaft.rhai", "--samples", "4096", "--format", "markdown"])
    );
    let found = json(&["spread", "shaft.rhai", "--samples", "4096"]);
    let critical = &found["steps"][0];
    for key in ["mean_si", "std_dev_si", "p2_5_si", "p97_5_si"] {
        assert!(critical[key].is_f64(), "{key}");
    }
    assert!(critical["shares"]["length"].as_f64().unwrap() > 0.1);
    assert_eq!(found["samples"], 4096);
}

#[test]
fn a_spread_of_a_job_says_the_same_of_its_runs() {
    let found = json(&["spread", "car.toml", "--seed", "3"]);
    assert_eq!(found["runs"].as_array().unwrap().len(), 2);
    assert!(found["runs"][0]["steps"][0]["std_dev_si"].as_f64().unwrap() > 0.0);
    assert_eq!(found["seed"], 3);
}

/// A label is its author's; a spreadsheet must not calculate with it, nor a table lose its columns over it.
#[test]
fn a_label_is_no_formula() {
    let folder = Folder::new();
    let script = "//! A wall.\ninput wall = 3.mm : \"Wall\" how \"calliper\";\n\
                  step twice = 2.0 * wall : \"Twice\";\ncheck wall <= 3.5.mm : \"=HYPERLINK(1)\";\ncheck wall >= 1.mm : \"a | b\";\n";
    folder.put("wall.rhai", script);
    let sweep = [
        "sweep",
        "wall.rhai",
        "--vary",
        "wall=-1 mm..4 mm",
        "--watch",
        "twice",
        "--points",
        "3",
    ];
    let csv = folder.run(&[&sweep[..], &["--format", "csv"]].concat()).stdout;
    let mut lines = csv.lines();
    let head = lines.next().unwrap();
    assert!(head.contains(",'=HYPERLINK(1),a | b,"), "{head}");
    assert!(
        lines.next().unwrap().starts_with("-1,"),
        "a negative number is none: {csv}"
    );
    let markdown = folder.run(&[&sweep[..], &["--format", "markdown"]].concat()).stdout;
    assert!(markdown.contains(" | a \\| b | "), "{markdown}");
}

#[test]
fn a_sweep() {
    let asked = [
        "sweep",
        "shaft.rhai",
        "--vary",
        "length=40 in..60 in",
        "--watch",
        "critical",
    ];
    let text = shown(&asked);
    narrow(&text);
    insta::assert_snapshot!(text);
    let few = [&asked[..], &["--points", "5"]].concat();
    insta::assert_snapshot!("a_sweep_as_csv", shown(&[&few[..], &["--format", "csv"]].concat()));
    insta::assert_snapshot!(
        "a_sweep_in_markdown",
        shown(&[&few[..], &["--format", "markdown"]].concat())
    );
    let found = json(&few);
    let rows = found["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 5);
    assert_eq!(rows[0]["length"]["value"], 1016.0);
    assert_eq!(rows[0]["verdict"], "holds");
    assert!(found["changes"][0]["at"]["si"].as_f64().unwrap() > 1.0);
}

#[test]
fn a_sweep_of_two_inputs_is_a_map() {
    let text = shown(&[
        "sweep",
        "shaft.rhai",
        "--vary",
        "length=40 in..60 in",
        "--vary",
        "top=4000 rpm..8000 rpm",
        "--points",
        "9",
    ]);
    narrow(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn a_sweep_over_choices_and_counts() {
    let text = shown(&[
        "sweep",
        "harness/circuit",
        "--vary",
        "cable_size=4,6,10",
        "--watch",
        "drop",
    ]);
    narrow(&text);
    insta::assert_snapshot!(text);
    let counts = json(&["sweep", "angles.rhai", "--vary", "bolts=2..5"]);
    let verdicts: Vec<&Value> = counts["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["verdict_of_all"])
        .collect();
    assert_eq!(verdicts.len(), 4);
    assert_eq!(verdicts[0], "fails", "two bolts are too few");
}

#[test]
fn a_solution() {
    let asked = [&["solve", "driveline/mount-move"], &MOUNT[..]].concat();
    let text = run(&asked).stdout;
    narrow(&text);
    insta::assert_snapshot!(text);
    let found: Value = serde_json::from_str(&run(&[&asked[..], &["--format", "json"]].concat()).stdout).unwrap();
    let adjusted = &found["solutions"][0]["adjusted"];
    // Places of the trade's worked example: 22.7 to the right, 14.0 up.
    assert!((adjusted["mount_right"]["value"].as_f64().unwrap() - 22.7).abs() < 0.05);
    assert!((adjusted["mount_up"]["value"].as_f64().unwrap() - 14.0).abs() < 0.05);
    assert!(found["solutions"][0]["outcome"]["checks"].is_array());
    insta::assert_snapshot!(
        "a_solution_in_markdown",
        run(&[&asked[..], &["--format", "markdown"]].concat()).stdout
    );
}

#[test]
fn a_solution_that_exists() {
    let asked = [&["solve", "driveline/mount-move"], &MOUNT[..], &["--step", "0.5 mm"]].concat();
    let text = run(&asked).stdout;
    assert!(
        text.contains("mount_right = 22.5 mm to the right, mount_up = 14.0 mm up"),
        "{text}"
    );
    assert!(text.contains("as it can be had, checked again there"), "{text}");
    assert!(text.contains("moved_fall = "), "what is missed is told: {text}");
}

#[test]
fn nowhere() {
    let ran = run(&[
        "solve",
        "shaft.rhai",
        "--adjust",
        "length=40 in..60 in",
        "--for",
        "critical=90000 rpm",
    ]);
    assert_eq!(ran.code, 1);
    insta::assert_snapshot!(ran.stdout);
}

#[test]
fn the_lightest_tube() {
    let ran = run(&[
        "solve",
        "shaft.rhai",
        "--adjust",
        "tube_od=2 in..5 in",
        "--least",
        "critical",
        "--set",
        "top=5000 rpm",
        "--robust",
    ]);
    assert_eq!(ran.code, 0, "{}{}", ran.stdout, ran.stderr);
    assert!(ran.stdout.contains("its one check holds"), "{}", ran.stdout);
}

#[test]
fn a_solution_is_kept_as_an_option() {
    let folder = Folder::new();
    let before = std::fs::read_to_string(folder.0.join("car.toml")).unwrap();
    let asked = [
        "solve",
        "car.toml",
        "--adjust",
        "length=40 in..60 in",
        "--set",
        "wall=2.5 mm",
        "--keep",
        "shorter shaft",
    ];
    let ran = folder.run(&asked);
    assert!(
        ran.stdout.contains("kept in car.toml as option \"shorter shaft\""),
        "{}{}",
        ran.stdout,
        ran.stderr
    );
    let after = std::fs::read_to_string(folder.0.join("car.toml")).unwrap();
    let option = after.strip_prefix(&before).expect("nothing of it is lost");
    assert!(option.contains("name = \"shorter shaft\""), "{option}");
    assert!(option.contains("wall = \"2.5 mm\", length = \""), "{option}");
    assert_eq!(folder.run(&["run", "car.toml"]).stderr, "");
    let again = folder.run(&asked);
    assert_eq!(again.code, 2);
    assert!(
        again.stderr.contains("has an option `shorter shaft` already"),
        "{}",
        again.stderr
    );
}

/// Both families of the trade's worked example on the whole car, through the links between runs; the one that makes the
/// lines parallel is rejected by its limits.
#[test]
fn the_demonstrations_mount_has_two_places() {
    let folder = Folder::new();
    folder.put("demo.toml", include_str!("../../scripts/demo/car.toml"));
    let adjust = [
        "--adjust",
        "mount_right=-25 mm..25 mm",
        "--adjust",
        "mount_up=-20 mm..20 mm",
    ];
    let targets = ["--for", "as found: residual_re=0", "--for", "as found: residual_im=0"];
    let asked = [&["solve", "demo.toml", "--format", "json"], &adjust[..], &targets[..]].concat();
    let ran = folder.run(&asked);
    assert_eq!(ran.code, 0, "{}", ran.stderr);
    let found: Value = serde_json::from_str(&ran.stdout).unwrap();
    let solutions = found["solutions"].as_array().unwrap();
    assert_eq!(solutions.len(), 2);
    let at = |solution: &Value, name: &str| solution["adjusted"][name]["value"].as_f64().unwrap();
    let (kept, rejected) = (&solutions[0], &solutions[1]);
    assert!((at(kept, "mount_right") + 7.6).abs() < 0.05 && (at(kept, "mount_up") + 3.5).abs() < 0.05);
    assert!((at(rejected, "mount_right") - 22.7).abs() < 0.05 && (at(rejected, "mount_up") - 14.0).abs() < 0.05);
    assert_eq!(kept["verdict"], "holds");
    assert_eq!(rejected["verdict"], "fails");
    let text = folder
        .run(&[&["solve", "demo.toml"], &adjust[..], &targets[..]].concat())
        .stdout;
    assert!(
        text.contains("Shaft under drive (as found)"),
        "why it is rejected: {text}"
    );

    let keep = ["--robust", "--keep", "mount where the readings leave most"];
    let kept = folder.run(&[&["solve", "demo.toml"], &adjust[..], &keep[..]].concat());
    assert_eq!(kept.code, 0, "{}{}", kept.stdout, kept.stderr);
    let job = std::fs::read_to_string(folder.0.join("demo.toml")).unwrap();
    let set = job
        .rsplit("set = { ")
        .next()
        .unwrap()
        .trim_end()
        .trim_end_matches(" }")
        .to_owned();
    let mut again = vec![
        "run".to_owned(),
        "demo.toml".to_owned(),
        "--format".to_owned(),
        "json".to_owned(),
    ];
    for setting in set.split(", ") {
        again.extend(["--set".to_owned(), setting.replace('"', "")]);
    }
    let again: Vec<&str> = again.iter().map(String::as_str).collect();
    let found: Value = serde_json::from_str(&folder.run(&again).stdout).unwrap();
    for run in found["runs"].as_array().unwrap() {
        if ["mount", "as found", "length"].contains(&run["run"].as_str().unwrap()) {
            assert_eq!(run["verdict"], "holds", "{}", run["run"]);
        }
    }
}

/// Two branches: shafts up to 1.2 m in one piece, longer ones with a middle bearing. Each has a check of its own, of one
/// label, and nothing is right from 1.1 m to 1.3 m.
const PIECES: &str = r#"//! A shaft in one piece or two.
input length = 0.9.m from 0.5.m to 3.m : "Length" how "tape";
check length >= 0.6.m : "Long enough for both joints";
if length > 1.2.m {
    check length >= 1.3.m : "Can be made";
    check length <= 2.6.m : "Fits the car";
} else {
    check length <= 1.1.m : "Can be made";
}
"#;

#[test]
fn checks_of_branches_in_a_sweep() {
    let folder = Folder::new();
    folder.put("pieces.rhai", PIECES);
    let asked = ["sweep", "pieces.rhai", "--vary", "length=0.5 m..3 m", "--points", "6"];
    let text = folder.run(&asked).stdout;
    narrow(&text);
    insta::assert_snapshot!(text);
    let found: Value = serde_json::from_str(&folder.run(&[&asked[..], &["--format", "json"]].concat()).stdout).unwrap();
    // 0.5, 1, 1.5 … 3 m.
    let rows = |label: &str| {
        let rows = found["rows"].as_array().unwrap().iter();
        rows.map(|row| row["checks"][label].clone()).collect::<Vec<_>>()
    };
    let (one, two) = ("Can be made: length <= 1.1.m", "Can be made: length >= 1.3.m");
    assert_eq!(
        rows(one),
        [
            json!("holds"),
            json!("holds"),
            Value::Null,
            Value::Null,
            Value::Null,
            Value::Null
        ]
    );
    assert_eq!(rows(two)[..2], [Value::Null, Value::Null]);
    assert_eq!(rows(two)[2..], ["holds"; 4]);
    assert_eq!(rows("Fits the car")[3..], ["holds", "holds", "fails"]);
    assert_eq!(
        found["checks_in_some_rows"],
        json!([{"check": one, "rows": 2}, {"check": two, "rows": 4}, {"check": "Fits the car", "rows": 4}])
    );
    let verdicts: Vec<&Value> = found["rows"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["verdict"])
        .collect();
    assert_eq!(verdicts, ["fails", "holds", "holds", "holds", "holds", "fails"]);
}

#[test]
fn checks_of_branches_lead_a_search() {
    let folder = Folder::new();
    folder.put("pieces.rhai", PIECES);
    let asked = ["solve", "pieces.rhai", "--adjust", "length=1.25 m..3 m"];
    // (x - 1.3)/1.3 = (2.6 - x)/2.6 at 26/15 m.
    let found: Value = serde_json::from_str(&folder.run(&[&asked[..], &["--format", "json"]].concat()).stdout).unwrap();
    let at = found["solutions"][0]["adjusted"]["length"]["si"].as_f64().unwrap();
    assert!((at - 26.0 / 15.0).abs() < 1e-6, "{at}");
    let text = folder
        .run(&["solve", "pieces.rhai", "--adjust", "length=0.5 m..1.8 m"])
        .stdout;
    narrow(&text);
    insta::assert_snapshot!(text);
}

#[test]
fn errors() {
    let cases: [&[&str]; 12] = [
        &["sweep", "shaft.rhai", "--vary", "length"],
        &["sweep", "shaft.rhai", "--vary", "lenght=40 in..60 in"],
        &["sweep", "shaft.rhai", "--vary", "length=40 deg..60 deg"],
        &[
            "sweep",
            "shaft.rhai",
            "--vary",
            "length=40 in..60 in",
            "--watch",
            "critcal",
        ],
        &["sweep", "shaft.rhai", "--vary", "length=40 in..40 in"],
        &["sweep", "shaft.rhai", "--vary", "length=40 in..60 in", "--points", "1"],
        &["sweep", "angles.rhai", "--vary", "middle=(1,2,3) mm..(4,5,6) mm"],
        &[
            "solve",
            "shaft.rhai",
            "--adjust",
            "length=40 in..60 in",
            "--for",
            "critical=3 mm",
        ],
        &[
            "solve",
            "shaft.rhai",
            "--adjust",
            "length=40 in..60 in",
            "--step",
            "1 kg",
        ],
        &["solve", "shaft.rhai", "--adjust", "length=40 in..60 in", "--keep", "x"],
        &["spread", "shaft.rhai", "--samples", "0"],
        &["run", "shaft.rhai", "--format", "csv"],
    ];
    let mut told = String::new();
    for arguments in cases {
        let ran = run(arguments);
        assert_eq!(ran.code, 2, "{arguments:?}");
        told.push_str(&format!("$ crankline {}\n{}\n", arguments.join(" "), ran.stderr));
    }
    insta::assert_snapshot!(told);
}
