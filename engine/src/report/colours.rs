//! The colours of all pages, on a light screen, a dark one and on paper, in one place.

/// Custom properties for the style sheets of pages: what a page writes before its own.
pub(super) const COLOURS: &str = include_str!("colours.css");
