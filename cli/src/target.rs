//! What is to be run: a shipped script, or a file.

use crate::disk;
use crankline_engine::diagnostic::{Refusal, SourceText, nearest};
use crankline_engine::source::Sources;
use crankline_scripts::{Pack, Shipped, pack, pack_of, script, script_names};
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// A script with what it may import.
pub(crate) struct Target {
    pub(crate) text: SourceText,
    pub(crate) pack_version: Option<String>,
    pub(crate) sources: Rc<dyn Sources>,
}

/// Finds a script by name, or a `.rhai` file.
pub(crate) fn find(name: &str, directory: &Path) -> Result<Target, Refusal> {
    let path = Path::new(name);
    let is_file = path
        .extension()
        .is_some_and(|extension| extension.eq_ignore_ascii_case("rhai"));
    if is_file {
        return file(&directory.join(path), name);
    }
    if let Some(text) = script(name) {
        return Ok(Target {
            pack_version: pack_of(name).and_then(pack).map(|pack| pack.version),
            text,
            sources: Rc::new(Shipped),
        });
    }
    Err(unknown(name))
}

/// A shipped script that is not there: the nearest, or those of the pack, or how to find one.
fn unknown(name: &str) -> Refusal {
    let names = script_names();
    let whole = nearest(name, names.iter().map(String::as_str));
    let ending = || {
        let last = |name: &str| name.rsplit('/').next().unwrap_or("").to_owned();
        names.iter().find(|known| last(known) == last(name)).map(String::as_str)
    };
    let refusal = Refusal::new("script", format!("there is no script `{name}`"));
    match whole.or_else(ending) {
        Some(near) => refusal.hint(format!("did you mean `{near}`?")),
        None => refusal.hint("`crankline list` shows all; a file of your own ends in .rhai"),
    }
}

/// A file; where a `pack.toml` lies beside it, it belongs to that pack and may import its other scripts.
fn file(path: &Path, name: &str) -> Result<Target, Refusal> {
    let mut text = disk::read(path, name)?;
    let stem = path
        .file_stem()
        .and_then(|stem| stem.to_str())
        .unwrap_or(name)
        .to_owned();
    let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
    let manifest = folder.join("pack.toml");
    if !manifest.is_file() {
        text.name = format!("{stem}.rhai");
        return Ok(Target {
            text,
            pack_version: None,
            sources: Rc::new(Shipped),
        });
    }
    let manifest = disk::read(&manifest, "pack.toml")?;
    let pack = Pack::read(&manifest.text)
        .map_err(|error| Refusal::new("pack", format!("pack.toml beside `{name}`: {}", error.message())))?;
    text.name = format!("{}/{stem}", pack.name);
    Ok(Target {
        text,
        pack_version: Some(pack.version.clone()),
        sources: Rc::new(Folder { pack, folder }),
    })
}

/// A pack that is a folder on the disk: its scripts see one another and the shipped packs that it uses.
struct Folder {
    pack: Pack,
    folder: PathBuf,
}

impl Sources for Folder {
    fn import(&self, from: &str, path: &str) -> Option<SourceText> {
        if pack_of(from) != Some(self.pack.name.as_str()) {
            return Shipped.import(from, path);
        }
        if !self.pack.may_import(path) {
            return None;
        }
        let Some(own) = path.strip_prefix(&format!("{}/", self.pack.name)) else {
            return script(path);
        };
        // A plain name: no way out of the folder.
        let plain = own.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '_');
        let file = self.folder.join(format!("{own}.rhai"));
        plain.then(|| disk::read(&file, path).ok()).flatten()
    }
}
