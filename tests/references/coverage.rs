//! Every check value from outside is either reached by the language's own functions and scripts, or named as outside.
//!
//! `open.toml` and `published.toml` hold, for each case, a few lines of the language that work out its value in the
//! case's unit from the case's inputs; or the reason why a case is outside what the functions do.

use super::{CASES, case};
use crankline_engine::diagnostic::SourceText;
use crankline_engine::outcome::Value;
use crankline_engine::script::{Bindings, Library};
use crankline_engine::tape::Recording;
use crankline_scripts::Shipped;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::rc::Rc;

#[derive(Deserialize)]
struct Coverage {
    #[serde(default)]
    covered: Vec<Covered>,
    #[serde(default)]
    outside: Vec<Outside>,
}

#[derive(Deserialize)]
struct Covered {
    id: String,
    /// Lines of the language; the last is the value, a plain number in the case's unit.
    script: String,
    /// Why the value is held to less than the case's own tolerance.
    wider: Option<Wider>,
    /// The value to expect instead of the printed one, where the source has a misprint.
    instead: Option<f64>,
}

#[derive(Deserialize)]
struct Wider {
    tolerance: f64,
    why: String,
}

#[derive(Deserialize)]
struct Outside {
    ids: Vec<String>,
    why: String,
}

fn coverage() -> Vec<Coverage> {
    [include_str!("open.toml"), include_str!("published.toml")]
        .iter()
        .map(|text| toml::from_str(text).unwrap())
        .collect()
}

/// The last line of a snippet becomes a step.
fn as_script(snippet: &str) -> String {
    let snippet = snippet.trim();
    let (before, last) = snippet.rsplit_once('\n').unwrap_or(("", snippet));
    format!("{before}\nstep answer = {};\n", last.trim().trim_end_matches(';'))
}

fn answer(library: &Library, covered: &Covered) -> Result<f64, String> {
    let source = SourceText {
        name: covered.id.clone(),
        text: as_script(&covered.script),
    };
    let program = library.compile(source).map_err(|error| error.to_string())?;
    let recording = Rc::new(Recording::open());
    let finished = library
        .run(&program, Bindings::new(), &recording, 0, None)
        .map_err(|error| error.to_string())?;
    match finished.outcome.steps.last().map(|step| &step.value) {
        Some(Value::Amount(amount)) if amount.dimension.is_none() => Ok(amount.si),
        #[allow(clippy::cast_precision_loss, reason = "a small count")]
        Some(Value::Count(count)) => Ok(*count as f64),
        other => Err(format!("the answer must be a plain number, it is {other:?}")),
    }
}

#[test]
fn values_from_outside_come_out() {
    let library = Library::new(Rc::new(Shipped));
    let mut wrong = Vec::new();
    for covered in coverage().iter().flat_map(|coverage| &coverage.covered) {
        let case = case(&covered.id);
        let expected = covered.instead.unwrap_or(case.value);
        let own = case.relative_tolerance;
        let tolerance = covered.wider.as_ref().map_or(own, |wider| wider.tolerance);
        match answer(&library, covered) {
            Ok(value) if (value - expected).abs() <= tolerance * expected.abs().max(f64::MIN_POSITIVE) => {}
            Ok(value) => wrong.push(format!(
                "{}: {value} {}, expected {expected} ± {tolerance}",
                case.id, case.unit
            )),
            Err(error) => wrong.push(format!("{}: {error}", case.id)),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_case_is_covered_or_named_as_outside() {
    let mut named = BTreeSet::new();
    for coverage in coverage() {
        let covered = coverage.covered.iter().map(|covered| &covered.id);
        let outside = coverage.outside.iter().flat_map(|outside| &outside.ids);
        for id in covered.chain(outside) {
            assert!(named.insert(id.clone()), "{id} is named twice");
        }
        assert!(coverage.outside.iter().all(|outside| outside.why.len() > 10));
        assert!(
            coverage
                .covered
                .iter()
                .filter_map(|covered| covered.wider.as_ref())
                .all(|wider| wider.why.len() > 10)
        );
    }
    let all: BTreeSet<String> = CASES
        .iter()
        .map(|case| case["id"].as_str().unwrap().to_owned())
        .collect();
    let missing: Vec<&String> = all.difference(&named).collect();
    assert!(missing.is_empty(), "neither covered nor named as outside: {missing:?}");
    let unknown: Vec<&String> = named.difference(&all).collect();
    assert!(unknown.is_empty(), "no such case: {unknown:?}");
}
