//! What is told of a pack before and after it is added: its statements, its digests, its text, what comes out of it.

use super::{DOUBLE, put_pack, said, with_mine};
use crate::cli::check::{Folder, in_one_line};
use crankline_engine::pack::sha256;
use serde_json::Value;

/// All that a reviewer wants to see, each said in another way.
const BOLT: &str = "//! Does the bolt hold?\n//!\n//! More words.\n\
                    input pull = 5.kN from 0.kN to 50.kN : \"Pull\" how \"load cell\";\n\
                    assume most = 12.kN : \"Most that it takes\" per \"a table, 3rd edition\";\n\
                    assume share = 0.5 from 0 to 1 : \"Share of it\";\n\
                    step allowed = #{ a: share * most }.a as kN : \"Allowed\" per \"a table\";\n\
                    require most > 0.kN : \"There is a bolt\";\n\
                    check pull from 0.1.kN to allowed : \"It holds\" per \"common practice\";\n\
                    prefer 2.0 * pull <= allowed;\n";
const CASES: &str = "format = 1\n[[case]]\ntitle = \"half\"\nsource = \"by hand: 12 kN / 2\"\n[case.expect]\n\
                     allowed = { value = \"6 kN\", within = \"0.01 kN\" }\n";

/// A folder with a pack of these scripts in `mine`, sealed as `bolts.zip`.
fn sealed() -> Folder {
    let folder = with_pack();
    let ran = with_mine(&folder, &["pack", "seal", "bolts", "bolts.zip"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
    folder
}

fn with_pack() -> Folder {
    let folder = Folder::new();
    let bolt = BOLT.replace("\"Share of it\";", "\"Share of it\" per \"common practice\";");
    let bolt = bolt.replace("<= allowed;", "<= allowed : \"Twice\" per \"common practice\";");
    put_pack(&folder, "mine/bolts", "bolts", "", ("bolt", &bolt));
    let manifest = "format = 1\nname = \"bolts\"\nversion = \"0.3.0\"\ntitle = \"Bolts\"\nlicence = \"MIT\"\n";
    folder.put("mine/bolts/pack.toml", manifest);
    folder.put("mine/bolts/bolt.cases.toml", CASES);
    folder.put(
        "mine/bolts/lends.rhai",
        "//! Lends.\n/// Twice.\nfn twice(x) { x + x }\n",
    );
    folder
}

fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

#[test]
fn a_sealed_pack_is_read_before_it_is_added() {
    let folder = sealed();
    let look = folder.run(&["pack", "look", "bolts.zip"]);
    insta::assert_snapshot!(said(&folder, &look));
    // Digests are those of the files, twelve digits for people, all of them for programs.
    let digest = sha256(&std::fs::read(folder.0.join("mine/bolts/bolt.rhai")).unwrap());
    assert!(
        look.stdout.contains(&format!("SHA-256 {}\n", &digest[..12])),
        "{}",
        look.stdout
    );
    let markdown = folder
        .run(&["pack", "look", "bolts.zip", "--format", "markdown"])
        .stdout;
    assert!(markdown.contains(&digest), "{markdown}");
    assert!(markdown.contains("- **CHECK** It holds: pull from"), "{markdown}");
    let found = json(&folder.run(&["pack", "look", "bolts.zip", "--format", "json"]).stdout);
    let bolt = &found["scripts"][0];
    assert_eq!(bolt["sha256"], digest.as_str());
    let statements = bolt["statements"].as_array().unwrap();
    let keywords: Vec<&str> = statements.iter().map(|one| one["keyword"].as_str().unwrap()).collect();
    assert_eq!(
        keywords,
        ["input", "assume", "assume", "step", "require", "check", "prefer"]
    );
    assert_eq!(statements[0]["clauses"]["from"], "0.kN");
    assert_eq!(statements[0]["clauses"]["how"], "load cell");
    assert_eq!(statements[5]["value"], "pull from 0.1.kN to allowed");
    assert_eq!(statements[5]["line"], 9);
    assert!(!folder.0.join("theirs").exists());
}

#[test]
fn the_text_of_a_script_in_a_sealed_pack() {
    let folder = sealed();
    let whole = folder.run(&["pack", "look", "bolts.zip", "--script", "bolts/bolt"]);
    assert_eq!((whole.code, whole.stderr.as_str()), (0, ""));
    assert_eq!(
        folder.run(&["pack", "look", "bolts.zip", "--script", "bolt"]).stdout,
        whole.stdout
    );
    assert!(
        whole.stdout.contains("\n 1  //! Does the bolt hold?\n 2  //!\n"),
        "{}",
        whole.stdout
    );
    assert!(
        whole
            .stdout
            .ends_with("\n10  prefer 2.0 * pull <= allowed : \"Twice\" per \"common practice\";\n")
    );
    let found = json(
        &folder
            .run(&["pack", "look", "bolts.zip", "--script", "bolt", "--format", "json"])
            .stdout,
    );
    assert_eq!(
        found["text"],
        super::read(&folder.0.join("mine/bolts/bolt.rhai")).as_str()
    );
    let refused = folder.run(&["pack", "look", "bolts.zip", "--script", "bolts/blot"]);
    assert_eq!(refused.code, 2);
    assert_eq!(
        refused.stderr,
        "error: there is no script `bolts/blot` in `bolts.zip`\n  try: did you mean `bolt`?\n"
    );
}

/// What cannot be read is said, and the rest is told all the same; nothing is run.
#[test]
fn a_script_that_cannot_be_read_is_looked_at() {
    use crankline_engine::pack::{Manifest, PackFile, SEAL, Seal, pack_up};
    let folder = with_pack();
    folder.put("mine/bolts/broken.rhai", "step a = ;\ncheck a < 3.mm;\n");
    folder.put("mine/bolts/bolt.cases.toml", "format = 7\n");
    folder.put(
        "mine/bolts/endless.rhai",
        "//! Never ends.\nloop { }\ncheck 1.mm < 2.mm : \"Never\";\n",
    );
    let names = [
        "pack.toml",
        "bolt.rhai",
        "bolt.cases.toml",
        "broken.rhai",
        "endless.rhai",
    ];
    let file = |name: &&str| PackFile {
        name: (*name).to_owned(),
        bytes: std::fs::read(folder.0.join("mine/bolts").join(name)).unwrap(),
    };
    let mut files: Vec<PackFile> = names.iter().map(file).collect();
    let text = crankline_engine::diagnostic::SourceText {
        name: "pack.toml".to_owned(),
        text: super::read(&folder.0.join("mine/bolts/pack.toml")),
    };
    let seal = Seal::of(&Manifest::read(text).unwrap(), &files).unwrap();
    files.push(PackFile {
        name: SEAL.to_owned(),
        bytes: seal.text().into_bytes(),
    });
    std::fs::write(folder.0.join("odd.zip"), pack_up(&files).unwrap()).unwrap();
    let look = folder.run(&["pack", "look", "odd.zip"]);
    assert_eq!((look.code, look.stderr.as_str()), (0, ""));
    let told = in_one_line(&look.stdout);
    for words in [
        "SCRIPT bolts/bolt, worked examples that cannot be read: this is written in format 7",
        "SCRIPT bolts/broken, no worked example UNREAD cannot be read in line 1:",
        "SCRIPT bolts/endless, no worked example Never ends. CHECK Never: 1.mm < 2.mm; no source named",
    ] {
        assert!(told.contains(words), "{words}: {}", look.stdout);
    }
}

#[test]
fn a_sealed_pack_is_inspected_and_proved_without_adding_it() {
    let folder = sealed();
    let inspected = folder.run(&["inspect", "bolts.zip"]);
    assert_eq!(
        (inspected.code, inspected.stderr.as_str()),
        (0, ""),
        "{}",
        inspected.stdout
    );
    assert!(
        inspected
            .stdout
            .starts_with("pack bolts 0.3.0 in bolts.zip, not added, read without readings: nothing found"),
        "{}",
        inspected.stdout
    );
    let proved = folder.run(&["prove", "bolts.zip"]);
    assert_eq!((proved.code, proved.stderr.as_str()), (0, ""));
    assert!(
        proved.stdout.contains("bolts/bolt\n  same      half"),
        "{}",
        proved.stdout
    );
    // It is not here afterwards, and what runs says what to do.
    for command in ["run", "describe"] {
        let ran = folder.run(&[command, "bolts.zip"]);
        assert_eq!(ran.code, 2, "{command}");
        assert_eq!(
            ran.stderr,
            "error: `bolts.zip` is a sealed pack: what is in it runs once it is added\n  try: crankline pack look \
             bolts.zip, which tells what is in it and runs nothing\n  try: crankline pack add bolts.zip\n"
        );
    }
    assert_eq!(folder.run(&["run", "bolts/bolt"]).code, 2);
}

#[test]
fn a_pack_described() {
    let folder = sealed();
    let mut text = said(&folder, &with_mine(&folder, &["describe", "bolts"]));
    assert_eq!(
        with_mine(&folder, &["pack", "add", "bolts.zip", "--packs", "theirs"]).code,
        2
    );
    assert_eq!(
        folder.run(&["pack", "add", "bolts.zip", "--packs", "theirs"]).stderr,
        ""
    );
    let theirs = |arguments: &[&str]| folder.run(&[arguments, &["--packs", "theirs"]].concat());
    let state = |word: &str| {
        let told = in_one_line(&theirs(&["describe", "bolts"]).stdout);
        assert!(told.contains(word), "{word}: {told}");
        json(&theirs(&["describe", "bolts", "--format", "json"]).stdout)
    };
    let found = state("STATE as sealed, not signed");
    assert_eq!(
        (&found["state"], &found["licence"]),
        (&"as sealed".into(), &"MIT".into())
    );
    assert_eq!(found["scripts"][0]["cases"], 1);
    let script = in_one_line(&theirs(&["describe", "bolts/bolt"]).stdout);
    assert!(
        script.contains("PACK bolts 0.3.0, licence MIT, as sealed, not signed"),
        "{script}"
    );
    let listed = json(&theirs(&["pack", "list", "--format", "json"]).stdout);
    let listed = listed
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["pack"] == "bolts")
        .unwrap();
    let seal = sha256(&std::fs::read(folder.0.join("theirs/bolts/seal.toml")).unwrap());
    assert_eq!((&listed["scripts"], &listed["state"]), (&2.into(), &"as sealed".into()));
    assert_eq!(
        (&listed["signed_with"], &listed["seal_sha256"]),
        (&Value::Null, &seal.into())
    );
    folder.put("theirs/bolts/bolt.rhai", DOUBLE);
    let found = state("STATE changed since it was added: `bolt.rhai` is not the file that was sealed");
    assert_eq!(found["state"], "changed");
    let shipped = folder.run(&["describe", "clutch", "--format", "markdown"]).stdout;
    assert!(shipped.contains("- **STATE** shipped with Crankline\n"), "{shipped}");
    text.push_str(&said(&folder, &folder.run(&["describe", "bolt"])));
    insta::assert_snapshot!(text);
}

/// A copy of a copy says where the first one came from; one that leads back to itself ends.
#[test]
fn a_lineage_of_several_generations() {
    let folder = Folder::new();
    put_pack(&folder, "mine/a", "a", "", ("double", DOUBLE));
    for (pack, script) in [("b", "one"), ("c", "two"), ("a", "double")] {
        let (parent, digest) = match pack {
            "b" => ("a/double", sha256(DOUBLE.as_bytes())),
            "c" => ("b/one", "00".to_owned()),
            _ => ("c/two", sha256(DOUBLE.as_bytes())),
        };
        put_pack(&folder, &format!("mine/{pack}"), pack, "", (script, DOUBLE));
        let manifest = format!(
            "format = 1\nname = \"{pack}\"\nversion = \"0.3.0\"\n[[adapted]]\nscript = \"{script}\"\nfrom = \
             \"{parent}\"\nversion = \"0.1.0\"\nsha256 = \"{digest}\"\n"
        );
        folder.put(&format!("mine/{pack}/pack.toml"), &manifest);
    }
    let told = in_one_line(&with_mine(&folder, &["describe", "c/two"]).stdout);
    let first = told.find("adapted from b/one, version 0.1.0, which is another now, in version 0.3.0;");
    let second = told.find("that one was adapted from a/double, version 0.1.0, which is the same still;");
    assert!(first.is_some() && first < second, "{told}");
    let found = json(&with_mine(&folder, &["describe", "c/two", "--format", "json"]).stdout);
    assert_eq!(found["adapted_from"]["script"], "b/one");
    assert_eq!(found["lineage"].as_array().unwrap().len(), 3);
    let told = in_one_line(&with_mine(&folder, &["describe", "c"]).stdout);
    assert!(told.contains("ADAPTED c/two from b/one, version 0.1.0,"), "{told}");
    assert!(told.contains("that one from a/double, version 0.1.0,"), "{told}");
}

#[test]
fn where_packs_were_looked_for() {
    let folder = with_pack();
    std::fs::create_dir_all(folder.0.join("packs")).unwrap();
    let mut text = String::new();
    for arguments in [
        &["run", "bolts/bolt"][..],
        &["run", "blots/bolt", "--packs", "mine"],
        &["run", "bolts/blot", "--packs", "mine"],
        &["describe", "blots", "--packs", "mine"],
        &["inspect", "bolts", "--packs", "nowhere"],
        &["prove", "bolt", "--packs", "mine"],
        &["pack", "remove", "bolt", "--packs", "mine"],
        &["pack", "seal", "bolts", "no/such/bolts.zip", "--packs", "mine"],
    ] {
        let at_home = arguments.contains(&"--packs");
        let arguments = if at_home {
            arguments.to_vec()
        } else {
            [arguments, &["--packs", "none"]].concat()
        };
        text.push_str(&said(&folder, &folder.run(&arguments)));
    }
    insta::assert_snapshot!(text);
}

#[test]
fn case_files_that_lack_something() {
    let folder = with_pack();
    let mut text = String::new();
    for (from, to) in [
        ("source = \"by hand: 12 kN / 2\"\n", ""),
        ("title = \"half\"\n", ""),
        (", within = \"0.01 kN\"", ""),
        (
            "[case.expect]\nallowed = { value = \"6 kN\", within = \"0.01 kN\" }\n",
            "",
        ),
        ("format = 1", "format = 1.5"),
    ] {
        folder.put("mine/bolts/bolt.cases.toml", &CASES.replace(from, to));
        text.push_str(&said(&folder, &with_mine(&folder, &["prove", "bolts/bolt"])));
    }
    insta::assert_snapshot!(text);
    // Nobody counts examples that cannot be read: what runs runs, what tells of them says so.
    assert_eq!(with_mine(&folder, &["run", "bolts/bolt"]).code, 0);
    for format in ["text", "json"] {
        let ran = with_mine(&folder, &["describe", "bolts/bolt", "--format", format]);
        assert_eq!(ran.code, 2, "{}", ran.stdout);
        assert!(
            ran.stderr.contains("the format is a whole number from 1"),
            "{}",
            ran.stderr
        );
    }
    let told = in_one_line(&with_mine(&folder, &["describe", "bolts"]).stdout);
    assert!(
        told.contains("bolts/bolt, worked examples that cannot be read: the format is a whole number"),
        "{told}"
    );
}
