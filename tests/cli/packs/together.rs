//! Several programs at one place, one that is killed, one whose disk is full.

use super::{put_pack, with_mine};
use crate::cli::check::Folder;
use crate::program::Program;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// Says to a copy of this program which folder to work in.
pub(crate) const WORKS_IN: &str = "CRANKLINE_TEST_WORKS_IN";

/// A folder with two versions of a small pack, sealed: it gives 6 mm in the one, 12 mm in the other.
pub(crate) fn with_versions() -> Folder {
    let folder = Folder::new();
    for (file, factor, result) in [("old.zip", "2.0", "6 mm"), ("new.zip", "4.0", "12 mm")] {
        let script = format!("//! Times.\ninput a = 3.mm : \"A\";\nstep b = {factor} * a : \"Times\";\n");
        put_pack(&folder, "mine/shop", "shop", "", ("times", &script));
        let manifest = format!("format = 1\nname = \"shop\"\nversion = \"{factor}\"\nlicence = \"MIT\"\n");
        folder.put("mine/shop/pack.toml", &manifest);
        let cases = format!(
            "format = 1\n[[case]]\ntitle = \"three\"\nsource = \"by hand\"\n[case.expect]\n\
             b = {{ value = \"{result}\", within = \"0.001 mm\" }}\n"
        );
        folder.put("mine/shop/times.cases.toml", &cases);
        let sealed = with_mine(&folder, &["pack", "seal", "shop", file]);
        assert_eq!((sealed.code, sealed.stderr.as_str()), (0, ""), "{}", sealed.stdout);
    }
    folder
}

pub(crate) fn crankline(folder: &Path, arguments: &[&str]) -> (u8, String) {
    answered(folder, arguments, "")
}

/// The program in a folder, with these lines for its questions.
pub(crate) fn answered(folder: &Path, arguments: &[&str], answers: &str) -> (u8, String) {
    let program = Program {
        packs: vec![folder.join("theirs")],
        answers: answers.as_bytes(),
        ..Program::in_folder(folder)
    };
    let ran = program.run(arguments.iter().copied());
    (ran.code, format!("{}{}", ran.stdout, ran.stderr))
}

/// What is there is one version or the other, and whole.
#[track_caller]
fn assert_whole(folder: &Path) {
    let (code, text) = crankline(folder, &["run", "shop/times", "--format", "json"]);
    assert_eq!(code, 0, "{text}");
    let found: serde_json::Value = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"));
    let (version, si) = (
        &found["script"]["pack_version"],
        found["steps"][0]["si"].as_f64().unwrap(),
    );
    assert!(
        version == "2.0" && si == 0.006 || version == "4.0" && si == 0.012,
        "{version} {si}"
    );
    let (_, list) = crankline(folder, &["pack", "list"]);
    assert!(!list.contains("changed since"), "{list}");
}

/// Puts one version in the place of the other, over and over.
fn exchange(folder: &Path, times: usize) {
    for file in ["new.zip", "old.zip"].iter().cycle().take(times) {
        crankline(folder, &["pack", "add", file, "--replace"]);
    }
}

/// This test again, as a program of its own, which does what it is told to in a folder.
fn program(test: &str, folder: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", test, "--nocapture"]).env(WORKS_IN, folder);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    command
}

pub(crate) fn told() -> Option<std::path::PathBuf> {
    std::env::var_os(WORKS_IN).map(std::path::PathBuf::from)
}

#[test]
fn whoever_reads_while_another_writes_sees_the_old_pack_or_the_new() {
    let folder = with_versions();
    let path = folder.0.as_path();
    assert_eq!(crankline(path, &["pack", "add", "old.zip"]).0, 0);
    std::thread::scope(|scope| {
        let writers = [0, 1].map(|_| scope.spawn(|| exchange(path, 20)));
        while writers.iter().any(|writer| !writer.is_finished()) {
            assert_whole(path);
        }
    });
    assert_whole(path);
}

#[test]
fn of_several_that_add_one_pack_one_adds_it() {
    let folder = with_versions();
    let path = folder.0.as_path();
    let said: Vec<(u8, String)> = std::thread::scope(|scope| {
        let adding = [0; 4].map(|_| scope.spawn(|| crankline(path, &["pack", "add", "old.zip"])));
        adding.into_iter().map(|adding| adding.join().unwrap()).collect()
    });
    assert!(said.iter().all(|(code, _)| *code == 0), "{said:?}");
    let added = said.iter().filter(|(_, text)| !text.contains("nothing to do"));
    assert_eq!(added.count(), 1, "{said:?}");
    assert_whole(path);
}

