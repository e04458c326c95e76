//! The runs of a job with their scripts, and what each takes for its inputs.

use super::contradiction::contradictions;
use super::job::{Job, Link, PlannedRun, Reading, renamed};
use crate::diagnostic::{Diagnostic, Place, Refusal, nearest};
use crate::outcome::{Origin, Phrase};
use crate::script::{Given, GivenValue, Library, Program};
use std::collections::{BTreeMap, BTreeSet};

type Result<T> = std::result::Result<T, Diagnostic>;

/// Where scripts come from, read and ready: by the name that a job gives.
pub type Programs<'a> = dyn Fn(&str) -> Result<Program> + 'a;

/// Values in place of those that stand in the job: by a reading's name, or `RUN: NAME` for one run's input.
pub type Overrides = BTreeMap<String, Given>;

/// A value as somebody tries it: `--set wall=0.12 in`.
#[must_use]
pub fn trial(text: &str) -> Given {
    Given {
        what: GivenValue::Text(text.to_owned()),
        origin: Origin::Trial,
        places: Vec::new(),
    }
}

/// A job ready to be run, as often as a study wants.
pub struct Plan<'a> {
    pub(super) library: &'a Library,
    pub(super) runs: Vec<Ready<'a>>,
    /// Readings that no run uses.
    pub(super) kept: Vec<Reading>,
    /// Sessions that contradict one another.
    pub(super) doubts: Vec<Phrase>,
}

/// A run with its script and its feeds.
pub(super) struct Ready<'a> {
    pub(super) run: &'a PlannedRun,
    pub(super) program: Program,
    /// Whether it was asked for, or another one needs it.
    pub(super) asked: bool,
    pub(super) feeds: BTreeMap<String, Feed>,
}

/// Where an input's value comes from.
pub(super) enum Feed {
    /// For this run alone.
    Own(Given),
    /// A reading, one input of the tape for all runs that it feeds.
    Reading {
        /// Its name, which may be another than the input's.
        name: String,
        given: Given,
    },
    /// A part of a reading (`front_joint.x`), tried in its place; a reading that stands on the tape already has it.
    Part {
        /// The reading that it is a part of.
        whole: String,
        given: Given,
    },
    /// What an earlier run had.
    Step {
        /// The number of that run among all.
        run: usize,
        step: String,
        place: Place,
    },
}

impl<'a> Plan<'a> {
    /// Looks at everything that is known without running: names, links, overrides. `only` asks for one run (those
    /// that it links to run too).
    ///
    /// # Errors
    /// No run at all; an unknown script, run, input or link; a name close to a known one; an override of what no run takes.
    pub fn new(
        job: &'a Job,
        library: &'a Library,
        programs: &Programs<'_>,
        overrides: &Overrides,
        only: Option<&str>,
    ) -> Result<Self> {
        if job.runs.is_empty() {
            return Err(nothing_to_run(job));
        }
        let mut runs = Vec::new();
        for run in &job.runs {
            runs.push(Ready {
                run,
                program: programs(&run.script).map_err(|error| reached_from(error, run.place.as_ref()))?,
                asked: true,
                feeds: BTreeMap::new(),
            });
        }
        let planning = Planning { job, overrides };
        let mut used = BTreeSet::new();
        for number in 0..runs.len() {
            let feeds = planning.feeds(&runs, number, &mut used)?;
            if let Some(ready) = runs.get_mut(number) {
                ready.feeds = feeds;
            }
        }
        planning.look_at_overrides(&runs, &used)?;
        planning.look_at_options(&runs)?;
        let kept = planning.unused(&runs, &used)?;
        if let Some(only) = only {
            keep_only(&mut runs, only)?;
        }
        Ok(Self {
            library,
            runs,
            kept,
            doubts: contradictions(job),
        })
    }
}

/// What is tried, with what the job has in its place: whoever tries another value measures no better. What an option
/// sets stands in the job, and is decided.
fn in_place_of(given: &Given, job: Option<&Given>) -> Given {
    match job {
        Some(job) if given.is_tried() => Given {
            what: GivenValue::InPlaceOf(Box::new(given.what.clone()), Box::new(job.what.clone())),
            ..given.clone()
        },
        _ => given.clone(),
    }
}

fn nothing_to_run(job: &Job) -> Diagnostic {
    let message = format!(
        "the job `{}` has no run, so there is nothing to calculate",
        job.source.name
    );
    let refusal = Refusal::new("job", message);
    refusal
        .hint("[[run]] on a line of its own, and below it script = \"driveline/critical-speed\"")
        .hint("crankline list shows the scripts")
        .into()
}

/// What a feed came from, to tell what is not used.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Used {
    Override(String),
    Reading(Option<String>, String),
}

