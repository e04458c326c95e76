//! Checks with their verdicts, worst first.

use super::sheet::Sheet;
use super::written;
use crate::outcome::{Check, CheckKind};
use crate::study::{JudgedCheck, Verdict};

/// A check, and what became of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Finding<'a> {
    /// Which run of the sheet.
    pub(super) run: usize,
    pub(super) check: &'a Check,
    pub(super) judged: &'a JudgedCheck,
}

impl Finding<'_> {
    /// The word that a reader sees first.
    pub(super) const fn word(self) -> &'static str {
        word(!matches!(self.check.kind, CheckKind::Prefer), self.judged.verdict)
    }

    /// What it is about: its label, or the formula.
    pub(super) fn label(self, sheet: &Sheet<'_>) -> String {
        let label = match &self.check.label {
            Some(label) => written::phrase(label, sheet.system),
            None => self.check.formula.clone(),
        };
        match written::in_samples(self.judged.present) {
            Some(samples) => format!("{label} ({samples})"),
            None => label,
        }
    }

    /// Whether it decides the verdict.
    pub(super) fn decides(self) -> bool {
        self.check.kind != CheckKind::Prefer
    }

    pub(super) fn holds(self) -> bool {
        self.judged.verdict == Verdict::Holds
    }
}

/// The word for a verdict: of a check or requirement, or of a preference, which decides nothing.
pub(super) const fn word(decides: bool, verdict: Verdict) -> &'static str {
    match (decides, verdict) {
        (false, Verdict::Holds) => "MET",
        (false, Verdict::Fails) => "NOT MET",
        (false, Verdict::Unsure) => "PERHAPS",
        (_, Verdict::Fails) => "FAILS",
        (_, Verdict::Unsure) => "UNSURE",
        (_, Verdict::Untrusted) => "UNTRUSTED",
        (_, Verdict::Unmeasured) => "EXAMPLE",
        (_, Verdict::Holds) => "HOLDS",
    }
}

/// All checks that decide about the car as it is, in the order of the scripts.
pub(super) fn all<'a>(sheet: &'a Sheet<'_>) -> Vec<Finding<'a>> {
    let runs = sheet.shown().filter(|(_, run)| run.tries.is_none());
    runs.flat_map(|(number, _)| of_run(sheet, number)).collect()
}

/// All checks of one run, in the order of its script; last those of a branch that only some samples take.
pub(super) fn of_run<'a>(sheet: &'a Sheet<'_>, run: usize) -> Vec<Finding<'a>> {
    let (Some(of_sheet), Some(judged)) = (sheet.runs.get(run), sheet.judged.runs.get(run)) else {
        return Vec::new();
    };
    let checks = of_sheet.outcome.checks.iter().zip(&judged.checks);
    let elsewhere = judged.elsewhere.iter().map(|found| (&found.check, &found.judged));
    let checks = checks.chain(elsewhere);
    checks.map(|(check, judged)| Finding { run, check, judged }).collect()
}

/// The same, worst first: what decides before what advises, then by verdict, then by chance; else as the scripts have it.
pub(super) fn worst_first<'a>(sheet: &'a Sheet<'_>) -> Vec<Finding<'a>> {
    let mut findings = all(sheet);
    findings.sort_by(|a, b| {
        let rank = |finding: &Finding<'_>| (!finding.decides(), finding.judged.verdict);
        rank(a).cmp(&rank(b)).then(a.judged.chance.total_cmp(&b.judged.chance))
    });
    findings
}
