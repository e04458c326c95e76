//! A place in a text that moves forward as words are taken.

use core::ops::Range;

/// A piece of a text, its place in the whole, and what has been taken of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scan<'a> {
    rest: &'a str,
    at: usize,
}

impl<'a> Scan<'a> {
    /// A piece that starts at byte `at` of the whole text.
    pub(super) const fn new(piece: &'a str, at: usize) -> Self {
        Self { rest: piece, at }
    }

    /// What is left.
    pub(super) const fn rest(&self) -> &'a str {
        self.rest
    }

    /// Where in the whole text the rest starts.
    pub(super) const fn at(&self) -> usize {
        self.at
    }

    /// Where in the whole text the rest is.
    pub(super) const fn span(&self) -> Range<usize> {
        self.at..self.at + self.rest.len()
    }

    /// Whether nothing but white space is left.
    pub(super) fn is_empty(&self) -> bool {
        self.rest.trim().is_empty()
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    /// Takes the next `bytes` bytes, or to the end; `bytes` is at a character border.
    pub(super) fn take(&mut self, bytes: usize) -> &'a str {
        let (taken, rest) = self.rest.split_at_checked(bytes).unwrap_or((self.rest, ""));
        self.rest = rest;
        self.at += taken.len();
        taken
    }

    /// Takes characters as long as they are wanted.
    pub(super) fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'a str {
        self.take(self.rest.find(|c| !wanted(c)).unwrap_or(self.rest.len()))
    }

    /// Takes the next character if it is wanted.
    pub(super) fn take_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        let next = self.peek().filter(|&c| wanted(c))?;
        self.take(next.len_utf8());
        Some(next)
    }

    pub(super) fn skip_space(&mut self) {
        self.take_while(char::is_whitespace);
    }

    /// The rest without white space at both ends.
    pub(super) fn trimmed(mut self) -> Self {
        self.skip_space();
        self.rest = self.rest.trim_end();
        self
    }

    /// The first `bytes` bytes of the rest, as a piece of their own, and what follows them.
    pub(super) fn split(self, bytes: usize) -> (Self, Self) {
        let mut after = self;
        let piece = after.take(bytes);
        (
            Self {
                rest: piece,
                at: self.at,
            },
            after,
        )
    }
}
