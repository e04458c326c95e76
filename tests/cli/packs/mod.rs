//! Packs on the disk, as somebody uses them.

mod adapted;
mod altered;
mod broken;
mod compared;
mod exchanged;
mod killed;
mod sealed;
mod shelf;
mod together;
mod told;
mod versions;

pub(super) use together::{WORKS_IN, answered, crankline, told, with_versions};

use super::check::{Folder, Ran};
use std::path::Path;

/// Runs with the packs in `mine`.
fn with_mine(folder: &Folder, arguments: &[&str]) -> Ran {
    folder.run(&[arguments, &["--packs", "mine"]].concat())
}

/// All that was said, with `DIR` for the folder that nobody has twice.
fn said(folder: &Folder, ran: &Ran) -> String {
    let text = format!("{}{}(exit code {})\n", ran.stdout, ran.stderr, ran.code);
    text.replace(&folder.0.display().to_string(), "DIR")
}

/// Writes a pack of one script into `PLACE/FOLDER`.
fn put_pack(folder: &Folder, place: &str, name: &str, uses: &str, script: (&str, &str)) {
    std::fs::create_dir_all(folder.0.join(place)).unwrap();
    let manifest = format!("format = 1\nname = \"{name}\"\nversion = \"0.3.0\"\nuses = [{uses}]\n");
    folder.put(&format!("{place}/pack.toml"), &manifest);
    folder.put(&format!("{place}/{}.rhai", script.0), script.1);
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

const DOUBLE: &str = "//! Doubles a length.\ninput a = 3.mm : \"A\";\nstep b = 2.0 * a : \"Twice\";\n";
