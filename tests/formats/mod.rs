//! Files of today's formats, which have to be read for years and to give the same results. What lies in `format-1` is never
//! changed: a newer format gets a folder of its own, and this one stays. (A sealed pack of the first format lies beside
//! the tests of packs: `pack::seals::a_pack_of_the_first_format_still_loads`.)
//!
//! | file | what it is |
//! |---|---|
//! | `car.toml`, `loads.csv`, `joint.rhai`, `drop.rhai` | a job file that says everything a job file can say |
//! | `packs/shop` | a pack: manifest, worked cases with every kind of thing to expect |
//! | `record-job.json`, `record-script.json` | records that `run --format json` wrote of them |

use crate::program::Program;
use serde_json::Value;
use std::path::{Path, PathBuf};

fn kept() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("formats/format-1")
}

fn crankline(arguments: &[&str]) -> (u8, String, String) {
    let program = Program {
        packs: vec![kept().join("packs")],
        ..Program::in_folder(kept())
    };
    let ran = program.run(arguments.iter().copied());
    (ran.code, ran.stdout, ran.stderr)
}

/// What a kept record says of numbers, verdicts and names, a run of today says too; a newer record may say more.
#[track_caller]
fn says_the_same(kept: &Value, now: &Value, way: &str) {
    match (kept, now) {
        (Value::Object(kept), Value::Object(now)) => {
            // Samples are drawn as the newest studies draw them: verdicts, not intervals, are kept.
            let drawn = [
                "low_si", "high_si", "chance", "share", "rests_on", "low", "high", "within", "advice", "figures",
            ];
            for (key, kept) in kept.iter().filter(|(key, _)| !drawn.contains(&key.as_str())) {
                let now = now.get(key).unwrap_or_else(|| panic!("{way}.{key} is gone"));
                says_the_same(kept, now, &format!("{way}.{key}"));
            }
        }
        (Value::Array(kept), Value::Array(now)) => {
            assert_eq!(kept.len(), now.len(), "{way}");
            for (number, (kept, now)) in kept.iter().zip(now).enumerate() {
                says_the_same(kept, now, &format!("{way}[{number}]"));
            }
        }
        (Value::Number(kept), Value::Number(now)) => {
            let (kept, now) = (kept.as_f64().unwrap(), now.as_f64().unwrap());
            assert!((kept - now).abs() <= 1e-12 * kept.abs(), "{way}: {kept} became {now}");
        }
        // Words may be put better.
        (Value::String(_), Value::String(_)) if way.ends_with("formula") || way.ends_with("substituted") => {}
        (kept, now) => assert_eq!(kept, now, "{way}"),
    }
}

fn record(name: &str) -> Value {
    serde_json::from_str(&std::fs::read_to_string(kept().join(name)).unwrap()).unwrap()
}

#[track_caller]
fn runs_as_it_did(target: &str, name: &str) {
    let (code, stdout, stderr) = crankline(&["run", target, "--format", "json"]);
    assert!(code < 2, "{stderr}");
    says_the_same(&record(name), &serde_json::from_str(&stdout).unwrap(), name);
}

#[test]
fn a_job_file_runs_as_it_did() {
    runs_as_it_did("car.toml", "record-job.json");
}

#[test]
fn a_script_of_a_pack_runs_as_it_did() {
    runs_as_it_did("shop/tube", "record-script.json");
}

#[test]
fn the_cases_of_a_pack_still_come_out() {
    let (code, stdout, stderr) = crankline(&["prove", "shop"]);
    assert_eq!((code, stderr.as_str()), (0, ""), "{stdout}");
    assert!(stdout.contains("All 3 worked examples come out."), "{stdout}");
    let (code, stdout, stderr) = crankline(&["pack", "list"]);
    assert_eq!((code, stderr.as_str()), (0, ""));
    assert!(stdout.contains("shop"), "{stdout}");
}

#[test]
fn a_record_is_read_and_says_what_the_job_says() {
    for (record, target) in [("record-job.json", "car.toml"), ("record-script.json", "shop/tube")] {
        let (code, stdout, stderr) = crankline(&["compare", record, target, "--format", "json"]);
        assert_eq!((code, stderr.as_str()), (0, ""), "{stdout}");
        let compared: Value = serde_json::from_str(&stdout).unwrap();
        for list in ["inputs", "results", "verdicts"] {
            let changed = compared.get(list).and_then(Value::as_array).map_or(0, Vec::len);
            assert_eq!(changed, 0, "{list}: {stdout}");
        }
    }
}

/// Each of them, one format on: an error that says what to do.
#[test]
fn a_newer_format_is_refused_and_says_what_to_do() {
    let folder = crate::cli::check::Folder::new();
    let put = |name: &str| {
        let text = std::fs::read_to_string(kept().join(name)).unwrap();
        let newer = text
            .replacen("format = 1", "format = 2", 1)
            .replacen("\"format\": 1", "\"format\": 2", 1);
        assert_ne!(text, newer, "{name} says its format");
        let path = folder.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, newer).unwrap();
    };
    let refused = |arguments: &[&str]| {
        let ran = folder.run(arguments);
        assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.stdout);
        assert!(ran.stderr.contains("format 2"), "{}", ran.stderr);
        assert!(ran.stderr.contains("newer"), "{}", ran.stderr);
    };
    put("car.toml");
    refused(&["run", "car.toml"]);
    put("record-job.json");
    refused(&["compare", "record-job.json", "record-job.json"]);
    put("packs/shop/pack.toml");
    refused(&["run", "shop/tube"]);
    folder.put(
        "packs/shop/pack.toml",
        &std::fs::read_to_string(kept().join("packs/shop/pack.toml")).unwrap(),
    );
    folder.put(
        "packs/shop/tube.rhai",
        &std::fs::read_to_string(kept().join("packs/shop/tube.rhai")).unwrap(),
    );
    put("packs/shop/tube.cases.toml");
    refused(&["prove", "shop"]);
}
