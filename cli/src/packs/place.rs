//! A place in which packs lie. One program at a time writes there, and whatever happens to it, what others see is the old
//! state or the new: a pack is written in full beside, then takes its name.

use super::collection::MOVED;
use crate::disk::{unwritten, write_durably};
use crate::part::sync_folder;
use crankline_engine::diagnostic::Refusal;
use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};

/// What begins the name of a pack that is being written, …
const NEW: &str = ".new-";
/// … and of one that is being taken away.
const GONE: &str = ".gone-";
const LOCK: &str = ".lock";

/// A place that this program alone may write to, until it is dropped.
pub(crate) struct Place {
    path: PathBuf,
    _lock: File,
}

impl Place {
    /// Opens a place, which is made where there is none, and waits for whoever writes there.
    pub(crate) fn open(path: &Path) -> Result<Self, Refusal> {
        let failed = |error: &io::Error| failed(path, error);
        fs::create_dir_all(path).map_err(|error| failed(&error))?;
        let mut options = OpenOptions::new();
        let lock = options.create(true).truncate(false).write(true).open(path.join(LOCK));
        let lock = lock.and_then(|file| file.lock().map(|()| file));
        let place = Self {
            path: path.to_path_buf(),
            _lock: lock.map_err(|error| failed(&error))?,
        };
        place.tidy().map_err(|error| failed(&error))?;
        Ok(place)
    }

    /// Puts right what a program left there that was killed at its work, so that what comes next finds packs by their
    /// usual names. Where there is no place, none is made.
    pub(crate) fn put_right(path: &Path) -> Result<(), Refusal> {
        if path.is_dir() {
            Self::open(path).map(drop)
        } else {
            Ok(())
        }
    }

    /// The folder of a pack in it.
    pub(crate) fn folder(&self, name: &str) -> PathBuf {
        self.path.join(name)
    }

    /// Puts a pack there, whole or not at all; one of that name makes room for it where it `replaces`.
    pub(crate) fn put(&self, name: &str, files: &[(String, Vec<u8>)], replaces: bool) -> Result<(), Refusal> {
        let folder = self.folder(name);
        if !replaces && folder.symlink_metadata().is_ok() {
            let message = format!("`{}` is there already and is not written over", folder.display());
            return Err(Refusal::new("pack", message).hint("move it away, or rename it"));
        }
        let new = self.path.join(format!("{NEW}{name}"));
        let put = write_folder(&new, files).and_then(|()| self.exchange(&new, name));
        if put.is_err() {
            let _ = fs::remove_dir_all(&new);
        }
        put.map_err(|error| failed(&folder, &error))
    }

    /// Gives a folder its name; what had it is moved out of the way first, and back if that goes wrong.
    fn exchange(&self, new: &Path, name: &str) -> io::Result<()> {
        let (folder, old) = (self.folder(name), self.path.join(format!("{MOVED}{name}")));
        let replaces = folder.symlink_metadata().is_ok();
        if replaces {
            fs::rename(&folder, &old)?;
        }
        if let Err(error) = fs::rename(new, &folder) {
            if replaces {
                fs::rename(&old, &folder)?;
            }
            return Err(error);
        }
        sync_folder(&self.path)?;
        // It is done; what is left of the old one goes now or when somebody writes here again.
        let _ = fs::remove_dir_all(&old);
        Ok(())
    }

    /// Takes a pack away.
    pub(crate) fn remove(&self, name: &str) -> Result<(), Refusal> {
        let (folder, gone) = (self.folder(name), self.path.join(format!("{GONE}{name}")));
        let removed = fs::rename(&folder, &gone).and_then(|()| sync_folder(&self.path));
        let _ = fs::remove_dir_all(&gone);
        removed.map_err(|error| failed(&folder, &error))
    }

    /// Clears away what a program left that was killed at its work.
    fn tidy(&self) -> io::Result<()> {
        for entry in fs::read_dir(&self.path)?.flatten() {
            let Ok(name) = entry.file_name().into_string() else {
                continue;
            };
            // What is no folder is nobody's work of this kind.
            if !entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                continue;
            }
            if let Some(own) = name.strip_prefix(MOVED) {
                if self.folder(own).symlink_metadata().is_ok() {
                    fs::remove_dir_all(entry.path())?;
                } else {
                    fs::rename(entry.path(), self.folder(own))?;
                }
            } else if name.starts_with(NEW) || name.starts_with(GONE) {
                fs::remove_dir_all(entry.path())?;
            }
        }
        Ok(())
    }
}

/// Keeps others from writing to a place until it is dropped, where anybody ever has.
pub(super) fn shared_lock(path: &Path) -> Option<File> {
    let file = File::open(path.join(LOCK)).ok()?;
    file.lock_shared().ok().map(|()| file)
}

/// Writes a folder that is not there yet, down to the disk.
fn write_folder(folder: &Path, files: &[(String, Vec<u8>)]) -> io::Result<()> {
    fs::create_dir(folder)?;
    for (name, bytes) in files {
        write_durably(&folder.join(name), bytes)?;
    }
    sync_folder(folder)
}

fn failed(path: &Path, error: &io::Error) -> Refusal {
    unwritten("pack", &path.display().to_string(), error)
}
