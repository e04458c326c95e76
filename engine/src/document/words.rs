//! A text of a document: whoever takes it gets it on one line.

use crate::diagnostic::{Refusal, on_one_line, refuse_lines};

/// A text that somebody wrote, perhaps over several lines.
#[derive(Clone, Debug)]
pub(crate) struct Words(String);

impl Words {
    pub(super) fn of(text: &str) -> Self {
        Self(text.to_owned())
    }

    /// The text on one line.
    pub(crate) fn line(&self) -> String {
        on_one_line(&self.0).into_owned()
    }

    /// The text as it was written: for whoever opens a file by it, and shows it in messages alone.
    pub(super) fn as_written(&self) -> &str {
        &self.0
    }

    /// The text where it must have stood on one line: `what` is the name for the message.
    ///
    /// # Errors
    /// It goes on over several lines.
    pub(super) fn name(&self, what: &str) -> Result<String, Refusal> {
        refuse_lines(&self.0, what).map(|()| self.0.clone())
    }
}
