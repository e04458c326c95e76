//! How long pages take in a browser: to load, to follow a reading that moves, to know the ± again.
//!
//! `cargo bench -p crankline-tests --bench page`. It takes what `tests/browser` takes.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

#[allow(
    dead_code,
    clippy::unwrap_used,
    reason = "the tests' own browser, of which this takes one function"
)]
#[path = "../browser/mod.rs"]
mod browser;
#[allow(dead_code, reason = "the tests' own, of which this takes a part")]
#[path = "../program.rs"]
mod program;

use program::Program;
use serde_json::{Value, json};

/// The largest script, and the job that uses most of them; of each a reading whose slider is moved.
const PAGES: [(&str, &str); 2] = [
    ("crossmember/tube-loads", "mount.z"),
    (
        concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml"),
        "gearbox_plan",
    ),
];

fn main() {
    let folder = std::env::temp_dir().join(format!("crankline-page-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a temporary folder can be made");
    println!("milliseconds            load   first  median    most       ±");
    for (target, reading) in PAGES {
        let file = folder.join("page.html");
        std::fs::write(&file, html(target)).expect("the page can be written");
        let Some(found) = browser::scenario("pace", &json!({"page": file, "move": reading})) else {
            break;
        };
        let number = |value: &Value| value.as_f64().unwrap_or(f64::NAN);
        let name = target.rsplit('/').next().unwrap_or(target);
        println!(
            "{name:<18} {:>9.0} {:>7.1} {:>7.1} {:>7.1} {:>7.0}",
            number(&found["load"]),
            number(&found["first"]["all"]),
            number(&found["median"]["all"]),
            number(&found["most"]["all"]),
            number(&found["judged"]),
        );
    }
    let _ = std::fs::remove_dir_all(&folder);
}

fn html(target: &str) -> String {
    let program = Program::in_folder(std::env::current_dir().unwrap_or_default());
    program.run(["run", target, "--format", "html"]).stdout
}
