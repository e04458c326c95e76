//! The readings that the runs of a job ask for, each once however many runs use it, and whether they are there.
//!
//! Nothing has to come out for it: a job half measured, whose readings do not fit the examples beside them yet, can be
//! asked what it lacks all the same.

use super::job::{Job, PlannedRun};
use super::plan::{Feed, Plan, Ready, reached_from};
use super::shared::{Meanings, own_value};
use crate::diagnostic::Diagnostic;
use crate::figure::{Figure, Shown};
use crate::outcome::{Input, Origin, Outcome, Phrase, Spread, Value};
use crate::script::Bindings;
use std::collections::{BTreeMap, BTreeSet};

type Result<T> = std::result::Result<T, Diagnostic>;

/// What the runs of a job ask for.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The readings, in the order of the runs and of their scripts, each once.
    pub wanted: Vec<Wanted>,
    /// The cautions of all scripts, each once.
    pub cautions: Vec<Phrase>,
    /// The sketches of each script: of what is there, and of its examples.
    pub sketches: Vec<Shown>,
}

/// A reading that runs ask for.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// The name that it has in the job.
    pub name: String,
    /// The run that it is for; `None`: for every run that has an input of its name.
    pub run: Option<String>,
    /// The input as the first run has it that asks for it, with its value: the script's example where it is missing.
    pub input: Input,
    /// Who uses it, in order.
    pub uses: Vec<Use>,
    /// Whether it is there.
    pub state: State,
}

/// A run that uses a reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Use {
    /// The run's name; empty where a script is run by itself.
    pub run: String,
    /// The name of the run's input.
    pub input: String,
}

/// Whether a reading is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum State {
    /// Nobody has given it: the script's example stands.
    Missing,
    /// The script takes it as its own value, and nobody has given another.
    TakenAs,
    /// Somebody has given it.
    Given(Taken),
}

/// How a reading was taken, as far as the job says so.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// The day.
    pub on: Option<String>,
    /// By whom.
    pub by: Option<String>,
    /// With what.
    pub with: Option<String>,
}

impl Wanted {
    /// Whether nobody has given it.
    #[must_use]
    pub fn is_missing(&self) -> bool {
        self.state == State::Missing
    }

    /// Whether it is decided, or read off a plate: what its owner says of one that is there; else what is chosen from a
    /// list, and what has neither a unit nor a ±.
    #[must_use]
    pub fn is_decided(&self) -> bool {
        match (&self.state, self.input.origin) {
            (State::Given(_), Origin::Chosen) => true,
            (State::Given(_), Origin::Measured) => false,
            _ => !self.input.choices.is_empty() || !(has_unit(&self.input.value) || self.has_spread()),
        }
    }

    /// Whether any of its numbers has a ±.
    fn has_spread(&self) -> bool {
        self.input.parts.iter().any(|part| part.spread != Spread::Exact)
    }
}

fn has_unit(value: &Value) -> bool {
    match value {
        Value::Amount(amount) => !amount.dimension.is_none(),
        Value::Items(items) => items.iter().any(|(_, item)| has_unit(item)),
        _ => false,
    }
}

impl Plan<'_> {
    /// The readings that the runs ask for, in the order of the runs and of their scripts, each once; with the cautions and
    /// sketches of all scripts, in order. What an option sets for the runs that try it is none of them.
    ///
    /// # Errors
    /// What a script refuses of a reading, at its place in the job; inputs of one name that mean two things; a script
    /// that does not reach its last input on its own values.
    pub fn wanted(&self, job: &Job) -> Result<Asked> {
        let mut asking = Asking {
            job,
            found: Vec::new(),
            places: BTreeMap::new(),
            cautions: Vec::new(),
            meanings: Meanings::default(),
        };
        let (mut sketches, mut sketched) = (Vec::new(), BTreeSet::new());
        for ready in &self.runs {
            let outcome = self.look(ready).map_err(|error| asking.explained(error, ready))?;
            asking.of_run(ready, outcome.inputs)?;
            for caution in outcome.cautions {
                if !asking.cautions.contains(&caution) {
                    asking.cautions.push(caution);
                }
            }
            if sketched.insert(ready.program.name()) {
                let is_sketch = |shown: &Shown| matches!(shown.figure, Figure::Sketch(_));
                sketches.extend(outcome.figures.into_iter().filter(is_sketch));
            }
        }
        Ok(Asked {
            wanted: asking.found,
            cautions: asking.cautions,
            sketches,
        })
    }

    /// A run's inputs with what the job has for them; what another run works out is no reading, and stays out.
    fn look(&self, ready: &Ready<'_>) -> Result<Outcome> {
        let mut bindings = Bindings::new();
        for (input, feed) in &ready.feeds {
            match feed {
                Feed::Own(given) | Feed::Reading { given, .. } | Feed::Part { given, .. } => {
                    bindings.insert(input.clone(), given.clone());
                }
                Feed::Step { .. } => {}
            }
        }
        let looked = self.library.look(&ready.program, bindings.clone())?;
        let Some(error) = looked.refused else {
            return Ok(looked.outcome);
        };
        let mut own = self.library.look(&ready.program, Bindings::new())?;
        if looked.outcome.inputs.len() == ready.program.input_names().count() {
            // What it did not come to is no less a caution.
            own.outcome.inputs = looked.outcome.inputs;
            return Ok(own.outcome);
        }
        if is_about(&error, &bindings) || own.refused.is_some() {
            return Err(error);
        }
        self.one_by_one(ready, bindings, own.outcome, error)
    }

    /// The inputs of a script that stops among them, where its readings do not fit together: each reading beside the
    /// script's own values.
    fn one_by_one(&self, ready: &Ready<'_>, all: Bindings, mut own: Outcome, error: Diagnostic) -> Result<Outcome> {
        for (name, given) in all {
            let bindings = Bindings::from([(name.clone(), given)]);
            let looked = self.library.look(&ready.program, bindings.clone())?;
            let found = looked.outcome.inputs.into_iter().find(|input| input.name == name);
            let place = own.inputs.iter_mut().find(|input| input.name == name);
            match (found, place) {
                (Some(found), Some(place)) => *place = found,
                _ => {
                    return Err(looked
                        .refused
                        .filter(|refused| is_about(refused, &bindings))
                        .unwrap_or(error));
                }
            }
        }
        Ok(own)
    }
}

