//! Whether a case comes out.

use super::case::{Case, Expectation, Expected, ExpectedValue, is_check};
use crate::diagnostic::{Diagnostic, Refusal, nearest};
use crate::outcome::{Amount, Check, Outcome, Phrase, Value};
use crate::quantity::text::{Digits, Style, Values, read_with_signs, shown, write_number};
use crate::quantity::units::{Scale, WrittenUnit};
use crate::quantity::{Dimension, words};
use crate::study::Verdict;

/// The largest share of itself within which a result may be asked for that a case is to prove.
const CLOSE: f64 = 0.1;

/// Compares what a case expects with what came out: all differences, none where it holds.
///
/// `verdict` tells what becomes of the check with that number in the outcome.
#[must_use]
pub fn prove(
    case: &Case,
    result: Result<&Outcome, &Diagnostic>,
    verdict: &dyn Fn(usize) -> Option<Verdict>,
) -> Vec<Diagnostic> {
    match (&case.expectation, result) {
        (Expectation::Results(expected), Ok(outcome)) => {
            let proving = Proving { outcome, verdict };
            let found = expected.iter().filter_map(|expected| {
                let refusal = proving.one(expected).err()?;
                Some(Diagnostic::at(refusal, expected.place.clone()))
            });
            found.collect()
        }
        (Expectation::Results(_), Err(error)) => {
            let message = format!("this case cannot be calculated: {}", error.refusal.message());
            let mut places = vec![case.place.clone()];
            places.extend(error.places.iter().cloned());
            vec![Diagnostic {
                refusal: Refusal::new("differs", message),
                places,
            }]
        }
        (Expectation::Error(words, place), Ok(_)) => {
            let message = format!("an error about `{words}` is expected, and there is none");
            vec![Diagnostic::at(Refusal::new("differs", message), place.clone())]
        }
        (Expectation::Error(words, place), Err(error)) => {
            let said = error.refusal.message();
            if said.to_lowercase().contains(&words.to_lowercase()) {
                return Vec::new();
            }
            let message = format!("an error about `{words}` is expected; the error is: {said}");
            vec![Diagnostic::at(Refusal::new("differs", message), place.clone())]
        }
    }
}

/// Whether a case would not come out if the script calculated something else: it asks for a step to a tenth of itself or
/// closer, for a word, a count, or a verdict. An input is but what was put in, and what is asked for within its own size,
/// or is nothing, nearly everything would be.
#[must_use]
pub fn asks_closely(case: &Case, outcome: &Outcome) -> bool {
    let Expectation::Results(expected) = &case.expectation else {
        return false;
    };
    let proving = Proving {
        outcome,
        verdict: &|_| None,
    };
    expected.iter().any(|expected| proving.is_close(expected))
}

/// Whether a script states anything: one that only lends its functions has nothing to show in a worked example.
#[must_use]
pub fn states_something(outcome: &Outcome) -> bool {
    !(outcome.inputs.is_empty() && outcome.steps.is_empty() && outcome.checks.is_empty())
}

/// All differences in words, a line each.
#[must_use]
pub fn difference_words(differences: &[Diagnostic]) -> String {
    let lines = differences.iter().map(|difference| {
        let line = difference.places.first().map_or(0, |place| place.line);
        format!("line {line}: {}", difference.refusal.message())
    });
    lines.collect::<Vec<_>>().join("\n")
}

struct Proving<'a> {
    outcome: &'a Outcome,
    verdict: &'a dyn Fn(usize) -> Option<Verdict>,
}

