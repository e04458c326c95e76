//! `run --follow` and `run --open`. The program asks a function of ours before it looks at files again, so that nothing
//! here depends on a clock.

use super::check::{Folder, Ran, run};
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

const WALL: &str = "input wall = 3.mm : \"Wall\";\nstep twice = 2.0 * wall as mm : \"Twice the wall\";\n";

fn nothing(_: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Follows while `changes` are made one after the other, each after the run before it has been seen to settle.
fn following(folder: &Folder, arguments: &[&str], changes: &[&(dyn Fn() + Sync)]) -> Ran {
    // A change is seen at one look, and found settled at the next.
    let (mut look, mut left) = (0_usize, changes.iter());
    let mut wait = || {
        look += 1;
        if look % 2 == 0 {
            return true;
        }
        match left.next() {
            Some(change) => {
                change();
                true
            }
            None => false,
        }
    };
    folder.watching(arguments, &mut wait, &nothing)
}

fn values(text: &str) -> Vec<&str> {
    let lines = text.lines().filter(|line| line.contains("Twice the wall"));
    lines.map(str::trim).collect()
}

#[test]
fn every_change_is_shown_and_errors_are_waited_on() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let ran = following(
        &folder,
        &["run", "wall.rhai", "--follow", "--all"],
        &[
            &|| folder.put("wall.rhai", &WALL.replace("3.mm", "4.mm")),
            &|| folder.put("wall.rhai", &WALL.replace("3.mm", "4.mmm")),
            &|| std::fs::remove_file(folder.0.join("wall.rhai")).unwrap(),
            &|| folder.put("wall.rhai", &WALL.replace("3.mm", "5.mm")),
        ],
    );
    assert_eq!(ran.code, 0, "{}", ran.stderr);
    let found = values(&ran.stdout);
    assert_eq!(found.len(), 3, "{}", ran.stdout);
    for (line, value) in found.iter().zip(["6 mm", "8 mm", "10 mm"]) {
        assert!(line.contains(value), "{line}");
    }
    assert!(ran.stderr.contains("mmm"), "{}", ran.stderr);
    assert!(ran.stderr.contains("there is no file `wall.rhai`"), "{}", ran.stderr);
    assert_eq!(
        ran.stderr.matches("Waiting for a change in").count(),
        5,
        "{}",
        ran.stderr
    );
}

/// Of a job: the job file, a script of a pack, a module that the script imports, a pack that comes.
#[test]
fn modules_packs_and_jobs_are_followed() {
    let folder = Folder::new();
    let pack = |name: &str| format!("format = 1\nname = \"{name}\"\nversion = \"0.1.0\"\n");
    std::fs::create_dir_all(folder.0.join("packs/shop")).unwrap();
    folder.put("packs/shop/pack.toml", &pack("shop"));
    folder.put("packs/shop/twice.rhai", "fn twice(a) { 2.0 * a }\n");
    folder.put(
        "packs/shop/wall.rhai",
        &WALL
            .replace("2.0 * wall", "twice::twice(wall)")
            .replace("input", "import \"shop/twice\" as twice;\ninput"),
    );
    folder.put(
        "job.toml",
        "format = 1\n[measured]\nwall = \"3 mm\"\n[[run]]\nscript = \"shop/wall\"\n",
    );
    let ran = following(
        &folder,
        &["run", "job.toml", "--follow", "--all"],
        &[
            &|| {
                folder.put(
                    "job.toml",
                    "format = 1\n[measured]\nwall = \"4 mm\"\n[[run]]\nscript = \"shop/wall\"\n",
                );
            },
            &|| folder.put("packs/shop/twice.rhai", "fn twice(a) { 3.0 * a }\n"),
            &|| {
                std::fs::create_dir_all(folder.0.join("packs/other")).unwrap();
                folder.put("packs/other/pack.toml", &pack("shop"));
            },
            &|| std::fs::remove_dir_all(folder.0.join("packs/other")).unwrap(),
        ],
    );
    let found = values(&ran.stdout);
    assert_eq!(found.len(), 4, "{}", ran.stdout);
    for (line, value) in found.iter().zip(["6 mm", "8 mm", "12 mm", "12 mm"]) {
        assert!(line.contains(value), "{line}");
    }
    assert!(ran.stderr.contains("two packs are named `shop`"), "{}", ran.stderr);
}

/// A file that is written again with the bytes that it has is no change.
#[test]
fn the_same_bytes_are_no_change() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let (mut looks, touch) = (0, || folder.put("wall.rhai", WALL));
    let mut wait = || {
        looks += 1;
        touch();
        looks < 6
    };
    let ran = folder.watching(&["run", "wall.rhai", "--follow", "--all"], &mut wait, &nothing);
    assert_eq!(values(&ran.stdout).len(), 1, "{}", ran.stdout);
}

