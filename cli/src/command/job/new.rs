//! `job new`: a job file from scripts.

use super::super::dispatch::Output;
use super::drafted::{Named, drafted};
use crate::arguments::Common;
use crate::disk;
use crate::inquiry::{is_job, typed};
use crate::listing::in_margin;
use crate::screen::Io;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::report::AID;
use std::path::{Component, Path, PathBuf};

/// Where words beside a margin begin.
const COLUMN: usize = 13;

/// Writes a new job file that runs scripts.
pub(super) fn run(file: &str, scripts: &[String], common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    is_job(file)?;
    let path = io.directory.join(file);
    let taken = || {
        let refusal = Refusal::new("file", format!("`{file}` is there already and is not written over"));
        refusal.hint(format!("crankline job missing {} says what it lacks", typed(file)))
    };
    if path.symlink_metadata().is_ok() {
        return Err(taken().into());
    }
    let folder = path.parent().unwrap_or(&io.directory);
    let written = scripts.iter().map(|script| seen_from(folder, script, &io.directory));
    let written = written.collect::<Result<Vec<String>, Refusal>>()?;
    let title = path
        .file_stem()
        .map_or_else(|| "job".into(), |stem| stem.to_string_lossy());
    let desk = io.desk();
    let named = Named {
        file,
        title: &title,
        folder: &desk.of_job_in(folder),
    };
    let drafted = drafted(&named, scripts, &written, common.system(), &desk)?;
    disk::write_new(&path, file, &drafted.text)?;
    let count = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
    let mut text = format!(
        "written to {file}: {}, {} to take, none of them measured yet\n",
        count(scripts.len(), "run"),
        count(drafted.inquiry.missing().len(), "reading")
    );
    for (word, line) in &drafted.remarks {
        text.push_str(&in_margin(COLUMN, word, line));
    }
    for (word, command) in [("NEXT", "sheet"), ("", "job ask"), ("", "run")] {
        text.push_str(&in_margin(
            COLUMN,
            word,
            &format!("crankline {command} {}", typed(file)),
        ));
    }
    text.push_str(&format!("{AID}\n"));
    Ok(text.into())
}

/// A script's name as seen from the job's folder: of a pack as it is, a file by its way from there, which leads down.
fn seen_from(folder: &Path, script: &str, directory: &Path) -> Result<String, Refusal> {
    if !has_extension(script, "rhai") {
        return Ok(script.to_owned());
    }
    let (from, to) = (plain(&directory.join(folder)), plain(&directory.join(script)));
    let below = to.strip_prefix(&from).map_err(|_| {
        let message = format!("`{script}` is not in the job's folder, and a job takes nothing from elsewhere");
        let refusal = Refusal::new("job", message).hint("put the job above the script, or the script into a pack");
        refusal.hint("crankline pack new makes a pack")
    })?;
    let parts = below.components().map(|part| part.as_os_str().to_string_lossy());
    Ok(parts.collect::<Vec<_>>().join("/"))
}

/// A path without steps that go nowhere or back.
fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                plain.pop();
            }
            part => plain.push(part),
        }
    }
    plain
}
