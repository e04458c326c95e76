//! `prove`: runs the worked examples that come with scripts.

use super::dispatch::Output;
use crate::arguments::{Common, Format};
use crate::exit::{DONE, NOT_DONE};
use crate::listing::pretty;
use crate::packs::{Collection, Desk, FoundPack};
use crate::screen::Io;
use crate::shelf::has_extension;
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText, nearest};
use crankline_engine::outcome::Outcome;
use crankline_engine::pack::{Case, prove, read_cases};
use crankline_engine::report::{AID, plain, wrapped};
use crankline_engine::study::Verdict;
use serde_json::{Value, json};
use std::fmt::Write as _;

/// Columns of a message below a case.
const WIDTH: usize = 68;

/// A case with what came of it.
pub(crate) struct Proved {
    pub(crate) script: String,
    pub(crate) title: String,
    source: Option<String>,
    pub(crate) differences: Vec<String>,
}

/// Runs the cases of all packs, of one pack, or of one script.
pub(crate) fn run(what: Option<&str>, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let desk = io.desk();
    let packs = desk.packs();
    let trouble = packs.trouble().filter(|_| what.is_none());
    let mut all = Vec::new();
    for script in scripts(what, &packs)? {
        let Some(text) = cases(&script, &packs, &desk)? else {
            continue;
        };
        for case in read_cases(text)? {
            all.push(proved(&script, &case, &desk).0);
        }
    }
    let all_come_out = all.iter().all(|case| case.differences.is_empty()) && trouble.is_none();
    Ok(Output {
        text: match common.format {
            Format::Json => pretty(&as_json(&all)),
            Format::Markdown => as_markdown(&all),
            Format::Text | Format::Csv | Format::Html => as_text(&all),
        },
        code: if all_come_out { DONE } else { NOT_DONE },
        also: None,
        why: trouble,
    })
}

/// The scripts meant: all, those of a pack, one. Of packs that have a name in common none, unless it is asked for.
fn scripts(what: Option<&str>, packs: &Collection) -> Result<Vec<String>, Diagnostic> {
    let names = packs.script_names();
    let of_pack = |pack: &FoundPack| {
        let own = pack.scripts().into_iter();
        own.map(|own| format!("{}/{own}", pack.name())).collect::<Vec<_>>()
    };
    let Some(what) = what else {
        let single = packs.packs().into_iter().filter(|pack| packs.find(pack.name()).is_ok());
        return Ok(single.flat_map(of_pack).collect());
    };
    if has_extension(what, "rhai") || names.iter().any(|name| name == what) {
        return Ok(vec![what.to_owned()]);
    }
    if let Some(pack) = packs.find(what)? {
        return Ok(of_pack(pack));
    }
    let packs = packs.packs();
    let known = names
        .iter()
        .map(String::as_str)
        .chain(packs.iter().map(|pack| pack.name()));
    let near = nearest(what, known).map(|near| format!("did you mean `{near}`?"));
    Err(
        Refusal::new("prove", format!("there is no pack and no script `{what}`"))
            .maybe_hint(near)
            .into(),
    )
}

/// The cases of a script: `NAME.cases.toml` beside it.
pub(crate) fn cases(script: &str, packs: &Collection, desk: &Desk) -> Result<Option<SourceText>, Diagnostic> {
    if let Some(stem) = script.strip_suffix(".rhai") {
        let name = format!("{stem}.cases.toml");
        return Ok(crate::disk::read(&desk.directory.join(&name), &name).map(Some)?);
    }
    let Some((pack, own)) = script.split_once('/') else {
        return Ok(None);
    };
    match packs.find(pack)? {
        Some(pack) => Ok(pack.cases(own)?),
        None => Ok(None),
    }
}

/// What came of a case: what the script yields, with what becomes of its checks.
pub(crate) type Ran = Result<(Outcome, Vec<Verdict>), Diagnostic>;

/// What a script yields for a case, with what becomes of its checks.
pub(crate) fn ran_case(script: &str, case: &Case, desk: &Desk) -> Ran {
    let mut done = Work::of_case(case.job(script), desk).done(&[], None)?;
    let run = done.judged.runs.first();
    let verdicts = run.map(|run| run.checks.iter().map(|check| check.verdict).collect());
    if done.outcomes.is_empty() {
        return Err(Refusal::new("differs", "the script yields nothing").into());
    }
    Ok((done.outcomes.swap_remove(0), verdicts.unwrap_or_default()))
}

/// What a case expects and did not get.
pub(crate) fn differences(case: &Case, ran: &Ran) -> Vec<Diagnostic> {
    match ran {
        Ok((outcome, verdicts)) => prove(case, Ok(outcome), &|number| verdicts.get(number).copied()),
        Err(error) => prove(case, Err(error), &|_| None),
    }
}

/// Whether a case comes out, and what came.
pub(crate) fn proved(script: &str, case: &Case, desk: &Desk) -> (Proved, Option<Outcome>) {
    let ran = ran_case(script, case, desk);
    let differences = differences(case, &ran);
    let proved = Proved {
        script: script.to_owned(),
        title: case.title.clone(),
        source: case.source.clone(),
        differences: differences.iter().map(in_words).collect(),
    };
    (proved, ran.ok().map(|(outcome, _)| outcome))
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
        1 if same == 1 => writeln!(text, "\nThe one worked example comes out."),
        1 => writeln!(text, "\nThe one worked example does not come out."),
        all if same == all => writeln!(text, "\nAll {all} worked examples come out."),
        all => writeln!(text, "\n{same} of {all} worked examples come out."),
    };
    text
}

fn as_markdown(proved: &[Proved]) -> String {
    let same = proved.iter().filter(|case| case.differences.is_empty()).count();
    let mut text = format!(
        "# Worked examples\n\n*{AID}*\n\n{same} of {} come out.\n\n| Script | Worked example | Source | Comes out |\n\
         |---|---|---|---|\n",
        proved.len()
    );
    for case in proved {
        let differences: Vec<String> = case.differences.iter().map(|words| plain(words)).collect();
        let came = match differences.as_slice() {
            [] => "yes".to_owned(),
            differences => format!("**no**: {}", differences.join("; ")),
        };
        let source = case.source.as_deref().unwrap_or_default();
        let cells = [&case.script, &case.title, source].map(plain);
        let _ = writeln!(text, "| {} | {came} |", cells.join(" | "));
    }
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
    json!({"format": 1, "cases": cases.collect::<Vec<_>>()})
}
