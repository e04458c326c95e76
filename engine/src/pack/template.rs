//! A new pack, which works as it is and explains itself.

const FILES: [(&str, &str); 4] = [
    (super::MANIFEST, include_str!("template/pack.toml")),
    ("README.md", include_str!("template/README.md")),
    ("tube-weight.rhai", include_str!("template/tube-weight.rhai")),
    (
        "tube-weight.cases.toml",
        include_str!("template/tube-weight.cases.toml"),
    ),
];

/// The files of a new pack of this name, each with its text.
#[must_use]
pub fn new_pack(name: &str) -> Vec<(String, String)> {
    let files = FILES
        .iter()
        .map(|(file, text)| ((*file).to_owned(), text.replace("NAME", name)));
    files.collect()
}

/// The manifest of a new pack that has no scripts yet.
#[must_use]
pub fn new_manifest(name: &str) -> String {
    include_str!("template/pack.toml").replace("NAME", name)
}
