//! From JSON to a record.

use super::json_place::At;
use super::record::{Entry, Found, Number, Origin, Record, RecordedCheck, RecordedRun};
use crate::diagnostic::{Refusal, on_one_line, refuse_hidden};
use crate::report::Identity;
use crate::report::json::FORMAT;
use crate::study::Verdict;
use serde_json::Value;
use std::collections::BTreeMap;

type Result<T> = std::result::Result<T, Refusal>;

impl Record {
    /// Reads what `run` wrote as JSON; `name` is what a reader calls it.
    ///
    /// # Errors
    /// What is no record, and why; a record of a newer format.
    pub fn read(value: &Value, name: &str) -> Result<Self> {
        let top = At::top(value, name);
        if !value.is_object() {
            return Err(top.unlike("an object"));
        }
        refuse_hidden_texts(value, name)?;
        if top.get("format")?.value().as_u64() != Some(FORMAT) {
            return Err(other_format(&top, name));
        }
        if top.has("runs") {
            let runs = top.list("runs")?;
            return Ok(Self {
                name: name.to_owned(),
                title: top.get("job")?.text("title")?,
                in_job: true,
                runs: runs.iter().map(run).collect::<Result<_>>()?,
            });
        }
        let run = run(&top)?;
        Ok(Self {
            name: name.to_owned(),
            title: run.script.name.clone(),
            in_job: false,
            runs: vec![run],
        })
    }
}

/// A record's texts are shown as they are.
fn refuse_hidden_texts(value: &Value, name: &str) -> Result<()> {
    let refused = |text: &str| refuse_hidden(text, &format!("the record `{name}`"));
    match value {
        Value::String(text) => refused(text),
        Value::Array(items) => items.iter().try_for_each(|item| refuse_hidden_texts(item, name)),
        Value::Object(fields) => fields.iter().try_for_each(|(key, field)| {
            refused(key)?;
            refuse_hidden_texts(field, name)
        }),
        _ => Ok(()),
    }
}

fn other_format(top: &At<'_>, name: &str) -> Refusal {
    match top.get("format").map(|at| at.number_or_none()) {
        Ok(Some(format)) if format > FORMAT => Refusal::new(
            "record",
            format!("the record `{name}` is of format {format}, and this program reads format {FORMAT}"),
        )
        .hint("use the newer program that wrote it, or run the job again with this one"),
        _ => top.refusal(format!("`format` is not {FORMAT}")),
    }
}

impl At<'_> {
    fn number_or_none(&self) -> Option<u64> {
        self.value().as_u64()
    }
}

fn run(at: &At<'_>) -> Result<RecordedRun> {
    let script = at.get("script")?;
    let entries = |key: &str, read: &dyn Fn(&At<'_>, &mut Vec<Entry>) -> Result<()>| -> Result<Vec<Entry>> {
        let mut found = Vec::new();
        for at in at.list(key)? {
            read(&at, &mut found)?;
        }
        Ok(found)
    };
    let checks = at.list("checks")?;
    Ok(RecordedRun {
        name: at.maybe_text("run")?.unwrap_or_default(),
        tries: at.maybe_text("tries")?,
        script: identity(&script)?,
        inputs: entries("inputs", &input)?,
        steps: entries("steps", &step)?,
        checks: checks.iter().map(check).collect::<Result<_>>()?,
    })
}

/// Older records do not say what a script imports.
fn identity(at: &At<'_>) -> Result<Identity> {
    let imports = if at.has("imports") {
        Some(at.list("imports")?)
    } else {
        None
    };
    let imports = imports.map(|imports| imports.iter().map(identity).collect::<Result<_>>());
    Ok(Identity {
        name: at.text("name")?,
        pack_version: at.maybe_text("pack_version")?,
        sha256: at.text("sha256")?,
        imports: imports.transpose()?,
    })
}

fn input(at: &At<'_>, found: &mut Vec<Entry>) -> Result<()> {
    let origin = Origin {
        from: at.text("from")?,
        taken_from: at.maybe_text("taken_from")?,
        option: at.maybe_text("option")?,
    };
    entry(at, Some(&origin), found)
}

fn step(at: &At<'_>, found: &mut Vec<Entry>) -> Result<()> {
    entry(at, None, found)
}

fn entry(at: &At<'_>, origin: Option<&Origin>, found: &mut Vec<Entry>) -> Result<()> {
    let name = at.text("name")?;
    let label = label(at)?.unwrap_or_else(|| name.clone());
    let first = found.len();
    flat(at, (name, label), origin, found)?;
    let own = found.get_mut(first..).unwrap_or_default();
    let mut sizes: BTreeMap<String, f64> = BTreeMap::new();
    for number in own.iter().filter_map(|entry| entry.found.number()) {
        let size = sizes.entry(number.dimension.clone()).or_insert(0.0);
        if number.si.abs() > *size {
            *size = number.si.abs();
        }
    }
    for entry in own {
        if let Found::Number(number) = &mut entry.found {
            number.size = sizes.get(&number.dimension).copied().unwrap_or(number.size);
        }
    }
    Ok(())
}

