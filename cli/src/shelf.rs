//! Where scripts are found: packs, and files.

use crate::disk;
use crate::packs::{Collection, Desk, FoundPack, Origin, two_of_one_name, used};
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText, shown};
use crankline_engine::pack::MANIFEST;
use crankline_engine::report::AlteredPack;
use crankline_engine::source::Sources;
use crankline_scripts::pack_of;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};

/// Scripts of packs, and files. A file belongs to the pack whose `pack.toml` lies beside it and sees that pack's scripts
/// and those of the packs that it uses; a file of no pack sees all packs.
pub(crate) struct Shelf {
    /// What names of files are relative to.
    directory: PathBuf,
    /// Whether files in this folder and below are all that may be named: a job takes nothing from elsewhere.
    only_below: bool,
    packs: Collection,
    /// Packs on the disk that a file was taken from, by name.
    folders: RefCell<BTreeMap<String, FoundPack>>,
    /// Names of the packs that a script was taken from by its name.
    named: RefCell<BTreeSet<String>>,
}

/// A script that was found.
pub(crate) struct Found {
    pub(crate) text: SourceText,
    pub(crate) pack_version: Option<String>,
}

impl Shelf {
    /// What is seen from a desk.
    pub(crate) fn new(desk: &Desk) -> Self {
        Self {
            directory: desk.directory.clone(),
            only_below: desk.only_below,
            packs: desk.packs(),
            folders: RefCell::default(),
            named: RefCell::default(),
        }
    }

    /// A script by name, `driveline/joint-angles`, or a `.rhai` file.
    pub(crate) fn script(&self, name: &str) -> Result<Found, Diagnostic> {
        if has_extension(name, "rhai") {
            return self.file(name);
        }
        if has_extension(name, "zip") {
            let refusal = Refusal::new(
                "script",
                format!("`{name}` is a sealed pack: what is in it runs once it is added"),
            );
            let refusal = refusal.hint(format!(
                "crankline pack look {name}, which tells what is in it and runs nothing"
            ));
            return Err(refusal.hint(format!("crankline pack add {name}")).into());
        }
        let (pack, text) = self.packs.script(name)?;
        if let Some(folder) = self.folders.borrow().get(pack.name())
            && !is_one_place(folder, pack)
        {
            return Err(two_of_one_name(folder, pack).into());
        }
        self.take_named(pack);
        Ok(Found {
            pack_version: Some(pack.manifest.version.clone()),
            text,
        })
    }

    fn file(&self, name: &str) -> Result<Found, Diagnostic> {
        let is_below = Path::new(name)
            .components()
            .all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
        if self.only_below && !is_below {
            let message =
                format!("`{name}` is not in the job's folder: a job names scripts of packs and files below it");
            let refusal = Refusal::new("script", message);
            return Err(refusal
                .hint("put the file beside the job, or into a pack: crankline pack new")
                .into());
        }
        let path = self.directory.join(name);
        let mut text = match self.only_below {
            true => disk::read_within(&self.directory, name)?,
            false => disk::read(&path, name)?,
        };
        let stem = path.file_stem().and_then(|stem| stem.to_str()).unwrap_or(name);
        let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
        let manifest = folder.join(MANIFEST);
        if !manifest.is_file() {
            text.name = format!("{stem}.rhai");
            return Ok(Found {
                text,
                pack_version: None,
            });
        }
        let shown = Path::new(name).with_file_name(MANIFEST).display().to_string();
        let pack = FoundPack::in_folder(&folder, shown)?;
        text.name = format!("{}/{stem}", pack.name());
        let pack_version = Some(pack.manifest.version.clone());
        self.take_folder(pack)?;
        Ok(Found { text, pack_version })
    }

