//! Which clauses a statement has: `how`, `per`, a label. One that is a blank text says nothing, and is none.

use super::super::source::{Extent, Script};
use super::graph::{nested, word};

/// Whether a clause that opens with this word follows a statement's value.
pub(super) fn has(script: &Script, extent: &Extent, opening: &str) -> bool {
    nested(script, extent.value.end..script.lexemes.len())
        .take_while(|(at, open)| *open > 0 || *open == 0 && word(script, *at) != ";")
        .filter(|(at, open)| *open == 0 && word(script, *at) == opening && word(script, at.saturating_sub(1)) != ".")
        .any(|(at, _)| !is_blank(script, at + 1))
}

/// Whether a text stands here by itself with nothing to read in it: `""`.
fn is_blank(script: &Script, at: usize) -> bool {
    let written = script.written(&(at..at + 1));
    let inside = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    inside.is_some_and(|inside| inside.trim().is_empty()) && word(script, at + 1) != "+"
}
