//! Files: read, and written whole or not at all, never over another.

use crankline_engine::diagnostic::{Refusal, SourceText};
use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A larger file is no script and no job.
const LARGEST: u64 = 4 * 1024 * 1024;

/// Reads a text file; `name` is what messages call it.
pub(crate) fn read(path: &Path, name: &str) -> Result<SourceText, Refusal> {
    let refuse = |error: &std::io::Error| match error.kind() {
        ErrorKind::NotFound => Refusal::new("file", format!("there is no file `{name}`")),
        ErrorKind::PermissionDenied => Refusal::new("file", format!("`{name}` may not be read")),
        _ => Refusal::new("file", format!("`{name}` cannot be read: {}", wording(error))),
    };
    let about = fs::metadata(path).map_err(|error| refuse(&error))?;
    if !about.is_file() {
        return Err(Refusal::new("file", format!("`{name}` is no file")));
    }
    if about.len() > LARGEST {
        return Err(Refusal::new("file", format!("`{name}` is larger than {LARGEST} bytes")));
    }
    let bytes = fs::read(path).map_err(|error| refuse(&error))?;
    let text = String::from_utf8(bytes).map_err(|_| {
        Refusal::new("file", format!("`{name}` is no text in UTF-8")).hint("save it as UTF-8 in the editor")
    })?;
    Ok(SourceText {
        name: name.to_owned(),
        // An editor's mark at the start of a file is no part of the text.
        text: text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned),
    })
}

/// Writes a new file, whole or not at all.
pub(crate) fn write_new(path: &Path, name: &str, text: &str) -> Result<(), Refusal> {
    refuse_taken(path, name)?;
    let (part, written) = beside(path, text);
    // A link, unlike a change of name, fails where a file came meanwhile.
    let linked = written.and_then(|()| fs::hard_link(&part, path));
    let _ = fs::remove_file(&part);
    linked.map_err(|error| {
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

/// Writes new files into a folder, which need not be there yet: all of them or none.
pub(crate) fn write_folder(path: &Path, name: &str, files: &[(String, String)]) -> Result<(), Refusal> {
    let shown = |file: &str| format!("{}/{file}", name.trim_end_matches(['/', std::path::MAIN_SEPARATOR]));
    for (file, _) in files {
        refuse_taken(&path.join(file), &shown(file))?;
    }
    let is_new = path.symlink_metadata().is_err();
    if is_new {
        fs::create_dir_all(path).map_err(|error| failed(name, &error))?;
    }
    let mut written = Vec::new();
    for (file, text) in files {
        let place = path.join(file);
        if let Err(refusal) = write_new(&place, &shown(file), text) {
            for place in &written {
                let _ = fs::remove_file(place);
            }
            if is_new {
                let _ = fs::remove_dir(path);
            }
            return Err(refusal);
        }
        written.push(place);
    }
    Ok(())
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
        .hint("give another name after --out, or move the file away")
}

/// Writes a file anew that still holds `before`, whole or not at all: what somebody saved meanwhile is not lost.
pub(crate) fn replace(path: &Path, name: &str, before: &str, text: &str) -> Result<(), Refusal> {
    if read(path, name)?.text != before {
        let refusal = Refusal::new("file", format!("`{name}` has changed meanwhile and is not written"));
        return Err(refusal.hint("run it again"));
    }
    let (part, written) = beside(path, text);
    let renamed = written.and_then(|()| fs::rename(&part, path));
    if renamed.is_err() {
        let _ = fs::remove_file(&part);
    }
    renamed.map_err(|error| failed(name, &error))
}

/// Writes a text under another name first: whoever sees the file sees all of it.
fn beside(path: &Path, text: &str) -> (PathBuf, std::io::Result<()>) {
    let part = path.with_file_name(format!(".crankline-{}.part", std::process::id()));
    let written = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&part)
        .and_then(|mut file| file.write_all(text.as_bytes()).and_then(|()| file.sync_all()));
    (part, written)
}

fn failed(name: &str, error: &std::io::Error) -> Refusal {
    Refusal::new("file", format!("`{name}` cannot be written: {}", wording(error)))
}

/// The system's words without its number.
fn wording(error: &std::io::Error) -> String {
    let text = error.to_string();
    let words = text.split(" (os error").next().unwrap_or(&text);
    words.to_lowercase()
}
