//! The repository's own rules; `dependencies.rs`: what we take from others.

mod dependencies;

use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

fn rust_files(below: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(below).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Lines of code of the engine, without comments, with their places; `outside` names folders to leave out.
fn engine_lines(outside: &[&str]) -> Vec<(String, String)> {
    let engine = root().join("engine/src");
    let mut found = Vec::new();
    for path in rust_files(&engine) {
        let name = path
            .strip_prefix(&engine)
            .unwrap()
            .display()
            .to_string()
            .replace('\\', "/");
        if outside.iter().any(|folder| name.starts_with(folder)) {
            continue;
        }
        for (number, line) in fs::read_to_string(&path).unwrap().lines().enumerate() {
            let code = line.split("//").next().unwrap_or("");
            found.push((format!("{name}:{}", number + 1), code.to_owned()));
        }
    }
    assert!(found.len() > 1000, "the engine is found");
    found
}

fn assert_none(lines: Vec<(String, String)>, words: &[&str]) {
    let found: Vec<String> = lines
        .into_iter()
        .filter(|(_, code)| words.iter().any(|word| code.contains(word)))
        .map(|(place, code)| format!("{place}: {}", code.trim()))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_engine_is_pure() {
    let doors = [
        "std::fs",
        "std::env",
        "std::net",
        "std::process",
        "std::time",
        "SystemTime",
        "Instant::now",
        "std::io::std",
        "thread::sleep",
        "getrandom",
        "RandomState",
    ];
    assert_none(
        engine_lines(&[]),
        &[&doors[..], &["println!", "eprintln!", "print!(", "dbg!"]].concat(),
    );
}

/// What a script may use up is the same in every build.
#[test]
fn no_build_is_another_one() {
    assert_none(
        engine_lines(&[]),
        &["cfg(debug_assertions", "cfg!(debug_assertions", "cfg(not(debug"],
    );
    let limits = fs::read_to_string(root().join("engine/src/script/limits.rs")).unwrap();
    // Each of those that the language sets by itself, some of them by the build, is set by us.
    for limit in [
        "operations",
        "string_size",
        "array_size",
        "map_size",
        "call_levels",
        "expr_depths",
        "variables",
        "functions",
        "modules",
    ] {
        assert!(limits.contains(&format!(".set_max_{limit}(")), "{limit}");
    }
}

#[test]
fn only_script_names_rhai() {
    assert_none(engine_lines(&["script/"]), &["rhai::", "use rhai"]);
}

#[test]
fn no_map_without_order() {
    // There the map has no door through which its order could get out.
    assert_none(engine_lines(&["tape/lookup.rs"]), &["HashMap", "HashSet"]);
}
