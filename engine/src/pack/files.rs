//! What the files of a pack are called.

/// What a pack says of itself.
pub const MANIFEST: &str = "pack.toml";
/// The digests of a pack's files, in a pack that was sealed.
pub const SEAL: &str = "seal.toml";
/// Who sealed it.
pub const SIGNATURE: &str = "signature.toml";

/// What a pack may have beside its scripts and their cases.
const PLAIN: [&str; 5] = [MANIFEST, SEAL, SIGNATURE, "README.md", "LICENCE"];
/// Names that a widespread system keeps for devices, whatever ends them.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
const LONGEST: usize = 64;

/// Whether a pack may have a file of this name: a script, its cases, the manifest, a licence, a few words to read. All of
/// them lie in its folder itself, so no name leads anywhere else.
#[must_use]
pub fn is_file_of_pack(name: &str) -> bool {
    let stem = name.strip_suffix(".rhai").or_else(|| name.strip_suffix(".cases.toml"));
    stem.map_or_else(|| PLAIN.contains(&name), is_script_name)
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
