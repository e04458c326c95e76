//! From a job file's text to what it says.

use super::job::{ConsideredOption, Fate, Job, Link, PlannedRun, Reading, Session};
use super::value::{self, settings};
use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText, nearest};
use crate::document::{Content, Fields, Item, Key, parse};
use crate::outcome::Origin;
use crate::quantity::text::System;
use std::sync::Arc;

type Result<T> = std::result::Result<T, Diagnostic>;

/// Where tables in csv files come from: the text of the file that a job file names.
pub type CsvFiles<'a> = dyn Fn(&str) -> std::result::Result<SourceText, Refusal> + 'a;

const KEYS: [&str; 8] = [
    "format", "title", "units", "measured", "chosen", "session", "run", "option",
];

/// A hundred times the largest car that one shop measures; a mistake or mischief beyond.
const MOST_READINGS: usize = 10_000;
const MOST_RUNS: usize = 200;

impl Job {
    /// Reads a job file; `files` gives the texts of the csv files that it names.
    ///
    /// # Errors
    /// What cannot be read, an unknown key, a run's or a reading's name given twice, with its place.
    pub fn read(text: SourceText, files: &CsvFiles<'_>) -> Result<Self> {
        let source = Arc::new(text);
        let root = parse(&source)?;
        // A newer format may have other keys: it is named first.
        Fields::any(&root, "a job file")?.format()?;
        let fields = Fields::of(&root, "a job file", &KEYS)?;
        let mut reading = Reader {
            files,
            runs: Vec::new(),
            readings: Vec::new(),
        };
        reading.runs = reading.read_runs(fields.list("run")?)?;
        for (key, origin) in [("measured", Origin::Measured), ("chosen", Origin::Chosen)] {
            if let Some(item) = fields.get(key) {
                reading.section(item, key, origin, None)?;
            }
        }
        let sessions = reading.sessions(fields.list("session")?)?;
        let options = fields.list("option")?.iter().map(|item| option(item, files));
        let options = options.collect::<Result<Vec<_>>>()?;
        twice(
            "two options are",
            options.iter().map(|option| (&option.name, &option.place)),
        )?;
        for run in &reading.runs {
            tries_an_option(run, &options)?;
        }
        Ok(Self {
            title: fields.text("title")?.filter(|title| !title.trim().is_empty()),
            units: fields.get("units").map(units).transpose()?,
            readings: reading.readings,
            sessions,
            runs: reading.runs,
            options,
            source,
        })
    }
}

struct Reader<'a> {
    files: &'a CsvFiles<'a>,
    runs: Vec<PlannedRun>,
    readings: Vec<Reading>,
}