/// The input that an address is a part of: `front_joint` of `front_joint.x`.
pub(super) fn whole_of(address: &str) -> Option<&str> {
    address.find(['.', '[']).and_then(|end| address.get(..end))
}

pub(super) struct Planning<'a, 'b> {
    pub(super) job: &'a Job,
    pub(super) overrides: &'b Overrides,
}

impl Planning<'_, '_> {
    fn feeds(&self, runs: &[Ready<'_>], number: usize, used: &mut BTreeSet<Used>) -> Result<BTreeMap<String, Feed>> {
        let Some(ready) = runs.get(number) else {
            return Ok(BTreeMap::new());
        };
        let run = ready.run;
        let known: Vec<&str> = ready.program.input_names().collect();
        let set = run.with.iter().map(|setting| (&setting.name, &setting.place));
        let linked = run.from.iter().map(|link| (&link.name, &link.place));
        for (name, place) in set.chain(linked) {
            if !known.contains(&name.as_str()) {
                return Err(no_input(&run.script, name, &known, place));
            }
        }
        let mut feeds = BTreeMap::new();
        for name in known {
            let feed = self.feed(runs, number, name, used)?;
            feeds.extend(feed.map(|feed| (name.to_owned(), feed)));
        }
        self.add_parts(ready, &mut feeds, used);
        Ok(feeds)
    }

    /// Adds what is tried for parts of inputs: `front_joint.x`, `RUN: loads[Wipers].current`.
    fn add_parts(&self, ready: &Ready<'_>, feeds: &mut BTreeMap<String, Feed>, used: &mut BTreeSet<Used>) {
        for (name, given) in self.overrides {
            let own = name
                .strip_prefix(&ready.run.name)
                .and_then(|rest| rest.strip_prefix(": "));
            let address = own.unwrap_or(name);
            let Some(whole) = whole_of(address).filter(|whole| ready.program.input_names().any(|name| name == *whole))
            else {
                continue;
            };
            let shared = match feeds.get(whole) {
                None => true,
                Some(Feed::Reading { name, .. }) => name == whole,
                Some(_) => false,
            };
            let given = given.clone();
            let feed = match own {
                Some(_) => Feed::Own(given),
                None if shared => Feed::Part {
                    whole: whole.to_owned(),
                    given,
                },
                None => continue,
            };
            used.insert(Used::Override(name.clone()));
            feeds.insert(address.to_owned(), feed);
        }
    }

    fn feed(&self, runs: &[Ready<'_>], number: usize, name: &str, used: &mut BTreeSet<Used>) -> Result<Option<Feed>> {
        let Some(Ready { run, .. }) = runs.get(number) else {
            return Ok(None);
        };
        let address = format!("{}: {name}", run.name);
        if let Some(given) = self.overrides.get(&address) {
            used.insert(Used::Override(address));
            // The reading is used, were it not for the trial: it is no stray.
            used.insert(Used::Reading(Some(run.name.clone()), name.to_owned()));
            used.insert(Used::Reading(None, name.to_owned()));
            let own = run.with.iter().find(|setting| setting.name == name);
            let reading = || {
                self.job
                    .reading(name, Some(&run.name))
                    .or_else(|| self.job.reading(name, None))
            };
            let job = own
                .map(|setting| &setting.given)
                .or_else(|| reading().map(|reading| &reading.given));
            return Ok(Some(Feed::Own(in_place_of(given, job))));
        }
        if let Some(setting) = run.with.iter().find(|setting| setting.name == name) {
            return Ok(Some(Feed::Own(setting.given.clone())));
        }
        if let Some(link) = run.from.iter().find(|link| link.name == name) {
            return self.linked(runs, number, link, used).map(Some);
        }
        if let Some(given) = self.job.tried(run, name) {
            used.insert(Used::Reading(Some(run.name.clone()), name.to_owned()));
            used.insert(Used::Reading(None, name.to_owned()));
            // The run is there to try it: it is no trial of the moment.
            let origin = Origin::Chosen;
            return Ok(Some(Feed::Own(Given {
                origin,
                ..given.clone()
            })));
        }
        if let Some(reading) = self.job.reading(name, Some(&run.name)) {
            used.insert(Used::Reading(Some(run.name.clone()), name.to_owned()));
            return Ok(Some(Feed::Own(reading.given.clone())));
        }
        Ok(self.reading(name, name, used))
    }

    /// A reading that feeds every run with an input of its name, or what is tried in its place.
    fn reading(&self, name: &str, input: &str, used: &mut BTreeSet<Used>) -> Option<Feed> {
        let given = match (self.overrides.get(name), self.job.reading(name, None)) {
            (Some(given), reading) => {
                used.insert(Used::Override(name.to_owned()));
                if reading.is_some() {
                    used.insert(Used::Reading(None, name.to_owned()));
                }
                renamed(&in_place_of(given, reading.map(|reading| &reading.given)), name, input)
            }
            (None, Some(reading)) => {
                used.insert(Used::Reading(None, name.to_owned()));
                reading.given_to(input)
            }
            (None, None) => return None,
        };
        let name = name.to_owned();
        Some(Feed::Reading { name, given })
    }

    fn linked(&self, runs: &[Ready<'_>], number: usize, link: &Link, used: &mut BTreeSet<Used>) -> Result<Feed> {
        // A run's name may have a colon in it: the longest that fits.
        let linked = runs.iter().enumerate().filter_map(|(at, ready)| {
            let step = link.target.strip_prefix(&ready.run.name)?.strip_prefix(':')?;
            Some((at, ready.run.name.len(), step.trim()))
        });
        match linked.max_by_key(|(_, length, _)| *length) {
            Some((run, _, step)) if run < number => {
                return Ok(Feed::Step {
                    run,
                    step: step.to_owned(),
                    place: link.target_place.clone(),
                });
            }
            Some(_) => {
                let refusal = Refusal::new("link", format!("`{}` is no step of an earlier run", link.target))
                    .hint("a link points upward: put that run before this one");
                return Err(Diagnostic::at(refusal, link.target_place.clone()));
            }
            None => {}
        }
        if let Some(feed) = self.reading(&link.target, &link.name, used) {
            return Ok(feed);
        }
        let earlier = runs.iter().take(number).map(|ready| ready.run.name.as_str());
        Err(match link.target.split_once(':') {
            Some((run, _)) => {
                let near = nearest(run.trim(), earlier).map(|near| format!("did you mean `{near}`?"));
                let refusal = Refusal::new("link", format!("no run is named `{}`", run.trim())).maybe_hint(near);
                Diagnostic::at(refusal, link.target_place.clone())
            }
            None => {
                let shared = self.job.readings.iter().filter(|reading| reading.run.is_none());
                let near = nearest(&link.target, shared.map(|reading| reading.name.as_str()));
                let hint = near.map_or_else(
                    || "a step is linked as \"RUN: STEP\"".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                let refusal = Refusal::new("link", format!("there is no reading `{}`", link.target)).hint(hint);
                Diagnostic::at(refusal, link.target_place.clone())
            }
        })
    }
}

/// Leaves the run asked for and those that it links to.
fn keep_only(runs: &mut [Ready<'_>], only: &str) -> Result<()> {
    let Some(asked) = runs.iter().position(|ready| ready.run.name == only) else {
        let names: Vec<&str> = runs.iter().map(|ready| ready.run.name.as_str()).collect();
        let hint = match nearest(only, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the runs are `{}`", names.join("`, `")),
        };
        let refusal = Refusal::new("unknown run", format!("no run is named `{only}`"));
        return Err(refusal.hint(hint).into());
    };
    for (number, ready) in runs.iter_mut().enumerate() {
        ready.asked = number == asked;
    }
    Ok(())
}

fn no_input(script: &str, name: &str, known: &[&str], place: &Place) -> Diagnostic {
    let hint = match nearest(name, known.iter().copied()) {
        Some(near) => Some(format!("did you mean `{near}`?")),
        None if known.is_empty() => None,
        None => Some(format!("its inputs are `{}`", known.join("`, `"))),
    };
    let refusal = Refusal::new("unknown name", format!("`{script}` has no input `{name}`"));
    Diagnostic::at(refusal.maybe_hint(hint), place.clone())
}

/// The error with the run that it was met in; an unknown script is told at that place.
pub(super) fn reached_from(mut error: Diagnostic, place: Option<&Place>) -> Diagnostic {
    error.places.extend(place.cloned());
    error
}

impl Plan<'_> {
    /// Whether a run is to be run: asked for, or linked to by one that is.
    pub(super) fn needed(&self) -> Vec<bool> {
        let mut needed: Vec<bool> = self.runs.iter().map(|ready| ready.asked).collect();
        // Links point upward: from the last run up, each is settled before those that it needs.
        for number in (0..self.runs.len()).rev() {
            let Some(ready) = self.runs.get(number).filter(|_| needed.get(number) == Some(&true)) else {
                continue;
            };
            for feed in ready.feeds.values() {
                if let Feed::Step { run, .. } = feed
                    && let Some(earlier) = needed.get_mut(*run)
                {
                    *earlier = true;
                }
            }
        }
        needed
    }

    /// Readings of the job that no run uses.
    #[must_use]
    pub fn kept(&self) -> &[Reading] {
        &self.kept
    }
}
