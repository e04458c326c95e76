//! Where output goes.

use crankline_engine::report::{Paint, unpainted};
use crankline_engine::study::Verdict;
use std::io::Write;
use std::path::PathBuf;

/// The streams and surroundings of the program.
pub struct Io<'a> {
    /// Results.
    pub stdout: &'a mut (dyn Write + Send),
    /// Errors.
    pub stderr: &'a mut (dyn Write + Send),
    /// Whether results go to a terminal.
    pub is_terminal: bool,
    /// Whether colour is unwanted.
    pub no_color: bool,
    /// What file names are relative to.
    pub directory: PathBuf,
}

impl Io<'_> {
    /// Writes results. A reader that has gone away (`| head`) is no error.
    pub(crate) fn print(&mut self, text: &str) {
        let _ = self
            .stdout
            .write_all(text.as_bytes())
            .and_then(|()| self.stdout.flush());
    }

    /// Writes an error.
    pub(crate) fn error(&mut self, text: &str) {
        let _ = self
            .stderr
            .write_all(text.as_bytes())
            .and_then(|()| self.stderr.flush());
    }

    /// How verdicts are coloured here.
    pub(crate) fn paint(&self) -> Paint {
        if self.is_terminal && !self.no_color {
            painted
        } else {
            unpainted
        }
    }
}

/// Bold, in red, yellow or green: the word says it, the colour finds it.
fn painted(verdict: Verdict, word: &str) -> String {
    let colour = match verdict {
        Verdict::Fails => 31,
        Verdict::Holds => 32,
        Verdict::Unsure | Verdict::Untrusted | Verdict::Unmeasured => 33,
    };
    format!("\u{1b}[1;{colour}m{word}\u{1b}[0m")
}
