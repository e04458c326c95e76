//! Every case against what comes out.

use super::case::{Case, Expected, cases};
use super::shelf::{PACKS, folder, scripts};
use super::trial::{self, Trial};
use crankline_engine::outcome::Value;
use crankline_engine::quantity::text::{self, Values};

#[test]
fn driveline() {
    pack("driveline");
}

#[test]
fn gearing() {
    pack("gearing");
}

#[test]
fn harness() {
    pack("harness");
}

#[test]
fn every_script_that_runs_has_cases_good_and_bad() {
    for script in PACKS.iter().flat_map(|pack| scripts(pack)) {
        if is_module(&script) {
            continue;
        }
        let cases = cases(&script);
        let good = cases.iter().filter(|case| case.expect_error.is_none()).count();
        assert!(good >= 2, "{script}: {good} worked cases");
        assert!(good < cases.len(), "{script}: no case of a bad reading");
        for case in cases.iter().filter(|case| case.expect_error.is_none()) {
            assert!(case.source.is_some(), "{script}, {}: no source", case.title);
            assert!(!case.expect.is_empty(), "{script}, {}: nothing expected", case.title);
        }
    }
}

/// A script without cases is a module: it states nothing.
fn is_module(script: &str) -> bool {
    let states = |line: &str| {
        ["input ", "assume ", "step ", "check "]
            .iter()
            .any(|word| line.starts_with(word))
    };
    let text = super::shelf::text(script).text;
    let stated = text.lines().any(states);
    assert_eq!(
        stated,
        folder().join(format!("{script}.cases.toml")).exists(),
        "{script}"
    );
    !stated
}

fn pack(pack: &str) {
    let mut wrong = Vec::new();
    for script in scripts(pack) {
        if is_module(&script) {
            continue;
        }
        for case in cases(&script) {
            wrong.extend(
                differences(&script, &case)
                    .into_iter()
                    .map(|found| format!("{script}, {}: {found}", case.title)),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn differences(script: &str, case: &Case) -> Vec<String> {
    match (trial::run(script, &case.set), &case.expect_error) {
        (Err(error), Some(word)) if error.to_string().contains(word.as_str()) => Vec::new(),
        (Err(error), Some(word)) => vec![format!("no `{word}` in {error}")],
        (Err(error), None) => vec![error.to_string()],
        (Ok(_), Some(word)) => vec![format!("it was accepted: no error about `{word}`")],
        (Ok(trial), None) => case
            .expect
            .iter()
            .filter_map(|(name, expected)| differs(&trial, name, expected))
            .collect(),
    }
}

fn differs(trial: &Trial, name: &str, expected: &Expected) -> Option<String> {
    match expected {
        Expected::Verdict(wanted) => {
            let label = name.strip_prefix("check: ").unwrap_or(name);
            let found = verdict(trial, label);
            (found.as_ref() != Some(wanted)).then(|| format!("{name}: {found:?} instead of {wanted}"))
        }
        Expected::Amount { value, within } => {
            let Some(step) = trial.outcome.steps.iter().find(|step| step.name == *name) else {
                return Some(format!("there is no step `{name}`"));
            };
            let Value::Amount(found) = &step.value else {
                return Some(format!("{name} is no quantity"));
            };
            let wanted = number(value);
            assert!(wanted.dimension.is_like(found.dimension), "{name}: {value}");
            let off = (found.si - si(&wanted)).abs();
            let allowed = number(within);
            let message = format!(
                "{name}: {} in SI instead of {} ({value}), off by {off:e}",
                found.si,
                si(&wanted)
            );
            (off > si(&allowed)).then_some(message)
        }
    }
}

fn verdict(trial: &Trial, label: &str) -> Option<String> {
    let at = trial
        .outcome
        .checks
        .iter()
        .position(|check| words(check.label.as_ref()) == label)?;
    let judged = trial.judged.runs.first()?.checks.get(at)?;
    Some(format!("{:?}", judged.verdict).to_lowercase())
}

fn words(phrase: Option<&crankline_engine::outcome::Phrase>) -> String {
    use crankline_engine::outcome::Piece;
    let pieces = phrase.into_iter().flat_map(|phrase| &phrase.pieces);
    let words = pieces.map(|piece| match piece {
        Piece::Words(words) => words.as_str(),
        Piece::Amount(_) => "…",
    });
    words.collect()
}

fn number(written: &str) -> text::Reading {
    text::read(written).unwrap_or_else(|error| panic!("`{written}`: {}", error.message))
}

fn si(reading: &text::Reading) -> f64 {
    match reading.values {
        Values::One(number) => number,
        Values::Vector(_) => panic!("a point is no step"),
    }
}
