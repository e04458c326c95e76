//! `inspect`: what would go wrong in a script, and what a reviewer would ask.

use super::check::{Folder, Ran};
use serde_json::Value;

/// Every way of going wrong at once.
const BROKEN: &str = r#"//! Broken in many ways.
input wall = 3.mm : "Wall" how "micrometer";
input turn = 2.deg : "Turn" how "protractor";
input load = 100.N : "Load" how "scale";
step both = wall + turn : "Cannot be added";
step other = wal * 2.0 : "No such name";
step again = wal * 3.0 : "The same";
step called = squareroot(wall) : "No such function";
step after = both * 2.0 : "Rests on what cannot be";
step force = load + wall : "Cannot be added either";
fn twice(a) { a + 1.kg }
step inside = twice(wall) : "Goes wrong in a function";
step fine = 2.0 * wall : "Twice the wall";
"#;

/// Runs, and every line of it has something that a reviewer would ask.
const DOUBTFUL: &str = r#"input wall = 3.mm;
input idle = 3.mm : "Never used" how "rule";
assume share = 0.5 : "Share";
let spare = 2.0 * wall;
step half = share * wall;
check half <= 7.mm : "Half the wall";
check half == wall / 2.0 : "The very same" per "common practice";
check 1.mm < 2.mm : "Always" per "common practice";
half * 2.0;
step power = 10.N_m * 20.Hz as W : "Power";
step right = 10.N_m * angular_speed(20.Hz) as W : "Power, rightly";
step also_right = 2.0 * PI * 10.N_m * 20.Hz as W : "Power by hand";
if wall > 5.mm {
    step thick = wall : "A thick wall";
}
fn sqrt(x) { 3.0 * x }
fn max(a, b, c, d, e) { a + b + c + d + e }
step root = sqrt(wall) : "Not what it is called";
"#;

fn inspected(folder: &Folder, what: &str) -> (u8, Value) {
    let ran = folder.run(&["inspect", what, "--format", "json"]);
    assert_eq!(ran.stderr, "");
    (ran.code, serde_json::from_str(&ran.stdout).unwrap())
}

/// Line, code, kind of each finding.
fn findings(script: &Value) -> Vec<(u64, String, String)> {
    let all = script["findings"].as_array().unwrap().iter();
    all.map(|finding| {
        let text = |key: &str| finding[key].as_str().unwrap().to_owned();
        let line = finding["places"][0]["line"].as_u64().unwrap_or(0);
        (line, text("code"), text("kind"))
    })
    .collect()
}

#[test]
fn every_fault_is_found_at_once() {
    let folder = Folder::new();
    folder.put("broken.rhai", BROKEN);
    let (code, found) = inspected(&folder, "broken.rhai");
    assert_eq!(code, 2);
    let script = &found["scripts"][0];
    let faults: Vec<u64> = findings(script)
        .into_iter()
        .filter(|(_, _, kind)| kind == "error")
        .map(|(line, ..)| line)
        .collect();
    assert_eq!(faults, [5, 6, 8, 10, 11], "{found:#}");
    let unknown = &script["findings"][1];
    assert_eq!(unknown["again_in_lines"], serde_json::json!([7]));
    // The lines are shown as they are.
    assert_eq!(
        script["findings"][3]["places"][0]["text"],
        "step force = load + wall : \"Cannot be added either\";"
    );
    assert_eq!(script["not_tried"], serde_json::json!([9]));
    assert_eq!(found["errors"], 5);
    // A run says the first only.
    assert_eq!(folder.run(&["run", "broken.rhai"]).code, 2);
}

#[test]
fn in_words() {
    let folder = Folder::new();
    folder.put("broken.rhai", BROKEN);
    folder.put("doubtful.rhai", DOUBTFUL);
    let mut text = String::new();
    for arguments in [
        &["inspect", "broken.rhai"][..],
        &["inspect", "doubtful.rhai"],
        &["inspect", "doubtful.rhai", "--format", "markdown"],
    ] {
        let Ran { code, stdout, stderr } = folder.run(arguments);
        text.push_str(&format!(
            "$ crankline {}\n{stdout}{stderr}(exit code {code})\n\n",
            arguments.join(" ")
        ));
    }
    insta::assert_snapshot!(text);
}

