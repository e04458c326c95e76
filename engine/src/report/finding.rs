//! Checks with their verdicts, worst first.

use super::sheet::Sheet;
use super::written;
use crate::outcome::{Check, CheckKind, Test};
use crate::quantity::text::System;
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
        match (self.check.kind, self.judged.verdict) {
            (CheckKind::Prefer, Verdict::Holds) => "MET",
            (CheckKind::Prefer, Verdict::Fails) => "NOT MET",
            (CheckKind::Prefer, Verdict::Unsure) => "PERHAPS",
            (_, Verdict::Fails) => "FAILS",
            (_, Verdict::Unsure) => "UNSURE",
            (_, Verdict::Untrusted) => "UNTRUSTED",
            (_, Verdict::Unmeasured) => "EXAMPLE",
            (_, Verdict::Holds) => "HOLDS",
        }
    }

    /// What it is about: its label, or the formula.
    pub(super) fn label(self, sheet: &Sheet<'_>) -> String {
        match &self.check.label {
            Some(label) => written::phrase(label, sheet.system),
            None => formula(self.check, sheet.system),
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

/// What a check asks, as the script writes it.
pub(super) fn formula(check: &Check, system: System) -> String {
    match &check.test {
        Test::Between { low, high, .. } => {
            let limit = |limit| written::entered(limit, system);
            format!("{} from {} to {}", check.formula, limit(low), limit(high))
        }
        _ => check.formula.clone(),
    }
}

/// All checks of a sheet in the order of the scripts.
pub(super) fn all<'a>(sheet: &'a Sheet<'_>) -> Vec<Finding<'a>> {
    let runs = sheet.runs.iter().zip(&sheet.judged.runs).enumerate();
    let runs = runs.filter(|(_, (of_sheet, _))| of_sheet.asked);
    runs.flat_map(|(run, (of_sheet, judged))| {
        let checks = of_sheet.outcome.checks.iter().zip(&judged.checks);
        checks.map(move |(check, judged)| Finding { run, check, judged })
    })
    .collect()
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

/// `1 fails, 2 unsure; 31 hold`.
pub(super) fn counts(sheet: &Sheet<'_>) -> String {
    let findings = all(sheet);
    let count = |verdict| {
        let found = findings.iter().filter(|finding| finding.decides());
        found.filter(|finding| finding.judged.verdict == verdict).count()
    };
    let named = |verdict, one: &str, several: &str| {
        let count = count(verdict);
        let words = if count == 1 { one } else { several };
        (count > 0).then(|| format!("{count} {words}"))
    };
    let bad = [
        named(Verdict::Fails, "fails", "fail"),
        named(Verdict::Unsure, "unsure", "unsure"),
        named(Verdict::Untrusted, "not to be trusted", "not to be trusted"),
        named(Verdict::Unmeasured, "rests on an example", "rest on examples"),
    ];
    let bad: Vec<String> = bad.into_iter().flatten().collect();
    let good = named(Verdict::Holds, "holds", "hold");
    match (bad.is_empty(), good) {
        (true, None) => "there is no check in it: it calculates, and judges nothing".to_owned(),
        (true, Some(_)) if count(Verdict::Holds) == 1 => "the one check holds".to_owned(),
        (true, Some(good)) => format!("all {good}"),
        (false, None) => bad.join(", "),
        (false, Some(good)) => format!("{}; {good}", bad.join(", ")),
    }
}
