//! What was wrong, said by whoever noticed it, who does not know the place.

use super::on_one_line;
use std::borrow::Cow;
use std::fmt;

/// What was wrong: one lower-case sentence that says what was found and what was expected, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal(Box<Inner>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Inner {
    code: &'static str,
    message: String,
    hints: Vec<String>,
}

impl Refusal {
    /// A refusal with a stable code and a message. What it quotes stands on its line.
    pub fn new(code: &'static str, message: impl Into<String>) -> Self {
        Self(Box::new(Inner {
            code,
            message: line(message.into()),
            hints: Vec::new(),
        }))
    }

    /// The same with a hint: what to type. At most two are shown.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.0.hints.push(line(hint.into()));
        self
    }

    /// The same with what it is about before it: `` `shop.zip`: the archive is damaged``.
    #[must_use]
    pub fn about(mut self, what: &str) -> Self {
        self.0.message = line(format!("{what}: {}", self.0.message));
        self
    }

    /// The same with the hint, where there is one.
    #[must_use]
    pub fn maybe_hint(self, hint: Option<String>) -> Self {
        match hint {
            Some(hint) => self.hint(hint),
            None => self,
        }
    }

    /// Its stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.0.code
    }

    /// What was wrong.
    #[must_use]
    pub fn message(&self) -> &str {
        &self.0.message
    }

    /// What to write instead.
    #[must_use]
    pub fn hints(&self) -> &[String] {
        &self.0.hints
    }
}

fn line(text: String) -> String {
    match on_one_line(&text) {
        Cow::Borrowed(_) => text,
        Cow::Owned(line) => line,
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}", self.0.message)?;
        for hint in &self.0.hints {
            write!(to, " ({hint})")?;
        }
        Ok(())
    }
}

impl std::error::Error for Refusal {}
