//! What we take from others, and that none of our own code is unsafe.

use super::root;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

/// Everything that the program and its tests are built of here, as cargo knows it.
fn packages() -> Vec<Value> {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--offline", "--format-version", "1"])
        .args(["--filter-platform", "x86_64-unknown-linux-gnu"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let found: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = found["packages"].as_array().unwrap().clone();
    assert!(packages.len() > 50, "{}", packages.len());
    packages
}

/// Whether a licence as a package states it ("MIT OR (Apache-2.0 AND Zlib)") leaves us one that we accept. Old packages
/// write `/` for `OR`; a licence `WITH` an exception gives more than without.
fn accepts(allowed: &BTreeSet<String>, expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let accepted = any(allowed, &words, &mut at);
    assert_eq!(at, words.len(), "{expression}");
    accepted
}

fn any(allowed: &BTreeSet<String>, words: &[&str], at: &mut usize) -> bool {
    let mut accepted = all(allowed, words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        accepted |= all(allowed, words, at);
    }
    accepted
}

fn all(allowed: &BTreeSet<String>, words: &[&str], at: &mut usize) -> bool {
    let mut accepted = one(allowed, words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        accepted &= one(allowed, words, at);
    }
    accepted
}

fn one(allowed: &BTreeSet<String>, words: &[&str], at: &mut usize) -> bool {
    let word = words[*at];
    *at += 1;
    if word == "(" {
        let accepted = any(allowed, words, at);
        assert_eq!(words.get(*at), Some(&")"));
        *at += 1;
        return accepted;
    }
    if words.get(*at) == Some(&"WITH") {
        *at += 2;
    }
    allowed.contains(word.trim_end_matches('+'))
}

#[test]
fn licences_are_read_as_they_are_meant() {
    let allowed: BTreeSet<String> = ["MIT", "Zlib", "MPL-2.0"].map(str::to_owned).into();
    for yes in [
        "MIT",
        "GPL-3.0 OR MIT",
        "GPL-3.0/MIT",
        "(GPL-3.0 OR MIT) AND Zlib",
        "MIT WITH X OR GPL-3.0",
        "MPL-2.0+",
    ] {
        assert!(accepts(&allowed, yes), "{yes}");
    }
    for no in [
        "GPL-3.0",
        "MIT AND GPL-3.0",
        "(GPL-3.0 OR MIT) AND Apache-2.0",
        "GPL-3.0 WITH X",
    ] {
        assert!(!accepts(&allowed, no), "{no}");
    }
}

#[test]
fn every_licence_is_one_that_we_accept() {
    let text = fs::read_to_string(root().join("deny.toml")).unwrap();
    let deny: toml::Table = text.parse().unwrap();
    let allowed = deny["licenses"]["allow"].as_array().unwrap().iter();
    let allowed: BTreeSet<String> = allowed.map(|name| name.as_str().unwrap().to_owned()).collect();
    for package in packages() {
        let name = format!("{} {}", package["name"], package["version"]);
        let licence = package["license"]
            .as_str()
            .unwrap_or_else(|| panic!("{name} states no licence"));
        assert!(accepts(&allowed, licence), "{name}: {licence}");
        let source = package["source"].as_str().unwrap_or("here");
        assert!(
            source == "here" || source.starts_with("registry+"),
            "{name} comes from {source}"
        );
    }
}

#[test]
fn nothing_of_ours_is_unsafe() {
    let workspace: toml::Table = fs::read_to_string(root().join("Cargo.toml")).unwrap().parse().unwrap();
    assert_eq!(
        workspace["workspace"]["lints"]["rust"]["unsafe_code"].as_str(),
        Some("forbid")
    );
    let members = workspace["workspace"]["members"].as_array().unwrap();
    assert!(members.len() >= 4);
    for member in members {
        let manifest = root().join(member.as_str().unwrap()).join("Cargo.toml");
        let manifest: toml::Table = fs::read_to_string(manifest).unwrap().parse().unwrap();
        assert_eq!(manifest["lints"]["workspace"].as_bool(), Some(true), "{member:?}");
    }
    // Apart from the workspace.
    let fuzz: toml::Table = fs::read_to_string(root().join("tests/fuzz/Cargo.toml"))
        .unwrap()
        .parse()
        .unwrap();
    assert_eq!(fuzz["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    // A lint that is forbidden can be allowed nowhere below; that nobody wrote it is said all the same.
    let folders = ["engine/src", "scripts", "cli/src", "tests/fuzz/targets"].map(|folder| root().join(folder));
    for file in folders.iter().flat_map(|folder| super::rust_files(folder)) {
        let text = fs::read_to_string(&file).unwrap_or_default();
        assert!(
            !text.contains("unsafe_code") && !text.contains("unsafe {"),
            "{}",
            file.display()
        );
    }
}