#[test]
fn what_a_reviewer_would_ask() {
    let folder = Folder::new();
    folder.put("doubtful.rhai", DOUBTFUL);
    let (code, found) = inspected(&folder, "doubtful.rhai");
    assert_eq!(code, 1, "{found:#}");
    let script = &found["scripts"][0];
    let mut told: Vec<(u64, String)> = findings(script)
        .into_iter()
        .map(|(line, code, _)| (line, code))
        .collect();
    told.sort();
    let wanted = [
        (1, "description"),
        (1, "how"),
        (1, "label"),
        (2, "unused"),
        (3, "source"),
        (4, "unused"),
        (5, "label"),
        (6, "source"),
        (7, "exact"),
        (8, "fixed"),
        (9, "unused"),
        (10, "plain rate"),
        (16, "namesake"),
    ];
    let wanted: Vec<(u64, String)> = wanted.map(|(line, code)| (line, code.to_owned())).into();
    assert_eq!(told, wanted, "{found:#}");
    assert_eq!(script["not_seen"], serde_json::json!([14]));
    assert_eq!(script["decisions"][0]["condition"], "wall > 5.mm");
    assert_eq!(found["errors"], 0);
    assert_eq!(found["warnings"], 13);
}

/// No false alarm: nobody reads what cries wolf.
#[test]
fn shipped_scripts_have_nothing_to_be_asked() {
    let folder = Folder::new();
    let mut count = 0;
    for pack in crankline_scripts::pack_names() {
        let ran = folder.run(&["inspect", &pack]);
        assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
        count += 1;
    }
    assert!(count > 5);
    let (code, found) = inspected(&folder, "clutch");
    assert_eq!(code, 0);
    let scripts = found["scripts"].as_array().unwrap();
    assert!(
        scripts
            .iter()
            .all(|script| !script["inputs"].as_array().unwrap().is_empty())
    );
}

#[test]
fn a_new_pack_has_nothing_to_be_asked() {
    let folder = Folder::new();
    let made = folder.run(&["pack", "new", "our-shop", "--packs", "mine"]);
    assert_eq!(made.code, 0, "{}", made.stderr);
    for what in ["our-shop", "mine/our-shop", "mine/our-shop/tube-weight.rhai"] {
        let ran = folder.run(&["inspect", what, "--packs", "mine"]);
        assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
    }
    // A script without worked examples, and one whose examples cannot be read or calculated.
    folder.put(
        "mine/our-shop/wall.rhai",
        "//! A wall.\ninput a = 3.mm : \"A\" how \"rule\";\nstep b = a : \"B\";\n",
    );
    let ran = folder.run(&["inspect", "mine/our-shop"]);
    assert_eq!(ran.code, 1);
    assert!(ran.stdout.contains("no worked example says"), "{}", ran.stdout);
    let case = "format = 1\n[[case]]\ntitle = \"t\"\nsource = \"by hand\"\nset = { a = \"3 kg\" }\n\
                [case.expect]\nb = { value = \"3 mm\", within = \"1 mm\" }\n";
    folder.put("mine/our-shop/wall.cases.toml", case);
    let ran = folder.run(&["inspect", "mine/our-shop"]);
    assert_eq!(ran.code, 2, "{}", ran.stdout);
    folder.put("mine/our-shop/wall.cases.toml", "format = 1\ncases = 3\n");
    let ran = folder.run(&["inspect", "mine/our-shop"]);
    assert_eq!(ran.code, 2, "{}", ran.stdout);
    assert!(ran.stdout.contains("`cases`"), "{}", ran.stdout);
}

