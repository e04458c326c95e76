//! Where scripts are found: shipped packs, and files.

use crate::disk;
use crankline_engine::diagnostic::{Refusal, SourceText, nearest};
use crankline_engine::source::Sources;
use crankline_scripts::{Pack, Shipped, pack, pack_of, script, script_names};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Shipped scripts, and files below a directory. A file belongs to the pack whose `pack.toml` lies beside it and sees
/// that pack's scripts and those of the packs that it uses; a file of no pack sees the shipped packs.
pub(crate) struct Shelf {
    /// What names of files are relative to.
    directory: PathBuf,
    /// Packs on the disk that a file was taken from, by name.
    folders: RefCell<BTreeMap<String, Folder>>,
}

/// A script that was found.
pub(crate) struct Found {
    pub(crate) text: SourceText,
    pub(crate) pack_version: Option<String>,
}

#[derive(Clone)]
struct Folder {
    pack: Pack,
    path: PathBuf,
}

impl Shelf {
    pub(crate) fn new(directory: PathBuf) -> Self {
        Self {
            directory,
            folders: RefCell::default(),
        }
    }

    /// A script by name, `driveline/joint-angles`, or a `.rhai` file.
    pub(crate) fn script(&self, name: &str) -> Result<Found, Refusal> {
        if has_extension(name, "rhai") {
            return self.file(name);
        }
        let text = script(name).ok_or_else(|| unknown(name))?;
        Ok(Found {
            pack_version: pack_of(name).and_then(pack).map(|pack| pack.version),
            text,
        })
    }

    fn file(&self, name: &str) -> Result<Found, Refusal> {
        let path = self.directory.join(name);
        let mut text = disk::read(&path, name)?;
        let stem = path.file_stem().and_then(|stem| stem.to_str()).unwrap_or(name);
        let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
        let manifest = folder.join("pack.toml");
        if !manifest.is_file() {
            text.name = format!("{stem}.rhai");
            return Ok(Found {
                text,
                pack_version: None,
            });
        }
        let manifest = disk::read(&manifest, "pack.toml")?;
        let pack = Pack::read(&manifest.text)
            .map_err(|error| Refusal::new("pack", format!("pack.toml beside `{name}`: {}", error.message())))?;
        text.name = format!("{}/{stem}", pack.name);
        let pack_version = Some(pack.version.clone());
        let known = pack.name.clone();
        self.folders.borrow_mut().insert(known, Folder { pack, path: folder });
        Ok(Found { text, pack_version })
    }
}

impl Sources for Shelf {
    fn import(&self, from: &str, path: &str) -> Option<SourceText> {
        let folder = pack_of(from).and_then(|pack| self.folders.borrow().get(pack).cloned());
        let Some(folder) = folder else {
            return Shipped.import(from, path);
        };
        if !folder.pack.may_import(path) {
            return None;
        }
        let Some(own) = path.strip_prefix(&format!("{}/", folder.pack.name)) else {
            return script(path);
        };
        // A plain name: no way out of the folder.
        let plain = own.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_');
        let file = folder.path.join(format!("{own}.rhai"));
        plain.then(|| disk::read(&file, path).ok()).flatten()
    }
}

/// Whether a file's name ends so.
pub(crate) fn has_extension(name: &str, extension: &str) -> bool {
    let own = Path::new(name).extension();
    own.is_some_and(|own| own.eq_ignore_ascii_case(extension))
}

/// A script's description: the `//!` lines at its top.
pub(crate) fn purpose(text: &str) -> String {
    let lines = text.lines().map(str::trim).skip_while(|line| line.is_empty());
    let lines: Vec<&str> = lines
        .map_while(|line| line.strip_prefix("//!"))
        .map(str::trim)
        .collect();
    lines.join("\n")
}

/// A script's functions that others may call, each with its `///` lines on one line: `strength(angle)`.
pub(crate) fn functions(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut about: Vec<&str> = Vec::new();
    for (at, line) in text.lines().enumerate() {
        if let Some(words) = line.strip_prefix("///") {
            about.push(words.trim());
            continue;
        }
        if let Some(rest) = line.strip_prefix("fn ") {
            // Its parameters may go on over several lines.
            let below = text.lines().skip(at + 1);
            let head = std::iter::once(rest).chain(below).collect::<Vec<_>>().join(" ");
            let signature = head.split_inclusive(')').next().unwrap_or(rest);
            let signature: Vec<&str> = signature.split_whitespace().collect();
            found.push((signature.join(" "), about.join(" ")));
        }
        about.clear();
    }
    found
}

/// The text up to the first empty line, on one line.
pub(crate) fn first_paragraph(text: &str) -> String {
    let lines = text.lines().skip_while(|line| line.trim().is_empty());
    let lines: Vec<&str> = lines.take_while(|line| !line.trim().is_empty()).collect();
    lines.join(" ")
}

/// A shipped script that is not there: the nearest, or the one of that name in a pack, or how to find one.
fn unknown(name: &str) -> Refusal {
    let names = script_names();
    let whole = nearest(name, names.iter().map(String::as_str));
    let last = |name: &str| name.rsplit('/').next().unwrap_or("").to_owned();
    let ending = || names.iter().find(|known| last(known) == last(name)).map(String::as_str);
    let refusal = Refusal::new("script", format!("there is no script `{name}`"));
    match whole.or_else(ending) {
        Some(near) => refusal.hint(format!("did you mean `{near}`?")),
        None => refusal.hint("`crankline list` shows all; a file of your own ends in .rhai, a job in .toml"),
    }
}
