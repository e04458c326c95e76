//! What `pack compare` finds beyond results: limits, what judges, what is taken for known, what is gone, what is imported.

use super::with_mine;
use crate::cli::check::{Folder, Ran};
use serde_json::Value;

const SCRIPT: &str = "//! A wall.\n\
    input force = 400.N plus_minus 20.N : \"Force\" how \"scale\";\n\
    input area = 10.mm2 : \"Area\" how \"calliper\";\n\
    assume most = 100.MPa : \"Most stress\" per \"common practice\";\n\
    step stress = force / area as MPa : \"Stress\";\n\
    check stress <= most : \"Holds the load\" per \"common practice\";\n\
    check area >= 5.mm2 : \"Not too thin\" per \"common practice\";\n\
    caution \"Support it while you weld.\";\n";
const CASES: &str = "format = 1\n[[case]]\ntitle = \"as drawn\"\nsource = \"by hand\"\n\
    set = { force = \"400 N +/- 20 N\" }\n[case.expect]\nstress = { value = \"40 MPa\", within = \"0.1 MPa\" }\n";

fn put(folder: &Folder, pack: (&str, &str), script: (&str, &str), cases: Option<&str>) {
    let place = format!("mine/{}", pack.0);
    std::fs::create_dir_all(folder.0.join(&place)).unwrap();
    let manifest = format!(
        "format = 1\nname = \"{}\"\nversion = \"1.0\"\nlicence = \"MIT\"\n{}",
        pack.0, pack.1
    );
    folder.put(&format!("{place}/pack.toml"), &manifest);
    folder.put(&format!("{place}/{}.rhai", script.0), script.1);
    if let Some(cases) = cases {
        folder.put(&format!("{place}/{}.cases.toml", script.0), cases);
    }
}

