//! Which clauses a statement has: `how`, `per`, a label.

use super::super::source::{Extent, Script};
use super::graph::{nested, word};

/// Whether a clause that opens with this word follows a statement's value.
pub(super) fn has(script: &Script, extent: &Extent, opening: &str) -> bool {
    nested(script, extent.value.end..script.lexemes.len())
        .take_while(|(at, open)| *open > 0 || *open == 0 && word(script, *at) != ";")
        .any(|(at, open)| open == 0 && word(script, at) == opening && word(script, at.saturating_sub(1)) != ".")
}
