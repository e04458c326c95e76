//! How much room text takes, before any font is known: a little more than the usual ones need.

use super::super::written;
use crate::outcome::{Phrase, Piece};
use crate::quantity::text::System;

/// The size of text.
pub(super) const TEXT: f64 = 12.0;
/// From one line of text to the next.
pub(super) const LINE: f64 = 15.0;

/// The width of a text.
pub(super) fn width(text: &str) -> f64 {
    text.chars().map(|c| TEXT * of_character(c)).sum()
}

/// Shares of the size: upper bounds for the common sans-serif fonts.
fn of_character(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' | '\u{a0}' | 'I' => 0.32,
        'f' | 't' | 'r' | '(' | ')' | '-' | '/' | '[' | ']' | '°' | '²' | '³' => 0.42,
        'm' | 'M' | 'W' | 'w' | '%' | '@' | '±' | '→' | '↑' => 0.96,
        'A'..='Z' => 0.74,
        '0'..='9' => 0.64,
        _ => 0.62,
    }
}

/// The words of pieces.
pub(super) fn spoken(pieces: &[Piece], system: System) -> String {
    let phrase = Phrase {
        pieces: pieces.to_vec(),
    };
    written::phrase(&phrase, system)
}

/// The width of the widest of some lines.
pub(super) fn widest(lines: &[Vec<Piece>], system: System) -> f64 {
    let widths = lines.iter().map(|line| width(&spoken(line, system)));
    widths.fold(0.0, |widest: f64, width| if width > widest { width } else { widest })
}

/// A text broken into lines of about this width, at spaces; numbers stay whole.
pub(super) fn wrapped(phrase: &Phrase, room: f64, system: System) -> Vec<Vec<Piece>> {
    let mut lines: Vec<Vec<Piece>> = vec![Vec::new()];
    let mut used = 0.0;
    for (piece, spaced) in tokens(phrase) {
        let text = spoken(std::slice::from_ref(&piece), system);
        let space = if spaced && used > 0.0 { width(" ") } else { 0.0 };
        if used > 0.0 && spaced && used + space + width(&text) > room {
            lines.push(Vec::new());
            used = 0.0;
        } else if space > 0.0 {
            push(&mut lines, Piece::Words(" ".to_owned()));
            used += space;
        }
        used += width(&text);
        push(&mut lines, piece);
    }
    lines
}

fn push(lines: &mut [Vec<Piece>], piece: Piece) {
    let Some(line) = lines.last_mut() else { return };
    match (line.last_mut(), piece) {
        (Some(Piece::Words(before)), Piece::Words(words)) => before.push_str(&words),
        (_, piece) => line.push(piece),
    }
}

/// Words one by one and numbers whole, each with whether a space stands before it.
fn tokens(phrase: &Phrase) -> Vec<(Piece, bool)> {
    let mut found = Vec::new();
    let mut spaced = false;
    for piece in &phrase.pieces {
        match piece {
            Piece::Amount(_) => {
                found.push((piece.clone(), spaced));
                spaced = false;
            }
            Piece::Words(words) => {
                spaced |= words.starts_with(char::is_whitespace);
                // A space that does not break keeps a number and its unit together.
                let words = words.replace(" %", "\u{a0}%");
                for word in words.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
                    found.push((Piece::Words(word.to_owned()), spaced));
                    spaced = true;
                }
                spaced = words.ends_with(char::is_whitespace) || (spaced && words.trim().is_empty());
            }
        }
    }
    found
}

/// So many lines of text.
#[allow(clippy::cast_precision_loss, reason = "a handful")]
pub(super) fn lines_of(lines: &[Vec<Piece>]) -> f64 {
    lines.len() as f64
}

/// A name with nothing in it has nothing to say.
pub(super) fn is_empty(phrase: &Phrase) -> bool {
    phrase.pieces.is_empty()
}