fn sealed(folder: &Folder, pack: &str, file: &str) {
    let ran = with_mine(folder, &["pack", "seal", pack, file]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
}

fn in_one_line(ran: &Ran) -> String {
    assert_eq!(ran.stderr, "");
    ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A limit that was loosened moves no result; whoever relies on the check has to hear of it.
#[test]
fn what_judges_is_compared_too() {
    let folder = Folder::new();
    put(&folder, ("walls", ""), ("wall", SCRIPT), Some(CASES));
    sealed(&folder, "walls", "old.zip");
    let most = ("most = 100.MPa", "most = 1000.MPa");
    let advice = ("check stress", "prefer stress");
    let no_check = ("check area >= 5.mm2 : \"Not too thin\" per \"common practice\";\n", "");
    let said = "Support it while you weld.";
    for (what, (old, new), code, told) in [
        ("an assumption", most, 0, "most: 1000 MPa, before 100 MPa (+900.00 %)"),
        (
            "a limit",
            ("5.mm2", "1.mm2"),
            0,
            "check: Not too thin, its right side: 1 mm², before 5 mm²",
        ),
        (
            "a comparison",
            ("area >= 5", "area > 5"),
            0,
            "check: Not too thin, its comparison: >, before >=",
        ),
        (
            "advice",
            advice,
            1,
            "check: Holds the load, its kind: advice (prefer), before a check; worse",
        ),
        ("no check", no_check, 1, "check: Not too thin: gone, before holds"),
        (
            "another side",
            ("stress <= most", "stress <= 2.0 * most"),
            0,
            "its right side: 200 MPa, before `most`",
        ),
        (
            "a caution",
            (said, "Nothing."),
            0,
            "caution \"Support it while you weld.\": gone, before said",
        ),
        (
            "an example",
            ("area = 10.mm2", "area = 10.01.mm2"),
            0,
            "area: 10.01 mm², before 10 mm²",
        ),
    ] {
        let script = SCRIPT.replace(old, new);
        assert_ne!(script, SCRIPT, "{what}");
        folder.put("mine/walls/wall.rhai", &script);
        let ran = with_mine(&folder, &["pack", "compare", "walls", "old.zip"]);
        let text = in_one_line(&ran);
        assert_eq!(ran.code, code, "{what}: {text}");
        assert!(text.contains(told), "{what}: {text}");
        assert!(text.contains("0 of 1 worked examples give the same"), "{what}: {text}");
    }
    // The case sets the force with a ± of its own; without, the script's counts.
    let cases = CASES.replace(" +/- 20 N", "");
    folder.put("mine/walls/wall.cases.toml", &cases);
    folder.put(
        "mine/walls/wall.rhai",
        &SCRIPT.replace("plus_minus 20.N", "plus_minus 1.N"),
    );
    let text = in_one_line(&with_mine(&folder, &["pack", "compare", "walls", "old.zip"]));
    assert!(text.contains("± of force: 1 N, before 20 N"), "{text}");
}

/// A number in a check's label may move without the check being another one.
#[test]
fn a_label_with_a_number_in_it_is_the_same_label() {
    let folder = Folder::new();
    let script = SCRIPT.replace("\"Holds the load\"", "`Holds ${force}`");
    put(
        &folder,
        ("walls", ""),
        ("wall", &script),
        Some(&CASES.replace("set = { force = \"400 N +/- 20 N\" }\n", "")),
    );
    sealed(&folder, "walls", "old.zip");
    folder.put("mine/walls/wall.rhai", &script.replace("400.N", "400.5.N"));
    let ran = with_mine(&folder, &["pack", "compare", "walls", "old.zip"]);
    let text = in_one_line(&ran);
    assert_eq!(ran.code, 0, "{text}");
    assert!(!text.contains("gone"), "{text}");
}

/// Which side is which: place and digest stand with both.
#[test]
fn both_sides_are_named() {
    let folder = Folder::new();
    put(&folder, ("walls", ""), ("wall", SCRIPT), Some(CASES));
    put(
        &folder,
        ("walls", ""),
        ("spare", "//! Spare.\nfn twice(x) { x + x }\n"),
        None,
    );
    sealed(&folder, "walls", "old.zip");
    std::fs::remove_file(folder.0.join("mine/walls/spare.rhai")).unwrap();
    put(
        &folder,
        ("walls", ""),
        ("more", "//! More.\nfn thrice(x) { x + x + x }\n"),
        None,
    );
    folder.put("mine/walls/wall.rhai", &SCRIPT.replace("A wall", "The wall"));
    let ran = with_mine(&folder, &["pack", "compare", "walls", "old.zip", "--format", "json"]);
    assert_eq!(ran.code, 1, "a script is gone");
    let found: Value = serde_json::from_str(&ran.stdout).unwrap();
    let script = |name: &str| {
        let scripts = found["scripts"].as_array().unwrap();
        scripts.iter().find(|script| script["script"] == name).unwrap().clone()
    };
    let wall = script("walls/wall");
    assert_eq!(wall["before"]["place"], "old.zip");
    assert!(wall["now"]["place"].as_str().unwrap().ends_with("walls"), "{wall}");
    assert_eq!(
        (&wall["before"]["version"], &wall["now"]["version"]),
        (&"1.0".into(), &"1.0".into())
    );
    assert_ne!(wall["before"]["sha256"], wall["now"]["sha256"]);
    assert_eq!(
        (&script("walls/spare")["now"], &script("walls/more")["before"]),
        (&Value::Null, &Value::Null)
    );
    let text = in_one_line(&with_mine(&folder, &["pack", "compare", "walls", "old.zip"]));
    let digest = &wall["before"]["sha256"].as_str().unwrap()[..12];
    assert!(
        text.contains(&format!(
            "BEFORE walls/wall 1.0, SHA-256 {digest}… old.zip NOW walls/wall 1.0,"
        )),
        "{text}"
    );
    assert!(text.contains("NOW gone") && text.contains("BEFORE not there"), "{text}");
}

/// Lines that no worked example comes to are changed unseen, and a parent that is not here cannot be compared with.
#[test]
fn what_cannot_be_compared_is_said() {
    let folder = Folder::new();
    put(
        &folder,
        ("lib", ""),
        ("f", "//! Twice.\nfn twice(x) { 2.0 * x }\n"),
        None,
    );
    put(&folder, ("walls", "uses = [\"lib\"]\n"), ("wall", SCRIPT), Some(CASES));
    sealed(&folder, "lib", "old.zip");
    folder.put("mine/lib/f.rhai", "//! Twice.\nfn twice(x) { 2.05 * x }\n");
    let ran = with_mine(&folder, &["pack", "compare", "lib", "old.zip"]);
    let text = in_one_line(&ran);
    assert!(
        text.contains("RESULTS no worked example shows what these lines change"),
        "{text}"
    );

    assert_eq!(with_mine(&folder, &["adapt", "walls/wall", "mine/thin"]).code, 0);
    let same = in_one_line(&with_mine(&folder, &["pack", "compare", "mine"]));
    assert!(
        same.contains("copied from walls/wall, which is the same still"),
        "{same}"
    );
    let manifest = std::fs::read_to_string(folder.0.join("mine/mine/pack.toml")).unwrap();
    let digest = manifest.split("sha256 = \"").nth(1).unwrap().split('"').next().unwrap();
    folder.put("mine/mine/pack.toml", &manifest.replace(digest, &"0".repeat(64)));
    let forged = in_one_line(&with_mine(&folder, &["pack", "compare", "mine"]));
    assert!(
        forged.contains("copied from walls/wall 1.0, it says, but with another text (SHA-256 000000000000…)"),
        "{forged}"
    );
    std::fs::remove_dir_all(folder.0.join("mine/walls")).unwrap();
    let ran = with_mine(&folder, &["pack", "compare", "mine"]);
    assert_eq!(ran.code, 2);
    assert!(in_one_line(&ran).contains("copied from walls/wall, which is not here: nothing to compare it with"));
}
