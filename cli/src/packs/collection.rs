//! All packs by name. Nothing shadows anything: two of one name are an error that says which is which.

use super::found::FoundPack;
use super::unknown::no_script;
use crate::shelf::has_extension;
use crate::watch;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::pack::{MANIFEST, Manifest, UsedPack};
use crankline_scripts::pack_of;
use std::fs;
use std::path::{Path, PathBuf};

/// What begins the name of a folder that was moved out of the way of a newer one: until that one is in its place, it is
/// the pack.
pub(crate) const MOVED: &str = ".old-";

/// The shipped packs and those in folders.
pub(crate) struct Collection {
    packs: Vec<FoundPack>,
    broken: Vec<BrokenPack>,
    /// The places in which packs were looked for, as messages call them.
    places: Vec<String>,
}

/// What lies where a pack would, and is none: its manifest cannot be read, or there is none beside its scripts.
pub(crate) struct BrokenPack {
    /// What its folder is called.
    pub(crate) name: String,
    /// Where it is.
    pub(crate) place: String,
    /// Why it is none.
    pub(crate) error: Diagnostic,
}

impl Collection {
    /// The shipped packs, and those that lie in these places, each in a folder of its own.
    pub(crate) fn of<'a>(places: impl Iterator<Item = &'a PathBuf>) -> Self {
        let mut collection = Self {
            packs: Vec::new(),
            broken: Vec::new(),
            places: Vec::new(),
        };
        for name in crankline_scripts::pack_names() {
            collection.add((&name, ""), FoundPack::shipped(&name));
        }
        let mut seen: Vec<PathBuf> = Vec::new();
        for folder in places.flat_map(|place| folders(place)) {
            let known = fs::canonicalize(&folder).unwrap_or_else(|_| folder.clone());
            if !seen.contains(&known) {
                seen.push(known);
                collection.add_folder(folder);
            }
        }
        collection
    }

    /// The same with a pack in place of those of its name.
    pub(crate) fn with(mut self, pack: FoundPack) -> Self {
        self.packs.retain(|known| known.name() != pack.name());
        self.packs.push(pack);
        self
    }

    /// The same, with what messages call the places in which packs were looked for.
    pub(super) fn looked_in(mut self, places: Vec<String>) -> Self {
        self.places = places;
        self
    }

    /// The places in which packs were looked for, as messages call them.
    pub(super) fn places(&self) -> &[String] {
        &self.places
    }

    fn add_folder(&mut self, folder: PathBuf) {
        let name = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let place = folder.display().to_string();
        let manifest = folder.join(MANIFEST);
        let found = if manifest.is_file() {
            FoundPack::in_folder(&folder, manifest.display().to_string())
        } else {
            let refusal = Refusal::new("pack", format!("`{place}` has scripts and no {MANIFEST}"));
            let hint = "crankline pack new shows what stands in one: `format`, `name`, `version`";
            Err(refusal.hint(hint).into())
        };
        self.add((&name, &place), found);
    }

    fn add(&mut self, (name, place): (&str, &str), found: Result<FoundPack, Diagnostic>) {
        match found {
            Ok(pack) => self.packs.push(pack),
            Err(error) => self.broken.push(BrokenPack {
                name: name.to_owned(),
                place: place.to_owned(),
                error,
            }),
        }
    }

    /// The first pack that one with this manifest uses and that is not here, and that in words.
    ///
    /// # Errors
    /// Where two have the name of one that it uses.
    pub(crate) fn missing<'a>(&self, manifest: &'a Manifest) -> Result<Option<(&'a UsedPack, String)>, Diagnostic> {
        for used in &manifest.uses {
            if self.find(&used.name)?.is_none() {
                let message = format!("the pack `{}` uses `{}`, which is not here", manifest.name, used.name);
                return Ok(Some((used, message)));
            }
        }
        Ok(None)
    }

    /// What lies where packs do and is none.
    pub(crate) fn broken(&self) -> &[BrokenPack] {
        &self.broken
    }

    /// The pack of a name that lies in this place; of several the one in the folder of that name. Others elsewhere, which
    /// have that name too, do not matter.
    ///
    /// # Errors
    /// Where two have it.
    pub(crate) fn in_place(&self, name: &str, place: &Path) -> Result<Option<&FoundPack>, Refusal> {
        let lies_there = |pack: &&FoundPack| {
            let folder = pack.folder();
            pack.name() == name && folder.is_some_and(|folder| folder.parent() == Some(place))
        };
        let mut named = self.packs.iter().filter(lies_there);
        let mut usual = self.packs.iter().filter(lies_there);
        let usual = usual.find(|pack| pack.folder() == Some(&place.join(name)));
        match (usual, named.next(), named.next()) {
            (Some(usual), ..) => Ok(Some(usual)),
            (None, Some(one), Some(other)) => Err(two_of_one_name(one, other)),
            (None, one, _) => Ok(one),
        }
    }

    /// All packs, by name.
    pub(crate) fn packs(&self) -> Vec<&FoundPack> {
        let mut packs: Vec<&FoundPack> = self.packs.iter().collect();
        packs.sort_by(|a, b| a.name().cmp(b.name()));
        packs
    }

    /// The pack of a name.
    ///
    /// # Errors
    /// Where two have it, or its manifest cannot be read.
    pub(crate) fn find(&self, name: &str) -> Result<Option<&FoundPack>, Diagnostic> {
        let mut named = self.packs.iter().filter(|pack| pack.name() == name);
        match (named.next(), named.next()) {
            (Some(pack), None) => Ok(Some(pack)),
            (Some(one), Some(other)) => Err(two_of_one_name(one, other).into()),
            (None, _) => match self.broken.iter().find(|broken| broken.name == name) {
                Some(broken) => Err(broken.error.clone()),
                None => Ok(None),
            },
        }
    }

    /// A script by its whole name, with its pack.
    ///
    /// # Errors
    /// As [`Self::find`]; where there is none, with the nearest.
    pub(crate) fn script(&self, name: &str) -> Result<(&FoundPack, SourceText), Diagnostic> {
        if let Some((pack, own)) = name.split_once('/')
            && let Some(pack) = self.find(pack)?
            && let Some(text) = pack.script(own)?
        {
            return Ok((pack, text));
        }
        Err(no_script(self, name).into())
    }

    /// Names of all scripts, `PACK/NAME`, sorted.
    pub(crate) fn script_names(&self) -> Vec<String> {
        let packs = self.packs();
        let names = packs.iter().flat_map(|pack| {
            let own = pack.scripts().into_iter();
            own.map(|own| format!("{}/{own}", pack.name()))
        });
        let mut names: Vec<String> = names.collect();
        names.sort();
        names
    }

    /// What is wrong with it as a whole: packs of one name, manifests that cannot be read.
    pub(crate) fn trouble(&self) -> Option<Diagnostic> {
        let packs = self.packs();
        let twice = packs.windows(2).find_map(|pair| match pair {
            [one, other] if one.name() == other.name() => Some(two_of_one_name(one, other).into()),
            _ => None,
        });
        let mut broken = self.broken.iter().map(|broken| broken.error.clone());
        let first = twice.or_else(|| broken.next());
        match broken.count() {
            0 => first,
            more => first.map(|error| Diagnostic {
                refusal: error
                    .refusal
                    .hint(format!("{more} more, of which `crankline pack list` tells")),
                ..error
            }),
        }
    }

    /// What a script of a pack may import: of its own pack, or of one that its pack names; a script of no pack sees all.
    pub(crate) fn import(&self, from: &str, path: &str) -> Option<SourceText> {
        if let Some(own) = pack_of(from) {
            let own = self.find(own).ok().flatten()?;
            if !own.may_import(path) {
                return None;
            }
        }
        self.script(path).ok().map(|(_, text)| text)
    }
}

