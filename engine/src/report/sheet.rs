//! All that a report is made of.

use super::finding::of_run;
use crate::diagnostic::SourceText;
use crate::job::ConsideredOption;
use crate::outcome::{Outcome, Phrase};
use crate::quantity::text::System;
use crate::script::GivenValue;
use crate::study::{Judged, Verdict};
use sha2::{Digest, Sha256};

/// Stands on every output for people.
pub const AID: &str = "Calculation aid; does not approve a vehicle.";

/// How a verdict's word is coloured: its text, or its text between colour codes. A colour is never the only carrier.
pub type Paint = fn(Verdict, &str) -> String;

/// No colour.
#[must_use]
pub fn unpainted(_verdict: Verdict, word: &str) -> String {
    word.to_owned()
}

/// Runs and their verdicts, to be written for somebody.
#[derive(Clone, Debug)]
pub struct Sheet<'a> {
    /// The job's title, or the script's name.
    pub title: String,
    /// What it is: a paragraph.
    pub about: String,
    /// The runs, in order.
    pub runs: Vec<SheetRun<'a>>,
    /// Verdicts, chances and intervals of the same runs.
    pub judged: &'a Judged,
    /// Readings of the job that no run uses.
    pub kept: Vec<String>,
    /// Readings of earlier and later sessions that contradict one another.
    pub doubts: Vec<Phrase>,
    /// The ways considered, kept or rejected.
    pub options: &'a [ConsideredOption],
    /// The reader's units.
    pub system: System,
    /// Whether the runs are those of a job: then an example is a reading that somebody forgot.
    pub in_job: bool,
    /// The job file, where the runs are those of one.
    pub job_file: Option<Identity>,
    /// Packs that scripts were taken from, or imported from, and that are not what somebody sealed.
    pub altered: Vec<AlteredPack>,
}

/// A pack that came sealed and is another now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AlteredPack {
    /// Its name.
    pub name: String,
    /// In what it differs from what was sealed.
    pub difference: String,
}

impl AlteredPack {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        let Self { name, difference } = self;
        format!("the pack `{name}` was changed since it was added: {difference}")
    }
}

/// One run of a sheet.
#[derive(Clone, Debug)]
pub struct SheetRun<'a> {
    /// Its name in the job, or the script's.
    pub name: String,
    /// The script.
    pub script: Identity,
    /// What the script is for: a paragraph.
    pub purpose: String,
    /// How its inputs were taken, as far as the job says so.
    pub taken: Vec<TakenInput>,
    /// Whether it is shown: one that only feeds another is not.
    pub asked: bool,
    /// The option that it tries: it decides nothing about the car as it is.
    pub tries: Option<String>,
    /// Inputs whose values somebody only tries.
    pub set: Vec<SetValue>,
    /// What it yielded.
    pub outcome: &'a Outcome,
}

/// An input whose value somebody tries in place of another.
#[derive(Clone, Debug)]
pub struct SetValue {
    /// The input's name.
    pub input: String,
    /// The option that sets it; `None` where somebody sets it by hand.
    pub option: Option<String>,
    /// What the job has for it; `None` where the script's own stood.
    pub job: Option<GivenValue>,
}

/// How a reading was taken that an input has.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TakenInput {
    /// The input's name.
    pub input: String,
    /// The reading's, which another input may have too.
    pub reading: String,
    /// The day.
    pub on: Option<String>,
    /// By whom.
    pub by: Option<String>,
    /// With what.
    pub with: Option<String>,
    /// The single readings, where it was taken several times, as somebody wrote them.
    pub repeats: Vec<String>,
    /// Whether it is for this run alone.
    pub own: bool,
}

/// Which script or job exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Identity {
    /// `driveline/joint-angles`, `car.toml`
    pub name: String,
    /// Version of its pack, where it comes from one.
    pub pack_version: Option<String>,
    /// Of its text, in hexadecimal digits.
    pub sha256: String,
    /// The scripts that it imports, directly or not; `None` where nobody has noted them.
    pub imports: Option<Vec<Identity>>,
}

