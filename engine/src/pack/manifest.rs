//! `pack.toml`: what a pack is called, whose it is, which packs it uses. Its scripts are the files beside it.

use super::files::{is_device, is_script_name};
use super::version::is_version;
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
    /// Which of its scripts were copied from others.
    pub adapted: Vec<Adapted>,
}

/// Where a script was copied from, before it went its own way.
#[derive(Clone, Debug)]
pub struct Adapted {
    /// The script, without its pack's name.
    pub script: String,
    /// Its parent's whole name: `driveline/critical-speed`.
    pub from: String,
    /// The version of the parent's pack then.
    pub version: String,
    /// The SHA-256 of the parent's text then, in hexadecimal digits.
    pub sha256: String,
    /// The terms of the parent's pack then, where it named any.
    pub licence: Option<String>,
    /// Who wrote the parent's pack, where it named anybody.
    pub author: Option<String>,
    /// What the parent had been copied from, what that had been, and so on: the oldest last.
    pub before: Vec<Ancestor>,
}

/// What a parent was copied from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ancestor {
    /// Its whole name.
    pub from: String,
    /// The version of its pack then.
    pub version: String,
    /// The SHA-256 of its text then, in hexadecimal digits.
    pub sha256: String,
    /// The terms of its pack then, where it named any.
    pub licence: Option<String>,
    /// Who wrote its pack, where it named anybody.
    pub author: Option<String>,
}

/// A pack that another one uses.
#[derive(Clone, Debug)]
pub struct UsedPack {
    /// Its name.
    pub name: String,
    /// Where it is named.
    pub place: Place,
}

/// More packs than that no pack needs.
const MOST_USED: usize = 64;
/// Nor is any script copied so often.
pub(super) const MOST_ANCESTORS: usize = 64;

const KEYS: [&str; 8] = [
    "format", "name", "version", "title", "author", "licence", "uses", "adapted",
];

impl Manifest {
    /// Reads a manifest.
    ///
    /// # Errors
    /// What cannot be read, an unknown key, a name or a version that is none, with its place.
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
        if let Some(used) = uses.get(MOST_USED) {
            let refusal = Refusal::new("uses", format!("a pack uses {MOST_USED} others at the most"));
            return Err(Diagnostic::at(refusal, used.place.clone()));
        }
        if let Some(itself) = uses.iter().find(|used| used.name == name) {
            let refusal = Refusal::new("uses", "a pack sees its own scripts anyway");
            return Err(Diagnostic::at(refusal, itself.place.clone()));
        }
        Ok(Self {
            name,
            version: version(&fields)?,
            title: fields.name("title")?,
            author: fields.name("author")?,
            licence: fields.name("licence")?,
            uses,
            adapted: fields.list("adapted")?.iter().map(adapted).collect::<Result<_>>()?,
            source,
        })
    }
}

fn adapted(item: &Item) -> Result<Adapted> {
    let keys = ["script", "from", "version", "sha256", "licence", "author", "before"];
    let fields = Fields::of(item, "an adapted script", &keys)?;
    let parent = ancestor(&fields)?;
    let before = fields.list("before")?;
    if let Some(item) = before.get(MOST_ANCESTORS) {
        let refusal = Refusal::new("before", format!("a script has {MOST_ANCESTORS} ancestors at the most"));
        return Err(Diagnostic::at(refusal, item.place.clone()));
    }
    let before = before.iter().map(|item| {
        let keys = ["from", "version", "sha256", "licence", "author"];
        ancestor(&Fields::of(item, "an ancestor", &keys)?)
    });
    Ok(Adapted {
        script: fields.needed_name("script")?,
        from: parent.from,
        version: parent.version,
        sha256: parent.sha256,
        licence: parent.licence,
        author: parent.author,
        before: before.collect::<Result<_>>()?,
    })
}

fn ancestor(fields: &Fields<'_>) -> Result<Ancestor> {
    Ok(Ancestor {
        from: fields.needed_name("from")?,
        version: version(fields)?,
        sha256: fields.needed_name("sha256")?,
        licence: fields.name("licence")?,
        author: fields.name("author")?,
    })
}

/// The version that a pack has, or had.
pub(super) fn version(fields: &Fields<'_>) -> Result<String> {
    let version = fields.needed_name("version")?;
    if is_version(&version) {
        return Ok(version);
    }
    let message =
        format!("`{version}` is no version: letters, digits, `.`, `-`, `+` and `_` only, a letter or a digit first");
    let refusal = Refusal::new("version", message)
        .hint("version = \"0.2.0\": numbers with points between, so that all see which is the newer one");
    let place = fields.get("version").map(|item| item.place.clone());
    Err(Diagnostic {
        refusal,
        places: place.into_iter().collect(),
    })
}

/// A pack's name is part of a path: small letters, digits and hyphens, so that it leads nowhere else on any disk.
fn pack_name(item: &Item) -> Result<String> {
    let name = item.name("the name of a pack")?;
    if is_pack_name(&name) {
        return Ok(name);
    }
    let why = match is_device(&name) {
        true => "some systems keep it for a device",
        false => "small letters, digits and - only, a letter first",
    };
    let message = format!("`{name}` is no name of a pack: {why}");
    Err(Diagnostic::at(Refusal::new("name", message), item.place.clone()))
}

/// Whether a pack may be called so.
#[must_use]
pub fn is_pack_name(name: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
    let starts = name.starts_with(|letter: char| letter.is_ascii_lowercase());
    starts && is_script_name(name) && name.chars().all(plain)
}
