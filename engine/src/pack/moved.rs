//! What a changed script gives otherwise: which numbers moved, which limits, which verdicts turned.

use super::prove::{value_words, words_of};
use crate::outcome::{Amount, CheckKind, Comparison, Outcome, Spread, Test, Value};
use crate::quantity::Scale;
use crate::study::Verdict;
use crate::tape::Slot;
use std::collections::BTreeMap;

/// A result that is another one now.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// An input or a step, `stress[bump]`; `± of wall`; `check: LABEL`, `check: LABEL, its right side`; a caution.
    pub what: String,
    /// What it was; none where it was not there.
    pub before: Option<String>,
    /// What it is; none where it is not there.
    pub after: Option<String>,
    /// Of a number: by which part of what it was it moved.
    pub part: Option<f64>,
    /// Of a check that decides: whether its verdict got worse, or it decides no longer, or is gone.
    pub worse: bool,
}

/// What one run yields.
pub struct Yielded<'a> {
    /// Its outcome.
    pub outcome: &'a Outcome,
    /// What becomes of the check with that number in the outcome.
    pub verdict: &'a dyn Fn(usize) -> Option<Verdict>,
}

/// What differs between two runs, what the first has in its order first; numbers to the last bit.
///
/// Compared are values of inputs (a script's own examples and assumptions where a case sets none), their ±, steps, checks
/// with their kind and with the limits that have no name of their own, and cautions.
#[must_use]
pub fn moved(before: &Yielded<'_>, after: &Yielded<'_>) -> Vec<Moved> {
    let (old, new) = (results(before), results(after));
    let twin = |result: &Result, others: &'_ [Result]| others.iter().position(|other| other.what == result.what);
    let mut moved = Vec::new();
    for was in &old {
        match twin(was, &new).map(|at| &new[at]) {
            Some(is) if is.found == was.found => {}
            Some(is) => moved.push(Moved {
                what: was.what.clone(),
                before: Some(was.found.words()),
                after: Some(is.found.words()),
                part: was.found.part(&is.found),
                worse: was.found.got_worse(&is.found),
            }),
            None if was.beside => {}
            None => moved.push(Moved {
                what: was.what.clone(),
                before: Some(was.found.words()),
                after: None,
                part: None,
                worse: was.found.is_missed(),
            }),
        }
    }
    for is in new.iter().filter(|is| !is.beside && twin(is, &old).is_none()) {
        moved.push(Moved {
            what: is.what.clone(),
            before: None,
            after: Some(is.found.words()),
            part: None,
            worse: matches!(is.found, Found::Verdict(Verdict::Fails, true)),
        });
    }
    moved
}

/// A result to compare.
struct Result {
    /// What it is; no two of a run are called the same.
    what: String,
    found: Found,
    /// Whether it belongs to another one, and is nothing by itself.
    beside: bool,
}

enum Found {
    Value(Value),
    /// How far an input may be off, written in the unit of this amount.
    Spread(Spread, Amount),
    /// Of a check, and whether it decides.
    Verdict(Verdict, bool),
    Kind(CheckKind),
    Comparison(Comparison),
    /// A side of a check that is an input or a step: its value is compared there.
    Named(String),
    /// A caution.
    Said,
}

impl PartialEq for Found {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Value(Value::Amount(one)), Self::Value(Value::Amount(other))) => {
                one.si.to_bits() == other.si.to_bits() && one.dimension == other.dimension && one.scale == other.scale
            }
            (Self::Value(one), Self::Value(other)) => value_words(one) == value_words(other),
            (Self::Spread(one, _), Self::Spread(other, _)) => one == other,
            (Self::Verdict(one, _), Self::Verdict(other, _)) => one == other,
            (Self::Kind(one), Self::Kind(other)) => one == other,
            (Self::Comparison(one), Self::Comparison(other)) => one == other,
            (Self::Named(one), Self::Named(other)) => one == other,
            (Self::Said, Self::Said) => true,
            _ => false,
        }
    }
}

impl Found {
    fn words(&self) -> String {
        match self {
            Self::Value(value) => value_words(value),
            Self::Spread(spread, amount) => spread_words(*spread, amount),
            Self::Verdict(verdict, _) => verdict.word().to_owned(),
            Self::Kind(kind) => kind_word(*kind).to_owned(),
            Self::Comparison(comparison) => comparison.sign().to_owned(),
            Self::Named(name) => format!("`{name}`"),
            Self::Said => "said".to_owned(),
        }
    }

    /// Verdicts stand worst first. What decided and is advice now may fail unheard.
    fn got_worse(&self, now: &Self) -> bool {
        match (self, now) {
            (Self::Verdict(was, _), Self::Verdict(is, true)) => is < was,
            (Self::Kind(was), Self::Kind(is)) => *was != CheckKind::Prefer && *is == CheckKind::Prefer,
            _ => false,
        }
    }

