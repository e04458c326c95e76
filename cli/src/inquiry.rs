//! What a target asks to be measured.

use crate::packs::Desk;
use crate::shelf::{first_paragraph, has_extension, purpose};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::figure::Shown;
use crankline_engine::job::Wanted;
use crankline_engine::outcome::Phrase;
use crankline_engine::quantity::text::System;
use crankline_engine::report::Measuring;

type Result<T> = std::result::Result<T, Diagnostic>;

/// A target with the readings that it asks for.
pub(crate) struct Inquiry {
    pub(crate) work: Work,
    pub(crate) wanted: Vec<Wanted>,
    cautions: Vec<Phrase>,
    sketches: Vec<Shown>,
    system: System,
}

impl Inquiry {
    /// Of a script, a `.rhai` file or a job file; in the reader's units or those of the job.
    pub(crate) fn open(target: &str, desk: &Desk, units: Option<System>) -> Result<Self> {
        Self::of(Work::open(target, desk)?, units)
    }

    /// Of a job file.
    pub(crate) fn open_job(file: &str, desk: &Desk, units: Option<System>) -> Result<Self> {
        is_job(file)?;
        Self::open(file, desk, units)
    }

    /// Of a job's text, seen from its folder.
    pub(crate) fn of_text(text: SourceText, desk: &Desk, units: Option<System>) -> Result<Self> {
        Self::of(Work::of_text(text, desk)?, units)
    }

    fn of(work: Work, units: Option<System>) -> Result<Self> {
        let asked = work.plan(&|plan| plan.wanted(work.job()))?;
        let system = units.or(work.job().units).unwrap_or(System::Metric);
        Ok(Self {
            work,
            wanted: asked.wanted,
            cautions: asked.cautions,
            sketches: asked.sketches,
            system,
        })
    }

    /// What is to be written of it, under a title.
    pub(crate) fn titled(&self, title: String, about: String) -> Measuring<'_> {
        Measuring {
            title,
            about,
            wanted: &self.wanted,
            cautions: &self.cautions,
            sketches: &self.sketches,
            system: self.system,
            in_job: self.work.in_job(),
        }
    }

    /// The same under the title of the job, or the name of the script and what it is for.
    pub(crate) fn sheet(&self) -> Result<Measuring<'_>> {
        let job = self.work.job();
        if self.work.in_job() {
            return Ok(self.titled(job.title.clone().unwrap_or_else(|| "job".to_owned()), String::new()));
        }
        let name = job.runs.first().map_or("", |run| run.script.as_str());
        Ok(self.titled(name.to_owned(), first_paragraph(&purpose(&self.work.text()?))))
    }

    /// Names of the readings that nobody has given, in the order of work.
    pub(crate) fn missing(&self) -> Vec<String> {
        let missing = self.wanted.iter().filter(|wanted| wanted.is_missing());
        missing.map(|wanted| wanted.name.clone()).collect()
    }
}

/// Refuses what is no job file by its name.
pub(crate) fn is_job(file: &str) -> Result<()> {
    if has_extension(file, "toml") {
        return Ok(());
    }
    let refusal = Refusal::new(
        "job",
        format!("`{file}` is no job: the name of a job file ends in .toml"),
    );
    Err(refusal.hint("crankline job new car.toml SCRIPT...").into())
}

/// A file's name as a shell takes it.
pub(crate) fn typed(file: &str) -> String {
    if file.contains(char::is_whitespace) {
        format!("\"{file}\"")
    } else {
        file.to_owned()
    }
}