impl Proving<'_> {
    fn one(&self, expected: &Expected) -> Result<(), Refusal> {
        let address = &expected.address;
        if let (ExpectedValue::Verdict(wanted), true) = (&expected.value, is_check(address)) {
            return self.check(address.trim_start_matches("check:").trim(), *wanted);
        }
        let found = self.find(address)?;
        match (&expected.value, &found) {
            (ExpectedValue::Quantity { value, within }, Value::Amount(amount)) => {
                quantity(address, amount, value, within)
            }
            #[allow(clippy::cast_precision_loss, reason = "counts are within 2^53")]
            (ExpectedValue::Quantity { value, within }, Value::Count(count)) => {
                let amount = plain_amount(*count as f64);
                quantity(address, &amount, value, within)
            }
            #[allow(clippy::cast_precision_loss, reason = "counts are within 2^53")]
            (ExpectedValue::Count(count), Value::Amount(amount))
                if amount.dimension.is_none() && amount.si == *count as f64 =>
            {
                Ok(())
            }
            (ExpectedValue::Count(wanted), Value::Count(count)) if wanted == count => Ok(()),
            (ExpectedValue::Truth(wanted), Value::Truth(truth)) if wanted == truth => Ok(()),
            (ExpectedValue::Text(wanted), Value::Text(text)) if *wanted == words_of(text) => Ok(()),
            (wanted, _) => Err(differs(address, &value_words(&found), &wanted_words(wanted))),
        }
    }

    fn is_close(&self, expected: &Expected) -> bool {
        let address = &expected.address;
        if is_check(address) {
            return true;
        }
        let root = address.split(['[', '.']).next().unwrap_or_default();
        let is_step = self.outcome.steps.iter().any(|step| step.name == root);
        let found = self.find(address).ok().filter(|_| is_step);
        match (&expected.value, found) {
            (_, None) => false,
            (ExpectedValue::Quantity { value, within }, Some(Value::Amount(amount))) => {
                asked(address, &amount, value, within).is_ok_and(|asked| asked.limit <= CLOSE * asked.number.abs())
            }
            (_, Some(_)) => true,
        }
    }

    /// What becomes of a check; of several with one label, the worst.
    fn check(&self, label: &str, wanted: Verdict) -> Result<(), Refusal> {
        let checks = self.outcome.checks.iter().enumerate();
        let named = checks.filter(|(_, check)| check_name(check) == label || check.formula == label);
        let verdicts: Option<Vec<Verdict>> = named.map(|(number, _)| (self.verdict)(number)).collect();
        match verdicts.and_then(|verdicts| verdicts.into_iter().min()) {
            Some(found) if found == wanted => Ok(()),
            Some(found) => Err(differs(&format!("check: {label}"), found.word(), wanted.word())),
            None => {
                let names: Vec<String> = self.outcome.checks.iter().map(check_name).collect();
                let near = nearest(label, names.iter().map(String::as_str));
                Err(Refusal::new("differs", format!("there is no check `{label}`"))
                    .maybe_hint(near.map(|near| format!("did you mean `check: {near}`?"))))
            }
        }
    }

    /// The step or input at an address: `front`, `stress[bump]`, `joint.x`.
    fn find(&self, address: &str) -> Result<Value, Refusal> {
        let steps = self.outcome.steps.iter().map(|step| (step.name.as_str(), &step.value));
        let inputs = self
            .outcome
            .inputs
            .iter()
            .map(|input| (input.name.as_str(), &input.value));
        let known: Vec<(&str, &Value)> = steps.chain(inputs).collect();
        if let Some((_, value)) = known.iter().find(|(name, _)| *name == address) {
            return Ok((*value).clone());
        }
        if let Some((whole, key)) = split_item(address)
            && let Ok(Value::Items(items)) = self.find(whole)
            && let Some((_, value)) = items.into_iter().find(|(found, _)| found == key)
        {
            return Ok(value);
        }
        let near = nearest(address, known.iter().map(|(name, _)| *name));
        Err(Refusal::new("differs", format!("the script gives no `{address}`"))
            .maybe_hint(near.map(|near| format!("did you mean `{near}`?"))))
    }
}

/// `joint.x` is the item `x` of `joint`, `shares[2]` the item `2` of `shares`.
fn split_item(address: &str) -> Option<(&str, &str)> {
    match address.strip_suffix(']') {
        Some(open) => open.rsplit_once('['),
        None => address.rsplit_once('.'),
    }
}

fn quantity(address: &str, found: &Amount, value: &str, within: &str) -> Result<(), Refusal> {
    let asked = asked(address, found, value, within)?;
    // Not `> limit`: what is not a number is no agreement.
    if (found.si - asked.number).abs() <= asked.limit {
        return Ok(());
    }
    let here = write_number(asked.unit.from_si(found.si), Digits::Significant(9));
    let unit = asked.unit.symbol();
    let message = format!("`{address}` is {here} {unit} here, the case says {value} within {within}");
    Err(Refusal::new("differs", message))
}

