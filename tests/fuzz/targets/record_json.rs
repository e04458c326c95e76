//! Records of runs, as `run --format json` writes them: any JSON is read and compared with itself, or refused.
#![no_main]

use crankline_engine::quantity::text::System;
use crankline_engine::report::{Record, compare, comparison_json, comparison_text, unpainted};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(value) = serde_json::from_str(text) else { return };
    let (Ok(a), Ok(b)) = (Record::read(&value, "a.json"), Record::read(&value, "b.json")) else { return };
    let Ok(comparison) = compare(&a, &b) else { return };
    let _ = comparison_json(&comparison).to_string();
    for system in [None, Some(System::Inch)] {
        let _ = comparison_text(&comparison, true, system, unpainted);
    }
});
