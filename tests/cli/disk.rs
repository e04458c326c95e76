//! A folder that nobody may write to, and a disk that is full: an error that names what could not be written and says what
//! to do; what was there is as it was, and nothing is left over.

use super::check::Folder;
use super::packs::{WORKS_IN, crankline, told, with_versions};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// What is written, and how: each command with the answers that it is given.
const WRITING: [(&[&str], &str); 8] = [
    (&["run", "shaft.rhai", "--out", "sheet.txt"], ""),
    (&["run", "shaft.rhai", "--format", "html", "--out", "sheet.html"], ""),
    (&["run", "shaft.rhai", "--out", "sheets/"], ""),
    (&["job", "ask", "asked.toml"], "5 mm +/- 0.1 mm\n"),
    (&["job", "new", "new.toml", "shaft.rhai"], ""),
    (&["pack", "add", "new.zip", "--replace"], ""),
    (&["pack", "new", "own"], ""),
    (&["pack", "key", "shop.key"], ""),
];

/// A folder with a pack that was added, a job, and whatever the commands read.
fn prepared() -> Folder {
    let folder = with_versions();
    assert_eq!(crankline(&folder.0, &["pack", "add", "old.zip"]).0, 0);
    folder.put(
        "tube.rhai",
        "//! Twice.\ninput a = 3.mm : \"A\";\nstep b = 2 * a : \"Twice\";\n",
    );
    folder.put(
        "asked.toml",
        "format = 1\n\n[measured]\n\n[[run]]\nscript = \"tube.rhai\"\nname = \"tube\"\n",
    );
    folder
}

/// All that is written is refused; this is what a child of the test does.
fn refuse_all(folder: &Path, why: &str) {
    for (arguments, answers) in WRITING {
        let (code, text) = super::packs::answered(folder, arguments, answers);
        assert_eq!(code, 2, "{arguments:?}: {text}");
        assert!(
            text.contains("cannot be written: ") && text.contains(why),
            "{arguments:?}: {text}"
        );
        assert!(text.contains("  try: "), "{arguments:?}: {text}");
    }
}

fn tree(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                found.insert(path.clone(), Vec::new());
                folders.push(path);
            } else {
                found.insert(path.clone(), std::fs::read(&path).unwrap());
            }
        }
    }
    found
}

/// This test again as a program of its own, started by another one.
fn within(starter: &[&str], test: &str, folder: &Path) -> Output {
    let mut command = Command::new(starter[0]);
    command.args(&starter[1..]).arg(std::env::current_exe().unwrap());
    command.args(["--exact", test, "--nocapture"]).env(WORKS_IN, folder);
    command.output().unwrap()
}

#[track_caller]
fn assert_as_it_was(before: &BTreeMap<PathBuf, Vec<u8>>, folder: &Path, output: &Output) {
    let said = format!(
        "{}{}",
        String::from_utf8_lossy(&output.stdout),
        String::from_utf8_lossy(&output.stderr)
    );
    assert!(output.status.success(), "{said}");
    assert!(said.contains("1 passed"), "{said}");
    let after = tree(folder);
    assert!(
        *before == after,
        "{:?}",
        after
            .keys()
            .filter(|path| !before.contains_key(*path))
            .collect::<Vec<_>>()
    );
    let (code, list) = crankline(folder, &["run", "shop/times"]);
    assert_eq!(code, 0, "{list}");
}

/// No file takes more than nothing, as on a disk that is full.
#[cfg(unix)]
#[test]
fn a_full_disk() {
    if let Some(folder) = told() {
        return refuse_all(&folder, "too large");
    }
    let folder = prepared();
    let before = tree(&folder.0);
    // The signal is left out, so that writing is an error.
    let limited = ["sh", "-c", "trap '' XFSZ; ulimit -f 0; exec \"$@\"", "sh"];
    let output = within(&limited, "cli::disk::a_full_disk", &folder.0);
    assert_as_it_was(&before, &folder.0, &output);
}

/// Somebody who may read everything and write nothing. Who may do everything is somebody else for this.
#[allow(clippy::print_stdout, reason = "a test that is skipped says so")]
#[cfg(unix)]
#[test]
fn a_folder_that_nobody_may_write_to() {
    use std::os::unix::fs::PermissionsExt;
    let test = "cli::disk::a_folder_that_nobody_may_write_to";
    if let Some(folder) = told() {
        return refuse_all(&folder, "permission denied");
    }
    let folder = prepared();
    let set = |mode: u32| {
        let folders = ["", "theirs", "theirs/shop"].map(|name| folder.0.join(name));
        folders
            .iter()
            .for_each(|path| std::fs::set_permissions(path, PermissionsExt::from_mode(mode)).unwrap());
    };
    let lock = folder.0.join("theirs/.lock");
    std::fs::set_permissions(&lock, PermissionsExt::from_mode(0o444)).unwrap();
    set(0o555);
    let before = tree(&folder.0);
    // Whether what is forbidden is: it is not for the one who may do everything.
    let is_held = std::fs::write(folder.0.join("probe"), "").is_err();
    let _ = std::fs::remove_file(folder.0.join("probe"));
    let other: &[&str] = match is_held {
        true => &["env"],
        false => &["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"],
    };
    let works = Command::new(other[0])
        .args(&other[1..])
        .arg(std::env::current_exe().unwrap())
        .arg("--list")
        .output();
    if works.is_ok_and(|output| output.status.success()) {
        let output = within(other, test, &folder.0);
        set(0o755);
        assert_as_it_was(&before, &folder.0, &output);
    } else {
        set(0o755);
        println!("skipped: here nobody can be kept from writing, and nobody else can be had to try it");
    }
}
