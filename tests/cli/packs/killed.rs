//! A program that is killed at its work, at instants spread over the time that the work takes: what is there is the old
//! state or the new, whole, and the next command works without help.
//!
//! Some rounds of each by default; with `CRANKLINE_KILLS=200` as many, shared out over them.

use super::together::{WORKS_IN, answered, crankline, told, with_versions};
use crate::cli::check::Folder;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// How many commands there are that the kills are shared out over.
const COMMANDS: u64 = 6;

/// This test again as a program of its own, which carries out one command in a folder.
fn start(test: &str, folder: &Path) -> std::process::Child {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", test, "--nocapture"]).env(WORKS_IN, folder);
    command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
}

/// What is killed, and what must hold afterwards.
struct Killed<'a> {
    test: &'a str,
    /// Puts the folder into the state from which the command starts.
    prepare: &'a dyn Fn(&Path),
    /// Says how the state that was found is called; panics where it is neither the old nor the new.
    found: &'a dyn Fn(&Path) -> &'static str,
    /// What somebody does next, which must work; and the state is then the new one.
    next: &'a dyn Fn(&Path),
}

impl Killed<'_> {
    /// Kills it so many times; gives how often each state was found.
    #[allow(clippy::print_stdout, reason = "who asks for many wants to know")]
    fn rounds(&self, folder: &Path) -> BTreeMap<&'static str, u64> {
        let most = self.time(folder);
        let rounds = std::env::var("CRANKLINE_KILLS")
            .ok()
            .and_then(|count| count.parse::<u64>().ok());
        let rounds = rounds.map_or(6, |all| all.div_ceil(COMMANDS));
        let mut states = BTreeMap::new();
        for round in 0..rounds {
            (self.prepare)(folder);
            let mut child = start(self.test, folder);
            // The instants lie evenly over the time, in an order that looks random: the golden section's multiples.
            let share = (round * 618_034 % 1_000_000) as f64 / 1e6;
            std::thread::sleep(most.mul_f64(share));
            child.kill().unwrap();
            child.wait().unwrap();
            *states.entry((self.found)(folder)).or_insert(0) += 1;
            (self.next)(folder);
            assert_eq!((self.found)(folder), "new", "after the next command");
        }
        println!("{}: {rounds} kills over {} ms: {states:?}", self.test, most.as_millis());
        states
    }

    /// How long it takes when nobody kills it, and a little more.
    fn time(&self, folder: &Path) -> Duration {
        (self.prepare)(folder);
        let start_of = Instant::now();
        assert!(start(self.test, folder).wait().unwrap().success());
        let time = start_of.elapsed();
        assert_eq!((self.found)(folder), "new", "where nobody kills it");
        time.mul_f64(1.1)
    }
}

/// Which version of the pack is there, whole.
fn version(folder: &Path) -> Option<&'static str> {
    let (code, list) = crankline(folder, &["pack", "list"]);
    assert_eq!(code, 0, "{list}");
    assert!(!list.contains("changed since"), "{list}");
    if !list.contains("shop") {
        return None;
    }
    let (code, text) = crankline(folder, &["run", "shop/times", "--format", "json"]);
    assert_eq!(code, 0, "{text}");
    let found: serde_json::Value = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"));
    let (version, si) = (
        found["script"]["pack_version"].as_str().unwrap(),
        found["steps"][0]["si"].as_f64().unwrap(),
    );
    match (version, si) {
        ("2.0", 0.006) => Some("2.0"),
        ("4.0", 0.012) => Some("4.0"),
        other => panic!("{other:?}"),
    }
}

/// Nothing is left in the packs' place but the pack and the lock, once somebody has written there.
fn assert_tidy(folder: &Path) {
    let names = std::fs::read_dir(folder.join("theirs")).unwrap();
    let mut names: Vec<_> = names
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert!(names.iter().all(|name| name == ".lock" || name == "shop"), "{names:?}");
}

fn clear(folder: &Path) {
    let _ = std::fs::remove_dir_all(folder.join("theirs"));
}

fn add(folder: &Path, arguments: &[&str]) {
    let (code, text) = crankline(folder, &[&["pack", "add"], arguments].concat());
    assert_eq!(code, 0, "{text}");
}

#[test]
fn pack_add() {
    if let Some(folder) = told() {
        return add(&folder, &["old.zip"]);
    }
    let folder = with_versions();
    Killed {
        test: "cli::packs::killed::pack_add",
        prepare: &clear,
        found: &|folder| if version(folder).is_some() { "new" } else { "old" },
        next: &|folder| {
            if version(folder).is_none() {
                add(folder, &["old.zip"]);
                assert_tidy(folder);
            }
        },
    }
    .rounds(&folder.0);
}

#[test]
fn pack_add_in_place_of_another() {
    if let Some(folder) = told() {
        return add(&folder, &["new.zip", "--replace"]);
    }
    let folder = with_versions();
    Killed {
        test: "cli::packs::killed::pack_add_in_place_of_another",
        prepare: &|folder| {
            clear(folder);
            add(folder, &["old.zip"]);
        },
        found: &|folder| {
            if version(folder).unwrap() == "4.0" {
                "new"
            } else {
                "old"
            }
        },
        next: &|folder| {
            add(folder, &["new.zip", "--replace"]);
            assert_tidy(folder);
        },
    }
    .rounds(&folder.0);
}

