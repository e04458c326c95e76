//! A pack as one file: a plain zip archive, made the same from the same files, and read with suspicion: it may have been
//! damaged on its way, or made by somebody who means harm.

use super::files::is_file_of_pack;
use crate::diagnostic::Refusal;
use std::io::{Cursor, Read, Write};
use zip::read::ZipFileEntry;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// A file of a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackFile {
    /// Its name, without any folder.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// A larger archive is no pack.
pub const LARGEST_ARCHIVE: u64 = 16 * 1024 * 1024;
const LARGEST_FILE: u64 = 4 * 1024 * 1024;
const LARGEST_WHOLE: u64 = 32 * 1024 * 1024;
const MOST_FILES: usize = 2000;
/// Text gets ten times smaller, seldom twenty; beyond, it is made to fill a disk.
const MOST_RATIO: u64 = 200;
/// Files up to this size may be as repetitive as they like.
const SMALL_FILE: u64 = 64 * 1024;
/// What other programs do to an archive that somebody unpacks and packs again.
pub(super) const PACKED_AGAIN: &str = "it was packed again on the way: ask for the file as it was sealed";
/// Files that systems leave in folders.
const LEFT_BY_SYSTEMS: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];
/// What a zip archive begins with, and what its last record begins with.
const BEGIN: &[u8] = b"PK\x03\x04";
const END: &[u8] = b"PK\x05\x06";
const END_LENGTH: usize = 22;
/// Kind of file in the mode of a Unix system.
const KIND: u32 = 0o170_000;
const REGULAR: u32 = 0o100_000;

/// The archive of these files, sorted by name; nothing in it tells when or where it was made.
///
/// # Errors
/// More or larger files than an archive is read with.
pub fn pack_up(files: &[PackFile]) -> Result<Vec<u8>, Refusal> {
    let mut sorted: Vec<&PackFile> = files.iter().collect();
    sorted.sort_by(|a, b| a.name.cmp(&b.name));
    let mut whole = 0;
    for file in &sorted {
        let size = file.bytes.len() as u64;
        whole += size;
        if size > LARGEST_FILE {
            return Err(refused(format!("`{}` is larger than {LARGEST_FILE} bytes", file.name)));
        }
    }
    if whole > LARGEST_WHOLE || sorted.len() > MOST_FILES {
        return Err(too_large());
    }
    let written = written(&sorted).map_err(|error| refused(format!("the archive cannot be made: {error}")))?;
    if written.len() as u64 > LARGEST_ARCHIVE {
        return Err(too_large());
    }
    Ok(written)
}

fn written(files: &[&PackFile]) -> zip::result::ZipResult<Vec<u8>> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    for file in files {
        writer.start_file(file.name.as_str(), options)?;
        writer.write_all(&file.bytes)?;
    }
    Ok(writer.finish()?.into_inner())
}

/// The files in an archive, in its order.
///
/// # Errors
/// Anything but a plain archive of plainly named files of a pack, within limits: what is wrong with it, and where.
pub fn unpack(bytes: &[u8]) -> Result<Vec<PackFile>, Refusal> {
    if bytes.len() as u64 > LARGEST_ARCHIVE {
        return Err(too_large());
    }
    if !bytes.starts_with(BEGIN) {
        return Err(refused(
            "this is no sealed pack: it does not begin as a zip archive does",
        ));
    }
    let last = bytes.len().checked_sub(END_LENGTH).and_then(|at| bytes.get(at..));
    if !last.is_some_and(|last| last.starts_with(END)) {
        return Err(
            refused("the archive does not end as it should: it is cut short, or something was added to it")
                .hint("get the file again"),
        );
    }
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_| damaged())?;
    if archive.is_empty() {
        return Err(refused("this is no sealed pack: there is no file in it"));
    }
    if archive.has_duplicate_names() {
        return Err(refused("two files in the archive have one name"));
    }
    if archive.len() > MOST_FILES {
        return Err(refused(format!("the archive has more than {MOST_FILES} files")));
    }
    if !ends_once(bytes, &archive) {
        return Err(damaged());
    }
    let names = plain_names(&archive)?;
    archive.validate_header_consistency().map_err(|_| damaged())?;
    let mut files = Vec::new();
    for (index, name) in names.into_iter().enumerate() {
        let entry = archive.by_index(index).map_err(|_| damaged())?;
        let mut bytes = Vec::new();
        // What an archive says of a size is no promise.
        let read = entry.take(LARGEST_FILE + 1).read_to_end(&mut bytes);
        if bytes.len() as u64 > LARGEST_FILE {
            return Err(refused(format!("`{name}` is larger than {LARGEST_FILE} bytes")));
        }
        read.map_err(|_| refused(format!("`{name}` is damaged")).hint("get the file again"))?;
        files.push(PackFile { name, bytes });
        if files.iter().map(|file| file.bytes.len() as u64).sum::<u64>() > LARGEST_WHOLE {
            return Err(too_large());
        }
    }
    Ok(files)
}

