//! Checks beside the lines that they judge.

use super::line::{Formula, Limit, Line};
use crate::outcome::{Amount, Test, Value};
use crate::report::compared::compared;
use crate::report::finding::{Finding, of_run};
use crate::report::sheet::Sheet;
use crate::report::written;
use crate::tape::Slot;

/// The readings named as those that a verdict rests on, and their least share.
const NAMED: usize = 2;
const LEAST: f64 = 0.1;

/// The checks of a run that no line has yet.
pub(super) struct Judging<'a> {
    sheet: &'a Sheet<'a>,
    findings: Vec<Finding<'a>>,
}

impl<'a> Judging<'a> {
    pub(super) fn new(sheet: &'a Sheet<'a>, run: usize) -> Self {
        Self {
            sheet,
            findings: of_run(sheet, run),
        }
    }

    /// Those that judge a value.
    pub(super) fn of(&mut self, value: &Value) -> Vec<Limit> {
        let mut slots = Vec::new();
        slots_of(value, &mut slots);
        let mut found = Vec::new();
        let sheet = self.sheet;
        self.findings.retain(|finding| {
            let judges = judged(&finding.check.test).is_some_and(|slot| slots.contains(&slot));
            if judges {
                found.push(limit(sheet, *finding));
            }
            !judges
        });
        found
    }

    /// Those that judge no line: a reading, or a sum of several.
    pub(super) fn left(self) -> Vec<Finding<'a>> {
        self.findings
    }
}

fn slots_of(value: &Value, into: &mut Vec<Slot>) {
    match value {
        Value::Amount(amount) => into.extend(amount.slot),
        Value::Items(items) => items.iter().for_each(|(_, item)| slots_of(item, into)),
        _ => {}
    }
}

/// The number that a check judges: what does not stand on the tape is its limit.
fn judged(test: &Test) -> Option<Slot> {
    let slot = |value: &Value| match value {
        Value::Amount(Amount { slot, .. }) => *slot,
        _ => None,
    };
    match test {
        Test::Sides { left, right, .. } => slot(left).or_else(|| slot(right)),
        Test::Between { value, .. } => value.slot,
        Test::Truth(_) => None,
    }
}

fn limit(sheet: &Sheet<'_>, finding: Finding<'_>) -> Limit {
    let words = compared(sheet, finding);
    let phrase = |phrase| written::phrase(phrase, sheet.system);
    let shares = finding
        .judged
        .rests_on
        .iter()
        .filter(|(_, share)| *share >= LEAST)
        .take(NAMED);
    let shares: Vec<String> = shares
        .map(|(name, share)| format!("{} {:.0} in 100", super::names::in_words(name), share * 100.0))
        .collect();
    Limit {
        word: finding.word(),
        label: finding.label(sheet),
        value: words.value,
        limit: words.limit,
        margin: words.off.or(words.spare),
        per: finding.check.per.as_ref().map(phrase),
        rests_on: (!shares.is_empty()).then(|| shares.join(", ")),
    }
}

/// A line of its own for a check that judges no line.
pub(super) fn limit_alone(sheet: &Sheet<'_>, finding: Finding<'_>) -> Line {
    let limit = limit(sheet, finding);
    Line {
        heading: finding
            .check
            .heading
            .as_ref()
            .map(|phrase| written::phrase(phrase, sheet.system)),
        words: limit.label.clone(),
        letters: Formula::of(&finding.check.formula),
        limits: vec![limit],
        ..Line::default()
    }
}
