//! `job ask`: asks for what is missing, one by one.

use super::super::dispatch::Output;
use super::answer::JobFile;
use crate::arguments::{Ask, Common};
use crate::inquiry::{Inquiry, typed};
use crate::listing::WIDTH;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::{Entry, Kind, Section, Wanted};
use crankline_engine::report::{AID, question, wrapped};
use std::collections::BTreeSet;

type Result<T> = std::result::Result<T, Diagnostic>;

/// Where messages begin.
const COLUMN: usize = 6;

/// Asks for the readings that a job lacks.
pub(super) fn run(options: &Ask, common: &Common, io: &mut Io<'_>) -> Result<Output> {
    let session = match &options.on {
        Some(on) => Some(Section::session(on, options.by.as_deref())?),
        None => None,
    };
    let desk = io.desk();
    let file = JobFile {
        name: &options.file,
        desk: &desk,
        units: common.system(),
        session,
    };
    let mut dialogue = Dialogue {
        file,
        io,
        entered: BTreeSet::new(),
        doubt: None,
    };
    dialogue.whole()
}

/// Where to go after a question.
enum Step {
    On,
    Back,
    Stop,
}

struct Dialogue<'a, 'b> {
    file: JobFile<'a>,
    io: &'a mut Io<'b>,
    /// The readings that were written down.
    entered: BTreeSet<String>,
    /// Why the job cannot be calculated, as it was told last.
    doubt: Option<Refusal>,
}

impl Dialogue<'_, '_> {
    /// The job as its file is now: somebody may work on it meanwhile.
    fn inquiry(&self) -> Result<Inquiry> {
        Inquiry::open_job(self.file.name, self.file.desk, self.file.units)
    }

    fn whole(&mut self) -> Result<Output> {
        let first = self.inquiry()?;
        let names = first.missing();
        let title = first.sheet()?.title;
        self.io.print(&format!("{title}\n{AID}\n\n"));
        if !names.is_empty() {
            let count = match names.len() {
                1 => "1 reading is missing".to_owned(),
                count => format!("{count} readings are missing"),
            };
            self.say(0, &format!("{count}. {HELP}"));
        }
        let mut at = 0;
        while let Some(name) = names.get(at) {
            match self.reading(name, (at + 1, names.len()))? {
                Step::On => at += 1,
                Step::Back if at == 0 => self.say(COLUMN, "this is the first one"),
                Step::Back => at -= 1,
                Step::Stop => break,
            }
        }
        let left = self.inquiry()?.missing().len();
        Ok(closing(self.entered.len(), left, self.file.name).into())
    }

    /// Asks for one reading until there is an answer to it.
    fn reading(&mut self, name: &str, count: (usize, usize)) -> Result<Step> {
        let inquiry = self.inquiry()?;
        let found = inquiry
            .wanted
            .iter()
            .find(|wanted| wanted.name == name && wanted.run.is_none());
        // Somebody took its run out meanwhile.
        let Some(wanted) = found else { return Ok(Step::On) };
        let asked = question(wanted, count, &inquiry.sheet()?);
        self.io.print(&format!("\n{asked}"));
        match Kind::of(&wanted.input.value) {
            kind if kind.has_rows() => self.rows(wanted, &kind, &asked),
            kind => self.single(wanted, &kind, &asked),
        }
    }

    fn single(&mut self, wanted: &Wanted, kind: &Kind, asked: &str) -> Result<Step> {
        loop {
            let answer = self.io.ask(&format!("  {}: ", wanted.name));
            match answer.as_deref() {
                None | Some("stop") => return Ok(Step::Stop),
                Some("") => return Ok(Step::On),
                Some("back") => return Ok(Step::Back),
                Some("?") => self.io.print(asked),
                Some(answer) => {
                    if self.takes(wanted, &Entry::of_answer(kind, answer))? {
                        return Ok(Step::On);
                    }
                }
            }
        }
    }

    /// Asks for rows until an empty line; those that are there at the end of all answers are written down too.
    fn rows(&mut self, wanted: &Wanted, kind: &Kind, asked: &str) -> Result<Step> {
        let mut rows: Vec<Entry> = Vec::new();
        loop {
            let answer = self.io.ask(&format!("  {}, row {}: ", wanted.name, rows.len() + 1));
            match answer.as_deref() {
                None | Some("stop" | "") => {
                    let is_last = answer.as_deref() != Some("");
                    if !rows.is_empty() && !self.takes(wanted, &Entry::List(rows.clone()))? && !is_last {
                        continue;
                    }
                    return Ok(if is_last { Step::Stop } else { Step::On });
                }
                Some("back") => {
                    if rows.pop().is_none() {
                        return Ok(Step::Back);
                    }
                }
                Some("?") => self.io.print(asked),
                Some(answer) => {
                    let mut with = rows.clone();
                    with.push(Entry::of_answer(kind, answer));
                    match self.file.tried(wanted, &Entry::List(with.clone())) {
                        Ok(_) => rows = with,
                        Err(error) => self.refused(&error),
                    }
                }
            }
        }
    }

    /// Writes an answer down, or says why it cannot be one.
    fn takes(&mut self, wanted: &Wanted, entry: &Entry) -> Result<bool> {
        match self.file.tried(wanted, entry) {
            Err(error) => {
                self.refused(&error);
                Ok(false)
            }
            Ok(tried) => {
                self.file.write(&tried)?;
                self.entered.insert(wanted.name.clone());
                if let Some(noted) = &tried.noted {
                    self.say(COLUMN, &format!("= {noted}"));
                }
                if let Some(doubt) = tried.doubt.as_ref().filter(|doubt| self.doubt.as_ref() != Some(doubt)) {
                    let doubt = format!(
                        "written down; the job cannot be calculated with it yet: {}",
                        doubt.message()
                    );
                    self.say(COLUMN, &doubt);
                }
                self.doubt = tried.doubt;
                Ok(true)
            }
        }
    }

    fn refused(&mut self, error: &Diagnostic) {
        self.say(COLUMN, &format!("not taken: {}", error.refusal.message()));
        for hint in error.refusal.hints().iter().take(2) {
            self.say(COLUMN, &format!("try: {hint}"));
        }
    }

    fn say(&mut self, column: usize, text: &str) {
        let lines = wrapped(text, WIDTH - column).into_iter();
        let lines: String = lines.map(|line| format!("{}{line}\n", " ".repeat(column))).collect();
        self.io.print(&lines);
    }
}

const HELP: &str = "Each answer is written into the file at once, with its unit and its ±: 3.2 deg +/- 0.1 deg; repeats \
                    of one stand between semicolons. Enter goes on without an answer, ? says again how to measure, \
                    back goes to the one before, stop ends.";

fn closing(entered: usize, left: usize, file: &str) -> String {
    let (entered, file) = (format!("{entered} entered"), typed(file));
    let text = match left {
        0 => format!("{entered}; none is missing. Next: crankline run {file}"),
        left => format!("{entered}; {left} still missing. Next: crankline job missing {file}"),
    };
    let lines = wrapped(&text, WIDTH).join("\n");
    format!("\n{lines}\n")
}
