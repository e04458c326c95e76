//! Where a script was copied from, and where that was, as its pack notes it.

use super::collection::Collection;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::pack::{Ancestor, Today, sha256};

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

/// The generations of a script, its parent first; of a file none.
///
/// # Errors
/// Where the script's own pack cannot be read.
pub(crate) fn generations(script: &str, packs: &Collection) -> Result<Vec<Generation>, Diagnostic> {
    let Some((pack, own)) = script.split_once('/').filter(|_| !has_extension(script, "rhai")) else {
        return Ok(Vec::new());
    };
    let Some(pack) = packs.find(pack)? else {
        return Ok(Vec::new());
    };
    let mut adapted = pack.manifest.adapted.iter();
    let adapted = adapted.find(|adapted| adapted.script == own);
    let all = adapted
        .into_iter()
        .flat_map(|adapted| std::iter::once(adapted.parent()).chain(adapted.before.iter().cloned()));
    let generation = |ancestor: Ancestor| Generation {
        became: ancestor.became(today(&ancestor.from, packs).as_ref()),
        ancestor,
    };
    Ok(all.map(generation).collect())
}

/// A script as it is here, if it is.
fn today(name: &str, packs: &Collection) -> Option<Today> {
    let (pack, text) = packs.script(name).ok()?;
    Some(Today {
        version: pack.manifest.version.clone(),
        sha256: sha256(text.text.as_bytes()),
    })
}
