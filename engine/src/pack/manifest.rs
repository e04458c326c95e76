//! `pack.toml`: what a pack is called, whose it is, which packs it uses. Its scripts are the files beside it.

use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText};
use crate::document::{Fields, Item, parse};
use std::sync::Arc;

type Result<T> = std::result::Result<T, Diagnostic>;

/// What a pack says of itself.
#[derive(Clone, Debug)]
pub struct Manifest {
    /// Its text.
    pub source: Arc<SourceText>,
    /// The first part of its scripts' names: `driveline`.
    pub name: String,
    /// Its version.
    pub version: String,
    /// What it is for, in a line.
    pub title: Option<String>,
    /// Who wrote it.
    pub author: Option<String>,
    /// Under what licence.
    pub licence: Option<String>,
    /// Packs that its scripts may import from.
    pub uses: Vec<UsedPack>,
}

/// A pack that another one uses.
#[derive(Clone, Debug)]
pub struct UsedPack {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub place: Place,
}

const KEYS: [&str; 7] = ["format", "name", "version", "title", "author", "licence", "uses"];

impl Manifest {
    /// Reads a manifest.
    ///
    /// # Errors
    /// What cannot be read, an unknown key, a name that is none, with its place.
    pub fn read(text: SourceText) -> Result<Self> {
        let source = Arc::new(text);
        let root = parse(&source)?;
        Fields::any(&root, "a manifest")?.format()?;
        let fields = Fields::of(&root, "a manifest", &KEYS)?;
        let name = pack_name(fields.get("name").ok_or_else(|| fields.lacks("name"))?)?;
        let uses = fields.list("uses")?.iter().map(|item| {
            Ok(UsedPack {
                name: pack_name(item)?,
                place: item.place.clone(),
            })
        });
        let uses = uses.collect::<Result<Vec<_>>>()?;
        if let Some(itself) = uses.iter().find(|used| used.name == name) {
            let refusal = Refusal::new("uses", "a pack sees its own scripts anyway");
            return Err(Diagnostic::at(refusal, itself.place.clone()));
        }
        Ok(Self {
            name,
            version: fields.needed_text("version")?,
            title: fields.text("title")?,
            author: fields.text("author")?,
            licence: fields.text("licence")?,
            uses,
            source,
        })
    }
}

/// A pack's name is part of a path: small letters, digits and hyphens, so that it leads nowhere else on any disk.
fn pack_name(item: &Item) -> Result<String> {
    let name = item.text("the name of a pack")?;
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    let starts = name.starts_with(|c: char| c.is_ascii_lowercase());
    if starts && name.len() <= 64 && name.chars().all(plain) {
        return Ok(name);
    }
    let message = format!("`{name}` is no name of a pack: small letters, digits and - only, a letter first");
    Err(Diagnostic::at(Refusal::new("name", message), item.place.clone()))
}
