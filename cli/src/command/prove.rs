//! `prove`: runs the worked examples that come with scripts.

use super::dispatch::Output;
use crate::arguments::{Common, Format};
use crate::exit::{DONE, NOT_DONE};
use crate::listing::pretty;
use crate::screen::Io;
use crate::shelf::has_extension;
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText, nearest};
use crankline_engine::pack::{Case, prove, read_cases};
use crankline_engine::report::{AID, wrapped};
use crankline_scripts::{packs, script_names};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::path::Path;

/// Columns of a message below a case.
const WIDTH: usize = 68;

/// A case with what came of it.
struct Proved {
    script: String,
    title: String,
    source: Option<String>,
    differences: Vec<String>,
}

/// Runs the cases of all packs, of one pack, or of one script.
pub(crate) fn run(what: Option<&str>, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let mut proved = Vec::new();
    for script in scripts(what)? {
        let Some(text) = cases(&script, &io.directory)? else {
            continue;
        };
        for case in read_cases(text)? {
            proved.push(one(&script, &case, &io.directory));
        }
    }
    let all_come_out = proved.iter().all(|case| case.differences.is_empty());
    Ok(Output {
        text: match common.format {
            Format::Json => pretty(&as_json(&proved)),
            Format::Text | Format::Markdown | Format::Csv | Format::Html => as_text(&proved),
        },
        code: if all_come_out { DONE } else { NOT_DONE },
        also: None,
        why: None,
    })
}

/// The scripts meant: all, those of a pack, one.
fn scripts(what: Option<&str>) -> Result<Vec<String>, Refusal> {
    let names = script_names();
    let Some(what) = what else {
        return Ok(names);
    };
    if has_extension(what, "rhai") || names.iter().any(|name| name == what) {
        return Ok(vec![what.to_owned()]);
    }
    let packs = packs();
    if packs.iter().any(|pack| pack.name == what) {
        let prefix = format!("{what}/");
        return Ok(names.into_iter().filter(|name| name.starts_with(&prefix)).collect());
    }
    let known = names
        .iter()
        .map(String::as_str)
        .chain(packs.iter().map(|pack| pack.name.as_str()));
    let near = nearest(what, known).map(|near| format!("did you mean `{near}`?"));
    Err(Refusal::new("prove", format!("there is no pack and no script `{what}`")).maybe_hint(near))
}

/// The cases of a script: `NAME.cases.toml` beside it.
fn cases(script: &str, directory: &Path) -> Result<Option<SourceText>, Refusal> {
    let Some(stem) = script.strip_suffix(".rhai") else {
        return Ok(crankline_scripts::cases(script));
    };
    let name = format!("{stem}.cases.toml");
    crate::disk::read(&directory.join(&name), &name).map(Some)
}

fn one(script: &str, case: &Case, directory: &Path) -> Proved {
    let done = Work::of_case(case.job(script), directory).done(&[], None);
    let result = match &done {
        Ok(done) => done.outcomes.first().ok_or(None),
        Err(error) => Err(Some(error)),
    };
    let verdict = |number: usize| {
        let run = done.as_ref().ok()?.judged.runs.first()?;
        run.checks.get(number).map(|check| check.verdict)
    };
    let differences = match result {
        Ok(outcome) => prove(case, Ok(outcome), &verdict),
        Err(Some(error)) => prove(case, Err(error), &verdict),
        Err(None) => vec![Refusal::new("differs", "the script yields nothing").into()],
    };
    Proved {
        script: script.to_owned(),
        title: case.title.clone(),
        source: case.source.clone(),
        differences: differences.iter().map(in_words).collect(),
    }
}

fn in_words(difference: &Diagnostic) -> String {
    let line = difference.places.first().map(|place| format!("line {}: ", place.line));
    format!("{}{}", line.unwrap_or_default(), difference.refusal)
}

fn as_text(proved: &[Proved]) -> String {
    let mut text = format!("{AID}\n");
    let mut script = "";
    for case in proved {
        if case.script != script {
            script = &case.script;
            let _ = writeln!(text, "\n{script}");
        }
        let word = if case.differences.is_empty() { "same" } else { "DIFFERS" };
        let source = case.source.as_ref().map(|source| format!(" ({source})"));
        let title = format!("{}{}", case.title, source.unwrap_or_default());
        let words = std::iter::once(&title).chain(&case.differences);
        let lines = words.flat_map(|words| wrapped(words, WIDTH));
        for (nth, line) in lines.enumerate() {
            let word = if nth == 0 { word } else { "" };
            let _ = writeln!(text, "  {word:<10}{line}");
        }
    }
    let same = proved.iter().filter(|case| case.differences.is_empty()).count();
    let _ = match proved.len() {
        0 => writeln!(text, "\nThere are no worked examples."),
        all if same == all => writeln!(text, "\nAll {all} worked examples come out."),
        all => writeln!(text, "\n{same} of {all} worked examples come out."),
    };
    text
}

fn as_json(proved: &[Proved]) -> Value {
    let cases = proved.iter().map(|case| {
        json!({
            "script": case.script,
            "title": case.title,
            "source": case.source,
            "same": case.differences.is_empty(),
            "differences": case.differences,
        })
    });
    json!({"cases": cases.collect::<Vec<_>>()})
}
