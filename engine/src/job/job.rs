//! What a job file says, as plain data.

use crate::diagnostic::{Place, SourceText};
use crate::outcome::Origin;
use crate::quantity::text::System;
use crate::script::{Given, GivenValue};
use std::collections::BTreeMap;
use std::sync::Arc;

/// One car: what was measured and chosen, and the runs on it.
#[derive(Clone, Debug)]
pub struct Job {
    /// Its text.
    pub source: Arc<SourceText>,
    /// What it is about.
    pub title: Option<String>,
    /// Units in which results are shown, where it says so.
    pub units: Option<System>,
    /// All readings in the order of their days: also those that a later one replaces. See [`Job::reading`].
    pub readings: Vec<Reading>,
    /// Days of measuring, in the order of their dates.
    pub sessions: Vec<Session>,
    /// Runs, in order: a link points upward.
    pub runs: Vec<PlannedRun>,
    /// Ways considered.
    pub options: Vec<ConsideredOption>,
}

/// A value that was measured or chosen.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Name of the inputs that it feeds.
    pub name: String,
    /// The run that it is for; `None`: for every run that has an input of its name.
    pub run: Option<String>,
    /// The value, its origin, its places.
    pub given: Given,
    /// What it was measured with.
    pub with: Option<String>,
    /// The session in which it was taken: its number in [`Job::sessions`].
    pub session: Option<usize>,
    /// Where its name stands.
    pub place: Place,
}

/// A day's readings.
#[derive(Clone, Debug)]
pub struct Session {
    /// The day: `2026-03-14`.
    pub on: String,
    /// Who took them.
    pub by: Option<String>,
    /// Where it stands.
    pub place: Place,
}

/// A script to run.
#[derive(Clone, Debug)]
pub struct PlannedRun {
    /// Its name, unlike all others in the job.
    pub name: String,
    /// Its script: `driveline/critical-speed`.
    pub script: String,
    /// Values for this run alone.
    pub with: Vec<Setting>,
    /// Inputs that take a step of an earlier run, or a reading under another name.
    pub from: Vec<Link>,
    /// The option that it tries: what comes of it decides nothing about the car as it is.
    pub tries: Option<String>,
    /// Where it stands; a script run by itself stands in no job file.
    pub place: Option<Place>,
}

/// A value for an input.
#[derive(Clone, Debug)]
pub struct Setting {
    /// Name of the input.
    pub name: String,
    /// Its value.
    pub given: Given,
    /// Where its name stands.
    pub place: Place,
}

/// An input that takes what stands elsewhere in the job.
#[derive(Clone, Debug)]
pub struct Link {
    /// Name of the input.
    pub name: String,
    /// `road speed: shaft_at_top`, or a reading's name.
    pub target: String,
    /// Where its name stands.
    pub place: Place,
    /// Where the target stands.
    pub target_place: Place,
}

/// A way considered.
#[derive(Clone, Debug)]
pub struct ConsideredOption {
    /// What it is called.
    pub name: String,
    /// What it changes: names of readings, or `RUN: NAME`.
    pub set: Vec<Setting>,
    /// What became of it.
    pub fate: Fate,
    /// Where it stands.
    pub place: Place,
}

/// What became of a way considered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Not decided.
    Open,
    /// Kept, and why.
    Kept(Option<String>),
    /// Rejected, and why.
    Rejected(Option<String>),
}

impl Job {
    /// One script run by itself, on its own values and what is set for it.
    #[must_use]
    pub fn of_script(script: &str) -> Self {
        Self::of_run(script, Vec::new())
    }

    /// One script run by itself with these values.
    #[must_use]
    pub fn of_run(script: &str, with: Vec<Setting>) -> Self {
        let source = SourceText {
            name: String::new(),
            text: String::new(),
        };
        let run = PlannedRun {
            name: String::new(),
            script: script.to_owned(),
            with,
            from: Vec::new(),
            tries: None,
            place: None,
        };
        Self {
            source: Arc::new(source),
            title: None,
            units: None,
            readings: Vec::new(),
            sessions: Vec::new(),
            runs: vec![run],
            options: Vec::new(),
        }
    }

    /// The reading in force for a name: the last one; `run` asks for one of that run only, `None` for one of all runs.
    #[must_use]
    pub fn reading(&self, name: &str, run: Option<&str>) -> Option<&Reading> {
        let mut latest_first = self.readings.iter().rev();
        latest_first.find(|reading| reading.name == name && reading.run.as_deref() == run)
    }

    /// The reading in force that an input of a run has, under its own name or another; none where an option, the run's own
    /// value or another run's step stands.
    #[must_use]
    pub fn reading_of(&self, run: &PlannedRun, input: &str) -> Option<&Reading> {
        if self.tried(run, input).is_some() || run.with.iter().any(|setting| setting.name == input) {
            return None;
        }
        if let Some(link) = run.from.iter().find(|link| link.name == input) {
            return self.reading(&link.target, None);
        }
        self.reading(input, Some(&run.name))
            .or_else(|| self.reading(input, None))
    }

    /// All readings of a name, earliest first: the last one is in force.
    pub fn record<'a>(&'a self, name: &'a str, run: Option<&'a str>) -> impl Iterator<Item = &'a Reading> {
        let readings = self.readings.iter();
        readings.filter(move |reading| reading.name == name && reading.run.as_deref() == run)
    }

    /// The readings in force, each name once, in order.
    pub fn in_force(&self) -> impl Iterator<Item = &Reading> {
        let readings = self.readings.iter().enumerate();
        let last = readings.filter(|(at, reading)| {
            let later = self.readings.iter().skip(at + 1);
            later
                .filter(|later| later.name == reading.name && later.run == reading.run)
                .count()
                == 0
        });
        last.map(|(_, reading)| reading)
    }

    /// What the option that a run tries sets for an input of it.
    pub(super) fn tried(&self, run: &PlannedRun, input: &str) -> Option<&Given> {
        let option = run.tries.as_ref()?;
        let option = self.options.iter().find(|found| found.name == *option)?;
        let of_run = format!("{}: {input}", run.name);
        let mut settings = option.set.iter();
        let setting = settings.find(|setting| setting.name == input || setting.name == of_run);
        setting.map(|setting| &setting.given)
    }

    /// What an option sets, to be tried; `None` where there is none of that name.
    #[must_use]
    pub fn option(&self, name: &str) -> Option<BTreeMap<String, Given>> {
        let option = self.options.iter().find(|option| option.name == name)?;
        let set = option.set.iter();
        Some(
            set.map(|setting| (setting.name.clone(), setting.given.clone()))
                .collect(),
        )
    }
}

impl Reading {
    /// The value for an input of another name.
    pub(crate) fn given_to(&self, input: &str) -> Given {
        renamed(&self.given, &self.name, input)
    }

    /// Whether somebody measured it.
    #[must_use]
    pub fn is_measured(&self) -> bool {
        self.given.origin == Origin::Measured
    }

    /// The single readings, where it was taken several times.
    #[must_use]
    pub fn repeats(&self) -> Option<&[String]> {
        match &self.given.what {
            GivenValue::Repeats(repeats, _) => Some(repeats),
            _ => None,
        }
    }
}

/// The same under another name: its places are found under that name's addresses.
pub(crate) fn renamed(given: &Given, from: &str, to: &str) -> Given {
    let renamed = given.places.iter().map(|(address, place)| {
        let rest = address.strip_prefix(from).unwrap_or("");
        (format!("{to}{rest}"), place.clone())
    });
    Given {
        places: renamed.collect(),
        ..given.clone()
    }
}