/// As many digits of a digest as tell a file from another by eye, or over the telephone.
#[must_use]
pub fn short_digest(sha256: &str) -> &str {
    let end = sha256.char_indices().nth(12).map_or(sha256.len(), |(at, _)| at);
    sha256.get(..end).unwrap_or(sha256)
}

impl Identity {
    /// Of a text.
    #[must_use]
    pub fn of(text: &SourceText, pack_version: Option<String>) -> Self {
        let digest = Sha256::digest(text.text.as_bytes());
        Self {
            name: text.name.clone(),
            pack_version,
            sha256: digest.iter().map(|byte| format!("{byte:02x}")).collect(),
            imports: None,
        }
    }

    /// The same with the scripts that it imports.
    #[must_use]
    pub fn importing(mut self, imports: Vec<Self>) -> Self {
        self.imports = Some(imports);
        self
    }

    /// The scripts that it imports, as far as they were noted.
    #[must_use]
    pub fn imported(&self) -> &[Self] {
        self.imports.as_deref().unwrap_or_default()
    }

    /// Whether it is the same text, with the same texts imported, as far as both say.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        let same_imports = match (&self.imports, &other.imports) {
            (Some(one), Some(other)) => one == other,
            _ => true,
        };
        self.is_same_text(other) && same_imports
    }

    /// Whether it is the same text of the same version, whatever it imports.
    #[must_use]
    pub fn is_same_text(&self, other: &Self) -> bool {
        (&self.name, &self.pack_version, &self.sha256) == (&other.name, &other.pack_version, &other.sha256)
    }
}

impl SheetRun<'_> {
    /// How the reading was taken that an input has.
    #[must_use]
    pub fn taken(&self, input: &str) -> Option<&TakenInput> {
        self.taken.iter().find(|taken| taken.input == input)
    }

    /// The option that sets an input in place of what the job has.
    #[must_use]
    pub fn option_for(&self, input: &str) -> Option<&str> {
        let set = self.set.iter().find(|set| set.input == input)?;
        set.option.as_deref()
    }
}

impl<'a> Sheet<'a> {
    /// The runs that are shown, each with its number among all.
    pub fn shown(&self) -> impl Iterator<Item = (usize, &SheetRun<'a>)> {
        self.runs.iter().enumerate().filter(|(_, run)| run.asked)
    }

    /// In what the pack of a script differs from what somebody sealed.
    #[must_use]
    pub fn altered(&self, script: &Identity) -> Option<&AlteredPack> {
        let pack = script.name.split_once('/')?.0;
        self.altered.iter().find(|altered| altered.name == pack)
    }

    /// The worst verdict of its checks and requirements; it holds where there is none. Preferences do not count, nor
    /// does a run that tries an option.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        let counted = self.shown().filter(|(_, run)| run.tries.is_none());
        counted
            .map(|(number, _)| self.verdict_of(number))
            .min()
            .unwrap_or(Verdict::Holds)
    }

    /// The worst verdict of one run's checks and requirements; it holds where there is none.
    #[must_use]
    pub fn verdict_of(&self, run: usize) -> Verdict {
        let findings = of_run(self, run).into_iter();
        findings
            .filter(|finding| finding.decides())
            .map(|finding| finding.judged.verdict)
            .min()
            .unwrap_or(Verdict::Holds)
    }

    /// The option whose values stand in place of the job's.
    #[must_use]
    pub fn option(&self) -> Option<&str> {
        let mut set = self.runs.iter().flat_map(|run| &run.set);
        set.find_map(|set| set.option.as_deref())
    }

    /// Whether a value is only tried.
    #[must_use]
    pub fn is_trial(&self) -> bool {
        self.runs.iter().any(|run| !run.set.is_empty())
    }
}
