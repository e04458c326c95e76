//! `seal.toml`: what is in a sealed pack, file by file, so that whoever gets it knows that it is whole.

use super::archive::{PACKED_AGAIN, PackFile};
use super::digest::sha256;
use super::files::{MANIFEST, SEAL, SIGNATURE};
use super::manifest::{Manifest, version};
use crate::diagnostic::{Diagnostic, Refusal, SourceText, refuse_hidden_in};
use crate::document::{Content, Fields, Item, parse};
use std::sync::Arc;
use toml_edit::{ArrayOfTables, DocumentMut, Table, value};

/// The format of sealed packs that is written.
const FORMAT: i64 = 1;

/// What a sealed pack holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seal {
    /// The pack's name.
    pub name: String,
    /// Its version.
    pub version: String,
    /// On which terms others may use it.
    pub licence: String,
    /// Its files, all but the seal and its signature.
    pub files: Vec<SealedFile>,
}

/// A file of a sealed pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SealedFile {
    /// Its name.
    pub name: String,
    /// Its length.
    pub bytes: usize,
    /// Its SHA-256 in hexadecimal digits.
    pub sha256: String,
}

impl Seal {
    /// Of a pack's files.
    ///
    /// # Errors
    /// A manifest without a licence: nobody else may use the pack.
    pub fn of(manifest: &Manifest, files: &[PackFile]) -> Result<Self, Refusal> {
        let licence = manifest.licence.clone().filter(|licence| !licence.trim().is_empty());
        let mut sealed: Vec<SealedFile> = files
            .iter()
            .filter(|file| is_sealed(&file.name))
            .map(digested)
            .collect();
        sealed.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(Self {
            name: manifest.name.clone(),
            version: manifest.version.clone(),
            licence: licence.ok_or_else(|| {
                let message = format!("the pack `{}` names no licence: nobody else may use it", manifest.name);
                Refusal::new("seal", message).hint("licence = \"MIT\" in its pack.toml, or the terms that you want")
            })?,
            files: sealed,
        })
    }

    /// As it is written.
    #[must_use]
    pub fn text(&self) -> String {
        let mut document = DocumentMut::new();
        document.insert("format", value(FORMAT));
        for (key, text) in [
            ("name", &self.name),
            ("version", &self.version),
            ("licence", &self.licence),
        ] {
            document.insert(key, value(text.as_str()));
        }
        let mut files = ArrayOfTables::new();
        for file in &self.files {
            let mut table = Table::new();
            table.insert("name", value(file.name.as_str()));
            table.insert("bytes", value(i64::try_from(file.bytes).unwrap_or(i64::MAX)));
            table.insert("sha256", value(file.sha256.as_str()));
            files.push(table);
        }
        document.insert("file", toml_edit::Item::ArrayOfTables(files));
        document.to_string()
    }

    /// Reads a seal.
    ///
    /// # Errors
    /// What cannot be read, a newer format, with its place.
    pub fn read(text: SourceText) -> Result<Self, Diagnostic> {
        let root = parse(&Arc::new(text))?;
        Fields::any(&root, "a seal")?.format()?;
        let fields = Fields::of(&root, "a seal", &["format", "name", "version", "licence", "file"])?;
        Ok(Self {
            name: fields.needed_name("name")?,
            version: version(&fields)?,
            licence: fields.needed_name("licence")?,
            files: fields.list("file")?.iter().map(sealed_file).collect::<Result<_, _>>()?,
        })
    }

    /// Whether one of these files is the one that was sealed but for the ends of its lines.
    fn has_other_line_ends(&self, files: &[PackFile]) -> bool {
        files.iter().any(|file| {
            let text = String::from_utf8_lossy(&file.bytes);
            let unix = sha256(text.replace("\r\n", "\n").as_bytes());
            let mut sealed = self.files.iter().filter(|sealed| sealed.name == file.name);
            text.contains("\r\n") && sealed.any(|sealed| sealed.sha256 == unix)
        })
    }

    /// What other files this seal has than an older one, each in words.
    #[must_use]
    pub fn changes_since(&self, older: &Self) -> Vec<String> {
        let mut found = Vec::new();
        for file in &self.files {
            match older.files.iter().find(|known| known.name == file.name) {
                None => found.push(format!("`{}` is new", file.name)),
                Some(known) if known != file => found.push(format!("`{}` is another", file.name)),
                Some(_) => {}
            }
        }
        for known in &older.files {
            if !self.files.iter().any(|file| file.name == known.name) {
                found.push(format!("`{}` is no longer in it", known.name));
            }
        }
        found
    }