    /// A file's pack, which must be the only one of its name that anything is taken from.
    fn take_folder(&self, pack: FoundPack) -> Result<(), Diagnostic> {
        let name = pack.name().to_owned();
        let mut folders = self.folders.borrow_mut();
        if let Some(known) = folders.get(&name)
            && !is_one_place(known, &pack)
        {
            return Err(two_of_one_name(known, &pack).into());
        }
        if self.named.borrow().contains(&name)
            && let Some(known) = self.packs.find(&name)?
            && !is_one_place(known, &pack)
        {
            return Err(two_of_one_name(known, &pack).into());
        }
        used::note(&pack);
        folders.insert(name, pack);
        Ok(())
    }

    /// Something is taken from a pack by its name.
    fn take_named(&self, pack: &FoundPack) {
        used::note(pack);
        self.named.borrow_mut().insert(pack.name().to_owned());
    }

    /// The packs that anything was taken from and that somebody altered after they had been added.
    pub(crate) fn altered(&self) -> Vec<AlteredPack> {
        let (folders, named) = (self.folders.borrow(), self.named.borrow());
        let named = named.iter().filter(|name| !folders.contains_key(*name));
        let named = named.filter_map(|name| self.packs.find(name).ok().flatten());
        used::altered_of(folders.values().chain(named))
    }
}

fn is_one_place(one: &FoundPack, other: &FoundPack) -> bool {
    match (&one.origin, &other.origin) {
        (Origin::Folder(one), Origin::Folder(other)) => {
            one == other
                || one
                    .canonicalize()
                    .ok()
                    .is_some_and(|one| other.canonicalize().ok() == Some(one))
        }
        (one, other) => one == other,
    }
}

impl Sources for Shelf {
    fn import(&self, from: &str, path: &str) -> Option<SourceText> {
        let folder = pack_of(from).and_then(|pack| self.folders.borrow().get(pack).cloned());
        let Some(folder) = folder else {
            return self.named_in_packs(path, self.packs.import(from, path)?);
        };
        if !folder.may_import(path) {
            return None;
        }
        match path.strip_prefix(&format!("{}/", folder.name())) {
            Some(own) => folder.script(own).ok().flatten(),
            None => self.named_in_packs(path, self.packs.script(path).ok()?.1),
        }
    }
}

impl Shelf {
    /// The version of the pack that a script was taken from.
    pub(crate) fn version_of(&self, script: &str) -> Option<String> {
        let pack = pack_of(script)?;
        if let Some(folder) = self.folders.borrow().get(pack) {
            return Some(folder.manifest.version.clone());
        }
        let found = self.packs.find(pack).ok().flatten();
        found.map(|pack| pack.manifest.version.clone())
    }

    /// A script that was found by its name, unless a file's pack has taken the name of its pack.
    fn named_in_packs(&self, path: &str, text: SourceText) -> Option<SourceText> {
        let pack = pack_of(path)?;
        let pack_found = self.packs.find(pack).ok().flatten()?;
        if let Some(folder) = self.folders.borrow().get(pack)
            && !is_one_place(folder, pack_found)
        {
            return None;
        }
        self.take_named(pack_found);
        Some(text)
    }
}

/// Whether a file's name ends so.
pub(crate) fn has_extension(name: &str, extension: &str) -> bool {
    let own = Path::new(name).extension();
    own.is_some_and(|own| own.eq_ignore_ascii_case(extension))
}

/// A script's description: the `//!` lines at its top. Nobody may have read the script yet, so that what a screen acts on in
/// it is shown by a picture.
pub(crate) fn purpose(text: &str) -> String {
    let text = shown(text);
    let lines = text.lines().map(str::trim).skip_while(|line| line.is_empty());
    let lines: Vec<&str> = lines
        .map_while(|line| line.strip_prefix("//!"))
        .map(str::trim)
        .collect();
    lines.join("\n")
}

/// A script's functions that others may call, each with its `///` lines on one line: `strength(angle)`.
pub(crate) fn functions(text: &str) -> Vec<(String, String)> {
    let text = shown(text);
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
