//! Packs given to others and got from them.

use super::{DOUBLE, put_pack, read, said, with_mine};
use crate::cli::check::{Folder, in_one_line};
use serde_json::Value;

/// A folder with a pack `shop` in `mine` that may be sealed.
pub(super) fn with_shop() -> Folder {
    let folder = Folder::new();
    assert_eq!(with_mine(&folder, &["pack", "new", "shop"]).code, 0);
    let manifest = folder.0.join("mine/shop/pack.toml");
    let text = read(&manifest).replace("# licence = \"…\"", "licence = \"MIT\"");
    folder.put("mine/shop/pack.toml", &text);
    folder
}

pub(super) fn theirs(folder: &Folder, arguments: &[&str]) -> super::Ran {
    folder.run(&[arguments, &["--packs", "theirs"]].concat())
}

pub(super) fn seal(folder: &Folder, file: &str, more: &[&str]) {
    let ran = with_mine(folder, &[&["pack", "seal", "shop", file], more].concat());
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
}

pub(super) fn version(folder: &Folder, from: &str, to: &str) {
    let text = read(&folder.0.join("mine/shop/pack.toml"));
    folder.put(
        "mine/shop/pack.toml",
        &text.replace(&format!("\"{from}\""), &format!("\"{to}\"")),
    );
}

