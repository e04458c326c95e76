//! Lessons and exercise sheets.
//!
//! | file | what it is |
//! |---|---|
//! | `letters.rs` | formulas made readable |
//! | `slips.rs` | wrong answers against closed forms |
//! | `sheets.rs` | the same seed, the same sheets; answers are those of `run` |
//! | `pages.rs` | walked and answered in a browser |

mod letters;
mod pages;
mod sheets;
mod slips;

use super::check::run;
use serde_json::Value;

/// What a command writes as JSON.
fn json(arguments: &[&str]) -> Value {
    let ran = run(&[arguments, &["--format", "json"]].concat());
    assert!(ran.code < 2, "{arguments:?}: {}", ran.stderr);
    serde_json::from_str(&ran.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}"))
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// The line of a step.
#[track_caller]
fn line<'a>(lesson: &'a Value, step: &str) -> &'a Value {
    let found = list(lesson, "lines").iter().find(|line| line["step"] == step);
    found.unwrap_or_else(|| panic!("no line of `{step}`"))
}