    /// What differs between the seal and these files; nothing where they are those that were sealed.
    #[must_use]
    pub fn differences(&self, files: &[PackFile]) -> Vec<String> {
        let mut found = Vec::new();
        for sealed in &self.files {
            match files.iter().find(|file| file.name == sealed.name) {
                None => found.push(format!("`{}` is missing", sealed.name)),
                Some(file) if digested(file) != *sealed => {
                    found.push(format!("`{}` is not the file that was sealed", sealed.name));
                }
                Some(_) => {}
            }
        }
        for file in files.iter().filter(|file| is_sealed(&file.name)) {
            if !self.files.iter().any(|sealed| sealed.name == file.name) {
                found.push(format!("`{}` was not there when it was sealed", file.name));
            }
        }
        found
    }
}

/// Whether a file is under the seal: all but the seal itself and its signature.
fn is_sealed(name: &str) -> bool {
    name != SEAL && name != SIGNATURE
}

fn digested(file: &PackFile) -> SealedFile {
    SealedFile {
        name: file.name.clone(),
        bytes: file.bytes.len(),
        sha256: sha256(&file.bytes),
    }
}

fn sealed_file(item: &Item) -> Result<SealedFile, Diagnostic> {
    let fields = Fields::of(item, "a sealed file", &["name", "bytes", "sha256"])?;
    let bytes = fields.get("bytes").ok_or_else(|| fields.lacks_as("bytes", "1234"))?;
    let Content::Whole(count) = bytes.content else {
        return Err(bytes.unfit("`bytes`", "a whole number"));
    };
    Ok(SealedFile {
        name: fields.needed_name("name")?,
        bytes: usize::try_from(count).map_err(|_| bytes.unfit("`bytes`", "a whole number from 0"))?,
        sha256: fields.needed_name("sha256")?,
    })
}

/// A sealed pack, found whole.
#[derive(Clone, Debug)]
pub struct Sealed {
    /// What it says of itself.
    pub manifest: Manifest,
    /// What was sealed.
    pub seal: Seal,
    /// All files, the seal and its signature too.
    pub files: Vec<PackFile>,
}

impl Sealed {
    /// Of the files in an archive, each compared with the seal.
    ///
    /// # Errors
    /// A file that is missing, that nobody sealed, or that is another than the one that was sealed.
    pub fn of(files: Vec<PackFile>) -> Result<Self, Diagnostic> {
        let text = |name: &str| -> Result<SourceText, Diagnostic> {
            let file = files.iter().find(|file| file.name == name).ok_or_else(|| {
                Refusal::new("sealed pack", format!("there is no `{name}` in it"))
                    .hint("crankline pack seal makes a file that others can add")
            })?;
            let text = String::from_utf8(file.bytes.clone())
                .map_err(|_| Refusal::new("sealed pack", format!("`{name}` is no text in UTF-8")))?;
            Ok(SourceText {
                name: name.to_owned(),
                text,
            })
        };
        let seal = Seal::read(text(SEAL)?)?;
        if let Some(difference) = seal.differences(&files).first() {
            let refusal = Refusal::new(
                "sealed pack",
                format!("this pack has been changed since it was sealed: {difference}"),
            );
            let hint = match seal.has_other_line_ends(&files) {
                true => PACKED_AGAIN,
                false => "get it again from whoever sealed it",
            };
            return Err(refusal.hint(hint).into());
        }
        let manifest = Manifest::read(text(MANIFEST)?)?;
        for file in files
            .iter()
            .filter(|file| file.name.ends_with(".rhai") || file.name.ends_with(".toml"))
        {
            // What a script is for is shown before anybody runs it.
            refuse_hidden_in(&Arc::new(text(&file.name)?))?;
        }
        if (&manifest.name, &manifest.version) != (&seal.name, &seal.version) {
            let message = "its manifest and its seal name different packs";
            return Err(Refusal::new("sealed pack", message).into());
        }
        Ok(Self { manifest, seal, files })
    }
}
