//! Cases of text for the page's script.

use super::node::run;
use serde_json::{Value, json};

/// Numbers go out as text, so that infinities and -0 come through.
pub(super) fn text_of(number: f64) -> Value {
    json!(format!("{number:e}"))
}

/// The script finds what was expected in all of the cases.
#[track_caller]
pub(super) fn agrees(name: &str, cases: &Value) {
    assert!(!cases["cases"].as_array().unwrap().is_empty(), "there are cases");
    run("text.mjs", name, cases);
}
