//! `prove`: runs the worked examples that come with scripts.

use super::dispatch::Output;
use super::proofs::{Proofs, ProvedScript};
use crate::arguments::{Common, Format};
use crate::exit::{DONE, NOT_DONE};
use crate::listing::pretty;
use crate::packs::{Collection, Desk, FoundPack, Patience, SealedPack, nothing_named};
use crate::screen::Io;
use crate::shelf::has_extension;
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::outcome::Outcome;
use crankline_engine::pack::{Case, prove, read_cases, states_something};
use crankline_engine::study::Verdict;

/// A case with what came of it.
pub(crate) struct Proved {
    pub(crate) script: String,
    pub(crate) title: String,
    pub(super) source: Option<String>,
    pub(crate) differences: Vec<String>,
}

/// Runs the cases of all packs, of one pack, or of one script; those of a sealed pack without adding it.
pub(crate) fn run(what: Option<&str>, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let (desk, sealed) = match what.filter(|what| has_extension(what, "zip")) {
        Some(file) => {
            let pack = SealedPack::read(&io.directory, file)?.pack();
            (io.desk().with_candidate(pack.clone()), Some(pack))
        }
        None => (io.desk(), None),
    };
    let packs = desk.packs();
    let names = match &sealed {
        Some(pack) => of_pack(pack),
        None => scripts(what, &packs)?,
    };
    let mut trouble = packs.trouble().filter(|_| what.is_none());
    let mut proofs = Proofs {
        scripts: Vec::new(),
        briefly: what.is_none(),
    };
    let mut patience = sealed.map(|pack| Patience::with(&pack, &desk));
    for script in &names {
        let cases = cases(script, &packs, &desk)?.map(read_cases).transpose();
        let found = match cases {
            Ok(cases) => proved_script(script, &cases.unwrap_or_default(), &desk, &mut patience)?,
            // What can be proved is, and what cannot be read is said at the end.
            Err(error) if names.len() > 1 => {
                let found = unread(script, &error);
                trouble.get_or_insert(error);
                found
            }
            Err(error) => return Err(error),
        };
        proofs.scripts.push(found);
    }
    let code = match trouble.is_none() && proofs.are_sound() {
        true => DONE,
        false => NOT_DONE,
    };
    Ok(Output {
        text: match common.format {
            Format::Json => pretty(&proofs.json()),
            Format::Markdown => proofs.markdown(),
            Format::Text | Format::Csv | Format::Html => proofs.text(),
        },
        code,
        also: None,
        why: trouble,
    })
}

/// A script run on its own examples, and on its worked ones.
fn proved_script(
    script: &str,
    cases: &[Case],
    desk: &Desk,
    patience: &mut Option<Patience>,
) -> Result<ProvedScript, Diagnostic> {
    let ran = Work::open(script, desk).and_then(|work| work.ran());
    let mut found = ProvedScript {
        name: script.to_owned(),
        cases: Vec::new(),
        states_something: ran
            .as_ref()
            .is_ok_and(|ran| ran.outcomes().iter().any(states_something)),
        refused: ran
            .err()
            .map(|error| format!("it does not run on its own examples: {}", in_words(&error))),
    };
    for case in cases {
        found.cases.push(proved(script, case, desk).0);
        patience.iter_mut().try_for_each(Patience::go_on)?;
    }
    Ok(found)
}

/// A script whose worked examples cannot be read.
fn unread(script: &str, error: &Diagnostic) -> ProvedScript {
    ProvedScript {
        name: script.to_owned(),
        cases: Vec::new(),
        refused: Some(format!("its worked examples cannot be read: {}", in_words(error))),
        states_something: true,
    }
}

fn of_pack(pack: &FoundPack) -> Vec<String> {
    let own = pack.scripts().into_iter();
    own.map(|own| format!("{}/{own}", pack.name())).collect()
}

/// The scripts meant: all, those of a pack, one. Of packs that have a name in common none, unless it is asked for.
fn scripts(what: Option<&str>, packs: &Collection) -> Result<Vec<String>, Diagnostic> {
    let names = packs.script_names();
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
    Err(nothing_named(packs, "prove", what).into())
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
pub(crate) fn proved(script: &str, case: &Case, desk: &Desk) -> (Proved, Ran) {
    let ran = ran_case(script, case, desk);
    let differences = differences(case, &ran);
    let proved = Proved {
        script: script.to_owned(),
        title: case.title.clone(),
        source: case.source.clone(),
        differences: differences.iter().map(in_words).collect(),
    };
    (proved, ran)
}

fn in_words(difference: &Diagnostic) -> String {
    let line = difference.places.first().map(|place| format!("line {}: ", place.line));
    format!("{}{}", line.unwrap_or_default(), difference.refusal)
}
