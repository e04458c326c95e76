//! All runs of a job on one tape: a reading is one input however many runs use it, a link keeps its derivatives.

use super::job::{Job, Reading};
use super::plan::{Feed, Overrides, Plan, Programs, Ready, reached_from, whole_of};
use super::shared::{Meanings, own_value};
use crate::diagnostic::{Diagnostic, Place, Refusal, nearest};
use crate::outcome::{Origin, Outcome, Phrase};
use crate::script::{Bindings, Finished, Given, GivenValue, Held, Library, Sample};
use crate::study::Experiment;
use crate::tape::{Recording, Tape};
use std::collections::BTreeMap;
use std::rc::Rc;

type Result<T> = std::result::Result<T, Diagnostic>;

/// What all runs of a job leave behind.
#[derive(Clone, Debug)]
pub struct Ran {
    /// One for each run, in order.
    pub runs: Vec<RunOutcome>,
    /// The one tape.
    pub tape: Tape,
    /// Readings that no run uses.
    pub kept: Vec<Reading>,
    /// Readings of earlier and later sessions that contradict one another.
    pub doubts: Vec<Phrase>,
}

impl Ran {
    /// What each run yields, in order.
    #[must_use]
    pub fn outcomes(&self) -> Vec<Outcome> {
        self.runs.iter().map(|run| run.outcome.clone()).collect()
    }
}

/// What one run yields.
#[derive(Clone, Debug)]
pub struct RunOutcome {
    /// Its name; empty where a script is run by itself.
    pub name: String,
    /// Its script.
    pub script: String,
    /// Whether it was asked for; otherwise another one needed it.
    pub asked: bool,
    /// The option that it tries.
    pub tries: Option<String>,
    /// What it yields.
    pub outcome: Outcome,
}

/// Runs a job once. A study makes a [`Plan`] and runs that as often as it wants.
///
/// `overrides` replace values of the job, `only` asks for one run; `sample` replaces the values of the tape's inputs, in
/// the order in which they are opened.
///
/// # Errors
/// What is wrong in the job or in a script, with its place.
pub fn run_job(
    job: &Job,
    programs: &Programs<'_>,
    library: &Library,
    overrides: &Overrides,
    only: Option<&str>,
    sample: Option<&Sample>,
) -> Result<Ran> {
    Plan::new(job, library, programs, overrides, only)?.run(sample)
}

impl Plan<'_> {
    /// Runs all runs on one tape; `sample` replaces the values of its inputs, in the order in which they are opened.
    ///
    /// # Errors
    /// What a script refuses: at the value in the job file where that is to blame, else in the script.
    pub fn run(&self, sample: Option<&Sample>) -> Result<Ran> {
        let mut going = Going {
            plan: self,
            recording: Rc::new(Recording::open()),
            opened: 0,
            readings: BTreeMap::new(),
            finished: BTreeMap::new(),
            meanings: Meanings::default(),
        };
        let mut runs = Vec::new();
        let needed = self.needed();
        for (number, ready) in self.runs.iter().enumerate() {
            if needed.get(number) == Some(&true) {
                runs.push(RunOutcome {
                    name: ready.run.name.clone(),
                    script: ready.run.script.clone(),
                    asked: ready.asked,
                    tries: ready.run.tries.clone(),
                    outcome: going.run(number, ready, sample)?,
                });
            }
        }
        Ok(Ran {
            runs,
            tape: going.recording.tape(),
            kept: self.kept.clone(),
            doubts: self.doubts.clone(),
        })
    }
}

impl Plan<'_> {
    fn sampled(&self, inputs: &[f64], read: bool) -> Result<(Tape, Vec<Outcome>)> {
        let values = inputs.to_vec();
        let ran = self.run(Some(&Sample { values, read }))?;
        Ok((ran.tape, ran.runs.into_iter().map(|run| run.outcome).collect()))
    }
}

impl Experiment for Plan<'_> {
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>)> {
        self.sampled(inputs, false)
    }

    fn run_to_be_read(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>)> {
        self.sampled(inputs, true)
    }
}

/// What a run had, for later ones.
struct Had {
    results: BTreeMap<String, Held>,
    /// Where the values of its inputs came from.
    origins: BTreeMap<String, Origin>,
}

impl Had {
    /// A step or an input by its name, `stress[bump]`, or a part of one: `joint.x`.
    fn found<'a>(&self, step: &'a str) -> Option<(&'a str, Held)> {
        let ends = step.match_indices(['.', '[']).map(|(at, _)| at);
        let ends: Vec<usize> = ends.chain([step.len()]).collect();
        // A step's own name may have brackets in it: the longest name that fits.
        ends.iter().rev().find_map(|end| {
            let (name, path) = step.split_at(*end);
            let part = self.results.get(name)?.within(path)?;
            Some((step, part))
        })
    }
}

