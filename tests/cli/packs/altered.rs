//! A pack that was added and then altered on the disk: whoever uses it is told.

use super::sealed::{seal, theirs, with_shop};
use super::{put_pack, read, said};
use crate::cli::check::{Folder, in_one_line};
use serde_json::Value;

const WORDS: &str =
    "the pack `shop` was changed since it was added: `tube-weight.rhai` is not the file that was sealed";

/// A pack that was added to `theirs`, and a number in it changed by hand.
fn altered() -> Folder {
    let folder = with_shop();
    seal(&folder, "shop.zip", &[]);
    assert_eq!(theirs(&folder, &["pack", "add", "shop.zip"]).code, 0);
    let whole = theirs(&folder, &["run", "shop/tube-weight", "--format", "json"]);
    let whole: Value = serde_json::from_str(&whole.stdout).unwrap();
    assert_eq!(whole["script"]["pack_state"], Value::Null);
    assert_eq!(whole["altered_packs"], serde_json::json!({}));
    let script = read(&folder.0.join("theirs/shop/tube-weight.rhai"));
    folder.put("theirs/shop/tube-weight.rhai", &script.replace("7850", "6000"));
    folder
}

#[test]
fn a_run_says_whose_scripts_were_altered() {
    let folder = altered();
    folder.put(
        "weights.toml",
        "format = 1\n[[run]]\nscript = \"shop/tube-weight\"\nname = \"the tube\"\n",
    );
    for target in ["shop/tube-weight", "theirs/shop/tube-weight.rhai", "weights.toml"] {
        let run = |more: &[&str]| {
            let ran = theirs(&folder, &[&["run", target], more].concat());
            assert!(ran.code < 2, "{target}: {}", ran.stderr);
            assert_eq!(ran.stderr, "", "{target}");
            ran.stdout
        };
        for text in [run(&[]), run(&["--all"]), run(&["--working"])] {
            assert!(
                in_one_line(&text).contains(&format!("ALTERED {WORDS}")),
                "{target}: {text}"
            );
        }
        let markdown = run(&["--format", "markdown"]);
        let escaped = WORDS.replace('`', "\\`");
        assert_eq!(markdown.matches(&escaped).count(), 2, "{target}: {markdown}");
        let page = run(&["--format", "html"]);
        assert_eq!(page.matches(WORDS).count(), 2, "{target}");
        let record: Value = serde_json::from_str(&run(&["--format", "json"])).unwrap();
        let script = if record["runs"].is_array() {
            &record["runs"][0]
        } else {
            &record
        };
        assert_eq!(script["script"]["pack_state"], WORDS, "{target}");
        assert!(record["altered_packs"]["shop"].is_string(), "{target}");
    }
    // By another pack that takes from it.
    put_pack(
        &folder,
        "theirs/base",
        "base",
        "\"lends\"",
        (
            "double",
            "import \"lends/twice\" as l;\nstep b = l::twice(3.mm) : \"Twice\";\n",
        ),
    );
    let lends = "format = 1\nname = \"lends\"\nversion = \"1\"\nlicence = \"MIT\"\n";
    std::fs::create_dir_all(folder.0.join("mine/lends")).unwrap();
    folder.put("mine/lends/pack.toml", lends);
    folder.put("mine/lends/twice.rhai", "/// Twice.\nfn twice(x) { x + x }\n");
    assert_eq!(
        super::with_mine(&folder, &["pack", "seal", "lends", "lends.zip"]).stderr,
        ""
    );
    assert_eq!(theirs(&folder, &["pack", "add", "lends.zip"]).stderr, "");
    assert!(!theirs(&folder, &["run", "base/double"]).stdout.contains("ALTERED"));
    folder.put("theirs/lends/twice.rhai", "/// Twice.\nfn twice(x) { 3.0 * x }\n");
    let ran = theirs(&folder, &["run", "base/double"]);
    assert!(
        in_one_line(&ran.stdout).contains("ALTERED the pack `lends` was changed"),
        "{}",
        ran.stdout
    );
}

/// What else takes its scripts says it beside.
#[test]
fn every_other_command_says_it_too() {
    let folder = altered();
    folder.put(
        "weights.toml",
        "format = 1\n[[run]]\nscript = \"shop/tube-weight\"\nname = \"the tube\"\n",
    );
    for arguments in [
        &["prove", "shop"][..],
        &["describe", "shop/tube-weight"],
        &["sheet", "shop/tube-weight"],
        &["lesson", "shop/tube-weight", "--format", "text"],
        &["spread", "shop/tube-weight", "--samples", "64"],
        &["job", "missing", "weights.toml"],
        &["inspect", "shop"],
        &["compare", "shop/tube-weight", "weights.toml"],
        &["pack", "compare", "shop", "shop.zip"],
    ] {
        let ran = theirs(&folder, arguments);
        assert_eq!(
            ran.stderr.matches(&format!("caution: {WORDS}\n")).count(),
            1,
            "{arguments:?}: {}{}",
            ran.stdout,
            ran.stderr
        );
    }
    // What has nothing to do with it says nothing of it.
    assert_eq!(theirs(&folder, &["prove", "clutch/torque-capacity"]).stderr, "");
}

#[test]
fn it_is_not_sealed_as_what_it_was() {
    let folder = altered();
    let mut text = said(&folder, &theirs(&folder, &["pack", "seal", "shop", "again.zip"]));
    let manifest = read(&folder.0.join("theirs/shop/pack.toml"));
    folder.put("theirs/shop/pack.toml", &manifest.replace("0.1.0", "0.0.9"));
    text.push_str(&said(&folder, &theirs(&folder, &["pack", "seal", "shop", "again.zip"])));
    insta::assert_snapshot!(text);
    // The examples must come out again, of course.
    let script = read(&folder.0.join("theirs/shop/tube-weight.rhai"));
    folder.put("theirs/shop/tube-weight.rhai", &script.replace("6000", "7850.0"));
    for (from, to) in [("0.1.0", "0.1.1"), ("name = \"shop\"", "name = \"workshop\"")] {
        folder.put("theirs/shop/pack.toml", &manifest.replace(from, to));
        let name = if from == "0.1.0" { "shop" } else { "workshop" };
        let ran = theirs(&folder, &["pack", "seal", name]);
        assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{to}: {}", ran.stdout);
    }
}
