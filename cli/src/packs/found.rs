//! A pack that was found.

use crate::disk;
use crate::watch;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::pack::{LARGEST_ARCHIVE, MANIFEST, Manifest, PackFile, SEAL, is_file_of_pack};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// More files are no pack.
const MOST_FILES: usize = 2000;
/// What systems leave in folders that somebody looks at.
const OF_SYSTEMS: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];

/// Where a pack is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Origin {
    /// In the program.
    Shipped,
    /// In a folder.
    Folder(PathBuf),
    /// In a sealed file.
    Sealed,
}

/// A pack with its files, as they were when it was found: what somebody does to them meanwhile is not seen.
#[derive(Clone, Debug)]
pub(crate) struct FoundPack {
    pub(crate) manifest: Manifest,
    pub(crate) origin: Origin,
    files: Arc<Vec<FoundFile>>,
}

/// A file of a pack, or why it cannot be read.
#[derive(Clone, Debug)]
struct FoundFile {
    name: String,
    bytes: Result<Vec<u8>, Refusal>,
}

impl FoundPack {
    /// One that the program ships.
    pub(crate) fn shipped(name: &str) -> Result<Self, Diagnostic> {
        let files = crankline_scripts::file_names(name).into_iter().map(|file| {
            let text = crankline_scripts::file(name, &file).map(|text| text.text.into_bytes());
            FoundFile {
                bytes: Ok(text.unwrap_or_default()),
                name: file,
            }
        });
        Self::of(files.collect(), Origin::Shipped, MANIFEST.to_owned())
    }

    /// One in a folder; `shown` is what messages call its manifest.
    pub(crate) fn in_folder(folder: &Path, shown: String) -> Result<Self, Diagnostic> {
        let names = names_in(folder);
        if names.len() > MOST_FILES {
            let message = format!("`{}` has more than {MOST_FILES} files of a pack", folder.display());
            return Err(Refusal::new("pack", message).into());
        }
        let size = |name: &String| folder.join(name).metadata().map_or(0, |about| about.len());
        if names.iter().map(size).sum::<u64>() > LARGEST_ARCHIVE {
            let message = format!(
                "the files of `{}` are larger than {LARGEST_ARCHIVE} bytes in all",
                folder.display()
            );
            return Err(Refusal::new("pack", message)
                .hint("a pack holds scripts, worked examples and words")
                .into());
        }
        let files = names.into_iter().map(|name| FoundFile {
            bytes: own_file(folder, &name),
            name,
        });
        Self::of(files.collect(), Origin::Folder(folder.to_path_buf()), shown)
    }

    /// One that was sealed.
    pub(crate) fn sealed(manifest: Manifest, files: &[PackFile]) -> Self {
        let files = files.iter().map(|file| FoundFile {
            name: file.name.clone(),
            bytes: Ok(file.bytes.clone()),
        });
        Self {
            manifest,
            origin: Origin::Sealed,
            files: Arc::new(files.collect()),
        }
    }

    fn of(files: Vec<FoundFile>, origin: Origin, shown: String) -> Result<Self, Diagnostic> {
        let manifest = files.iter().find(|file| file.name == MANIFEST);
        let bytes = match manifest.map(|file| &file.bytes) {
            Some(Ok(bytes)) => bytes.clone(),
            Some(Err(refusal)) => return Err(refusal.clone().into()),
            None => return Err(Refusal::new("pack", format!("there is no file `{shown}`")).into()),
        };
        Ok(Self {
            manifest: Manifest::read(disk::text_of(bytes, &shown)?)?,
            origin,
            files: Arc::new(files),
        })
    }

    pub(crate) fn name(&self) -> &str {
        &self.manifest.name
    }

    /// Whether its scripts may import one of this name: of its own, or of a pack that it names.
    pub(crate) fn may_import(&self, script: &str) -> bool {
        let pack = crankline_scripts::pack_of(script).unwrap_or("");
        pack == self.manifest.name || self.manifest.uses.iter().any(|used| used.name == pack)
    }

