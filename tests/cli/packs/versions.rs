//! A record beside a run with another version of a script: which one it is, and which results differ.

use super::with_mine;
use crate::cli::check::Folder;
use serde_json::Value;

const SCRIPT: &str = "//! A wall.\ninput wall = 3.mm : \"Wall\";\nstep twice = 2.0 * wall as mm : \"Twice the wall\";\n\
                      step half = wall / 2.0 as mm : \"Half the wall\";\ncheck twice <= 7.mm : \"Fits\";\n";
const JOB: &str = "format = 1\n[measured]\nwall = \"3 mm\"\n[[run]]\nscript = \"walls/wall\"\nname = \"the wall\"\n";

fn put(folder: &Folder, version: &str, script: &str) {
    std::fs::create_dir_all(folder.0.join("mine/walls")).unwrap();
    let manifest = format!("format = 1\nname = \"walls\"\nversion = \"{version}\"\n");
    folder.put("mine/walls/pack.toml", &manifest);
    folder.put("mine/walls/wall.rhai", script);
}

#[test]
fn what_another_version_of_a_script_changed() {
    let folder = Folder::new();
    folder.put("job.toml", JOB);
    put(&folder, "0.1.0", SCRIPT);
    let run = with_mine(
        &folder,
        &["run", "job.toml", "--format", "json", "--out", "before.json"],
    );
    assert_eq!(run.stderr, "");
    let record: Value = serde_json::from_str(&super::read(&folder.0.join("before.json"))).unwrap();
    let digest = |record: &Value| record["runs"][0]["script"]["sha256"].as_str().unwrap()[..12].to_owned();
    let before = digest(&record);
    let compared = |folder: &Folder| {
        let ran = with_mine(folder, &["compare", "before.json", "job.toml"]);
        assert_eq!(ran.stderr, "");
        (ran.code, ran.stdout.split_whitespace().collect::<Vec<_>>().join(" "))
    };
    let (code, text) = compared(&folder);
    assert_eq!(code, 0);
    assert!(!text.contains("SCRIPT"), "{text}");

    put(&folder, "0.2.0", &SCRIPT.replace("2.0 * wall", "2.5 * wall"));
    let (code, text) = compared(&folder);
    assert_eq!(code, 1);
    let now = with_mine(&folder, &["run", "job.toml", "--format", "json"]).stdout;
    let now = digest(&serde_json::from_str(&now).unwrap());
    let said = format!(
        "SCRIPT the wall: walls/wall is version 0.1.0 (SHA-256 {before}…) in A, version 0.2.0 (SHA-256 {now}…) in B; \
         results may differ because the script changed: Twice the wall, check Fits"
    );
    assert!(text.contains(&said), "{text}");
    assert!(!text.contains("Half the wall"), "{text}");

    // Other words in the same version: the digest tells, and no result differs.
    put(&folder, "0.1.0", &SCRIPT.replace("A wall", "Another wall"));
    let (code, text) = compared(&folder);
    assert_eq!(code, 0);
    assert!(text.contains("because the script changed: none does"), "{text}");

    // A reading that differs too is not the script's doing.
    put(&folder, "0.2.0", &SCRIPT.replace("2.0 * wall", "2.1 * wall"));
    folder.put("job.toml", &JOB.replace("3 mm", "3.1 mm"));
    let (_, text) = compared(&folder);
    assert!(text.contains("readings are others too"), "{text}");
}

/// What a script imports is part of what it says: another text of it is told like another text of its own.
#[test]
fn what_another_version_of_an_imported_script_changed() {
    let folder = Folder::new();
    let library = "//! Twice.\nfn twice(x) { 2.0 * x }\n";
    let put_library = |version: &str, script: &str| {
        std::fs::create_dir_all(folder.0.join("mine/lib")).unwrap();
        let manifest = format!("format = 1\nname = \"lib\"\nversion = \"{version}\"\n");
        folder.put("mine/lib/pack.toml", &manifest);
        folder.put("mine/lib/f.rhai", script);
    };
    put_library("0.1.0", library);
    let script = SCRIPT.replace("2.0 * wall", "f::twice(wall)");
    put(
        &folder,
        "0.1.0\"\nuses = [\"lib\"]\ntitle = \"Walls",
        &script.replace("input", "import \"lib/f\" as f;\ninput"),
    );
    folder.put("job.toml", JOB);
    let written = |format: &str, file: &str| {
        let ran = with_mine(&folder, &["run", "job.toml", "--format", format, "--out", file]);
        assert_eq!(ran.stderr, "");
        super::read(&folder.0.join(file))
    };
    let record: Value = serde_json::from_str(&written("json", "before.json")).unwrap();
    let imported = record["runs"][0]["script"]["imports"][0].clone();
    assert_eq!(
        (&imported["name"], &imported["pack_version"]),
        (&"lib/f".into(), &"0.1.0".into())
    );
    let digest = imported["sha256"].as_str().unwrap();
    assert_eq!(digest, crankline_engine::pack::sha256(library.as_bytes()));
    let line = format!("- imported script lib/f 0.1.0, SHA-256 {digest}");
    assert!(written("markdown", "before.md").contains(&line));
    assert!(written("html", "before.html").contains(digest));
    let compared = || {
        let ran = with_mine(&folder, &["compare", "before.json", "job.toml"]);
        assert_eq!(ran.stderr, "");
        ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(!compared().contains("SCRIPT"));
    put_library("0.2.0", &library.replace("2.0", "2.05"));
    let text = compared();
    let said = "SCRIPT the wall: lib/f, which walls/wall imports, is version 0.1.0 (SHA-256 ";
    assert!(text.contains(said), "{text}");
    assert!(text.contains("because the script changed: Twice the wall"), "{text}");
    // A record of a program that did not note imports says nothing of them.
    let older = super::read(&folder.0.join("before.json"));
    let mut older: Value = serde_json::from_str(&older).unwrap();
    older["runs"][0]["script"].as_object_mut().unwrap().remove("imports");
    folder.put("before.json", &older.to_string());
    assert!(!compared().contains("SCRIPT"));
}

/// What judges no longer is no better for it.
#[test]
fn what_another_version_of_a_script_no_longer_judges() {
    let folder = Folder::new();
    folder.put("job.toml", JOB);
    put(&folder, "0.1.0", SCRIPT);
    let run = with_mine(
        &folder,
        &["run", "job.toml", "--format", "json", "--out", "before.json"],
    );
    assert_eq!(run.stderr, "");
    let check = "check twice <= 7.mm : \"Fits\";\n";
    for (what, now, code, said) in [
        (
            "softened",
            check.replace("check", "prefer"),
            1,
            "check Fits decides in A, and is mere advice in B",
        ),
        ("gone", String::new(), 1, "ONLY IN A the wall: check Fits (holds)"),
        (
            "a new one that fails",
            format!("{check}check half >= 2.mm : \"Thick\";\n"),
            1,
            "check Thick (fails)",
        ),
        (
            "a new one that holds",
            format!("{check}check half >= 1.mm : \"Thick\";\n"),
            0,
            "check Thick (holds)",
        ),
    ] {
        put(&folder, "0.2.0", &SCRIPT.replace(check, &now));
        let ran = with_mine(&folder, &["compare", "before.json", "job.toml"]);
        let text = ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(ran.code, code, "{what}: {text}");
        assert!(text.contains(said), "{what}: {text}");
    }
}
