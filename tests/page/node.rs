//! Runs a driver with cases.

use serde_json::Value;
use std::path::Path;
use std::process::Command;

/// Runs `tests/page/DRIVER` with cases, and fails with what it says is wrong. What it measured is left in the target
/// folder, as `tmp/page/NAME-measured.json`.
#[track_caller]
pub(crate) fn run(driver: &str, name: &str, cases: &Value) {
    let Some(node) = crate::browser::node() else { return };
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page");
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(format!("{name}.json"));
    std::fs::write(&file, cases.to_string()).unwrap();
    let driver = Path::new(env!("CARGO_MANIFEST_DIR")).join("page").join(driver);
    let output = Command::new(node).arg(driver).arg(&file).output().unwrap();
    let said = String::from_utf8_lossy(&output.stdout);
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{name}: {errors}");
    let said: Value = serde_json::from_str(&said).unwrap_or_else(|error| panic!("{name}: {error}: {said}"));
    let wrong = said["wrong"].as_array().unwrap();
    assert!(
        wrong.is_empty(),
        "{name}: {} wrong, {:#?}",
        wrong.len(),
        &wrong[..wrong.len().min(5)]
    );
    std::fs::write(
        folder.join(format!("{name}-measured.json")),
        said["measured"].to_string(),
    )
    .unwrap();
    std::fs::remove_file(&file).unwrap();
}

/// Numbers by their bits, sixteen hexadecimal digits each.
pub(super) fn bits(numbers: &[f64]) -> String {
    numbers.iter().fold(String::new(), |mut text, number| {
        text.push_str(&format!("{:016x}", number.to_bits()));
        text
    })
}
