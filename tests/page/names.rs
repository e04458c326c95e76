//! The page's scripts are joined into one: each of their names stands for one thing.

use std::collections::BTreeMap;
use std::path::Path;

#[test]
fn every_name_of_the_pages_scripts_is_declared_once() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../engine/src/report/page/script");
    let mut declared: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        for name in text.lines().filter_map(name) {
            declared.entry(name.to_owned()).or_default().push(file.clone());
        }
    }
    assert!(declared.len() > 100, "the scripts are found");
    declared.retain(|_, files| files.len() > 1);
    assert!(declared.is_empty(), "{declared:#?}");
}

/// The name that a line at the top level declares.
fn name(line: &str) -> Option<&str> {
    let line = line.strip_prefix("export ").unwrap_or(line);
    let line = line.strip_prefix("async ").unwrap_or(line);
    let words = ["function* ", "function ", "const ", "let ", "class "];
    let rest = words.iter().find_map(|word| line.strip_prefix(word))?;
    rest.split(|letter: char| !(letter.is_alphanumeric() || letter == '_' || letter == '$'))
        .next()
}