    /// One of its scripts: `joint-angles` of `driveline/joint-angles`.
    pub(crate) fn script(&self, own: &str) -> Result<Option<SourceText>, Refusal> {
        let text = self.file(&format!("{own}.rhai"))?;
        Ok(text.map(|text| SourceText {
            name: format!("{}/{own}", self.manifest.name),
            ..text
        }))
    }

    /// The worked examples of one of its scripts.
    pub(crate) fn cases(&self, own: &str) -> Result<Option<SourceText>, Refusal> {
        self.file(&format!("{own}.cases.toml"))
    }

    /// One of its files.
    pub(crate) fn file(&self, name: &str) -> Result<Option<SourceText>, Refusal> {
        let Some(file) = self.files.iter().find(|file| file.name == name) else {
            return Ok(None);
        };
        disk::text_of(file.bytes.clone()?, &format!("{}/{name}", self.manifest.name)).map(Some)
    }

    /// All its files.
    pub(crate) fn files(&self) -> Result<Vec<PackFile>, Refusal> {
        let file = |file: &FoundFile| {
            Ok(PackFile {
                name: file.name.clone(),
                bytes: file.bytes.clone()?,
            })
        };
        self.files.iter().map(file).collect()
    }

    /// Names of its files, sorted.
    pub(crate) fn file_names(&self) -> impl Iterator<Item = &str> {
        self.files.iter().map(|file| file.name.as_str())
    }

    /// Whether it lies in a folder to which it came sealed.
    pub(crate) fn was_added(&self) -> bool {
        matches!(self.origin, Origin::Folder(_)) && self.file_names().any(|name| name == SEAL)
    }

    /// The folder in which it lies.
    pub(crate) fn folder(&self) -> Option<&Path> {
        match &self.origin {
            Origin::Folder(folder) => Some(folder),
            Origin::Shipped | Origin::Sealed => None,
        }
    }

    /// Names of its scripts without the pack's, sorted.
    pub(crate) fn scripts(&self) -> Vec<String> {
        let scripts = self.file_names().filter_map(|name| name.strip_suffix(".rhai"));
        let mut scripts: Vec<String> = scripts.map(str::to_owned).collect();
        scripts.sort();
        scripts
    }

    /// What lies in its folder and is no file of it: it would be lost with the folder.
    pub(crate) fn stranger(&self) -> Option<String> {
        let entries = fs::read_dir(self.folder()?).into_iter().flatten().flatten();
        let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
        let mut strangers: Vec<String> = names
            .filter(|name| !OF_SYSTEMS.contains(&name.as_str()) && !self.file_names().any(|own| own == name))
            .collect();
        strangers.sort();
        strangers.into_iter().next()
    }

    /// Where it is, in words.
    pub(crate) fn place(&self) -> String {
        match &self.origin {
            Origin::Shipped => "the one that Crankline ships".to_owned(),
            Origin::Folder(folder) => folder.display().to_string(),
            Origin::Sealed => "the one in the file".to_owned(),
        }
    }
}

/// A file in a pack's folder, by a plain name: nothing leads out of the folder, a link neither.
fn own_file(folder: &Path, name: &str) -> Result<Vec<u8>, Refusal> {
    let path = folder.join(name);
    if path.symlink_metadata().is_ok_and(|about| about.is_symlink()) {
        let message = format!("`{}` is a link: a pack has files of its own", path.display());
        return Err(Refusal::new("pack", message).hint("put a copy in its place"));
    }
    disk::read_bytes(&path, &path.display().to_string(), LARGEST_ARCHIVE)
}

/// Names of the files of a pack in a folder, sorted.
fn names_in(folder: &Path) -> Vec<String> {
    watch::folder(folder);
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| is_file_of_pack(name)).collect();
    names.sort();
    names
}