#[test]
fn jobs() {
    let folder = Folder::new();
    folder.put(
        "fine.rhai",
        "//! Fine.\ninput wall = 3.mm : \"Wall\" how \"rule\";\nstep b = wall : \"B\";\n",
    );
    folder.put("doubtful.rhai", DOUBTFUL);
    let job = |readings: &str, script: &str| {
        format!("format = 1\n[measured]\n{readings}\n[[run]]\nscript = \"{script}\"\nname = \"it\"\n")
    };
    for (readings, script, code, said) in [
        ("wall = \"3 mm\"", "fine.rhai", 0, "nothing found"),
        (
            "wall = \"3 mm\"\nspare = \"3 mm\"",
            "fine.rhai",
            1,
            "no run uses the reading `spare`",
        ),
        (
            "wall = \"3 mm\"",
            "doubtful.rhai",
            1,
            "`half * 2.0` works out goes nowhere",
        ),
        ("wall = \"3 kg\"", "fine.rhai", 2, "3 kg"),
        ("wall = \"3\"", "fine.rhai", 2, "ERROR"),
        ("wall = 3 mm", "fine.rhai", 2, "ERROR"),
        ("wall = \"3 mm\"", "none.rhai", 2, "there is no file `none.rhai`"),
    ] {
        folder.put("job.toml", &job(readings, script));
        let ran = folder.run(&["inspect", "job.toml"]);
        assert_eq!(
            (ran.code, ran.stderr.as_str()),
            (code, ""),
            "{readings}: {}",
            ran.stdout
        );
        assert!(ran.stdout.contains(said), "{readings}: {}", ran.stdout);
    }
}

/// What is wrong in a module is told there, with the line that imports it.
#[test]
fn imported_scripts() {
    let folder = Folder::new();
    std::fs::create_dir_all(folder.0.join("shop")).unwrap();
    folder.put("shop/pack.toml", "format = 1\nname = \"shop\"\nversion = \"0.1.0\"\n");
    folder.put("shop/parts.rhai", "fn twice(a) { 2.0 * b }\nfn half(a) { c / 2.0 }\n");
    folder.put(
        "shop/whole.rhai",
        "//! Whole.\nimport \"shop/parts\" as parts;\ninput a = 3.mm : \"A\" how \"rule\";\n\
         step b = parts::twice(a) : \"B\";\nstep c = a + 1.kg : \"C\";\n",
    );
    let (code, found) = inspected(&folder, "shop/whole.rhai");
    assert_eq!(code, 2);
    let lines: Vec<u64> = findings(&found["scripts"][0])
        .into_iter()
        .map(|(line, ..)| line)
        .collect();
    assert!(lines.contains(&5), "{found:#}");
    let places = &found["scripts"][0]["findings"][0]["places"];
    assert_eq!(
        (&places[0]["script"], &places[1]["line"]),
        (&"shop/parts".into(), &2.into())
    );
}

/// One that does not come to an end is told once, with what came before it.
#[test]
fn a_script_that_does_not_end() {
    let folder = Folder::new();
    folder.put(
        "endless.rhai",
        "//! Endless.\ninput a = 3.mm : \"A\" how \"rule\";\nstep b = a + 1.kg : \"B\";\nloop { }\nstep c = a : \"C\";\n",
    );
    let (code, found) = inspected(&folder, "endless.rhai");
    assert_eq!((code, &found["errors"]), (2, &2.into()), "{found:#}");
    assert_eq!(found["scripts"][0]["findings"][1]["code"], "limit");
}

#[test]
fn what_cannot_be_inspected() {
    let folder = Folder::new();
    for (what, said) in [
        ("none.rhai", "there is no file `none.rhai`"),
        ("none", "there is no pack and no script `none`"),
        ("driveline/none", "there is no script"),
        ("none.toml", "there is no file"),
        ("pack.zip", "there is no file `pack.zip`"),
        (".", "there is no file `./pack.toml`"),
    ] {
        let ran = folder.run(&["inspect", what]);
        assert_eq!(ran.code, 2, "{what}: {}", ran.stdout);
        assert!(ran.stderr.contains(said), "{what}: {}", ran.stderr);
    }
}

/// Whatever stands in a file, there is an answer.
#[test]
fn any_text_is_looked_through() {
    let folder = Folder::new();
    let whole = format!("{BROKEN}{DOUBTFUL}");
    let mut cuts: Vec<usize> = (0..whole.len()).step_by(37).collect();
    cuts.push(whole.len());
    for cut in cuts {
        let Some(text) = whole.get(..cut) else { continue };
        folder.put("cut.rhai", text);
        let ran = folder.run(&["inspect", "cut.rhai"]);
        assert!(ran.stderr.is_empty() && !ran.stdout.is_empty(), "{cut}: {}", ran.stderr);
    }
}
