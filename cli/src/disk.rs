//! Files: read, and written whole or not at all, never over another.

use crate::part::{Part, folder_of};
use crate::watch;
use crankline_engine::diagnostic::{Refusal, SourceText};
use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A larger file is no script and no job.
const LARGEST: u64 = 4 * 1024 * 1024;

/// Reads a text file; `name` is what messages call it.
pub(crate) fn read(path: &Path, name: &str) -> Result<SourceText, Refusal> {
    text_of(read_bytes(path, name, LARGEST)?, name)
}

/// Reads a text file in a folder or below, which no link leads out of: for a name that somebody else wrote, and whose first
/// line a message would quote.
pub(crate) fn read_within(folder: &Path, name: &str) -> Result<SourceText, Refusal> {
    let path = folder.join(name);
    let is_within = |found: &Path| folder.canonicalize().is_ok_and(|folder| found.starts_with(folder));
    // What is not there is told by whoever reads it.
    if path.canonicalize().is_ok_and(|found| !is_within(&found)) {
        let message = format!("`{name}` is a link that leads out of the job's folder");
        return Err(Refusal::new("file", message).hint("put a copy in its place"));
    }
    read(&path, name)
}

/// The text that a file's bytes are.
pub(crate) fn text_of(bytes: Vec<u8>, name: &str) -> Result<SourceText, Refusal> {
    // A text of two bytes a letter, or no text at all, has bytes that are nothing.
    let text = String::from_utf8(bytes).ok().filter(|text| !text.contains('\0'));
    let text = text.ok_or_else(|| {
        Refusal::new("file", format!("`{name}` is no text in UTF-8")).hint("save it as UTF-8 in the editor")
    })?;
    Ok(SourceText {
        name: name.to_owned(),
        // An editor's mark at the start of a file is no part of the text.
        text: text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned),
    })
}

fn unread(name: &str, error: &std::io::Error) -> Refusal {
    let message = match error.kind() {
        ErrorKind::NotFound => format!("there is no file `{name}`"),
        ErrorKind::PermissionDenied => format!("`{name}` may not be read"),
        _ => format!("`{name}` cannot be read: {}", wording(error)),
    };
    Refusal::new("file", message)
}

/// Refuses what is no file, or too large a one.
fn looked_at(path: &Path, name: &str, most: u64) -> Result<(), Refusal> {
    let about = fs::metadata(path).map_err(|error| unread(name, &error))?;
    if !about.is_file() {
        return Err(Refusal::new("file", format!("`{name}` is no file")));
    }
    if about.len() > most {
        return Err(Refusal::new("file", format!("`{name}` is larger than {most} bytes")));
    }
    Ok(())
}

/// Reads a file of at most so many bytes.
pub(crate) fn read_bytes(path: &Path, name: &str, most: u64) -> Result<Vec<u8>, Refusal> {
    watch::file(path);
    looked_at(path, name, most)?;
    fs::read(path).map_err(|error| unread(name, &error))
}

/// Writes a new text, whole or not at all.
pub(crate) fn write_new(path: &Path, name: &str, text: &str) -> Result<(), Refusal> {
    write_new_bytes(path, name, text.as_bytes())
}

/// Writes a new file that its owner alone may read, where a system can.
pub(crate) fn write_secret(path: &Path, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
    write_whole(path, name, bytes, true)
}

/// Writes a new file, whole or not at all.
pub(crate) fn write_new_bytes(path: &Path, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
    write_whole(path, name, bytes, false)
}

fn write_whole(path: &Path, name: &str, bytes: &[u8], secret: bool) -> Result<(), Refusal> {
    refuse_taken(path, name)?;
    let part = Part::begin(folder_of(path), secret);
    let written = part.and_then(|mut part| part.write(bytes).and_then(|()| part.becomes(path)));
    written.map_err(|error| {
        if error.kind() == ErrorKind::AlreadyExists {
            taken(name)
        } else {
            failed(name, &error)
        }
    })
}

/// Whether a name means a folder: there is one, or it ends so.
pub(crate) fn is_folder(path: &Path, name: &str) -> bool {
    name.ends_with(['/', std::path::MAIN_SEPARATOR]) || path.is_dir()
}