impl Reader<'_> {
    fn read_runs(&self, items: &[Item]) -> Result<Vec<PlannedRun>> {
        if let Some(beyond) = items.get(MOST_RUNS) {
            let refusal = Refusal::new("limit", format!("a job takes {MOST_RUNS} runs at the most"));
            let refusal = refusal.hint("make one job of each car");
            return Err(Diagnostic::at(refusal, beyond.place.clone()));
        }
        let runs = items.iter().map(|item| run(item, self.files));
        let runs = runs.collect::<Result<Vec<PlannedRun>>>()?;
        let names = runs.iter().zip(items).map(|(run, item)| (&run.name, name_place(item)));
        twice("two runs are", names)?;
        Ok(runs)
    }

    /// Readings of a section; a table under the name of a run is a section for that run alone.
    fn section(&mut self, item: &Item, what: &str, origin: Origin, session: Option<usize>) -> Result<()> {
        for (key, item) in Fields::any(item, &format!("`{what}`"))?.entries() {
            let is_run = self.runs.iter().any(|run| run.name == key.name);
            match &item.content {
                Content::Table(entries) if is_run && !value::is_one_reading(entries) => {
                    for (inner, item) in entries {
                        self.reading(inner, Some(&key.name), item, origin, session)?;
                    }
                }
                // An empty section says nothing, of whatever run.
                Content::Table(entries) if entries.is_empty() => {}
                Content::Table(_) if !is_name(&key.name) => return Err(self.unknown_run(key)),
                _ => self.reading(key, None, item, origin, session)?,
            }
        }
        Ok(())
    }

    fn reading(
        &mut self,
        key: &Key,
        run: Option<&str>,
        item: &Item,
        origin: Origin,
        session: Option<usize>,
    ) -> Result<()> {
        if !is_name(&key.name) {
            let message = format!("`{}` is no name of an input: letters, digits and _ only", key.name);
            return Err(Diagnostic::at(Refusal::new("name", message), key.place.clone()));
        }
        let same = |reading: &&Reading| {
            reading.name == key.name && reading.run.as_deref() == run && reading.session == session
        };
        if let Some(other) = self.readings.iter().find(same) {
            let message = format!("`{}` stands in line {} already", key.name, other.place.line);
            let refusal = Refusal::new("duplicate", message).hint("a value is measured or chosen, not both");
            return Err(Diagnostic::at(refusal, key.place.clone()));
        }
        let value::Written { given, with } = value::written(&key.name, item, origin, self.files)?;
        if self.readings.len() == MOST_READINGS {
            let message = format!("a job takes {MOST_READINGS} readings at the most");
            let refusal = Refusal::new("limit", message).hint("put many of a kind in a table, as csv");
            return Err(Diagnostic::at(refusal, key.place.clone()));
        }
        self.readings.push(Reading {
            name: key.name.clone(),
            run: run.map(str::to_owned),
            given,
            with,
            session,
            place: key.place.clone(),
        });
        Ok(())
    }

    fn unknown_run(&self, key: &Key) -> Diagnostic {
        let near = nearest(&key.name, self.runs.iter().map(|run| run.name.as_str()));
        let refusal = Refusal::new("unknown run", format!("no run is named `{}`", key.name))
            .maybe_hint(near.map(|near| format!("did you mean `{near}`?")));
        Diagnostic::at(refusal, key.place.clone())
    }

    /// Sessions in the order of their days; those of one day in the order of the file.
    fn sessions(&mut self, items: &[Item]) -> Result<Vec<Session>> {
        let mut read = Vec::new();
        for item in items {
            let fields = Fields::of(item, "a session", &["on", "by", "readings"])?;
            read.push((session(&fields, item)?, fields.get("readings")));
        }
        read.sort_by(|(one, _), (other, _)| one.on.cmp(&other.on));
        for (number, (_, readings)) in read.iter().enumerate() {
            if let Some(readings) = readings {
                self.section(readings, "readings", Origin::Measured, Some(number))?;
            }
        }
        Ok(read.into_iter().map(|(session, _)| session).collect())
    }
}

fn session(fields: &Fields<'_>, item: &Item) -> Result<Session> {
    let on = fields.get("on").ok_or_else(|| fields.lacks_as("on", "2026-03-14"))?;
    let on = match &on.content {
        Content::Date(day) if day.contains('-') => day.clone(),
        _ => return Err(on.unfit("`on`", "a day without quotes, as 2026-03-14")),
    };
    Ok(Session {
        on,
        by: fields.text("by")?,
        place: item.place.clone(),
    })
}

fn run(item: &Item, files: &CsvFiles<'_>) -> Result<PlannedRun> {
    let fields = Fields::of(item, "a run", &["script", "name", "with", "from", "tries"])?;
    let script = fields.needed_name("script")?;
    let name = match fields.get("name") {
        Some(_) => fields.needed_name("name")?,
        None => script.clone(),
    };
    let with = match fields.get("with") {
        Some(item) => settings(item, "`with`", Origin::Chosen, files)?,
        None => Vec::new(),
    };
    let mut from: Vec<Link> = Vec::new();
    if let Some(item) = fields.get("from") {
        for (key, item) in Fields::any(item, "`from`")?.entries() {
            from.push(Link {
                name: key.name.clone(),
                target: item.name("a link")?,
                place: key.place.clone(),
                target_place: item.place.clone(),
            });
        }
    }
    if let Some(link) = from.iter().find(|link| with.iter().any(|set| set.name == link.name)) {
        let message = format!("`{}` is given a value and a link at once", link.name);
        return Err(Diagnostic::at(Refusal::new("duplicate", message), link.place.clone()));
    }
    Ok(PlannedRun {
        place: Some(script_place(&fields, item)),
        name,
        script,
        with,
        from,
        tries: fields.name("tries")?,
    })
}