#[test]
fn a_page_is_written_anew_and_nobody_elses() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let page = folder.0.join("page.html");
    let arguments = ["run", "wall.rhai", "--follow", "--format", "html", "--out", "page.html"];
    let seen = Mutex::new(Vec::new());
    let read = || {
        let text = std::fs::read_to_string(&page).unwrap();
        seen.lock().unwrap().push(text);
    };
    let ran = following(
        &folder,
        &arguments,
        &[
            &|| {
                read();
                folder.put("wall.rhai", &WALL.replace("3.mm", "4.mm"));
            },
            &|| {
                read();
                std::fs::write(&page, "mine").unwrap();
                folder.put("wall.rhai", &WALL.replace("3.mm", "5.mm"));
            },
        ],
    );
    let seen = seen.into_inner().unwrap();
    assert!(seen[0].contains("6 mm") && seen[1].contains("8 mm"), "two pages");
    assert_eq!(ran.code, 2);
    assert!(
        ran.stderr.contains("no longer what was written into it"),
        "{}",
        ran.stderr
    );
    assert_eq!(std::fs::read_to_string(&page).unwrap(), "mine");
    // One that is there already is not begun with.
    let ran = folder.run(&arguments);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("is there already"), "{}", ran.stderr);
    assert_eq!(std::fs::read_to_string(&page).unwrap(), "mine");
}

/// As it is used: somebody else changes the file, whenever that is.
#[test]
fn a_change_from_outside_is_seen() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let (is_done, limit) = (AtomicBool::new(false), Instant::now() + Duration::from_secs(60));
    let mut looks_after = 0;
    let ran = std::thread::scope(|scope| {
        scope.spawn(|| {
            std::thread::sleep(Duration::from_millis(200));
            folder.put("wall.rhai", &WALL.replace("3.mm", "7.mm"));
            is_done.store(true, Ordering::SeqCst);
        });
        let mut wait = || {
            std::thread::sleep(Duration::from_millis(20));
            looks_after += usize::from(is_done.load(Ordering::SeqCst));
            looks_after < 4 && Instant::now() < limit
        };
        folder.watching(&["run", "wall.rhai", "--follow", "--all"], &mut wait, &nothing)
    });
    assert!(
        values(&ran.stdout).iter().any(|line| line.contains("14 mm")),
        "{}",
        ran.stdout
    );
}

#[test]
fn a_page_is_opened() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let opened = Mutex::new(Vec::new());
    let open = |path: &Path| {
        opened.lock().unwrap().push(path.to_path_buf());
        Ok(())
    };
    for arguments in [
        &["run", "wall.rhai", "--open"][..],
        &["run", "wall.rhai", "--open"],
        &["run", "wall.rhai", "--open", "--out", "page.html"],
    ] {
        let ran = folder.watching(arguments, &mut || false, &open);
        assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
        let last = opened.lock().unwrap().last().unwrap().display().to_string();
        let said = ran.stdout.trim_start_matches("written to ").trim();
        assert!(last.ends_with(said), "{last}: {}", ran.stdout);
    }
    let opened = opened.into_inner().unwrap();
    assert_eq!(opened.len(), 3);
    assert!(opened[0] != opened[1], "each its own");
    assert!(
        opened[0].starts_with(folder.0.join("temporary")),
        "{}",
        opened[0].display()
    );
    for page in &opened {
        let text = std::fs::read_to_string(page).unwrap();
        assert!(text.starts_with("<!DOCTYPE html>") && text.contains("6 mm"));
    }
    // Followed, it is opened once.
    let times = Mutex::new(0);
    let open = |_: &Path| {
        *times.lock().unwrap() += 1;
        Ok(())
    };
    let mut looks = 0;
    let mut wait = || {
        looks += 1;
        folder.put("wall.rhai", &WALL.replace("3.mm", &format!("{}.mm", 3 + looks / 2)));
        looks < 6
    };
    let ran = folder.watching(&["run", "wall.rhai", "--open", "--follow"], &mut wait, &open);
    assert!(ran.stdout.matches("written to ").count() > 1, "{}", ran.stdout);
    assert_eq!(times.into_inner().unwrap(), 1);
}

#[test]
fn pages_that_cannot_be_opened_or_followed() {
    let folder = Folder::new();
    folder.put("wall.rhai", WALL);
    let broken = |_: &Path| Err(std::io::Error::other("no such thing"));
    let ran = folder.watching(&["run", "wall.rhai", "--open"], &mut || false, &broken);
    assert_eq!(ran.code, 2);
    assert!(ran.stdout.starts_with("written to "), "{}", ran.stdout);
    assert!(ran.stderr.contains("nothing here shows pages"), "{}", ran.stderr);
    for (arguments, said) in [
        (&["--open", "--format", "json"][..], "--open shows a page"),
        (&["--open", "--out", "folder/"], "is a folder"),
        (&["--follow", "--format", "html"], "needs a file"),
        (&["--follow", "--out", "folder/"], "is a folder"),
        (&["--follow", "--out", ""], "is empty"),
    ] {
        let ran = folder.run(&[&["run", "wall.rhai"], arguments].concat());
        assert_eq!(ran.code, 2, "{arguments:?}");
        assert!(ran.stderr.contains(said), "{arguments:?}: {}", ran.stderr);
    }
    assert_eq!(run(&["spread", "shaft.rhai", "--open"]).code, 2);
}
