//! Characters that a screen acts on instead of showing them, or that nobody sees: they clear it, move what was said, hide
//! letters, or turn the direction of writing, so that what is read is another thing than what is calculated. Whoever writes
//! texts here needs none of them, whoever means harm does.

use super::unseen::why;
use super::{Diagnostic, Place, Refusal, SourceText};
use std::sync::Arc;

/// Whether a screen acts on a character, or nobody sees it: a control character other than the end of a line and the tab, a
/// mark of the direction of writing, a joiner, a filler, a tag, a mark of an order of bytes.
#[must_use]
pub fn is_hidden(character: char) -> bool {
    match character {
        '\n' | '\t' | ' '..='~' => false,
        other => other.is_control() || why(other).is_some(),
    }
}

/// A text as it may be shown: each such character is a picture of itself (`␛`), or `�`. Ends of lines stay.
#[must_use]
pub fn shown(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    text.chars().map(picture).collect()
}

fn picture(character: char) -> char {
    match u32::from(character) {
        _ if !is_hidden(character) => character,
        code @ 0..0x20 => char::from_u32(0x2400 + code).unwrap_or(char::REPLACEMENT_CHARACTER),
        0x7f => '\u{2421}',
        _ => char::REPLACEMENT_CHARACTER,
    }
}

/// Refuses a text that holds one of them; `what` is the text for the message. The end of a line may be written in two
/// characters.
///
/// # Errors
/// The first one, by its number.
pub fn refuse_hidden(text: &str, what: &str) -> Result<(), Refusal> {
    first_hidden(text).map_or(Ok(()), |(_, character)| Err(refusal(what, character)))
}

/// The same of a whole file, with the place.
///
/// # Errors
/// The first one, by its number.
pub(crate) fn refuse_hidden_in(source: &Arc<SourceText>) -> Result<(), Diagnostic> {
    // Editors begin files with a mark; no text within one begins so.
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let Some((at, character)) = first_hidden(text) else {
        return Ok(());
    };
    let at = at + source.text.len() - text.len();
    Err(Diagnostic::at(refusal("this", character), Place::of_byte(source, at)))
}

fn first_hidden(text: &str) -> Option<(usize, char)> {
    let mut letters = text.char_indices().peekable();
    while let Some((at, character)) = letters.next() {
        let ends_line = character == '\r' && letters.peek().is_some_and(|(_, next)| *next == '\n');
        if is_hidden(character) && !ends_line {
            return Some((at, character));
        }
    }
    None
}

fn refusal(what: &str, character: char) -> Refusal {
    let number = format!("U+{:04X}", u32::from(character));
    let kind = match character {
        '\u{1b}' => "begins a command to the screen",
        '\0' => "is no letter",
        '\r' => "takes the cursor back to the start of the line",
        other => why(other).unwrap_or("is a control character"),
    };
    Refusal::new(
        "hidden character",
        format!("{what} holds the character {number}, which {kind}"),
    )
    .hint("take it out; if it came with a file from elsewhere, ask what it is for")
}