#[test]
fn pack_remove() {
    let remove = |folder: &Path| {
        let (code, text) = crankline(folder, &["pack", "remove", "shop"]);
        assert_eq!(code, 0, "{text}");
    };
    if let Some(folder) = told() {
        return remove(&folder);
    }
    let folder = with_versions();
    Killed {
        test: "cli::packs::killed::pack_remove",
        prepare: &|folder| {
            clear(folder);
            add(folder, &["old.zip"]);
        },
        found: &|folder| if version(folder).is_none() { "new" } else { "old" },
        next: &|folder| {
            if version(folder).is_some() {
                remove(folder);
                assert_tidy(folder);
            }
        },
    }
    .rounds(&folder.0);
}

const TUBE: &str = "//! Twice.\ninput a = 3.mm : \"A\";\ninput c = 4.mm : \"C\";\nstep b = a + c : \"Twice\";\n";
const JOB: &str = "format = 1\n# by hand\n\n[measured]\n\n[[run]]\nscript = \"tube.rhai\"\nname = \"tube\"\n";

/// Answers to both questions, as somebody types them.
fn ask(folder: &Path) {
    let (code, said) = answered(
        folder,
        &["job", "ask", "car.toml"],
        "5 mm +/- 0.1 mm\n6 mm +/- 0.1 mm\n",
    );
    assert_eq!(code, 0, "{said}");
}

#[test]
fn job_ask() {
    if let Some(folder) = told() {
        return ask(&folder);
    }
    let folder = Folder::new();
    folder.put("tube.rhai", TUBE);
    Killed {
        test: "cli::packs::killed::job_ask",
        prepare: &|folder| std::fs::write(folder.join("car.toml"), JOB).unwrap(),
        found: &|folder| {
            let text = std::fs::read_to_string(folder.join("car.toml")).unwrap();
            let (code, ran) = crankline(folder, &["run", "car.toml"]);
            assert!(code < 2, "{ran}");
            assert!(
                text.starts_with("format = 1\n# by hand\n") && text.ends_with("name = \"tube\"\n"),
                "{text}"
            );
            match (text == JOB, text.contains("5 mm"), text.contains("6 mm")) {
                (true, false, false) => "old",
                (false, true, false) => "the first answer",
                (false, true, true) => "new",
                other => panic!("{other:?}: {text}"),
            }
        },
        next: &|folder| {
            // What is not answered yet is asked again: both, the second, or nothing.
            let text = std::fs::read_to_string(folder.join("car.toml")).unwrap();
            if text == JOB {
                ask(folder);
            } else if !text.contains("6 mm") {
                let (code, said) = answered(folder, &["job", "ask", "car.toml"], "6 mm +/- 0.1 mm\n");
                assert_eq!(code, 0, "{said}");
            }
            write_another(folder);
        },
    }
    .rounds(&folder.0);
}

/// Whoever writes next clears away what was left over.
fn write_another(folder: &Path) {
    let (code, text) = crankline(folder, &["run", "shaft.rhai", "--out", "another.txt"]);
    assert!(code < 2, "{text}");
    std::fs::remove_file(folder.join("another.txt")).unwrap();
    assert_no_part(folder);
}

/// No file is left that was half written.
fn assert_no_part(folder: &Path) {
    let names = std::fs::read_dir(folder).unwrap();
    let part = names
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .find(|name| name.ends_with(".part"));
    assert_eq!(part, None);
}

#[test]
fn run_into_a_file() {
    let run = |folder: &Path| {
        crankline(
            folder,
            &["run", "shaft.rhai", "--format", "html", "--out", "sheet.html"],
        )
    };
    if let Some(folder) = told() {
        assert!(run(&folder).0 < 2);
        return;
    }
    let folder = Folder::new();
    assert!(run(&folder.0).0 < 2);
    let whole = std::fs::read(folder.0.join("sheet.html")).unwrap();
    let remove = |folder: &Path| {
        let _ = std::fs::remove_file(folder.join("sheet.html"));
    };
    Killed {
        test: "cli::packs::killed::run_into_a_file",
        prepare: &remove,
        found: &|folder| match std::fs::read(folder.join("sheet.html")) {
            Ok(found) => {
                assert!(found == whole, "half a page");
                "new"
            }
            Err(_) => "old",
        },
        next: &|folder| {
            if !folder.join("sheet.html").exists() {
                let (code, text) = run(folder);
                assert!(code < 2, "{text}");
            }
            write_another(folder);
        },
    }
    .rounds(&folder.0);
}

#[test]
fn run_into_a_folder() {
    let run = |folder: &Path| crankline(folder, &["run", "shaft.rhai", "--out", "sheets/"]);
    if let Some(folder) = told() {
        let (code, text) = run(&folder);
        assert!(code < 2, "{text}");
        return;
    }
    let folder = Folder::new();
    assert!(run(&folder.0).0 < 2);
    let files = |folder: &Path| -> BTreeMap<String, Vec<u8>> {
        let entries = std::fs::read_dir(folder.join("sheets")).into_iter().flatten().flatten();
        entries
            .map(|entry| {
                (
                    entry.file_name().into_string().unwrap(),
                    std::fs::read(entry.path()).unwrap(),
                )
            })
            .collect()
    };
    let whole = files(&folder.0);
    assert!(whole.len() >= 3);
    Killed {
        test: "cli::packs::killed::run_into_a_folder",
        prepare: &|folder| {
            let _ = std::fs::remove_dir_all(folder.join("sheets"));
        },
        found: &|folder| {
            let found = files(folder);
            match () {
                () if !folder.join("sheets").exists() => "old",
                () if found == whole => "new",
                () => panic!("a part of a folder: {:?}", found.keys()),
            }
        },
        next: &|folder| {
            if !folder.join("sheets").exists() {
                let (code, text) = run(folder);
                assert!(code < 2, "{text}");
            }
            write_another(folder);
        },
    }
    .rounds(&folder.0);
}