#[test]
fn from_one_shop_to_another() {
    let folder = with_shop();
    folder.put("mine/shop/notes.txt", "not for others");
    let mut text = said(&folder, &with_mine(&folder, &["pack", "seal", "shop"]));
    let look = folder.run(&["pack", "look", "shop-0.1.0.zip"]);
    // Sizes of texts that may grow.
    assert!(look.stdout.contains("FILE      tube-weight.rhai, "), "{}", look.stdout);
    text.push_str(
        &said(&folder, &look)
            .lines()
            .filter(|line| !line.contains("FILE"))
            .collect::<Vec<_>>()
            .join("\n"),
    );
    let look = folder.run(&["pack", "look", "shop-0.1.0.zip", "--format", "markdown"]);
    assert!(look.stdout.starts_with("# shop 0.1.0: "), "{}", look.stdout);
    for line in [
        "- **LICENCE** MIT\n",
        "- **SIGNED** by nobody",
        "- **FILE** tube-weight.rhai, ",
        "3 worked examples\n  What ",
    ] {
        assert!(look.stdout.contains(line), "{line}: {}", look.stdout);
    }
    text.push_str(&said(&folder, &theirs(&folder, &["pack", "add", "shop-0.1.0.zip"])));
    text.push_str(&said(&folder, &theirs(&folder, &["pack", "add", "shop-0.1.0.zip"])));
    assert_eq!(theirs(&folder, &["run", "shop/tube-weight"]).code, 0);
    let list = theirs(&folder, &["pack", "list"]);
    assert!(
        in_one_line(&list.stdout).contains("as sealed, not signed"),
        "{}",
        list.stdout
    );
    text.push_str(&said(&folder, &theirs(&folder, &["pack", "remove", "shop"])));
    text.push_str(&said(&folder, &theirs(&folder, &["pack", "remove", "shop"])));
    insta::assert_snapshot!(text);
    assert_eq!(theirs(&folder, &["run", "shop/tube-weight"]).code, 2);
    let left: Vec<_> = std::fs::read_dir(folder.0.join("theirs"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    assert_eq!(left, [".lock"]);
    // The same files make the same archive, byte by byte.
    seal(&folder, "again.zip", &[]);
    let bytes = |file: &str| std::fs::read(folder.0.join(file)).unwrap();
    assert!(bytes("again.zip") == bytes("shop-0.1.0.zip"));
    let found: Value =
        serde_json::from_str(&folder.run(&["pack", "look", "again.zip", "--format", "json"]).stdout).unwrap();
    assert_eq!(found["licence"], "MIT");
    assert_eq!(found["files"].as_array().unwrap().len(), 4);
    assert_eq!(found["scripts"][0]["cases"], 3);
}

#[test]
fn packs_that_are_not_sealed() {
    let folder = with_shop();
    let mut text = String::new();
    let manifest = read(&folder.0.join("mine/shop/pack.toml"));
    folder.put("mine/shop/pack.toml", &manifest.replace("licence = ", "# licence = "));
    text.push_str(&said(&folder, &with_mine(&folder, &["pack", "seal", "shop"])));
    folder.put("mine/shop/pack.toml", &manifest.replace("0.1.0", "../0.1"));
    text.push_str(&said(&folder, &with_mine(&folder, &["pack", "seal", "shop"])));
    folder.put("mine/shop/pack.toml", &manifest);
    // A wrong case, a check without a label, an assumption without a source, a script without a case, one that fails.
    let cases = read(&folder.0.join("mine/shop/tube-weight.cases.toml"));
    folder.put(
        "mine/shop/tube-weight.cases.toml",
        &cases.replace("2.3675 kg", "2.4 kg"),
    );
    let script = read(&folder.0.join("mine/shop/tube-weight.rhai"));
    let script = script.replace(" per \"common practice: mild steel\"", "");
    let script = script.replace(
        "check weight <= lift : \"One person may lift it\" per \"common practice\";",
        "check weight <= lift;",
    );
    folder.put("mine/shop/tube-weight.rhai", &script);
    folder.put("mine/shop/double.rhai", DOUBLE);
    folder.put("mine/shop/lends.rhai", "/// Twice.\nfn twice(x) { x + x }\n");
    folder.put("mine/shop/broken.rhai", "step a = ;\n");
    // Examples that come out whatever a script calculates: so wide, about nothing, or of what was put in.
    folder.put("mine/shop/loose.rhai", DOUBLE);
    let loose = "format = 1\n[[case]]\ntitle = \"Any\"\nsource = \"from memory\"\n[case.expect]\n\
                 a = { value = \"3 mm\", within = \"0 mm\" }\nb = { value = \"6 mm\", within = \"1e300 mm\" }\n";
    folder.put("mine/shop/loose.cases.toml", loose);
    text.push_str(&said(&folder, &with_mine(&folder, &["pack", "seal", "shop"])));
    text.push_str(&said(&folder, &with_mine(&folder, &["pack", "seal", "shopp"])));
    insta::assert_snapshot!(text);
    assert!(!folder.0.join("shop-0.1.0.zip").exists());
}

#[test]
fn every_shipped_pack_may_be_sealed() {
    let folder = Folder::new();
    for pack in crankline_scripts::pack_names() {
        let ran = folder.run(&["pack", "seal", &pack]);
        assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
    }
}

#[test]
fn who_sealed_it() {
    let folder = with_shop();
    for key in ["ours.key", "other.key"] {
        assert_eq!(folder.run(&["pack", "key", key]).code, 0);
    }
    assert_eq!(
        folder.run(&["pack", "key", "ours.key"]).code,
        2,
        "a key is not written over"
    );
    seal(&folder, "signed.zip", &["--key", "ours.key"]);
    seal(&folder, "unsigned.zip", &[]);
    seal(&folder, "other.zip", &["--key", "other.key"]);
    assert_eq!(
        folder.run(&["pack", "look", "signed.zip", "--by", "ours.key.pub"]).code,
        0
    );
    for refused in ["unsigned.zip", "other.zip"] {
        let ran = theirs(&folder, &["pack", "add", refused, "--by", "ours.key.pub"]);
        assert_eq!(ran.code, 2, "{refused}");
        assert!(ran.stderr.contains("not with the key"), "{}", ran.stderr);
    }
    assert_eq!(
        theirs(&folder, &["pack", "add", "signed.zip", "--by", "ours.key.pub"]).stderr,
        ""
    );
    // What replaces it is by the same hand.
    for refused in ["unsigned.zip", "other.zip"] {
        let ran = theirs(&folder, &["pack", "add", refused, "--replace"]);
        assert_eq!(ran.code, 2, "{refused}");
        let other = match refused {
            "other.zip" => ", this one with the key ",
            _ => ", this one is not signed",
        };
        let words = ["that is here is signed with the key ", other];
        assert!(words.iter().all(|words| ran.stderr.contains(words)), "{}", ran.stderr);
    }
    assert_eq!(theirs(&folder, &["pack", "add", "signed.zip", "--replace"]).stderr, "");
    // A key of the wrong kind.
    let ran = with_mine(&folder, &["pack", "seal", "shop", "x.zip", "--key", "ours.key.pub"]);
    assert!(ran.stderr.contains("this is no key to seal with"), "{}", ran.stderr);
    let ran = folder.run(&["pack", "look", "signed.zip", "--by", "ours.key"]);
    assert!(
        ran.stderr.contains("this is no key to know a sealer by"),
        "{}",
        ran.stderr
    );
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(folder.0.join("ours.key"))
            .unwrap()
            .permissions()
            .mode();
        assert_eq!(mode & 0o777, 0o600);
    }
}

#[test]
fn a_newer_version_takes_the_place_of_an_older_one() {
    let folder = with_shop();
    seal(&folder, "old.zip", &[]);
    version(&folder, "0.1.0", "0.2.0");
    seal(&folder, "new.zip", &[]);
    assert_eq!(theirs(&folder, &["pack", "add", "old.zip"]).stderr, "");
    let refused = theirs(&folder, &["pack", "add", "new.zip"]);
    assert!(
        refused.stderr.contains("--replace puts version 0.2.0 in its place"),
        "{}",
        refused.stderr
    );
    assert_eq!(theirs(&folder, &["pack", "add", "new.zip", "--replace"]).stderr, "");
    assert!(theirs(&folder, &["pack", "list"]).stdout.contains("0.2.0"));
    // Changed by hand: neither replaced nor removed.
    let script = folder.0.join("theirs/shop/tube-weight.rhai");
    folder.put("theirs/shop/tube-weight.rhai", &(read(&script) + "// mine\n"));
    let list = theirs(&folder, &["pack", "list"]).stdout;
    assert!(in_one_line(&list).contains("changed since it was added"), "{list}");
    for arguments in [
        &["pack", "add", "old.zip", "--replace"][..],
        &["pack", "remove", "shop"],
    ] {
        let ran = theirs(&folder, arguments);
        assert_eq!(ran.code, 2);
        assert!(
            ran.stderr
                .contains("`tube-weight.rhai` is not the file that was sealed"),
            "{}",
            ran.stderr
        );
    }
    assert!(read(&script).ends_with("// mine\n"));
    // What somebody wrote is not replaced or removed either, nor what is shipped.
    for (arguments, words) in [
        (&["pack", "add", "old.zip", "--replace"][..], "is your own"),
        (&["pack", "remove", "shop"], "is your own"),
        (&["pack", "remove", "driveline"], "is the one that Crankline ships"),
    ] {
        let ran = with_mine(&folder, arguments);
        assert_eq!(ran.code, 2);
        assert!(ran.stderr.contains(words), "{}", ran.stderr);
    }
}

#[test]
fn packs_that_are_not_added() {
    let folder = with_shop();
    put_pack(
        &folder,
        "mine/base",
        "base",
        "",
        ("lends", "/// Twice.\nfn twice(x) { x + x }\n"),
    );
    let manifest = read(&folder.0.join("mine/shop/pack.toml"));
    folder.put(
        "mine/shop/pack.toml",
        &manifest.replace("uses = []", "uses = [\"base\"]"),
    );
    seal(&folder, "shop.zip", &[]);
    let ran = theirs(&folder, &["pack", "add", "shop.zip"]);
    assert!(ran.stderr.contains("uses `base`, which is not here"), "{}", ran.stderr);
    // A place that is a file, and none at all.
    folder.put("file", "");
    let ran = folder.run(&["pack", "add", "shop.zip", "--packs", "file", "--packs", "mine"]);
    assert_eq!(ran.code, 2, "{}", ran.stdout);
    assert!(!folder.0.join("theirs").exists());
    let ran = theirs(&folder, &["pack", "add", "car.toml"]);
    assert!(
        ran.stderr.contains("it does not begin as a zip archive does"),
        "{}",
        ran.stderr
    );
}

#[test]
fn what_changed() {
    let folder = with_shop();
    seal(&folder, "old.zip", &[]);
    version(&folder, "0.1.0", "0.2.0");
    let script = read(&folder.0.join("mine/shop/tube-weight.rhai"));
    let script = script.replace("assume density = 7850.kg_per_m3", "assume density = 8000.kg_per_m3");
    folder.put("mine/shop/tube-weight.rhai", &script);
    folder.put("mine/shop/double.rhai", DOUBLE);
    insta::assert_snapshot!(said(
        &folder,
        &with_mine(&folder, &["pack", "compare", "shop", "old.zip"])
    ));
    let json = with_mine(&folder, &["pack", "compare", "shop", "old.zip", "--format", "json"]).stdout;
    let found: Value = serde_json::from_str(&json).unwrap();
    let compared = found["scripts"]
        .as_array()
        .unwrap()
        .iter()
        .find(|script| script["script"] == "shop/tube-weight")
        .unwrap();
    assert_eq!(compared["lines"].as_array().unwrap().len(), 2);
    // Weight goes with density: 8000/7850 - 1.
    assert_eq!(compared["cases"][0]["moved"][0]["what"], "density");
    let moved = &compared["cases"][0]["moved"][1];
    assert_eq!(moved["what"], "weight");
    assert!(
        (moved["part"].as_f64().unwrap() - (8000.0 / 7850.0 - 1.0)).abs() < 1e-12,
        "{moved}"
    );
    // That is further than the first example lets it go.
    assert_eq!(found["got_worse"], true);
    assert_eq!(
        compared["cases"][0]["broken"].as_array().unwrap().len(),
        1,
        "{compared}"
    );
    // The second case sets the density itself.
    assert_eq!(compared["cases"][1]["moved"].as_array().unwrap().len(), 0);

    // Against the parent.
    assert_eq!(
        with_mine(&folder, &["pack", "compare", "shop"]).code,
        2,
        "nothing is copied yet"
    );
    assert_eq!(
        with_mine(&folder, &["adapt", "clutch/torque-capacity", "shop/clutch"]).code,
        0
    );
    let same = with_mine(&folder, &["pack", "compare", "shop"]).stdout;
    assert!(
        same.contains("worked examples give the same, to the last bit"),
        "{same}"
    );
    assert!(
        same.contains("which is the same still") && !same.contains("LINES"),
        "{same}"
    );
}

/// Whoever relies on a pack asks by the exit code whether to look: a verdict that got worse and an example that no longer
/// comes out say so, other words and numbers within what the examples allow do not.
#[test]
fn what_changed_by_its_exit_code() {
    const SCRIPT: &str = "//! A wall.\ninput wall = 3.mm : \"Wall\" how \"micrometer\";\n\
                          step twice = 2.0 * wall as mm : \"Twice\";\n\
                          check twice <= 7.mm : \"Fits\" per \"common practice\";\n\
                          prefer twice <= 7.mm : \"Fits well\" per \"common practice\";\n";
    const CASES: &str = "format = 1\n[[case]]\ntitle = \"three\"\nsource = \"by hand\"\n[case.expect]\n\
                         twice = { value = \"6 mm\", within = \"0.1 mm\" }\n";
    let folder = Folder::new();
    std::fs::create_dir_all(folder.0.join("mine/walls")).unwrap();
    let put = |script: &str, cases: &str| {
        folder.put(
            "mine/walls/pack.toml",
            "format = 1\nname = \"walls\"\nversion = \"1.0\"\nlicence = \"MIT\"\n",
        );
        folder.put("mine/walls/wall.rhai", script);
        folder.put("mine/walls/wall.cases.toml", cases);
    };
    put(SCRIPT, CASES);
    let sealed = with_mine(&folder, &["pack", "seal", "walls", "old.zip"]);
    assert_eq!((sealed.code, sealed.stderr.as_str()), (0, ""), "{}", sealed.stdout);
    let limit = "check twice <= 7.mm";
    for (what, script, cases, code, said) in [
        ("nothing", SCRIPT.to_owned(), CASES.to_owned(), 0, "SAME"),
        (
            "words",
            SCRIPT.replace("A wall", "Another wall"),
            CASES.to_owned(),
            0,
            "Another wall",
        ),
        (
            "a number within",
            SCRIPT.replace("2.0 *", "2.01 *"),
            CASES.to_owned(),
            0,
            "twice: 6.03 mm, before 6 mm",
        ),
        (
            "a number beyond",
            SCRIPT.replace("2.0 *", "2.1 *"),
            CASES.to_owned(),
            1,
            "does not come out",
        ),
        (
            "a verdict",
            SCRIPT.replace(limit, "check twice <= 5.mm"),
            CASES.to_owned(),
            1,
            "worse",
        ),
        (
            "a better verdict",
            SCRIPT.replace(limit, "check twice <= 9.mm"),
            CASES.to_owned(),
            0,
            "LINES",
        ),
        (
            "advice",
            SCRIPT.replace("prefer twice <= 7.mm", "prefer twice <= 5.mm"),
            CASES.to_owned(),
            0,
            "Fits well",
        ),
        (
            "an error",
            SCRIPT.replace("2.0 * wall", "2.0 * wall / 0.0"),
            CASES.to_owned(),
            1,
            "now: ",
        ),
        // Whoever changes the example with the script still hears of it.
        (
            "both",
            SCRIPT.replace("2.0 *", "2.1 *"),
            CASES.replace("\"6 mm\"", "\"6.3 mm\""),
            1,
            "does not come out",
        ),
    ] {
        put(&script, &cases);
        let ran = with_mine(&folder, &["pack", "compare", "walls", "old.zip"]);
        assert_eq!((ran.code, ran.stderr.as_str()), (code, ""), "{what}: {}", ran.stdout);
        assert!(ran.stdout.contains(said), "{what}: {}", ran.stdout);
        assert_eq!(ran.stdout.contains("\n  WORSE"), code == 1, "{what}: {}", ran.stdout);
        let markdown = with_mine(
            &folder,
            &["pack", "compare", "walls", "old.zip", "--format", "markdown"],
        );
        assert_eq!(markdown.code, code);
        assert_eq!(
            markdown.stdout.contains("**Worse:**"),
            code == 1,
            "{what}: {}",
            markdown.stdout
        );
        assert!(markdown.stdout.contains("\n## walls/wall\n"), "{}", markdown.stdout);
    }
}