/// Two programs that add a pack each: both land, and nothing is left over.
#[test]
fn two_that_add_two_packs_add_both() {
    let folder = with_versions();
    let path = folder.0.as_path();
    for name in ["one", "two"] {
        put_pack(&folder, &format!("mine/{name}"), name, "", ("double", super::DOUBLE));
        let manifest = format!("format = 1\nname = \"{name}\"\nversion = \"1\"\nlicence = \"MIT\"\n");
        folder.put(&format!("mine/{name}/pack.toml"), &manifest);
        let cases = "format = 1\n[[case]]\ntitle = \"three\"\nsource = \"by hand\"\n\
                     [case.expect]\nb = { value = \"6 mm\", within = \"0.001 mm\" }\n";
        folder.put(&format!("mine/{name}/double.cases.toml"), cases);
        let sealed = with_mine(&folder, &["pack", "seal", name, &format!("{name}.zip")]);
        assert_eq!((sealed.code, sealed.stderr.as_str()), (0, ""), "{}", sealed.stdout);
    }
    for _ in 0..10 {
        let added: Vec<(u8, String)> = std::thread::scope(|scope| {
            let adding =
                ["one.zip", "two.zip"].map(|file| scope.spawn(move || crankline(path, &["pack", "add", file])));
            adding.into_iter().map(|adding| adding.join().unwrap()).collect()
        });
        for (code, text) in added {
            assert_eq!(code, 0, "{text}");
        }
        for name in ["one", "two"] {
            let (code, text) = crankline(path, &["run", &format!("{name}/double")]);
            assert_eq!(code, 0, "{text}");
            let (code, text) = crankline(path, &["pack", "remove", name]);
            assert_eq!(code, 0, "{text}");
        }
    }
    let names = std::fs::read_dir(path.join("theirs")).unwrap();
    let names: Vec<_> = names
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(names, [".lock"]);
}

#[test]
fn a_program_that_is_killed_leaves_the_old_pack_or_the_new() {
    if let Some(folder) = told() {
        return exchange(&folder, 10_000);
    }
    let folder = with_versions();
    assert_eq!(crankline(&folder.0, &["pack", "add", "old.zip"]).0, 0);
    let test = "cli::packs::together::a_program_that_is_killed_leaves_the_old_pack_or_the_new";
    for round in 0..25_u64 {
        let mut child: Child = program(test, &folder.0).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(40 + 37 * round % 101));
        child.kill().unwrap();
        child.wait().unwrap();
        assert_whole(&folder.0);
    }
    // Whoever writes next clears away what they left.
    assert_eq!(crankline(&folder.0, &["pack", "add", "new.zip", "--replace"]).0, 0);
    let names = std::fs::read_dir(folder.0.join("theirs")).unwrap();
    let mut names: Vec<_> = names
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, [".lock", "shop"]);
}

/// What a program leaves that is killed between two steps, each state made by hand.
#[test]
fn every_state_in_between_is_the_old_pack_or_the_new() {
    let folder = with_versions();
    assert_eq!(crankline(&folder.0, &["pack", "add", "old.zip"]).0, 0);
    let at = |name: &str| folder.0.join("theirs").join(name);
    // The new one is half written, then whole.
    std::fs::create_dir(at(".new-shop")).unwrap();
    assert_whole(&folder.0);
    folder.put(
        "theirs/.new-shop/pack.toml",
        "format = 1\nname = \"shop\"\nversion = \"9\"\n",
    );
    assert_whole(&folder.0);
    // The old one is out of the way.
    std::fs::rename(at("shop"), at(".old-shop")).unwrap();
    assert_whole(&folder.0);
    // Somebody writes: the old one is back, and what was begun is gone.
    assert_eq!(
        crankline(&folder.0, &["pack", "add", "new.zip"]).0,
        2,
        "it is there already"
    );
    assert!(at("shop").is_dir() && !at(".old-shop").exists() && !at(".new-shop").exists());
    assert_whole(&folder.0);
    // The new one is in its place, the old one not yet gone; one that was taken away is not yet gone.
    std::fs::create_dir(at(".old-shop")).unwrap();
    std::fs::create_dir(at(".gone-shop")).unwrap();
    folder.put(
        "theirs/.gone-shop/pack.toml",
        "format = 1\nname = \"shop\"\nversion = \"9\"\n",
    );
    assert_whole(&folder.0);
    assert_eq!(crankline(&folder.0, &["pack", "add", "new.zip", "--replace"]).0, 0);
    assert!(!at(".old-shop").exists() && !at(".gone-shop").exists());
    assert_whole(&folder.0);
}

/// A disk that takes no more than the first bytes of a file: the old pack stays, and nothing else.
#[cfg(unix)]
#[test]
fn a_full_disk_leaves_the_old_pack() {
    let test = "cli::packs::together::a_full_disk_leaves_the_old_pack";
    if let Some(folder) = told() {
        let (code, text) = crankline(&folder, &["pack", "add", "new.zip", "--replace"]);
        assert_eq!(code, 2, "{text}");
        assert!(text.contains("cannot be written"), "{text}");
        return;
    }
    let folder = with_versions();
    assert_eq!(crankline(&folder.0, &["pack", "add", "old.zip"]).0, 0);
    let inner = program(test, &folder.0);
    let mut limited = Command::new("sh");
    // The signal is left out, so that writing is an error as it is on a full disk.
    limited
        .args(["-c", "trap '' XFSZ; ulimit -f 0; exec \"$@\"", "sh"])
        .arg(inner.get_program());
    limited.args(inner.get_args()).env(WORKS_IN, &folder.0);
    let done = limited.output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stdout));
    let (_, list) = crankline(&folder.0, &["pack", "list"]);
    assert!(list.contains("2.0"), "{list}");
    assert!(!folder.0.join("theirs/.new-shop").exists());
    assert_whole(&folder.0);
}
