//! New packs, and copies of scripts in them.

use super::{DOUBLE, put_pack, read, said, with_mine};
use crate::cli::check::Folder;

#[test]
fn a_new_pack_works_and_explains_itself() {
    let folder = Folder::new();
    let new = with_mine(&folder, &["pack", "new", "our-shop"]);
    insta::assert_snapshot!(said(&folder, &new));
    let proved = with_mine(&folder, &["prove", "our-shop"]);
    assert!(
        proved.stdout.contains("All 3 worked examples come out."),
        "{}",
        proved.stdout
    );
    let run = with_mine(&folder, &["run", "our-shop/tube-weight"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let words = read(&folder.0.join("mine/our-shop/README.md"));
    assert!(words.contains("crankline prove our-shop"), "{words}");
    assert!(!words.contains("NAME/"), "{words}");
    let listed = with_mine(&folder, &["pack", "list"]);
    assert!(listed.stdout.contains("our-shop"), "{}", listed.stdout);
    let mut text = String::new();
    for name in ["our-shop", "driveline", "Our Shop", "..", "con"] {
        text.push_str(&said(&folder, &with_mine(&folder, &["pack", "new", name])));
    }
    // Nobody has said where.
    text.push_str(&said(&folder, &folder.run(&["pack", "new", "lost"])));
    insta::assert_snapshot!("new_packs_that_cannot_be", text);
}

#[test]
fn a_copy_says_where_it_came_from() {
    let folder = Folder::new();
    let adapted = with_mine(&folder, &["adapt", "driveline/critical-speed", "my-shaft"]);
    insta::assert_snapshot!(said(&folder, &adapted));
    let shipped = crankline_scripts::script("driveline/critical-speed").unwrap().text;
    assert_eq!(read(&folder.0.join("mine/shop/my-shaft.rhai")), shipped);
    assert_eq!(with_mine(&folder, &["prove", "shop"]).code, 0);
    let lineage = |folder: &Folder| {
        let described = with_mine(folder, &["describe", "shop/my-shaft"]).stdout;
        let (_, lineage) = described
            .split_once("WHERE IT COMES FROM\n")
            .unwrap_or_else(|| panic!("{described}"));
        lineage.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(
        lineage(&folder).starts_with("adapted from driveline/critical-speed, version 0.1.0, which is the same still;"),
        "{}",
        lineage(&folder)
    );
    let json = with_mine(&folder, &["describe", "shop/my-shaft", "--format", "json"]).stdout;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let from = &json["adapted_from"];
    assert_eq!(
        (&from["script"], &from["pack_version"]),
        (&"driveline/critical-speed".into(), &"0.1.0".into())
    );
    assert_eq!(from["sha256"], json["script"]["sha256"], "it is the same still");
    // A second one goes into the same pack; of a parent that is another by now it is said.
    assert_eq!(
        with_mine(&folder, &["adapt", "lessons/degrees-as-radians", "slip"]).stderr,
        ""
    );
    let manifest = folder.0.join("mine/shop/pack.toml");
    let text = read(&manifest);
    assert_eq!(text.matches("[[adapted]]").count(), 2, "{text}");
    let digest = text.split("sha256 = \"").nth(1).unwrap().split('"').next().unwrap();
    folder.put("mine/shop/pack.toml", &text.replace(digest, "00"));
    assert!(
        lineage(&folder).contains("but the digest noted does not match version 0.1.0 as it is here"),
        "{}",
        lineage(&folder)
    );
}

/// A script that takes functions from a pack takes them in the copy's pack as well.
#[test]
fn a_copy_uses_what_its_parent_used() {
    let folder = Folder::new();
    let imports = |name: &String| {
        let text = crankline_scripts::script(name).unwrap().text;
        let pack = name.split('/').next().unwrap();
        text.contains(&format!("import \"{pack}/"))
    };
    let names = crankline_scripts::script_names();
    let parent = names
        .iter()
        .find(|name| imports(name))
        .expect("one imports from its own pack");
    assert_eq!(with_mine(&folder, &["adapt", parent, "copy"]).stderr, "");
    let ran = with_mine(&folder, &["prove", "shop"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
}

#[test]
fn copies_that_cannot_be() {
    let folder = Folder::new();
    put_pack(&folder, "mine/a", "a", "", ("double", DOUBLE));
    put_pack(&folder, "packs/beside", "beside", "", ("double", DOUBLE));
    let mut text = String::new();
    for arguments in [
        ["adapt", "driveline/critical-sped", "mine"],
        ["adapt", "shaft.rhai", "mine"],
        ["adapt", "driveline/critical-speed", "double"],
        ["adapt", "driveline/critical-speed", "driveline/mine"],
        ["adapt", "driveline/critical-speed", "beside/mine"],
        ["adapt", "driveline/critical-speed", "../mine"],
        ["adapt", "driveline/critical-speed", "a/b/c"],
    ] {
        text.push_str(&said(&folder, &with_mine(&folder, &arguments)));
    }
    put_pack(&folder, "mine/b", "b", "", ("double", DOUBLE));
    text.push_str(&said(
        &folder,
        &with_mine(&folder, &["adapt", "driveline/critical-speed", "mine"]),
    ));
    insta::assert_snapshot!(text);
    assert_eq!(read(&folder.0.join("mine/a/double.rhai")), DOUBLE);
}

/// A slip of the hand makes no pack.
#[test]
fn a_name_that_is_nearly_that_of_a_pack() {
    let folder = Folder::new();
    put_pack(&folder, "mine/odd-jobs", "odd-jobs", "", ("double", DOUBLE));
    let adapt = ["adapt", "driveline/critical-speed", "odd-job/shaft"];
    let mut text = said(&folder, &with_mine(&folder, &adapt));
    assert!(!folder.0.join("mine/odd-job").exists());
    assert_eq!(with_mine(&folder, &["pack", "new", "odd-job"]).code, 0);
    text.push_str(&said(&folder, &with_mine(&folder, &adapt)));
    text.push_str(&said(
        &folder,
        &with_mine(&folder, &["adapt", "driveline/critical-speed", "wheels/shaft"]),
    ));
    insta::assert_snapshot!(text);
}

/// A copy of a copy knows the first, and whose that is.
#[test]
fn generations() {
    let folder = Folder::new();
    for arguments in [
        ["adapt", "driveline/critical-speed", "one/shaft"],
        ["adapt", "one/shaft", "another/tail-shaft"],
    ] {
        assert_eq!(with_mine(&folder, &arguments).stderr, "");
    }
    let file = "mine/another/pack.toml";
    let manifest = read(&folder.0.join(file));
    assert!(manifest.contains("from = \"one/shaft\""), "{manifest}");
    assert!(
        manifest.contains("before = [\n    { from = \"driveline/critical-speed\", version = \"0.1.0\""),
        "{manifest}"
    );
    folder.put(file, &format!("licence = \"MIT\"\n{manifest}"));
    let sealed = with_mine(&folder, &["pack", "seal", "another"]);
    insta::assert_snapshot!(said(&folder, &sealed));
}

/// A program that was killed while it added a copy left the cases and the note, and no script: it is done again.
#[test]
fn half_a_copy_is_made_whole() {
    let folder = Folder::new();
    assert_eq!(
        with_mine(&folder, &["adapt", "driveline/critical-speed", "shaft"]).code,
        0
    );
    let script = folder.0.join("mine/shop/shaft.rhai");
    let whole = read(&script);
    std::fs::remove_file(&script).unwrap();
    assert!(!with_mine(&folder, &["list"]).stdout.contains("shop/shaft"));
    assert_eq!(
        with_mine(&folder, &["adapt", "driveline/critical-speed", "shaft"]).stderr,
        ""
    );
    assert_eq!(read(&script), whole);
    let manifest = read(&folder.0.join("mine/shop/pack.toml"));
    assert_eq!(manifest.matches("[[adapted]]").count(), 1, "{manifest}");
}
