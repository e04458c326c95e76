//! What is told of a pack: lines, each beside a word in the margin.

use crate::listing::in_margin;
use crankline_engine::report::{AID, plain};

/// Where words beside a margin begin.
const COLUMN: usize = 12;

/// A title, lines with the word beside each, and what is said at the end.
pub(super) struct Told {
    pub(super) title: String,
    /// Where a word is empty, the line belongs to the one above it.
    pub(super) rows: Vec<(&'static str, String)>,
    pub(super) closing: Option<&'static str>,
}

impl Told {
    pub(super) fn text(&self) -> String {
        let lines = self.rows.iter().map(|(word, words)| in_margin(COLUMN, word, words));
        let lines: String = lines.collect();
        let closing = self.closing.map(|closing| format!("\n{closing}\n")).unwrap_or_default();
        format!("{}\n{AID}\n\n{lines}{closing}", self.title)
    }

    pub(super) fn markdown(&self) -> String {
        let lines = self.rows.iter().map(|(word, words)| match *word {
            "" => format!("  {}\n", plain(words)),
            word => format!("- **{word}** {}\n", plain(words)),
        });
        let lines: String = lines.collect();
        let closing = self.closing.map(|closing| format!("\n{closing}\n")).unwrap_or_default();
        format!("# {}\n\n*{AID}*\n\n{lines}{closing}", plain(&self.title))
    }
}
