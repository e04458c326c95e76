//! What a text says stands on one line wherever it is shown: an end of a line in somebody's label would begin a line of
//! the program's own, a verdict say, or one of a job file, a reading say.

use super::Refusal;
use std::borrow::Cow;

/// Whether a character ends a line, somewhere, or moves what follows it to another column.
#[must_use]
pub fn ends_line(character: char) -> bool {
    matches!(
        character,
        '\t' | '\n' | '\u{b}' | '\u{c}' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}'
    )
}

/// A text on one line: each run of such characters, with the spaces round it, becomes a space.
#[must_use]
pub fn on_one_line(text: &str) -> Cow<'_, str> {
    if !text.contains(ends_line) {
        return Cow::Borrowed(text);
    }
    let lines = text.split(ends_line).map(|line| line.trim_matches(' '));
    let lines: Vec<&str> = lines.filter(|line| !line.is_empty()).collect();
    Cow::Owned(lines.join(" "))
}

/// Refuses a name that goes on over several lines, or holds a tab: joined, it would be another name.
///
/// # Errors
/// One that does; `what` is the name for the message.
pub fn refuse_lines(name: &str, what: &str) -> Result<(), Refusal> {
    if !name.contains(ends_line) {
        return Ok(());
    }
    let message = format!("{what} stands on one line, and this holds an end of a line or a tab");
    Err(Refusal::new("lines", message))
}
