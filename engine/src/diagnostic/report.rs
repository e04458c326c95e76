//! A message with its place, and how it is printed.

use super::{Refusal, on_one_line, shown};
use std::borrow::Cow;
use std::fmt;
use std::sync::Arc;

/// A text that messages may point into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceText {
    /// Its name, as people know it: `driveline/joint-angles.rhai`.
    pub name: String,
    /// All of it.
    pub text: String,
}

/// A place in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The text.
    pub source: Arc<SourceText>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// How many characters are meant.
    pub width: usize,
}

/// What was wrong, where, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// What was wrong.
    pub refusal: Refusal,
    /// Where; the first is the place itself, the rest say how it came there.
    pub places: Vec<Place>,
}

impl Diagnostic {
    /// A message at a place.
    #[must_use]
    pub fn at(refusal: Refusal, place: Place) -> Self {
        Self {
            refusal,
            places: vec![place],
        }
    }

    /// A message about no text in particular.
    #[must_use]
    pub fn nowhere(refusal: Refusal) -> Self {
        Self {
            refusal,
            places: Vec::new(),
        }
    }
}

impl From<Refusal> for Diagnostic {
    fn from(refusal: Refusal) -> Self {
        Self::nowhere(refusal)
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(to, "error: {}", shown(&shortened(self.refusal.message())))?;
        for (nth, place) in self.places.iter().enumerate() {
            place.print(to, nth > 0)?;
        }
        for hint in self.refusal.hints().iter().take(2) {
            writeln!(to, "  try: {}", shown(&shortened(hint)))?;
        }
        Ok(())
    }
}

impl std::error::Error for Diagnostic {}

/// Longer messages quote something that nobody reads to its end: what stands at the start and at the end of one is kept.
const MESSAGE: usize = 600;
const MESSAGE_END: usize = 200;

fn shortened(message: &str) -> Cow<'_, str> {
    let length = message.chars().count();
    if length <= MESSAGE {
        return Cow::Borrowed(message);
    }
    let start: String = message.chars().take(MESSAGE - MESSAGE_END).collect();
    let end: String = message.chars().skip(length - MESSAGE_END).collect();
    Cow::Owned(format!("{start} … {end}"))
}

/// The longest part of a line that is shown.
const LINE_WIDTH: usize = 120;

impl Place {
    /// The place of one character, by its first byte.
    pub(crate) fn of_byte(source: &Arc<SourceText>, at: usize) -> Self {
        let before = source.text.get(..at).unwrap_or("");
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        Self {
            source: Arc::clone(source),
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).unwrap_or("").chars().count() + 1,
            width: 1,
        }
    }

    fn print(&self, to: &mut fmt::Formatter<'_>, called_from: bool) -> fmt::Result {
        let way = if called_from { "reached from" } else { "in" };
        writeln!(
            to,
            "  {way} {}, line {}, column {}",
            shown(&on_one_line(&self.source.name)),
            self.line,
            self.column
        )?;
        for line in self.marked().into_iter().flatten() {
            writeln!(to, "  {line}")?;
        }
        Ok(())
    }

    /// Its line with the number, and below it the mark; nothing where the text has no such line.
    pub(crate) fn marked(&self) -> Option<[String; 2]> {
        let line = self.source.text.lines().nth(self.line.saturating_sub(1))?;
        let number = self.line.to_string();
        // Tabs would push the mark out of its place, control characters could move the cursor.
        let start: String = line.chars().take(LINE_WIDTH).collect();
        let shown = shown(&start.replace('\t', " "));
        let before = self.column.saturating_sub(1).min(shown.chars().count());
        let width = self.width.clamp(1, LINE_WIDTH.saturating_sub(before).max(1));
        let margin = " ".repeat(number.len());
        let mark = format!("{margin} | {}{}", " ".repeat(before), "^".repeat(width));
        Some([format!("{number} | {shown}"), mark])
    }
}
