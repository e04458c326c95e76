//! `inspect`: reads scripts without readings, and says what would go wrong.

use super::dispatch::Output;
use super::prove::cases;
use crate::arguments::{Common, Format};
use crate::exit::{DONE, FAILED, NOT_DONE};
use crate::listing::pretty;
use crate::packs::{Desk, FoundPack, Patience, SealedPack, nothing_named};
use crate::screen::Io;
use crate::shelf::has_extension;
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::outcome::Outcome;
use crankline_engine::pack::{Expectation, MANIFEST, read_cases, states_something};
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Looked, LookedScript, inspected_json, inspected_markdown, inspected_text, unpainted};
use crankline_engine::script::Finding;

type Result<T> = std::result::Result<T, Diagnostic>;

/// Inspects a script, a file, a pack or a job.
pub(crate) fn run(target: &str, common: &Common, io: &Io<'_>) -> Result<Output> {
    let desk = io.desk();
    let mut looked = if has_extension(target, "toml") {
        of_job(target, &desk)?
    } else if has_extension(target, "zip") {
        of_sealed(target, &desk)?
    } else {
        match pack("inspect", target, &desk)? {
            Some((pack, path)) => of_pack(&pack, &path, target, &desk, &mut None)?,
            None => of_script(target, &desk)?,
        }
    };
    looked.system = common.system().unwrap_or(looked.system);
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    Ok(Output {
        code: match looked.counts() {
            (0, 0) => DONE,
            (0, _) => FAILED,
            _ => NOT_DONE,
        },
        text: match common.format {
            Format::Json => pretty(&inspected_json(&looked)),
            Format::Markdown => inspected_markdown(&looked),
            Format::Text | Format::Csv | Format::Html => inspected_text(&looked, paint),
        },
        also: None,
        why: None,
    })
}

/// The pack that is meant: one in a folder, with what its files are called from here, or one by its name.
pub(super) fn pack(code: &'static str, target: &str, desk: &Desk) -> Result<Option<(FoundPack, Option<String>)>> {
    let folder = desk.directory.join(target);
    let is_path = target.contains(['/', '.']);
    if folder.join(MANIFEST).is_file() || is_path && folder.is_dir() {
        let shown = format!("{}/{MANIFEST}", target.trim_end_matches('/'));
        return Ok(Some((FoundPack::in_folder(&folder, shown)?, Some(target.to_owned()))));
    }
    if is_path {
        return Ok(None);
    }
    let packs = desk.packs();
    let found = packs.find(target)?.cloned();
    found
        .map(|pack| Some((pack, None)))
        .ok_or_else(|| nothing_named(&packs, code, target).into())
}

/// A sealed pack that is not here, looked through as if it were: its scripts are run on their own examples, within the
/// limits, and nothing is added.
fn of_sealed(target: &str, desk: &Desk) -> Result<Looked> {
    let sealed = SealedPack::read(&desk.directory, target)?.pack();
    let mut patience = Some(Patience::with(&sealed, desk));
    let desk = desk.with_candidate(sealed.clone());
    let mut looked = of_pack(&sealed, &None, target, &desk, &mut patience)?;
    looked.title = format!(
        "pack {} {} in {target}, not added",
        sealed.name(),
        sealed.manifest.version
    );
    Ok(looked)
}

fn of_script(target: &str, desk: &Desk) -> Result<Looked> {
    let script = script(target, false, desk, &mut None)?;
    Ok(Looked {
        title: target.to_owned(),
        findings: Vec::new(),
        scripts: vec![script],
        system: System::Metric,
    })
}

fn of_pack(
    pack: &FoundPack,
    path: &Option<String>,
    target: &str,
    desk: &Desk,
    patience: &mut Option<Patience>,
) -> Result<Looked> {
    let name = |own: &String| match path {
        Some(path) => format!("{}/{own}.rhai", path.trim_end_matches('/')),
        None => format!("{}/{own}", pack.name()),
    };
    let scripts = pack.scripts();
    let scripts = scripts.iter().map(|own| script(&name(own), true, desk, patience));
    Ok(Looked {
        title: format!("pack {}", target.trim_end_matches('/')),
        findings: Vec::new(),
        scripts: scripts.collect::<Result<_>>()?,
        system: System::Metric,
    })
}

/// A job: what stands in its file, its scripts, and how they fit together.
fn of_job(target: &str, desk: &Desk) -> Result<Looked> {
    let mut looked = Looked {
        title: target.to_owned(),
        findings: Vec::new(),
        scripts: Vec::new(),
        system: System::Metric,
    };
    let path = desk.directory.join(target);
    let text = crate::disk::read(&path, target)?;
    let inside = desk.of_job_in(path.parent().unwrap_or(&desk.directory));
    let work = match Work::of_text(text, &inside) {
        Ok(work) => work,
        Err(error) => {
            looked.findings.push(Finding::fault(error));
            return Ok(looked);
        }
    };
    looked.system = work.job().units.unwrap_or(System::Metric);
    let mut names: Vec<&str> = Vec::new();
    for run in &work.job().runs {
        if !names.contains(&run.script.as_str()) {
            names.push(&run.script);
        }
    }
    for name in names {
        match script(name, false, &inside, &mut None) {
            Ok(script) => looked.scripts.push(script),
            Err(error) => looked.findings.push(Finding::fault(error)),
        }
    }
    // What is wrong in a script is told there.
    if looked.counts().0 == 0 {
        match work.ran() {
            Ok(ran) => looked.findings.extend(ran.kept.iter().map(|reading| {
                let message = format!("no run uses the reading `{}`", reading.name);
                Finding::doubt(Refusal::new("unused", message).into())
            })),
            Err(error) => looked.findings.push(Finding::fault(error)),
        }
    }
    Ok(looked)
}

/// A script looked through, with what its worked examples yield.
fn script(name: &str, in_pack: bool, desk: &Desk, patience: &mut Option<Patience>) -> Result<LookedScript> {
    let work = Work::open(name, desk)?;
    let beside = name.strip_suffix(".rhai").map(|stem| format!("{stem}.cases.toml"));
    let has_cases = beside.is_none_or(|beside| desk.directory.join(beside).is_file());
    let text = if has_cases {
        cases(name, &desk.packs(), desk)?
    } else {
        None
    };
    let (mut findings, mut outcomes): (Vec<Finding>, Vec<Outcome>) = (Vec::new(), Vec::new());
    let cases = match text.map(read_cases).transpose() {
        Ok(cases) => cases.unwrap_or_default(),
        Err(error) => {
            findings.push(Finding::fault(error));
            Vec::new()
        }
    };
    for case in &cases {
        patience.iter_mut().try_for_each(Patience::go_on)?;
        let ran = Work::of_case(case.job(name), desk).ran();
        match (ran, &case.expectation) {
            (Ok(ran), _) => outcomes.extend(ran.outcomes()),
            (Err(mut error), Expectation::Results(_)) => {
                error.places.push(case.place.clone());
                findings.push(Finding::fault(error));
            }
            (Err(_), Expectation::Error(..)) => {}
        }
    }
    let (script, mut inspection) = work.inspected(name, &outcomes)?;
    if in_pack && cases.is_empty() && states_something(&inspection.outcome) {
        let refusal = Refusal::new("cases", "no worked example says what comes out of this script");
        let hint = "put one into NAME.cases.toml beside it";
        findings.push(Finding::doubt(refusal.hint(hint).into()));
    }
    inspection.add(findings);
    Ok(LookedScript {
        script,
        inspection,
        cases: cases.len(),
    })
}
