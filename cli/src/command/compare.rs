//! `compare`: two jobs, records or options side by side.

use super::dispatch::Output;
use crate::arguments::{Common, Compare, Format};
use crate::disk;
use crate::exit::{DONE, FAILED};
use crate::listing::pretty;
use crate::packs::Desk;
use crate::screen::Io;
use crate::shelf::{Shelf, has_extension};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, nearest};
use crankline_engine::report::{
    Comparison, Record, compare, comparison_json, comparison_markdown, comparison_text, json, unpainted,
};
use std::path::Path;

type Result<T> = std::result::Result<T, Diagnostic>;

/// What is compared, as somebody names it.
#[derive(Clone, Debug)]
enum Side {
    /// What `run --format json` wrote.
    Record(String),
    /// A job or a script, with one of the job's options.
    Target(String, Option<String>),
}

/// Compares two sides.
pub(crate) fn run(options: &Compare, common: &Common, io: &Io<'_>) -> Result<Output> {
    let a = Side::read(&options.a);
    let b = beside(&a, &options.b, &io.desk())?;
    let only = options.only.as_deref();
    let (a, b) = (a.record(only, common, io)?, b.record(only, common, io)?);
    let comparison = compare(&a, &b)?;
    Ok(Output {
        code: if comparison.got_worse() { FAILED } else { DONE },
        text: written(&comparison, options.all, common, io),
        also: None,
        why: None,
    })
}

fn written(comparison: &Comparison, all: bool, common: &Common, io: &Io<'_>) -> String {
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    match common.format {
        Format::Json => pretty(&comparison_json(comparison)),
        Format::Markdown => comparison_markdown(comparison, all, common.system()),
        Format::Text | Format::Csv | Format::Html => comparison_text(comparison, all, common.system(), paint),
    }
}

/// Beside a job the name of one of its options is enough, unless it is a script's.
fn beside(a: &Side, text: &str, desk: &Desk) -> Result<Side> {
    let b = Side::read(text);
    let (Side::Target(job, _), Side::Target(name, None)) = (a, &b) else {
        return Ok(b);
    };
    if !has_extension(job, "toml") || has_extension(name, "toml") || has_extension(name, "rhai") {
        return Ok(b);
    }
    let work = Work::open(job, desk)?;
    match work.option_named(name) {
        Ok(option) => Ok(Side::Target(job.clone(), Some(option))),
        Err(_) if Shelf::new(desk).script(name).is_ok() => Ok(b),
        Err(refusal) => Err(refusal.into()),
    }
}

impl Side {
    /// `before.json`, `car.toml`, `car.toml: mount lowered`, a script.
    fn read(text: &str) -> Self {
        let text = text.trim();
        if has_extension(text, "json") {
            return Self::Record(text.to_owned());
        }
        // Letters of a file's ending are of one byte each, whatever their case.
        let colon = text.to_ascii_lowercase().find(".toml:").map(|at| at + ".toml".len());
        match colon.and_then(|at| text.split_at_checked(at)) {
            Some((file, option)) => {
                let option = option.trim_start_matches(':').trim();
                Self::Target(file.to_owned(), Some(option.to_owned()))
            }
            None => Self::Target(text.to_owned(), None),
        }
    }

    fn record(&self, only: Option<&str>, common: &Common, io: &Io<'_>) -> Result<Record> {
        match self {
            Self::Record(name) => {
                let mut record = from_file(name, &io.directory)?;
                if let Some(only) = only.filter(|_| record.in_job) {
                    keep_only(&mut record, only)?;
                }
                Ok(record)
            }
            Self::Target(target, option) => {
                let work = Work::open(target, &io.desk())?.trying(option.as_deref())?;
                // A script alone is one run.
                let done = work.done(&[], only.filter(|_| work.in_job()))?;
                let sheet = work.sheet(&done, common.system())?;
                let name = match work.option() {
                    Some(option) => format!("{target}, option \"{option}\""),
                    None => target.clone(),
                };
                Ok(Record::read(&json(&sheet), &name)?)
            }
        }
    }
}

fn from_file(name: &str, directory: &Path) -> Result<Record> {
    let text = disk::read(&directory.join(name), name)?.text;
    let value = serde_json::from_str(&text).map_err(|error| {
        let message = format!(
            "`{name}` is no record of a run: it is no JSON (line {}, column {})",
            error.line(),
            error.column()
        );
        Refusal::new("record", message).hint("crankline run car.toml --format json --out before.json writes one")
    })?;
    Ok(Record::read(&value, name)?)
}

fn keep_only(record: &mut Record, only: &str) -> Result<()> {
    let names: Vec<&str> = record.runs().collect();
    if !names.contains(&only) {
        let hint = match nearest(only, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("its runs are `{}`", names.join("`, `")),
        };
        let refusal = Refusal::new("unknown run", format!("no run of `{}` is named `{only}`", record.name));
        return Err(refusal.hint(hint).into());
    }
    record.keep_only(only);
    Ok(())
}