/// What a case asks for: in SI units, and in the unit in which it says so.
struct Asked {
    number: f64,
    limit: f64,
    unit: WrittenUnit,
}

/// Reads what a case asks for of a number that was found.
fn asked(address: &str, found: &Amount, value: &str, within: &str) -> Result<Asked, Refusal> {
    let signs = found
        .signs
        .as_ref()
        .map(|(positive, negative)| (positive.as_str(), negative.as_str()));
    let unreadable = |text: &str, message: &str| Refusal::new("case", format!("`{text}`: {message}"));
    let wanted = read_with_signs(value, signs).map_err(|error| unreadable(value, &error.message))?;
    let width = read_with_signs(within, None).map_err(|error| unreadable(within, &error.message))?;
    let (Values::One(number), Values::One(limit)) = (wanted.values, width.values) else {
        return Err(unreadable(value, "one quantity is expected, not a point").hint("write its x, y and z apart"));
    };
    let kinds = [(wanted.dimension, value), (width.dimension, within)];
    if let Some((dimension, text)) = kinds.iter().find(|(dimension, _)| !dimension.is_like(found.dimension)) {
        let (found, other) = (words::name_of(found.dimension), words::name_of(*dimension));
        let (found, other) = (words::with_article(&found), words::with_article(&other));
        let message = format!("`{address}` is {found} here, the case gives {other} (`{text}`)");
        return Err(Refusal::new("differs", message));
    }
    if wanted.scale != found.scale || width.scale == Scale::Point {
        let message = format!("`{address}`: a temperature and a difference of temperatures are mixed up");
        return Err(Refusal::new("differs", message).hint("within = \"0.5 delta_degC\""));
    }
    if limit < 0.0 {
        return Err(unreadable(within, "how far off a value may be is not negative"));
    }
    let unit = wanted.unit;
    Ok(Asked { number, limit, unit })
}

fn plain_amount(si: f64) -> Amount {
    Amount {
        si,
        dimension: Dimension::NONE,
        scale: Scale::Difference,
        slot: None,
        aside: false,
        style: None,
        signs: None,
    }
}

fn differs(address: &str, found: &str, wanted: &str) -> Refusal {
    Refusal::new(
        "differs",
        format!("`{address}` is {found} here, the case says {wanted}"),
    )
}

pub(super) fn check_name(check: &Check) -> String {
    check.label.as_ref().map_or_else(|| check.formula.clone(), words_of)
}

/// A text with its numbers written as the script wants them, or in their usual unit.
pub(super) fn words_of(phrase: &Phrase) -> String {
    phrase.in_words(written)
}

fn written(amount: &Amount) -> String {
    let style = amount.style.as_ref();
    let style = style.and_then(|style| Style::parse(style, amount.dimension, amount.scale).ok());
    match style {
        Some(style) => style.write(amount.si),
        None => shown(amount.si, amount.dimension, amount.scale),
    }
}

pub(super) fn value_words(value: &Value) -> String {
    match value {
        Value::Amount(amount) => written(amount),
        Value::Count(count) => count.to_string(),
        Value::Text(text) => format!("\"{}\"", words_of(text)),
        Value::Truth(truth) => yes_or_no(*truth).to_owned(),
        Value::Items(items) => format!("several values ({})", keys(items)),
    }
}

fn keys(items: &[(String, Value)]) -> String {
    let keys: Vec<&str> = items.iter().take(6).map(|(key, _)| key.as_str()).collect();
    keys.join(", ")
}

fn wanted_words(value: &ExpectedValue) -> String {
    match value {
        ExpectedValue::Quantity { value, within } => format!("{value} within {within}"),
        ExpectedValue::Count(count) => count.to_string(),
        ExpectedValue::Text(text) => format!("\"{text}\""),
        ExpectedValue::Truth(truth) => yes_or_no(*truth).to_owned(),
        ExpectedValue::Verdict(verdict) => verdict.word().to_owned(),
    }
}

const fn yes_or_no(truth: bool) -> &'static str {
    if truth { "yes" } else { "no" }
}