struct Going<'a> {
    plan: &'a Plan<'a>,
    recording: Rc<Recording>,
    opened: usize,
    /// Readings that stand on the tape.
    readings: BTreeMap<String, Held>,
    finished: BTreeMap<usize, Had>,
    meanings: Meanings,
}

impl Going<'_> {
    fn run(&mut self, number: usize, ready: &Ready<'_>, sample: Option<&Sample>) -> Result<Outcome> {
        let mut bindings = Bindings::new();
        for (input, feed) in &ready.feeds {
            if matches!(feed, Feed::Part { whole, .. } if self.readings.contains_key(whole)) {
                continue;
            }
            bindings.insert(input.clone(), self.given(feed)?);
        }
        let sample = sample.cloned();
        let library = self.plan.library;
        let finished = library
            .run(&ready.program, bindings, &self.recording, self.opened, sample)
            .map_err(|error| self.explained(error, ready))?;
        let Finished {
            outcome,
            results,
            opened,
        } = finished;
        self.opened = opened;
        self.compare_meanings(ready, &outcome)?;
        for (input, feed) in &ready.feeds {
            // With a part of its own for this run alone it is not what other runs read.
            let changed = ready
                .feeds
                .iter()
                .any(|(address, feed)| matches!(feed, Feed::Own(_)) && whole_of(address) == Some(input.as_str()));
            if let (Feed::Reading { name, .. }, Some(held), false) = (feed, results.get(input), changed) {
                self.readings.entry(name.clone()).or_insert_with(|| held.clone());
            }
        }
        let origins = outcome.inputs.iter().map(|input| (input.name.clone(), input.origin));
        let origins = origins.collect();
        self.finished.insert(number, Had { results, origins });
        Ok(outcome)
    }

    fn given(&self, feed: &Feed) -> Result<Given> {
        match feed {
            Feed::Own(given) | Feed::Part { given, .. } => Ok(given.clone()),
            Feed::Reading { name, given } => Ok(match self.readings.get(name) {
                Some(held) => Given {
                    what: GivenValue::Tracked(held.clone()),
                    ..given.clone()
                },
                None => given.clone(),
            }),
            Feed::Step { run, step, place } => self.step(*run, step, place),
        }
    }

    fn step(&self, run: usize, step: &str, place: &Place) -> Result<Given> {
        let name = self.plan.runs.get(run).map_or("", |ready| ready.run.name.as_str());
        let had = self.finished.get(&run);
        let Some((step, held)) = had.and_then(|had| had.found(step)) else {
            let known = had.into_iter().flat_map(|had| had.results.keys());
            let near = nearest(step, known.map(String::as_str)).map(|near| format!("did you mean `{name}: {near}`?"));
            let refusal = Refusal::new("link", format!("run `{name}` has no step `{step}`")).maybe_hint(near);
            return Err(Diagnostic::at(refusal, place.clone()));
        };
        // Another run's reading stays what it is: an example is no better for being linked.
        let origin = had
            .and_then(|had| had.origins.get(whole_of(step).unwrap_or(step)))
            .copied()
            .unwrap_or(Origin::Linked);
        Ok(Given {
            what: GivenValue::Tracked(held.linked(name, step)),
            origin,
            places: vec![(String::new(), place.clone())],
        })
    }

    /// The error with the run that it was met in, unless it stands in the job already.
    fn explained(&self, mut error: Diagnostic, ready: &Ready<'_>) -> Diagnostic {
        let blamed = error.places.first().cloned();
        for feed in ready.feeds.values() {
            let Feed::Reading { name, given } = feed else { continue };
            let here = given.places.iter().any(|(_, place)| Some(place) == blamed.as_ref());
            if here && self.readings.contains_key(name) {
                error.refusal = error.refusal.hint(own_value(&ready.run.name));
                return error;
            }
        }
        let in_job = match (&blamed, &ready.run.place) {
            (Some(blamed), Some(own)) => blamed.source == own.source,
            _ => false,
        };
        if in_job {
            return error;
        }
        reached_from(error, ready.run.place.as_ref())
    }

    /// Inputs that several runs take from one reading, or would, were it measured.
    fn compare_meanings(&mut self, ready: &Ready<'_>, outcome: &Outcome) -> Result<()> {
        for input in &outcome.inputs {
            let place = match ready.feeds.get(&input.name) {
                None => ready.run.place.as_ref(),
                Some(Feed::Reading { name, given }) if *name == input.name => given
                    .places
                    .first()
                    .map(|(_, place)| place)
                    .or(ready.run.place.as_ref()),
                Some(_) => continue,
            };
            self.meanings.agree(&ready.run.name, input, place)?;
        }
        Ok(())
    }
}
