//! Where a script was copied from, and where that was, as its pack notes it.

use super::collection::Collection;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::pack::{Adapted, Ancestor, Today, sha256};

/// More generations nobody follows.
const MOST: usize = 64;

/// A step back: what the manifest says of it, and what became of that.
pub(crate) struct Generation {
    pub(crate) ancestor: Ancestor,
    /// In words, behind the ancestor's name.
    pub(crate) became: String,
}

impl Generation {
    /// `from driveline/critical-speed, version 0.1.0, which is the same still; licence: MIT, author: not named`
    pub(crate) fn words(&self) -> String {
        let Ancestor { from, version, .. } = &self.ancestor;
        format!(
            "from {from}, version {version}, {}; {}",
            self.became,
            self.ancestor.terms()
        )
    }
}

/// The generations of a script, its parent first; of a file none. A pack notes them all; where an older one notes the parent
/// alone, what that one's pack notes follows.
///
/// # Errors
/// Where the script's own pack cannot be read. Where that of an ancestor cannot, the line ends there.
pub(crate) fn generations(script: &str, packs: &Collection) -> Result<Vec<Generation>, Diagnostic> {
    let mut all: Vec<Ancestor> = Vec::new();
    let mut next = adapted(script, packs)?;
    while let Some(adapted) = next {
        let is_known = |name: &str| name == script || all.iter().any(|known| known.from == name);
        let goes_on = adapted.before.is_empty() && !is_known(&adapted.from) && all.len() < MOST;
        all.push(adapted.parent());
        all.extend(adapted.before.iter().cloned());
        next = match goes_on {
            true => self::adapted(&adapted.from, packs).ok().flatten(),
            false => None,
        };
    }
    let generation = |ancestor: Ancestor| Generation {
        became: ancestor.became(today(&ancestor.from, packs).as_ref()),
        ancestor,
    };
    Ok(all.into_iter().map(generation).collect())
}

/// What the manifest of a script's pack says that it was copied from.
fn adapted(script: &str, packs: &Collection) -> Result<Option<Adapted>, Diagnostic> {
    let Some((pack, own)) = script.split_once('/').filter(|_| !has_extension(script, "rhai")) else {
        return Ok(None);
    };
    let Some(pack) = packs.find(pack)? else {
        return Ok(None);
    };
    let mut adapted = pack.manifest.adapted.iter();
    Ok(adapted.find(|adapted| adapted.script == own).cloned())
}

/// A script as it is here, if it is.
fn today(name: &str, packs: &Collection) -> Option<Today> {
    let (pack, text) = packs.script(name).ok()?;
    Some(Today {
        version: pack.manifest.version.clone(),
        sha256: sha256(text.text.as_bytes()),
    })
}
