//! The pages that Crankline writes, opened in headless Chromium with the network off.
//!
//! They take Node.js, Chromium and the packages of `package.json` (`npm ci` in this folder). Where one is missing the
//! tests say so and pass; with `CRANKLINE_BROWSER=required` they fail instead.

use serde_json::{Value, json};
use std::env;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Node.js, for scripts that need no browser; none where it is missing and may be.
pub(crate) fn node() -> Option<PathBuf> {
    found("Node.js", on_path(&["node", "nodejs"]))
}

/// Runs a scenario of `scenarios/`; what it found, or nothing where a browser is missing and may be. A page that complains
/// on its console, or asks for anything but files, fails.
pub(crate) fn scenario(name: &str, given: &Value) -> Option<Value> {
    let mut answer = answer(name, given)?;
    assert_eq!(answer["complaints"], json!([]), "the page of scenario {name} complains");
    Some(answer["found"].take())
}

/// What a scenario found, and what its pages complained about.
fn answer(name: &str, given: &Value) -> Option<Value> {
    let node = node()?;
    let chromium = chromium()?;
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("browser");
    let packages = Some(folder.join("node_modules/playwright-core")).filter(|packages| packages.is_dir());
    found("what `npm ci` installs in tests/browser", packages)?;
    let mut given = given.clone();
    given["chromium"] = json!(chromium);
    let mut child = Command::new(node)
        .args(["run.mjs", name])
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    input.write_all(given.to_string().as_bytes()).unwrap();
    drop(input);
    let output = child.wait_with_output().unwrap();
    let complaint = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "scenario {name}:\n{complaint}");
    Some(serde_json::from_slice(&output.stdout).unwrap())
}

fn chromium() -> Option<PathBuf> {
    found("Chromium", on_path(&["chromium", "chromium-browser", "google-chrome"]))
}

fn on_path(names: &[&str]) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    let places: Vec<PathBuf> = env::split_paths(&path).collect();
    names
        .iter()
        .flat_map(|name| places.iter().map(move |place| place.join(name)))
        .find(|file| file.is_file())
}

fn found(what: &str, found: Option<PathBuf>) -> Option<PathBuf> {
    if found.is_none() {
        let required = env::var("CRANKLINE_BROWSER").is_ok_and(|wish| wish == "required");
        assert!(!required, "{what} is missing, and CRANKLINE_BROWSER asks for it");
        // Past the test runner, which keeps to itself what a passing test prints.
        let _ = writeln!(std::io::stderr(), "SKIPPED: {what} is missing, and a test needs it");
    }
    found
}

#[test]
fn a_browser_opens_files_and_reports_what_goes_wrong() {
    let folder = env::temp_dir().join(format!("crankline-browser-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let page = |name: &str, body: &str| {
        let path = folder.join(name);
        let head = "<!doctype html><html lang=en><title>before</title>";
        std::fs::write(&path, format!("{head}<main><h1>one</h1>{body}</main>")).unwrap();
        json!({"page": path})
    };
    let good = scenario(
        "harness",
        &page("good.html", "<script>document.title = 'after'</script>"),
    );
    let bad = answer(
        "harness",
        &page(
            "bad.html",
            "<img src=missing.png><script>fetch('http://localhost:9/')</script>",
        ),
    );
    std::fs::remove_dir_all(&folder).unwrap();
    let (Some(good), Some(bad)) = (good, bad) else { return };
    assert_eq!(good, json!({"title": "after", "barriers": []}));
    let has = |lines: &Value, words: &str| {
        lines
            .as_array()
            .unwrap()
            .iter()
            .any(|line| line.as_str().unwrap().contains(words))
    };
    assert!(
        has(&bad["found"]["barriers"], "image-alt"),
        "an image without words: {bad}"
    );
    assert!(
        has(&bad["complaints"], "ERR_FILE_NOT_FOUND"),
        "an image that is missing: {bad}"
    );
    assert!(
        has(&bad["complaints"], "asks for http://localhost:9/"),
        "a page that fetches: {bad}"
    );
}