/// Whether an error stands where one of the values was written.
fn is_about(error: &Diagnostic, bindings: &Bindings) -> bool {
    let Some(place) = error.places.first() else {
        return false;
    };
    let mut places = bindings.values().flat_map(|given| &given.places);
    places.any(|(_, own)| own.source == place.source)
}

/// What has been asked for so far.
struct Asking<'a> {
    job: &'a Job,
    found: Vec<Wanted>,
    /// Where each stands in `found`, by its run and name.
    places: BTreeMap<(Option<String>, String), usize>,
    cautions: Vec<Phrase>,
    meanings: Meanings,
}

impl Asking<'_> {
    fn of_run(&mut self, ready: &Ready<'_>, inputs: Vec<Input>) -> Result<()> {
        for input in inputs {
            let feed = ready.feeds.get(&input.name);
            let Some((run, name, state)) = self.reading(ready.run, &input, feed) else {
                continue;
            };
            if run.is_none() && name == input.name {
                let given = match feed {
                    Some(Feed::Reading { given, .. }) => given.places.first().map(|(_, place)| place),
                    _ => None,
                };
                let place = given.or(ready.run.place.as_ref());
                self.meanings.agree(&ready.run.name, &input, place)?;
            }
            let used = Use {
                run: ready.run.name.clone(),
                input: input.name.clone(),
            };
            let key = (run, name);
            match self.places.get(&key).and_then(|at| self.found.get_mut(*at)) {
                Some(wanted) => wanted.uses.push(used),
                None => {
                    self.places.insert(key.clone(), self.found.len());
                    let (run, name) = key;
                    let uses = vec![used];
                    self.found.push(Wanted {
                        name,
                        run,
                        input,
                        uses,
                        state,
                    });
                }
            }
        }
        Ok(())
    }

    /// Which reading of the job an input asks for, and whether it is there; `None` where it asks for none.
    fn reading(&self, run: &PlannedRun, input: &Input, feed: Option<&Feed>) -> Option<(Option<String>, String, State)> {
        let own = || Some(run.name.clone());
        match feed {
            None if input.assumed => Some((None, input.name.clone(), State::TakenAs)),
            None => Some((None, input.name.clone(), State::Missing)),
            Some(Feed::Reading { name, .. }) => Some((None, name.clone(), State::Given(self.taken(name, None)))),
            Some(Feed::Own(_)) => {
                let is_set = run.with.iter().any(|setting| setting.name == input.name);
                if !is_set && self.job.tried(run, &input.name).is_some() {
                    return None;
                }
                let taken = match is_set {
                    true => Taken::default(),
                    false => self.taken(&input.name, Some(&run.name)),
                };
                Some((own(), input.name.clone(), State::Given(taken)))
            }
            Some(Feed::Step { .. } | Feed::Part { .. }) => None,
        }
    }

    fn taken(&self, name: &str, run: Option<&str>) -> Taken {
        let Some(reading) = self.job.reading(name, run) else {
            return Taken::default();
        };
        let session = reading.session.and_then(|number| self.job.sessions.get(number));
        Taken {
            on: session.map(|session| session.on.clone()),
            by: session.and_then(|session| session.by.clone()),
            with: reading.with.clone(),
        }
    }

    /// The error with the run that it was met in, unless it stands in the job already.
    fn explained(&self, mut error: Diagnostic, ready: &Ready<'_>) -> Diagnostic {
        let in_job = error
            .places
            .first()
            .is_some_and(|place| place.source == self.job.source);
        if !in_job {
            return reached_from(error, ready.run.place.as_ref());
        }
        let shared = ready.feeds.values().any(|feed| match feed {
            Feed::Reading { name, given } => {
                let here = given
                    .places
                    .iter()
                    .any(|(_, place)| Some(place) == error.places.first());
                here && self.places.contains_key(&(None, name.clone()))
            }
            _ => false,
        });
        if shared {
            error.refusal = error.refusal.hint(own_value(&ready.run.name));
        }
        error
    }
}
