//! Where the program stands.

use super::collection::Collection;
use super::found::FoundPack;
use super::place::shared_lock;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use std::fs::File;
use std::path::{Path, PathBuf};

/// The folder in which packs lie beside a job, or where the program was started.
const BESIDE: &str = "packs";

/// The folder that file names are relative to, and the places in which packs lie.
#[derive(Clone, Debug)]
pub(crate) struct Desk {
    pub(crate) directory: PathBuf,
    /// Those asked for, or else the one of whoever uses the program. What is written goes into the first.
    pub(crate) places: Vec<PathBuf>,
    /// The ones of whoever uses the program, whatever is asked for.
    pub(crate) usual: Vec<PathBuf>,
    /// Whether only files in the folder and below may be named, as in a job that somebody may have sent.
    pub(crate) only_below: bool,
    /// A pack that is seen in place of the one of its name that was added before.
    pub(crate) candidate: Option<FoundPack>,
    /// How many times the usual work a script may do: for whoever runs it to say, no file can.
    pub(crate) effort: u32,
}

impl Desk {
    /// As a job in a folder sees it.
    pub(crate) fn of_job_in(&self, folder: &Path) -> Self {
        Self {
            directory: folder.to_path_buf(),
            places: self.places.clone(),
            usual: self.usual.clone(),
            only_below: true,
            candidate: self.candidate.clone(),
            effort: self.effort,
        }
    }

    /// The same that sees a pack which is not among the others, in place of one of its name.
    pub(crate) fn with_candidate(&self, pack: FoundPack) -> Self {
        Self {
            candidate: Some(pack),
            ..self.clone()
        }
    }

    /// Where packs of one's own lie and new ones are put.
    ///
    /// # Errors
    /// Where nobody knows a place.
    pub(crate) fn place(&self) -> Result<&Path, Refusal> {
        let place = self.places.first().map(PathBuf::as_path);
        place.ok_or_else(|| {
            let refusal = Refusal::new("pack", "there is no folder for packs: this user has no home folder");
            refusal.hint("name one: --packs DIR")
        })
    }

    /// Refuses the name of a pack that is to be written to `packs` beside, where it would be seen together with one of
    /// that name in a usual place: two that nobody could tell apart.
    ///
    /// # Errors
    /// Where there is one.
    pub(crate) fn refuse_clash(&self, name: &str) -> Result<(), Diagnostic> {
        let beside = self.directory.join(BESIDE);
        let is_beside = |place: &Path| place.components().eq(beside.components()) || is_one_folder(place, &beside);
        if !is_beside(self.place()?) {
            return Ok(());
        }
        let usual = self.usual.iter().filter(|place| !is_beside(place));
        match Collection::of(usual).find(name)? {
            Some(known) if known.folder().is_some() => {
                let message = format!("there is a pack `{name}` already: {}", known.place());
                let refusal = Refusal::new("pack", message);
                Err(refusal
                    .hint(format!("both would be seen here, in {}", beside.display()))
                    .into())
            }
            _ => Ok(()),
        }
    }

    /// All packs that are seen from here: the shipped ones, those in the places, and those in `packs` beside.
    pub(crate) fn packs(&self) -> Collection {
        let locks = self.places.iter().filter_map(|place| shared_lock(place));
        let locks: Vec<File> = locks.collect();
        let packs = self.packs_unlocked();
        drop(locks);
        packs
    }

    /// The same for who has locked the place, and must not wait for itself.
    pub(crate) fn packs_unlocked(&self) -> Collection {
        let beside = self.directory.join(BESIDE);
        let packs =
            Collection::of(self.places.iter().chain(std::iter::once(&beside))).looked_in(self.looked_in(&beside));
        match &self.candidate {
            Some(candidate) => packs.with(candidate.clone()),
            None => packs,
        }
    }

    /// The places in which packs are looked for, as messages call them: short where they lie below.
    fn looked_in(&self, beside: &Path) -> Vec<String> {
        let shown = |place: &Path| match place.strip_prefix(&self.directory) {
            Ok(below) if below.components().next().is_some() => below.display().to_string(),
            _ => place.display().to_string(),
        };
        let places = self.places.iter().map(|place| match place.is_dir() {
            true => shown(place),
            false => format!("{} (which is not there)", shown(place)),
        });
        let beside = Some(shown(beside)).filter(|_| beside.is_dir());
        places.chain(beside).collect()
    }
}

fn is_one_folder(one: &Path, other: &Path) -> bool {
    let one = one.canonicalize().ok();
    one.is_some() && one == other.canonicalize().ok()
}
