//! An answer tried on the job, and written into its file.

use crate::disk;
use crate::inquiry::Inquiry;
use crate::packs::Desk;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Entry, Kind, Section, Wanted, enter};
use crankline_engine::quantity::text::System;
use crankline_engine::report::noted;
use std::path::PathBuf;

/// The job file that answers are written into.
pub(super) struct JobFile<'a> {
    pub(super) name: &'a str,
    pub(super) desk: &'a Desk,
    /// The units in which answers are told again.
    pub(super) units: Option<System>,
    /// The day of the readings, where they are a session.
    pub(super) session: Option<Section>,
}

/// A job file's text with an answer in it.
pub(super) struct Tried {
    before: String,
    text: String,
    /// The answer as it was understood.
    pub(super) noted: Option<String>,
    /// Why the job cannot be calculated with it, where readings and examples do not fit together.
    pub(super) doubt: Option<Refusal>,
}

impl JobFile<'_> {
    fn path(&self) -> PathBuf {
        self.desk.directory.join(self.name)
    }

    /// Reads the job with an answer in the place of a reading.
    ///
    /// # Errors
    /// What the answer is refused for: nothing has been written.
    pub(super) fn tried(&self, wanted: &Wanted, entry: &Entry) -> Result<Tried, Diagnostic> {
        let path = self.path();
        let before = disk::read(&path, self.name)?.text;
        let text = enter(&before, &wanted.name, entry, &self.section(wanted, entry))?;
        let folder = path.parent().unwrap_or(&self.desk.directory);
        let name = self.name.to_owned();
        let source = SourceText {
            name,
            text: text.clone(),
        };
        let taken_in = Inquiry::of_text(source, &self.desk.of_job_in(folder), self.units)?;
        if taken_in.missing().contains(&wanted.name) {
            let refusal = Refusal::new("job", format!("`{}` has no place in the file", wanted.name));
            return Err(refusal.hint("write it into the job file by hand").into());
        }
        let doubt = taken_in.work.ran().err().map(|error| error.refusal);
        let mut found = taken_in.wanted.iter();
        let found = found.find(|found| found.name == wanted.name && found.run.is_none());
        let sheet = taken_in.sheet()?;
        Ok(Tried {
            noted: found.and_then(|found| noted(found, &sheet)),
            before,
            text,
            doubt,
        })
    }

    /// Writes it down.
    pub(super) fn write(&self, tried: &Tried) -> Result<(), Refusal> {
        disk::replace(&self.path(), self.name, &tried.before, &tried.text)
    }

    /// What is decided is chosen, unless somebody says how far it may be off; the rest is measured, on its day.
    fn section(&self, wanted: &Wanted, entry: &Entry) -> Section {
        let kind = Kind::of(&wanted.input.value);
        let number = matches!(
            kind,
            Kind::Quantity | Kind::Point | Kind::List(_) | Kind::Table(_) | Kind::Row(_)
        );
        let of_choices = !wanted.input.choices.is_empty();
        match (wanted.is_decided(), number && !of_choices && has_spread(entry)) {
            (true, false) => Section::Chosen,
            _ => self.session.clone().unwrap_or(Section::Measured),
        }
    }
}

/// Whether a ± is written in it.
fn has_spread(entry: &Entry) -> bool {
    match entry {
        Entry::Text(text) => ["+/-", "±", "plus_minus", "std_dev"]
            .iter()
            .any(|mark| text.contains(mark)),
        Entry::Bare(_) => false,
        Entry::List(items) => items.iter().any(has_spread),
        Entry::Fields(fields) => fields
            .iter()
            .any(|(name, field)| ["readings", "plus_minus"].contains(&name.as_str()) || has_spread(field)),
    }
}
