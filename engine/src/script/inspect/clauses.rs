//! Which clauses a statement has: `how`, `per`, a label.

use super::super::source::{Extent, Script};
use super::graph::word;

/// Whether a clause that opens with this word follows a statement's value.
pub(super) fn has(script: &Script, extent: &Extent, opening: &str) -> bool {
    let mut open = 0_usize;
    for at in extent.value.end..script.lexemes.len() {
        match word(script, at) {
            "(" | "[" | "{" | "#{" => open += 1,
            ")" | "]" | "}" if open == 0 => return false,
            ")" | "]" | "}" => open -= 1,
            ";" if open == 0 => return false,
            found if open == 0 && found == opening && word(script, at.saturating_sub(1)) != "." => return true,
            _ => {}
        }
    }
    false
}
