//! What a changed script gives otherwise: which numbers moved, which verdicts turned.

use super::prove::{check_name, value_words};
use crate::outcome::{CheckKind, Outcome, Value};
use crate::study::Verdict;

/// A result that is another one now.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// A step, `stress[bump]`, or `check: LABEL`.
    pub what: String,
    /// What it was; none where it was not there.
    pub before: Option<String>,
    /// What it is; none where it is not there.
    pub after: Option<String>,
    /// Of a number: by which part of what it was it moved.
    pub part: Option<f64>,
    /// Of a check that decides: whether its verdict got worse.
    pub worse: bool,
}

/// What one run yields.
pub struct Yielded<'a> {
    /// Its outcome.
    pub outcome: &'a Outcome,
    /// What becomes of the check with that number in the outcome.
    pub verdict: &'a dyn Fn(usize) -> Option<Verdict>,
}

/// The results of two runs that differ, those of the first run first; numbers to the last bit.
#[must_use]
pub fn moved(before: &Yielded<'_>, after: &Yielded<'_>) -> Vec<Moved> {
    let (old, new) = (results(before), results(after));
    let mut moved = Vec::new();
    for (what, value) in &old {
        match new.iter().find(|(known, _)| known == what) {
            Some((_, now)) if now == value => {}
            Some((_, now)) => moved.push(Moved {
                what: what.clone(),
                before: Some(value.words()),
                after: Some(now.words()),
                part: value.part(now),
                worse: value.got_worse(now),
            }),
            None => moved.push(Moved {
                what: what.clone(),
                before: Some(value.words()),
                after: None,
                part: None,
                worse: false,
            }),
        }
    }
    for (what, value) in new
        .iter()
        .filter(|(what, _)| !old.iter().any(|(known, _)| known == what))
    {
        moved.push(Moved {
            what: what.clone(),
            before: None,
            after: Some(value.words()),
            part: None,
            worse: false,
        });
    }
    moved
}

/// A result to compare.
enum Found {
    Value(Value),
    /// Of a check, and whether it decides.
    Verdict(Verdict, bool),
}

impl PartialEq for Found {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Value(Value::Amount(one)), Self::Value(Value::Amount(other))) => {
                one.si.to_bits() == other.si.to_bits() && one.dimension == other.dimension && one.scale == other.scale
            }
            (Self::Value(one), Self::Value(other)) => value_words(one) == value_words(other),
            (Self::Verdict(one, _), Self::Verdict(other, _)) => one == other,
            _ => false,
        }
    }
}

impl Found {
    fn words(&self) -> String {
        match self {
            Self::Value(value) => value_words(value),
            Self::Verdict(verdict, _) => verdict.word().to_owned(),
        }
    }

    /// Verdicts stand worst first.
    fn got_worse(&self, now: &Self) -> bool {
        matches!((self, now), (Self::Verdict(was, _), Self::Verdict(is, true)) if is < was)
    }

    fn part(&self, now: &Self) -> Option<f64> {
        match (self, now) {
            (Self::Value(Value::Amount(before)), Self::Value(Value::Amount(now)))
                if before.dimension == now.dimension && before.si != 0.0 =>
            {
                Some((now.si - before.si) / before.si.abs())
            }
            _ => None,
        }
    }
}

fn results(yielded: &Yielded<'_>) -> Vec<(String, Found)> {
    let mut found = Vec::new();
    for step in &yielded.outcome.steps {
        parts(&step.name, &step.value, &mut found);
    }
    for (number, check) in yielded.outcome.checks.iter().enumerate() {
        if let Some(verdict) = (yielded.verdict)(number) {
            let decides = check.kind != CheckKind::Prefer;
            found.push((
                format!("check: {}", check_name(check)),
                Found::Verdict(verdict, decides),
            ));
        }
    }
    found
}

fn parts(name: &str, value: &Value, found: &mut Vec<(String, Found)>) {
    match value {
        Value::Items(items) => {
            for (key, item) in items {
                parts(&format!("{name}[{key}]"), item, found);
            }
        }
        value => found.push((name.to_owned(), Found::Value(value.clone()))),
    }
}
