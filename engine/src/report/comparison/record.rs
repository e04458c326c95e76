//! A record as plain data.

use crate::report::Identity;
use crate::study::Verdict;

/// What `run` wrote of a job or a script.
#[derive(Clone, Debug)]
pub struct Record {
    /// What a reader calls it: `car.toml`, `before.json`.
    pub name: String,
    /// The job's title; of a script its name.
    pub title: String,
    /// Whether it is of a job; a script alone is one run.
    pub in_job: bool,
    pub(super) runs: Vec<RecordedRun>,
}

/// One run of it.
#[derive(Clone, Debug)]
pub(super) struct RecordedRun {
    /// Empty for a script alone.
    pub(super) name: String,
    /// The option that it tries: it decides nothing.
    pub(super) tries: Option<String>,
    pub(super) script: Identity,
    pub(super) inputs: Vec<Entry>,
    pub(super) steps: Vec<Entry>,
    pub(super) checks: Vec<RecordedCheck>,
}

/// A number or a text under its address: `front_joint.x`, `loads[wipers].current`, `stress[bump]`.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) address: String,
    /// What it is, with the item that it is of: `Front joint, x`.
    pub(super) label: String,
    pub(super) found: Found,
    /// Of an input: where its value came from.
    pub(super) origin: Option<Origin>,
}

/// A number, or what is none.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Found {
    Number(Number),
    /// Text, yes or no.
    Words(String),
}

/// A number as recorded.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Number {
    pub(super) si: f64,
    /// The largest number of its kind in the same value: of a vector that of its longest part.
    pub(super) size: f64,
    /// As scripts take it; empty for a plain number.
    pub(super) unit: String,
    pub(super) dimension: String,
    pub(super) std_uncertainty: f64,
    /// Of an input: its ±, SI.
    pub(super) half_width: Option<f64>,
    /// Of a result: the ends of its interval, SI.
    pub(super) interval: Option<(f64, f64)>,
    /// Words for its sign, positive and negative.
    pub(super) signs: Option<(String, String)>,
}

/// Where an input's value came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Origin {
    /// `measured`, `linked`, …
    pub(super) from: String,
    /// The step or reading that it is.
    pub(super) taken_from: Option<String>,
    /// The option that sets it.
    pub(super) option: Option<String>,
}

/// A check and what became of it.
#[derive(Clone, Debug)]
pub(super) struct RecordedCheck {
    pub(super) label: Option<String>,
    pub(super) formula: Option<String>,
    /// `check`, `prefer`, `require`.
    pub(super) kind: String,
    pub(super) verdict: Verdict,
    pub(super) chance: f64,
    /// Over the size of the limit.
    pub(super) margin: Option<f64>,
    pub(super) margin_si: Option<f64>,
    /// The margin's standard uncertainty, SI.
    pub(super) margin_uncertainty: f64,
    pub(super) left: Vec<Entry>,
    pub(super) sign: Option<String>,
    pub(super) right: Vec<Entry>,
}

impl Record {
    /// The names of its runs.
    pub fn runs(&self) -> impl Iterator<Item = &str> {
        self.runs.iter().map(|run| run.name.as_str())
    }

    /// Leaves one run; the others are not compared.
    pub fn keep_only(&mut self, run: &str) {
        self.runs.retain(|own| own.name == run);
    }
}

impl Found {
    pub(super) const fn number(&self) -> Option<&Number> {
        match self {
            Self::Number(number) => Some(number),
            Self::Words(_) => None,
        }
    }
}

impl Origin {
    /// Whether it only follows another run's result.
    pub(super) fn is_linked(&self) -> bool {
        self.from == "linked"
    }
}

impl RecordedCheck {
    /// Its label, or its formula.
    pub(super) fn name(&self) -> &str {
        let name = self.label.as_deref().or(self.formula.as_deref());
        name.unwrap_or("a check without a label")
    }

    /// Whether it decides: a preference is advice.
    pub(super) fn decides(&self) -> bool {
        self.kind != "prefer"
    }
}
