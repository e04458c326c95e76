//! Check values from outside the project.
//!
//! `open.json` was computed with independent libraries (`open.md`), `published.json` comes from textbooks, handbooks and
//! standards (`published.md`); each case names its source. [`case`] finds one by its name.

mod coverage;

use serde_json::Value;
use std::sync::LazyLock;

static CASES: LazyLock<Vec<Value>> = LazyLock::new(|| {
    [include_str!("open.json"), include_str!("published.json")]
        .iter()
        .flat_map(|text| serde_json::from_str::<Vec<Value>>(text).unwrap())
        .collect()
});

/// A check value.
#[derive(Debug)]
pub(crate) struct Case {
    pub(crate) id: &'static str,
    pub(crate) value: f64,
    pub(crate) unit: &'static str,
    pub(crate) relative_tolerance: f64,
}

/// The case of this name.
pub(crate) fn case(id: &str) -> Case {
    let found = CASES
        .iter()
        .find(|case| case["id"] == id)
        .unwrap_or_else(|| panic!("no case {id}"));
    Case {
        id: found["id"].as_str().unwrap(),
        value: found["expected"]["value"].as_f64().unwrap(),
        unit: found["expected"]["unit"].as_str().unwrap(),
        relative_tolerance: found["rel_tol"].as_f64().unwrap(),
    }
}

impl Case {
    /// Fails unless a value in the case's own unit is within its tolerance, or `at_least` where that is wider.
    pub(crate) fn check_within(&self, value: f64, at_least: f64) {
        let tolerance = self.relative_tolerance.max(at_least) * self.value.abs();
        let off = (value - self.value).abs();
        assert!(
            off <= tolerance,
            "{}: {value} {}, expected {} ± {tolerance}",
            self.id,
            self.unit,
            self.value
        );
    }
}
