//! The files that a run reads, as they were then, and whether they are others now.
//!
//! A file is another when its bytes are. They are read again only where its size or its time of change says so, or where
//! that time is so recent that a clock might not tell.

use crankline_engine::pack::sha256;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Some file systems count whole seconds, or two.
const COARSE: Duration = Duration::from_secs(3);

thread_local! {
    static WATCHED: RefCell<Option<Watched>> = const { RefCell::new(None) };
}

/// Files and folders by their places, each as it was when it was read first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Watched {
    places: BTreeMap<PathBuf, Look>,
}

/// A file or a folder at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Look {
    kind: Kind,
    /// Size and time of change; nothing where it is not there.
    about: Option<(u64, SystemTime)>,
    /// Of its bytes, or of the names in it.
    digest: Option<String>,
    /// Whether it may have changed since without a sign.
    fresh: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    File,
    Folder,
}

/// Watches what this thread reads from now on.
pub(crate) fn begin() {
    WATCHED.set(Some(Watched::default()));
}

/// What was read since.
pub(crate) fn end() -> Watched {
    WATCHED.take().unwrap_or_default()
}

/// A file is about to be read, or looked for.
pub(crate) fn file(path: &Path) {
    note(path, Kind::File);
}

/// A folder is about to be looked through.
pub(crate) fn folder(path: &Path) {
    note(path, Kind::Folder);
}

fn note(path: &Path, kind: Kind) {
    WATCHED.with_borrow_mut(|watched| {
        if let Some(watched) = watched {
            let places = &mut watched.places;
            places.entry(path.to_path_buf()).or_insert_with(|| Look::at(path, kind));
        }
    });
}

impl Watched {
    /// How many files there were.
    pub(crate) fn files(&self) -> usize {
        let files = self.places.values().filter(|look| look.kind == Kind::File);
        files.count()
    }

    /// Looks at all of it again, and says whether anything is another.
    pub(crate) fn changed(&mut self) -> bool {
        let mut changed = false;
        for (path, look) in &mut self.places {
            changed |= look.again(path);
        }
        changed
    }
}

impl Look {
    fn at(path: &Path, kind: Kind) -> Self {
        let about = about(path);
        Self {
            kind,
            about,
            digest: digest(path, kind),
            fresh: is_fresh(about),
        }
    }

    fn again(&mut self, path: &Path) -> bool {
        if !self.fresh && about(path) == self.about {
            return false;
        }
        let now = Self::at(path, self.kind);
        let changed = now.digest != self.digest;
        *self = now;
        changed
    }
}

fn about(path: &Path) -> Option<(u64, SystemTime)> {
    let about = fs::metadata(path).ok()?;
    Some((about.len(), about.modified().ok()?))
}

fn is_fresh(about: Option<(u64, SystemTime)>) -> bool {
    let age = about.map(|(_, changed)| SystemTime::now().duration_since(changed));
    // A time to come says nothing.
    age.is_some_and(|age| age.is_ok_and(|age| age < COARSE))
}

fn digest(path: &Path, kind: Kind) -> Option<String> {
    let bytes = match kind {
        Kind::File => fs::read(path).ok()?,
        Kind::Folder => names(path)?.join("\n").into_bytes(),
    };
    Some(sha256(&bytes))
}

/// The names in a folder that may matter: folders, scripts, what goes with them.
fn names(path: &Path) -> Option<Vec<String>> {
    let entries = fs::read_dir(path).ok()?.flatten();
    let matters = |name: &str| {
        let kind = Path::new(name).extension();
        kind.is_none_or(|kind| ["rhai", "toml", "csv"].iter().any(|known| kind == *known)) && !name.starts_with('.')
    };
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| matters(name)).collect();
    names.sort();
    Some(names)
}
