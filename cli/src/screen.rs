//! Where output goes.

use crate::packs::Desk;
use crankline_engine::diagnostic::shown;
use crankline_engine::report::{Paint, unpainted};
use crankline_engine::study::Verdict;
use std::io::{BufRead, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// The streams and surroundings of the program.
pub struct Io<'a> {
    /// Results.
    pub stdout: &'a mut (dyn Write + Send),
    /// Errors.
    pub stderr: &'a mut (dyn Write + Send),
    /// Answers to what the program asks.
    pub stdin: &'a mut (dyn BufRead + Send),
    /// Whether answers come from a terminal, which shows them.
    pub is_typed: bool,
    /// Whether results go to a terminal.
    pub is_terminal: bool,
    /// Whether colour is unwanted.
    pub no_color: bool,
    /// What file names are relative to.
    pub directory: PathBuf,
    /// The folders in which this user's packs lie, unless others are asked for.
    pub packs: Vec<PathBuf>,
    /// Those asked for by `--packs` in their place: none.
    pub asked_packs: Vec<PathBuf>,
    /// How many times the usual work a script may do, unless `--effort` says otherwise: 1.
    pub effort: u32,
    /// The folder for files that nobody has named.
    pub temporary: PathBuf,
    /// Shows a page to whoever sits here.
    pub open: &'a (dyn Fn(&Path) -> std::io::Result<()> + Sync),
    /// Waits a moment before files are looked at again; `false` ends the watch.
    pub wait: &'a mut (dyn FnMut() -> bool + Send),
}

/// A longer line is no answer.
const LONGEST_ANSWER: u64 = 64 * 1024;

impl Io<'_> {
    /// Where the program stands.
    pub(crate) fn desk(&self) -> Desk {
        Desk {
            directory: self.directory.clone(),
            places: match self.asked_packs.is_empty() {
                true => self.packs.clone(),
                false => self.asked_packs.clone(),
            },
            usual: self.packs.clone(),
            only_below: false,
            candidate: None,
            effort: self.effort,
        }
    }

    /// Writes results. A reader that has gone away (`| head`) is no error.
    pub(crate) fn print(&mut self, text: &str) {
        let text = safe(text);
        let _ = self
            .stdout
            .write_all(text.as_bytes())
            .and_then(|()| self.stdout.flush());
    }

    /// Reads a line, without its end; `None` where there is none left. One that nobody sees typed is written down.
    pub(crate) fn ask(&mut self, prompt: &str) -> Option<String> {
        self.print(prompt);
        let mut bytes = Vec::new();
        let read = self.stdin.take(LONGEST_ANSWER).read_until(b'\n', &mut bytes);
        if bytes.is_empty() || read.is_err() {
            self.print("\n");
            return None;
        }
        let line = String::from_utf8_lossy(&bytes).trim().to_owned();
        if !self.is_typed {
            self.print(&format!("{line}\n"));
        }
        Some(line)
    }

    /// Writes an error.
    pub(crate) fn error(&mut self, text: &str) {
        self.write_error(&shown(text));
    }

    fn write_error(&mut self, text: &str) {
        let _ = self
            .stderr
            .write_all(text.as_bytes())
            .and_then(|()| self.stderr.flush());
    }

    /// Says on a terminal how far something is that lasts, at most twice a second, the first time after a second.
    pub(crate) fn progress(&mut self, progress: &mut Progress, done: usize) {
        if self.is_terminal && progress.is_due() {
            self.write_error(&format!("\r{done} of {} ", progress.all));
        }
    }

    /// Takes the line away.
    pub(crate) fn progress_over(&mut self, progress: &Progress) {
        if progress.shown {
            self.write_error(&format!("\r{}\r", " ".repeat(40)));
        }
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

/// What follows an escape where bold red, green and yellow begin, and where they end.
const COLOURS: [&str; 4] = ["[1;31m", "[1;32m", "[1;33m", "[0m"];

/// Bold, in red, yellow or green: the word says it, the colour finds it.
fn painted(verdict: Verdict, word: &str) -> String {
    let [red, green, yellow, plain] = COLOURS;
    let colour = match verdict {
        Verdict::Fails => red,
        Verdict::Holds => green,
        Verdict::Unsure | Verdict::Untrusted | Verdict::Unmeasured => yellow,
    };
    format!("\u{1b}{colour}{word}\u{1b}{plain}")
}

/// A text in which nothing but our own colours is an order to the screen. Scripts, readings and records that hold any
/// are refused; names of files may.
fn safe(text: &str) -> String {
    let mut pieces = text.split('\u{1b}');
    let mut safe = shown(pieces.next().unwrap_or(""));
    for piece in pieces {
        let is_colour = COLOURS.iter().any(|colour| piece.starts_with(colour));
        safe.push_str(if is_colour { "\u{1b}" } else { "␛" });
        safe.push_str(&shown(piece));
    }
    safe
}

/// How far something is that may last.
pub(crate) struct Progress {
    all: usize,
    next: Instant,
    shown: bool,
}

impl Progress {
    /// Of so many.
    pub(crate) fn of(all: usize) -> Self {
        Self {
            all,
            next: Instant::now() + Duration::from_secs(1),
            shown: false,
        }
    }

    fn is_due(&mut self) -> bool {
        let now = Instant::now();
        if now < self.next {
            return false;
        }
        self.next = now + Duration::from_millis(500);
        self.shown = true;
        true
    }
}
