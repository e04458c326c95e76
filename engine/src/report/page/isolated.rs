//! Texts of strangers that stand in a line with others: letters that run from right to left would carry the numbers beside
//! them to the other side.

use crate::outcome::{Phrase, Piece};
use maud::{Markup, html};

/// A text, in an element of its own where it has such letters.
pub(super) fn isolated(text: &str) -> Markup {
    around(text.chars().any(runs_left), html! { (text) })
}

/// The same of a text with numbers in it, which is written already.
pub(super) fn isolated_phrase(phrase: &Phrase, written: Markup) -> Markup {
    let runs = |piece: &Piece| matches!(piece, Piece::Words(words) if words.chars().any(runs_left));
    around(phrase.pieces.iter().any(runs), written)
}

fn around(is_apart: bool, written: Markup) -> Markup {
    match is_apart {
        true => html! { bdi { (written) } },
        false => written,
    }
}

/// Whether a letter is of a script that runs from right to left.
///
/// Source: from memory of the Unicode Character Database, DerivedBidiClass: the blocks whose letters are R or AL.
fn runs_left(letter: char) -> bool {
    matches!(
        letter,
        '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefe}' | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}'
    )
}
