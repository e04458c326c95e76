//! The packs of scripts that Crankline ships with, embedded in the program.
//!
//! A folder beside this crate's sources that holds a `pack.toml` is a pack: its `.rhai` files are scripts, named
//! `PACK/NAME`, and `NAME.cases.toml` the worked examples of one. Nothing here runs a script.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::source::Sources;
use include_dir::{Dir, include_dir};
use serde::Deserialize;

static FOLDERS: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR");

/// A pack's `pack.toml`.
#[derive(Clone, Debug, Deserialize, PartialEq, Eq)]
pub struct Pack {
    /// Its name: `driveline`.
    pub name: String,
    /// Its version: `0.1.0`.
    pub version: String,
    /// What it is about, in one line.
    #[serde(default)]
    pub title: String,
    /// Packs whose scripts its own may import.
    #[serde(default)]
    pub uses: Vec<String>,
}

impl Pack {
    /// Of the text of a `pack.toml`.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn read(text: &str) -> Result<Self, toml::de::Error> {
        toml::from_str(text)
    }

    /// Whether its scripts may import one of this name.
    #[must_use]
    pub fn may_import(&self, script: &str) -> bool {
        let pack = pack_of(script).unwrap_or("");
        pack == self.name || self.uses.iter().any(|used| used == pack)
    }
}

/// The shipped packs, by name.
#[must_use]
pub fn packs() -> Vec<Pack> {
    let mut packs: Vec<Pack> = folders().filter_map(|folder| manifest(folder)).collect();
    packs.sort_by(|a, b| a.name.cmp(&b.name));
    packs
}

/// The shipped pack of this name.
#[must_use]
pub fn pack(name: &str) -> Option<Pack> {
    FOLDERS.get_dir(name).and_then(manifest)
}

/// Names of all shipped scripts, `PACK/NAME`, sorted.
#[must_use]
pub fn script_names() -> Vec<String> {
    let files = folders()
        .filter(|folder| manifest(folder).is_some())
        .flat_map(Dir::files);
    let names = files.filter_map(|file| file.path().to_str()?.strip_suffix(".rhai"));
    let mut names: Vec<String> = names.map(str::to_owned).collect();
    names.sort();
    names
}

/// Names of the shipped packs, sorted.
#[must_use]
pub fn pack_names() -> Vec<String> {
    packs().into_iter().map(|pack| pack.name).collect()
}

/// Names of a shipped pack's files, sorted.
#[must_use]
pub fn file_names(pack: &str) -> Vec<String> {
    let folder = FOLDERS.get_dir(pack).filter(|folder| manifest(folder).is_some());
    let files = folder.into_iter().flat_map(Dir::files);
    let names = files.filter_map(|file| file.path().file_name()?.to_str());
    let mut names: Vec<String> = names.map(str::to_owned).collect();
    names.sort();
    names
}

/// A file of a shipped pack: `pack.toml` of `driveline`.
#[must_use]
pub fn file(pack: &str, name: &str) -> Option<SourceText> {
    FOLDERS.get_dir(pack).filter(|folder| manifest(folder).is_some())?;
    let path = format!("{pack}/{name}");
    Some(SourceText {
        text: text(&path)?.to_owned(),
        name: path,
    })
}

/// The shipped script of this name: `driveline/joint-angles`.
#[must_use]
pub fn script(name: &str) -> Option<SourceText> {
    pack(pack_of(name)?)?;
    Some(SourceText {
        name: name.to_owned(),
        text: text(&format!("{name}.rhai"))?.to_owned(),
    })
}

/// The worked examples of a shipped script.
#[must_use]
pub fn cases(name: &str) -> Option<SourceText> {
    let file = format!("{name}.cases.toml");
    Some(SourceText {
        text: text(&file)?.to_owned(),
        name: file,
    })
}

/// The file of the demonstration with this name: `car.toml`.
#[must_use]
pub fn demonstration(name: &str) -> Option<SourceText> {
    let file = format!("demo/{name}");
    Some(SourceText {
        text: text(&file)?.to_owned(),
        name: file,
    })
}

/// The pack that a script of this name belongs to: `driveline` of `driveline/joint-angles`.
#[must_use]
pub fn pack_of(script: &str) -> Option<&str> {
    script.split_once('/').map(|(pack, _)| pack)
}

/// The shipped packs as a source: a script sees its own pack and those that its pack uses; a script of no pack sees all.
#[derive(Clone, Copy, Debug, Default)]
pub struct Shipped;

impl Sources for Shipped {
    fn import(&self, from: &str, path: &str) -> Option<SourceText> {
        match pack_of(from) {
            Some(own) => pack(own).filter(|own| own.may_import(path)).and_then(|_| script(path)),
            None => script(path),
        }
    }
}

fn folders() -> impl Iterator<Item = &'static Dir<'static>> {
    FOLDERS.dirs()
}

fn manifest(folder: &Dir<'_>) -> Option<Pack> {
    let file = folder.get_file(folder.path().join("pack.toml"))?;
    Pack::read(file.contents_utf8()?).ok()
}

fn text(path: &str) -> Option<&'static str> {
    FOLDERS.get_file(path)?.contents_utf8()
}