/// A run that tries an option names one of the job's.
fn tries_an_option(run: &PlannedRun, options: &[ConsideredOption]) -> Result<()> {
    let Some(tries) = &run.tries else { return Ok(()) };
    if options.iter().any(|option| option.name == *tries) {
        return Ok(());
    }
    let near = nearest(tries, options.iter().map(|option| option.name.as_str()));
    let hint = near.map_or_else(
        || format!("write it down: [[option]] name = \"{tries}\""),
        |near| format!("did you mean `{near}`?"),
    );
    let refusal = Refusal::new(
        "unknown name",
        format!("run `{}` tries `{tries}`, which is no option", run.name),
    );
    Err(Diagnostic {
        refusal: refusal.hint(hint),
        places: run.place.iter().cloned().collect(),
    })
}

/// A run is pointed at where its script is named.
fn script_place(fields: &Fields<'_>, item: &Item) -> Place {
    fields.get("script").unwrap_or(item).place.clone()
}

/// Where a run is named: its script's name stands for one of its own.
fn name_place(item: &Item) -> &Place {
    let fields = Fields::any(item, "a run").ok();
    let named = fields.and_then(|fields| fields.get("name").or_else(|| fields.get("script")));
    &named.unwrap_or(item).place
}

fn option(item: &Item, files: &CsvFiles<'_>) -> Result<ConsideredOption> {
    let fields = Fields::of(item, "an option", &["name", "set", "kept", "rejected"])?;
    let fate = match (fields.get("kept"), fields.get("rejected")) {
        (None, None) => Fate::Open,
        (Some(kept), None) => Fate::Kept(reason(kept, "`kept`")?),
        (None, Some(rejected)) => Fate::Rejected(reason(rejected, "`rejected`")?),
        (Some(_), Some(rejected)) => {
            let refusal = Refusal::new("duplicate", "an option is kept or rejected, not both");
            return Err(Diagnostic::at(refusal, rejected.place.clone()));
        }
    };
    let set = match fields.get("set") {
        Some(item) => settings(item, "`set`", Origin::Trial, files)?,
        None => return Err(fields.lacks_as("set", "{ READING = \"value\" }")),
    };
    Ok(ConsideredOption {
        name: fields.needed_name("name")?,
        set,
        fate,
        place: item.place.clone(),
    })
}

/// `kept = "clears the tunnel by 20 mm"`, or `kept = true` without a reason.
fn reason(item: &Item, what: &str) -> Result<Option<String>> {
    match &item.content {
        Content::Truth(true) => Ok(None),
        Content::Text(why) => Ok(Some(why.line())),
        _ => Err(item.unfit(what, "the reason as a text, or true")),
    }
}

fn units(item: &Item) -> Result<System> {
    match item.text("`units`")?.as_str() {
        "inch" => Ok(System::Inch),
        "metric" => Ok(System::Metric),
        other => {
            let refusal = Refusal::new("units", format!("there are no units `{other}`"));
            let refusal = refusal.hint("units = \"inch\"").hint("units = \"metric\"");
            Err(Diagnostic::at(refusal, item.place.clone()))
        }
    }
}

/// Refuses a name that is given twice.
fn twice<'a>(what: &str, names: impl Iterator<Item = (&'a String, &'a Place)>) -> Result<()> {
    let mut seen: Vec<(&String, &Place)> = Vec::new();
    for (name, place) in names {
        if let Some((_, first)) = seen.iter().find(|(earlier, _)| *earlier == name) {
            let message = format!("{what} named `{name}`, the first in line {}", first.line);
            let refusal = Refusal::new("duplicate", message).hint("give each its own name");
            return Err(Diagnostic::at(refusal, place.clone()));
        }
        seen.push((name, place));
    }
    Ok(())
}

/// Whether it can be the name of an input.
fn is_name(name: &str) -> bool {
    let word = |c: char| c.is_alphanumeric() || c == '_';
    name.chars().all(word) && name.chars().next().is_some_and(|first| !first.is_numeric())
}
