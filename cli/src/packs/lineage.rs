//! Where a script was copied from, and where that was, back to the first that is known here.

use super::collection::Collection;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::pack::{Adapted, sha256};

/// More generations nobody follows.
const MOST: usize = 64;

/// A step back: what the manifest says of it, and what that parent is today.
pub(crate) struct Generation {
    pub(crate) adapted: Adapted,
    pub(crate) now: Now,
}

/// What a parent is today.
pub(crate) enum Now {
    /// As it was when it was copied.
    Same,
    /// Another text, in this version of its pack.
    Another(String),
    /// Its pack, or the script in it, is not here.
    NotHere,
}

impl Now {
    /// In words, behind the parent's name.
    pub(crate) fn words(&self) -> String {
        match self {
            Self::Same => "which is the same still".to_owned(),
            Self::Another(version) => format!("which is another now, in version {version}"),
            Self::NotHere => "which is not here".to_owned(),
        }
    }
}

/// The generations of a script, its parent first; of a file none.
///
/// # Errors
/// Where the script's own pack cannot be read. Where that of a forebear cannot, the line ends there.
pub(crate) fn generations(script: &str, packs: &Collection) -> Result<Vec<Generation>, Diagnostic> {
    let mut found: Vec<Generation> = Vec::new();
    let mut next = parent(script, packs)?;
    while let Some(adapted) = next {
        let now = match packs.script(&adapted.from).ok() {
            Some((_, text)) if sha256(text.text.as_bytes()) == adapted.sha256 => Now::Same,
            Some((pack, _)) => Now::Another(pack.manifest.version.clone()),
            None => Now::NotHere,
        };
        let is_known = |name: &str| name == script || found.iter().any(|known| known.adapted.from == name);
        let goes_on = !is_known(&adapted.from) && found.len() < MOST;
        next = if goes_on {
            parent(&adapted.from, packs).ok().flatten()
        } else {
            None
        };
        found.push(Generation { adapted, now });
    }
    Ok(found)
}

/// What the manifest of a script's pack says that it was copied from.
fn parent(script: &str, packs: &Collection) -> Result<Option<Adapted>, Diagnostic> {
    let Some((pack, own)) = script.split_once('/').filter(|_| !has_extension(script, "rhai")) else {
        return Ok(None);
    };
    let Some(pack) = packs.find(pack)? else {
        return Ok(None);
    };
    let mut adapted = pack.manifest.adapted.iter();
    Ok(adapted.find(|adapted| adapted.script == own).cloned())
}
