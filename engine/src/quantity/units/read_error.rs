//! What could not be read in a text, and where in it.

use core::fmt;
use core::ops::Range;

/// Why a text is no quantity, unit or style.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// Bytes of the text that are meant (at character borders, within the text).
    pub at: Range<usize>,
    /// What was found and what was expected, one lower-case sentence.
    pub message: String,
    /// What to write instead.
    pub hint: Option<String>,
}

impl ReadError {
    pub(in crate::quantity) fn new(at: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            at,
            message: message.into(),
            hint: None,
        }
    }

    pub(in crate::quantity) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The same where the text stands `by` bytes further on.
    pub(in crate::quantity) fn shifted(mut self, by: usize) -> Self {
        self.at = self.at.start + by..self.at.end + by;
        self
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}", self.message)?;
        match &self.hint {
            Some(hint) => write!(to, " ({hint})"),
            None => Ok(()),
        }
    }
}

impl core::error::Error for ReadError {}

/// The longest text that is read; a quantity of more than this many bytes is none.
pub(in crate::quantity) const LONGEST: usize = 256;

/// Refuses a text that is too long to be a quantity.
pub(in crate::quantity) fn refuse_long(text: &str) -> Result<(), ReadError> {
    if text.len() <= LONGEST {
        return Ok(());
    }
    let start = text
        .char_indices()
        .map(|(at, _)| at)
        .find(|&at| at >= LONGEST)
        .unwrap_or(text.len());
    Err(ReadError::new(
        start..text.len(),
        format!("a text of {} bytes is too long: {LONGEST} at most", text.len()),
    ))
}
