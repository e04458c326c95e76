//! Scripts and cases as they lie in the scripts folder.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::source::Sources;
use std::path::{Path, PathBuf};

/// Folders of the packs.
pub(super) const PACKS: [&str; 3] = ["driveline", "gearing", "harness"];

/// Where the packs lie.
pub(super) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scripts")
}

/// Names of a pack's scripts, modules too, in order: `driveline/cardan`.
pub(super) fn scripts(pack: &str) -> Vec<String> {
    let entries = std::fs::read_dir(folder().join(pack)).unwrap_or_else(|error| panic!("{pack}: {error}"));
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.unwrap().file_name().into_string().ok())
        .filter_map(|file| file.strip_suffix(".rhai").map(|name| format!("{pack}/{name}")))
        .collect();
    names.sort();
    names
}

/// A file of the folder.
pub(super) fn read(file: &str) -> String {
    std::fs::read_to_string(folder().join(file)).unwrap_or_else(|error| panic!("{file}: {error}"))
}

/// A script's text.
pub(super) fn text(name: &str) -> SourceText {
    SourceText {
        name: name.to_owned(),
        text: read(&format!("{name}.rhai")),
    }
}

/// The folder as the door through which imports come.
pub(super) struct Shelf;

impl Sources for Shelf {
    fn import(&self, _from: &str, path: &str) -> Option<SourceText> {
        let text = std::fs::read_to_string(folder().join(format!("{path}.rhai"))).ok()?;
        Some(SourceText {
            name: path.to_owned(),
            text,
        })
    }
}