/// Writes files into a new folder, which takes its name when all of it is written.
pub(crate) fn write_folder(path: &Path, name: &str, files: &[(String, String)]) -> Result<(), Refusal> {
    // Without the stroke at its end, which a file has not.
    let path = path.components().collect::<PathBuf>();
    new_folder(&path, files).map_err(|error| failed(name, &error))
}

fn new_folder(path: &Path, files: &[(String, String)]) -> std::io::Result<()> {
    fs::create_dir_all(folder_of(path))?;
    let part = Part::begin(folder_of(path), false)?;
    let folder = part.folder();
    fs::create_dir(&folder)?;
    for (file, text) in files {
        write_durably(&folder.join(file), text.as_bytes())?;
    }
    part.folder_becomes(path)
}

/// Refuses the name of a folder, or of a file, that is there: files that were put into it one after the other would be a
/// part of a run to whoever looks meanwhile.
pub(crate) fn refuse_taken_folder(path: &Path, name: &str) -> Result<(), Refusal> {
    let folder = path.components().collect::<PathBuf>();
    match folder.symlink_metadata() {
        Ok(_) if folder.is_dir() => Err(Refusal::new(
            "file",
            format!("`{name}` is there already, and a run into a folder makes one of its own"),
        )
        .hint("give a new name after --out, one within this folder for instance")),
        Ok(_) => Err(taken(name)),
        Err(_) => Ok(()),
    }
}

/// Refuses a name that a file has already.
pub(crate) fn refuse_taken(path: &Path, name: &str) -> Result<(), Refusal> {
    if path.symlink_metadata().is_ok() {
        return Err(taken(name));
    }
    Ok(())
}

fn taken(name: &str) -> Refusal {
    Refusal::new("file", format!("`{name}` is there already and is not written over"))
        .hint("give another name, or move the file away")
}

/// Writes a file anew that still holds `before`, whole or not at all: what somebody saved meanwhile is not lost.
pub(crate) fn replace(path: &Path, name: &str, before: &str, text: &str) -> Result<(), Refusal> {
    if read(path, name)?.text != before {
        let refusal = Refusal::new("file", format!("`{name}` has changed meanwhile and is not written"));
        return Err(refusal.hint("run it again"));
    }
    put_over(path, name, text)
}

/// The same for what this program wrote, however large.
pub(crate) fn replace_page(path: &Path, name: &str, before: &str, text: &str) -> Result<(), Refusal> {
    let found = fs::read(path).map_err(|error| unread(name, &error))?;
    if found != before.as_bytes() {
        let message = format!("`{name}` is no longer what was written into it, and is not written over");
        return Err(Refusal::new("file", message).hint("give another name after --out, or move the file away"));
    }
    if before == text {
        return Ok(());
    }
    put_over(path, name, text)
}

fn put_over(path: &Path, name: &str, text: &str) -> Result<(), Refusal> {
    let part = Part::begin(folder_of(path), false);
    let replaced = part.and_then(|mut part| part.write(text.as_bytes()).and_then(|()| part.replaces(path)));
    replaced.map_err(|error| failed(name, &error))
}

/// Writes a file that is not there yet, down to the disk.
pub(crate) fn write_durably(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

fn failed(name: &str, error: &std::io::Error) -> Refusal {
    unwritten("file", name, error)
}

/// What could not be written, why, and what to do.
pub(crate) fn unwritten(code: &'static str, name: &str, error: &std::io::Error) -> Refusal {
    let hint = match error.kind() {
        ErrorKind::PermissionDenied => Some("write to another folder, or let yourself write to this one"),
        ErrorKind::ReadOnlyFilesystem => Some("write to another disk: this one can only be read"),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            Some("make room on the disk, or write to another one; what was there is as it was")
        }
        ErrorKind::NotFound => Some("make that folder first, or write to one that is there"),
        ErrorKind::NotADirectory => Some("write to a folder: a part of this name is a file"),
        _ => None,
    };
    let message = format!("`{name}` cannot be written: {}", wording(error));
    Refusal::new(code, message).maybe_hint(hint.map(str::to_owned))
}

/// The system's words without its number.
pub(crate) fn wording(error: &std::io::Error) -> String {
    let text = error.to_string();
    let words = text.split(" (os error").next().unwrap_or(&text);
    words.to_lowercase()
}
