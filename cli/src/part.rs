//! What is being written, beside the place where it is to stand: whoever looks there sees all of it or nothing.
//!
//! Whoever writes holds a lock on its part, so that the next one knows a part that is left over, because its program was
//! killed or the machine went off, from one that somebody is writing.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

const BEGIN: &str = ".crankline-";
const END: &str = ".part";

/// How many were begun by this program.
static BEGUN: AtomicU32 = AtomicU32::new(0);
/// So many names are tried: others may have taken some.
const TRIES: usize = 100;

/// A file that is being written, and beside it perhaps a folder. What has not got its name when this is dropped goes.
pub(crate) struct Part {
    path: PathBuf,
    file: File,
}

impl Part {
    /// Begins one in a folder, and clears away what is left over there. `secret`: for its owner alone, where a system can.
    pub(crate) fn begin(folder: &Path, secret: bool) -> io::Result<Self> {
        clear(folder);
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, if secret { 0o600 } else { 0o666 });
        #[cfg(not(unix))]
        let _ = secret;
        for _ in 0..TRIES {
            let number = BEGUN.fetch_add(1, Ordering::Relaxed);
            let path = folder.join(format!("{BEGIN}{}-{number}{END}", std::process::id()));
            let file = match options.open(&path) {
                Ok(file) => file,
                Err(error) if error.kind() == ErrorKind::AlreadyExists => continue,
                Err(error) => return Err(error),
            };
            // Somebody who clears away may have taken it for left over before it was locked.
            let is_taken = matches!(file.try_lock(), Err(TryLockError::WouldBlock));
            if !is_taken && path.symlink_metadata().is_ok() {
                return Ok(Self { path, file });
            }
        }
        Err(io::Error::from(ErrorKind::AlreadyExists))
    }

    /// Writes it, down to the disk.
    pub(crate) fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)?;
        self.file.sync_all()
    }

    /// The folder beside it; whoever wants one makes it.
    pub(crate) fn folder(&self) -> PathBuf {
        self.path.with_extension("parts")
    }

    /// Gives the file its name, which no file may have.
    pub(crate) fn becomes(self, path: &Path) -> io::Result<()> {
        // A link, unlike a change of name, fails where a file came meanwhile.
        match fs::hard_link(&self.path, path) {
            Ok(()) => {}
            Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(error),
            // Some disks have no links: the name is taken first, so that nobody else's file is written over.
            Err(_) => {
                OpenOptions::new().write(true).create_new(true).open(path)?;
                let renamed = fs::rename(&self.path, path);
                if renamed.is_err() {
                    let _ = fs::remove_file(path);
                }
                renamed?;
            }
        }
        sync_folder(folder_of(path))
    }

    /// Gives the file the name of another one, whose place and rights it takes.
    pub(crate) fn replaces(self, path: &Path) -> io::Result<()> {
        // The file behind a link, not the link.
        let path = fs::canonicalize(path)?;
        self.file.set_permissions(fs::metadata(&path)?.permissions())?;
        fs::rename(&self.path, &path)?;
        sync_folder(folder_of(&path))
    }

    /// Gives the folder beside it its name, which no file may have.
    pub(crate) fn folder_becomes(self, path: &Path) -> io::Result<()> {
        sync_folder(&self.folder())?;
        fs::rename(self.folder(), path)?;
        sync_folder(folder_of(path))
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(self.folder());
        let _ = fs::remove_file(&self.path);
    }
}

/// Clears away what programs left in a folder that are no more: those whose part nobody holds.
fn clear(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let is_part = name
            .to_str()
            .is_some_and(|name| name.starts_with(BEGIN) && name.ends_with(END));
        if !is_part || !entry.file_type().is_ok_and(|kind| kind.is_file()) {
            continue;
        }
        let path = entry.path();
        if let Ok(file) = OpenOptions::new().write(true).open(&path)
            && file.try_lock().is_ok()
        {
            let _ = fs::remove_dir_all(path.with_extension("parts"));
            let _ = fs::remove_file(&path);
        }
    }
}

/// Brings the names in a folder down to the disk, where a system can.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}

/// The folder that a file lies in.
pub(crate) fn folder_of(path: &Path) -> &Path {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    folder.unwrap_or(Path::new("."))
}