/// Whether the archive was read by its last record. Where that cannot be, an earlier one may be taken for it, and what we
/// see in the archive is not what others see in it.
fn ends_once(bytes: &[u8], archive: &ZipArchive<Cursor<&[u8]>>) -> bool {
    let end = bytes.len().saturating_sub(END_LENGTH);
    let number = |at: usize, width: usize| {
        let bytes = bytes.get(end + at..end + at + width).unwrap_or_default();
        bytes
            .iter()
            .rev()
            .fold(0_u64, |number, byte| number << 8 | u64::from(*byte))
    };
    let (disks, files, comment) = (number(4, 4), [number(8, 2), number(10, 2)], number(20, 2));
    let (size, start) = (number(12, 4), number(16, 4));
    disks == 0
        && comment == 0
        && files == [archive.len() as u64; 2]
        && start + size == end as u64
        && archive.offset() == 0
        && archive.central_directory_start() == start
}

/// The names of all files, each looked at before anything is unpacked.
fn plain_names(archive: &ZipArchive<Cursor<&[u8]>>) -> Result<Vec<String>, Refusal> {
    let mut names: Vec<String> = Vec::new();
    for index in 0..archive.len() {
        let entry = archive.by_index_data(index).map_err(|_| damaged())?;
        let name = plain_name(&entry)?;
        if names.iter().any(|known| known.to_lowercase() == name.to_lowercase()) {
            return Err(refused(format!(
                "two files in the archive are named `{name}` but for capitals"
            )));
        }
        plain_entry(&name, &entry)?;
        names.push(name);
    }
    Ok(names)
}

fn plain_name(entry: &ZipFileEntry<'_>) -> Result<String, Refusal> {
    let raw = entry.name_raw();
    // Whatever is in it, it is shown as what it is.
    let shown = String::from_utf8_lossy(raw).escape_debug().to_string();
    let name = std::str::from_utf8(raw).map_err(|_| refused(format!("`{shown}` is no plain name of a file")))?;
    if name.starts_with(['/', '\\']) || name.contains("..") || name.contains(':') {
        return Err(refused(format!("`{shown}` leads out of the pack's folder")));
    }
    if name.contains(['/', '\\']) {
        return Err(refused(format!("`{shown}` is in a folder: a pack's files lie side by side")).hint(PACKED_AGAIN));
    }
    if !is_file_of_pack(name) || !name.is_ascii() {
        let hint = match LEFT_BY_SYSTEMS.contains(&name) {
            true => PACKED_AGAIN,
            false => "a pack has pack.toml, scripts (.rhai), their cases (.cases.toml), README.md, LICENCE",
        };
        return Err(refused(format!("`{shown}` is no file of a pack")).hint(hint));
    }
    Ok(name.to_owned())
}

fn plain_entry(name: &str, entry: &ZipFileEntry<'_>) -> Result<(), Refusal> {
    let kind = entry.unix_mode().map_or(0, |mode| mode & KIND);
    if entry.is_dir() || entry.is_symlink() || (kind != 0 && kind != REGULAR) {
        return Err(refused(format!("`{name}` is a link or a folder, no file")));
    }
    if entry.encrypted() {
        return Err(refused(format!("`{name}` is locked with a password")));
    }
    if !matches!(
        entry.compression(),
        CompressionMethod::Stored | CompressionMethod::Deflated
    ) {
        return Err(
            refused(format!("`{name}` is compressed in an unusual way")).hint("seal the pack with crankline pack seal")
        );
    }
    let (size, packed) = (entry.size(), entry.compressed_size());
    if size > LARGEST_FILE {
        return Err(refused(format!("`{name}` is larger than {LARGEST_FILE} bytes")));
    }
    if size > SMALL_FILE && size / packed.max(1) > MOST_RATIO {
        return Err(refused(format!(
            "`{name}` unpacks to more than {MOST_RATIO} times its size"
        )));
    }
    Ok(())
}

fn refused(message: impl Into<String>) -> Refusal {
    Refusal::new("sealed pack", message)
}

fn damaged() -> Refusal {
    refused("the archive is damaged").hint("get the file again")
}

fn too_large() -> Refusal {
    refused(format!(
        "this is larger than a pack may be: {LARGEST_ARCHIVE} bytes packed, {LARGEST_WHOLE} unpacked"
    ))
}