/// Every number and text of a value under its address; a table's rows go by their names where these tell them apart.
fn flat(
    at: &At<'_>,
    (address, label): (String, String),
    origin: Option<&Origin>,
    found: &mut Vec<Entry>,
) -> Result<()> {
    if !at.has("items") {
        found.push(Entry {
            address,
            label,
            found: value(at)?,
            origin: origin.cloned(),
        });
        return Ok(());
    }
    let items = at.fields("items")?;
    let names: Vec<Option<&str>> = items.iter().map(|(_, item)| row_name(item)).collect();
    for (number, (key, item)) in items.iter().enumerate() {
        let own = names.get(number).copied().flatten();
        let own = own.filter(|own| names.iter().filter(|name| **name == Some(own)).count() == 1);
        let key = on_one_line(own.unwrap_or(key));
        let plain = own.is_none() && key.starts_with(|c: char| c.is_alphabetic() || c == '_');
        let plain = plain && key.chars().all(|c| c.is_alphanumeric() || c == '_');
        let address = if plain {
            format!("{address}.{key}")
        } else {
            format!("{address}[{key}]")
        };
        flat(item, (address, format!("{label}, {key}")), origin, found)?;
    }
    Ok(())
}

/// What a table's row is called.
fn row_name<'a>(row: &At<'a>) -> Option<&'a str> {
    row.value().get("items")?.get("name")?.get("value")?.as_str()
}

fn line(text: &str) -> String {
    on_one_line(text).into_owned()
}

fn value(at: &At<'_>) -> Result<Found> {
    if !at.has("si") {
        let value = at.get("value")?;
        return match value.value() {
            Value::String(text) => Ok(Found::Words(line(text))),
            Value::Bool(truth) => Ok(Found::Words(if *truth { "yes" } else { "no" }.to_owned())),
            _ => Err(value.unlike("a text")),
        };
    }
    let signs = if at.has("signs") {
        let words = at.get("signs")?;
        match words.value().as_array().map(Vec::as_slice) {
            Some([Value::String(positive), Value::String(negative)]) => Some((line(positive), line(negative))),
            _ => return Err(words.unlike("two words")),
        }
    } else {
        None
    };
    let interval = at.maybe_number("low_si")?.zip(at.maybe_number("high_si")?);
    Ok(Found::Number(Number {
        si: at.number("si")?,
        size: at.number("si")?.abs(),
        unit: at.maybe_text("unit")?.unwrap_or_default(),
        dimension: at.text("dimension")?,
        std_uncertainty: at.maybe_number("std_uncertainty_si")?.unwrap_or(0.0),
        half_width: at.maybe_number("half_width_si")?.filter(|width| *width > 0.0),
        interval: interval.filter(|(low, high)| low < high),
        signs,
    }))
}

fn check(at: &At<'_>) -> Result<RecordedCheck> {
    Ok(RecordedCheck {
        label: label(at)?,
        formula: at.maybe_text("formula")?,
        kind: at.text("kind")?,
        verdict: verdict(at)?,
        chance: at.number("chance")?,
        margin: at.maybe_number("margin")?,
        margin_si: at.maybe_number("margin_si")?,
        margin_uncertainty: at.maybe_number("margin_std_uncertainty_si")?.unwrap_or(0.0),
        left: side(at, "left")?,
        sign: at.maybe_text("op")?,
        right: side(at, "right")?,
    })
}

/// What something is; a blank label is none.
fn label(at: &At<'_>) -> Result<Option<String>> {
    Ok(at.maybe_text("label")?.filter(|label| !label.trim().is_empty()))
}

fn side(at: &At<'_>, key: &str) -> Result<Vec<Entry>> {
    let mut found = Vec::new();
    if at.has(key) {
        flat(&at.get(key)?, (String::new(), String::new()), None, &mut found)?;
    }
    Ok(found)
}

fn verdict(at: &At<'_>) -> Result<Verdict> {
    const ALL: [Verdict; 5] = [
        Verdict::Fails,
        Verdict::Unsure,
        Verdict::Untrusted,
        Verdict::Unmeasured,
        Verdict::Holds,
    ];
    let word = at.text("verdict")?;
    let verdict = ALL.into_iter().find(|verdict| verdict.word() == word);
    verdict.ok_or_else(|| at.refusal(format!("`{word}` is no verdict")))
}