    /// Whether somebody relied on it who finds it gone.
    fn is_missed(&self) -> bool {
        matches!(self, Self::Verdict(_, true))
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

fn results(yielded: &Yielded<'_>) -> Vec<Result> {
    let mut found = Results::default();
    let outcome = yielded.outcome;
    for input in &outcome.inputs {
        found.parts(&input.name, &input.value);
        for part in &input.parts {
            if let Some(amount) = amount_in(&input.value, part.slot) {
                found.beside(
                    format!("± of {}", part.address),
                    Found::Spread(part.spread, amount.clone()),
                );
            }
        }
    }
    for step in &outcome.steps {
        found.parts(&step.name, &step.value);
    }
    let names = names(outcome);
    for (number, check) in outcome.checks.iter().enumerate() {
        let Some(verdict) = (yielded.verdict)(number) else {
            continue;
        };
        // Numbers in a label may move; it is the same check.
        let label = check.label.as_ref().map(|label| label.in_words(|_| "…".to_owned()));
        let what = format!("check: {}", label.as_ref().unwrap_or(&check.formula));
        let decides = check.kind != CheckKind::Prefer;
        let what = found.add(what, Found::Verdict(verdict, decides), false);
        found.beside(format!("{what}, its kind"), Found::Kind(check.kind));
        for (side, value) in sides(&check.test, &names) {
            found.beside(format!("{what}, {side}"), value);
        }
    }
    for caution in &outcome.cautions {
        found.add(format!("caution \"{}\"", words_of(caution)), Found::Said, false);
    }
    found.all
}

/// Results under names of their own: what is called like another one is numbered.
#[derive(Default)]
struct Results {
    all: Vec<Result>,
    times: BTreeMap<String, usize>,
}

impl Results {
    fn add(&mut self, what: String, found: Found, beside: bool) -> String {
        let times = self.times.entry(what.clone()).or_default();
        *times += 1;
        let what = if *times == 1 { what } else { format!("{what} ({times})") };
        self.all.push(Result {
            what: what.clone(),
            found,
            beside,
        });
        what
    }

    fn beside(&mut self, what: String, found: Found) {
        self.add(what, found, true);
    }

    fn parts(&mut self, name: &str, value: &Value) {
        match value {
            Value::Items(items) => {
                for (key, item) in items {
                    self.parts(&format!("{name}[{key}]"), item);
                }
            }
            value => {
                self.add(name.to_owned(), Found::Value(value.clone()), false);
            }
        }
    }
}

/// The sides of a check; those that are an input or a step by its name.
fn sides(test: &Test, names: &BTreeMap<Slot, String>) -> Vec<(&'static str, Found)> {
    let number = |amount: &Amount| match amount.slot.and_then(|slot| names.get(&slot)) {
        Some(name) => Found::Named(name.clone()),
        None => Found::Value(Value::Amount(amount.clone())),
    };
    let value = |value: &Value| match value {
        Value::Amount(amount) => number(amount),
        other => Found::Value(other.clone()),
    };
    match test {
        Test::Sides {
            left,
            comparison,
            right,
        } => vec![
            ("its left side", value(left)),
            ("its comparison", Found::Comparison(*comparison)),
            ("its right side", value(right)),
        ],
        Test::Between { value, low, high } => vec![
            ("what is judged", number(value)),
            ("its lower limit", number(low)),
            ("its upper limit", number(high)),
        ],
        // Its verdict says it.
        Test::Truth(_) => Vec::new(),
    }
}

/// The numbers of inputs and steps by their place on the tape.
fn names(outcome: &Outcome) -> BTreeMap<Slot, String> {
    fn take(name: &str, value: &Value, names: &mut BTreeMap<Slot, String>) {
        match value {
            Value::Amount(Amount { slot: Some(slot), .. }) => {
                names.entry(*slot).or_insert_with(|| name.to_owned());
            }
            Value::Items(items) => items
                .iter()
                .for_each(|(key, item)| take(&format!("{name}[{key}]"), item, names)),
            _ => {}
        }
    }
    let mut names = BTreeMap::new();
    let inputs = outcome.inputs.iter().map(|input| (&input.name, &input.value));
    let steps = outcome.steps.iter().map(|step| (&step.name, &step.value));
    inputs
        .chain(steps)
        .for_each(|(name, value)| take(name, value, &mut names));
    names
}

fn amount_in(value: &Value, slot: Slot) -> Option<&Amount> {
    match value {
        Value::Amount(amount) => (amount.slot == Some(slot)).then_some(amount),
        Value::Items(items) => items.iter().find_map(|(_, item)| amount_in(item, slot)),
        _ => None,
    }
}

const fn kind_word(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::Check => "a check",
        CheckKind::Prefer => "advice (prefer)",
        CheckKind::Require => "a requirement",
    }
}

fn spread_words(spread: Spread, amount: &Amount) -> String {
    let width = |si: f64| {
        value_words(&Value::Amount(Amount {
            si,
            scale: Scale::Difference,
            signs: None,
            ..amount.clone()
        }))
    };
    match spread {
        Spread::Exact => "none".to_owned(),
        Spread::Limits(limits) => width(limits),
        Spread::Standard(deviation) => format!("{} (standard uncertainty)", width(deviation)),
        Spread::Repeats {
            mean_scatter, limits, ..
        } => {
            format!("{} (scatter of the mean), each {}", width(mean_scatter), width(limits))
        }
    }
}
