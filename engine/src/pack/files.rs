//! What the files of a pack are called.

/// What a pack says of itself.
pub const MANIFEST: &str = "pack.toml";
/// The digests of a pack's files, in a pack that was sealed.
pub const SEAL: &str = "seal.toml";
/// Who sealed it.
pub const SIGNATURE: &str = "signature.toml";

/// What a pack may have beside its scripts and their cases; terms of use under any of their usual names.
const PLAIN: [&str; 13] = [
    MANIFEST,
    SEAL,
    SIGNATURE,
    "README.md",
    "LICENCE",
    "LICENCE.md",
    "LICENCE.txt",
    "LICENSE",
    "LICENSE.md",
    "LICENSE.txt",
    "COPYING",
    "COPYING.md",
    "COPYING.txt",
];
/// Names that a widespread system keeps for devices, whatever ends them.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
const LONGEST: usize = 64;

/// Whether a pack may have a file of this name: a script, its cases, the manifest, a licence, a few words to read. All of
/// them lie in its folder itself, so no name leads anywhere else.
#[must_use]
pub fn is_file_of_pack(name: &str) -> bool {
    stem(name).map_or_else(|| PLAIN.contains(&name), is_script_name)
}

/// Why a file is none of a pack, to follow its name: `, which is no file of a pack`.
#[must_use]
pub fn why_no_file(name: &str) -> &'static str {
    match stem(name) {
        Some(stem) if stem.contains(char::is_whitespace) => "which has a space in its name",
        Some(_) => "whose name is none of a script: letters, digits, - and _ only",
        None => "which is no file of a pack",
    }
}

/// The name of the script that a file is, or has the cases of.
fn stem(name: &str) -> Option<&str> {
    name.strip_suffix(".rhai").or_else(|| name.strip_suffix(".cases.toml"))
}

/// Whether a script may be called so within its pack: letters, digits, `-` and `_`.
#[must_use]
pub fn is_script_name(name: &str) -> bool {
    let plain = |letter: char| letter.is_alphanumeric() || letter == '-' || letter == '_';
    !name.is_empty() && name.chars().count() <= LONGEST && name.chars().all(plain) && !is_device(name)
}

/// Whether a widespread system keeps a name for a device.
pub(super) fn is_device(name: &str) -> bool {
    let name = name.to_lowercase();
    let numbered = ["com", "lpt"].iter().filter_map(|port| name.strip_prefix(port));
    let is_port = numbered
        .into_iter()
        .any(|number| number.len() == 1 && number.chars().all(|digit| digit.is_ascii_digit()));
    DEVICES.contains(&name.as_str()) || is_port
}