/// Two packs of one name, and which is which.
pub(crate) fn two_of_one_name(one: &FoundPack, other: &FoundPack) -> Refusal {
    let message = format!(
        "two packs are named `{}`: {} and {}",
        one.name(),
        one.place(),
        other.place()
    );
    let refusal = Refusal::new("pack", message);
    let (added, own): (Vec<&FoundPack>, Vec<&FoundPack>) = [one, other].into_iter().partition(|pack| pack.was_added());
    // A name of its own would make an added one another than was sealed.
    let refusal = match added.first().and_then(|pack| pack.folder()?.parent()) {
        Some(place) => {
            let place = place.display();
            refusal.hint(format!(
                "take one away: crankline pack remove {} --packs {place}",
                one.name()
            ))
        }
        None => refusal,
    };
    match own.iter().any(|pack| pack.folder().is_some()) {
        true => refusal.hint("rename your own: `name` in its pack.toml, from which its scripts have their names"),
        false => refusal.hint("or keep one in another folder, and name that after --packs when it is wanted"),
    }
}

/// The folders in a place that hold a manifest or a script, in the order of their names. One that was moved out of the way counts as
/// long as nothing has taken its place.
fn folders(place: &Path) -> Vec<PathBuf> {
    watch::folder(place);
    let entries = fs::read_dir(place).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    let counts = |name: &String| match name.strip_prefix(MOVED) {
        Some(own) => !place.join(own).exists(),
        None => !name.starts_with('.'),
    };
    let folders = names.iter().filter(|name| counts(name)).map(|name| place.join(name));
    folders
        .filter(|folder| folder.join(MANIFEST).is_file() || has_script(folder))
        .collect()
}

fn has_script(folder: &Path) -> bool {
    if !folder.is_dir() {
        return false;
    }
    watch::folder(folder);
    let mut entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.any(|entry| has_extension(&entry.file_name().to_string_lossy(), "rhai"))
}
