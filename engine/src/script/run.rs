//! The run that is going on on this thread: what it was given, what it has yielded so far.

use super::held::Held;
use super::source::Script;
use super::worked::Worked;
use crate::diagnostic::{Place, Refusal};
use crate::outcome::{Amount, Origin, Outcome, Phrase};
use crate::tape::{Number, Recording};
use rhai::Position;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// A value given to a run for one of its inputs.
#[derive(Clone, Debug)]
pub struct Given {
    /// The value.
    pub what: GivenValue,
    /// Where it came from.
    pub origin: Origin,
    /// Where it was written, for errors: an address (`loads[Wipers].current`) and its place, the whole under the
    /// input's name.
    pub places: Vec<(String, Place)>,
}

impl Given {
    /// Whether somebody tries it at this moment: then it is written nowhere.
    pub(crate) fn is_tried(&self) -> bool {
        self.origin == Origin::Trial && self.places.is_empty()
    }

    /// Where the value at an address was written: the nearest one around it that is known.
    pub(crate) fn place_of(&self, address: &str) -> Option<Place> {
        let around = self
            .places
            .iter()
            .filter(|(known, _)| address.starts_with(known.as_str()));
        around
            .max_by_key(|(known, _)| known.len())
            .map(|(_, place)| place.clone())
    }
}

/// What was given for an input.
#[derive(Clone, Debug)]
pub enum GivenValue {
    /// As a person wrote it.
    Text(String),
    /// Numbers that stand on the tape already: those of another run's step or of a reading that another run uses too.
    Tracked(Held),
    /// Yes or no.
    Truth(bool),
    /// A plain number.
    Number(f64),
    /// What somebody tries, and what stands in the job in its place: the job's ± stays where the trial gives none.
    InPlaceOf(Box<GivenValue>, Box<GivenValue>),
    /// Repeats of one reading, each as written, with the instrument's ± as written.
    Repeats(Vec<String>, Option<String>),
    /// A list.
    List(Vec<GivenValue>),
    /// A table's row, or the coordinates of a point.
    Fields(Vec<(String, GivenValue)>),
}

/// Values that stand in place of the readings.
#[derive(Clone, Debug)]
pub struct Sample {
    /// One for each input of the tape, in their order.
    pub values: Vec<f64>,
    /// Whether somebody will read the formulas; to print them costs more than to calculate.
    pub read: bool,
}

/// What a run is given: by input name.
pub type Bindings = BTreeMap<String, Given>;

/// The state of a run.
pub(crate) struct Run {
    pub(crate) script: Rc<Script>,
    pub(crate) recording: Rc<Recording>,
    pub(crate) bindings: Bindings,
    pub(crate) outcome: Outcome,
    pub(crate) heading: Option<Phrase>,
    /// Quantities that texts carry, see `wording`.
    pub(crate) written: Vec<Result<Amount, Refusal>>,
    /// Values to put on the tape in place of the readings.
    pub(crate) sample: Option<Sample>,
    /// How many inputs of the tape this job has opened so far.
    pub(crate) opened: usize,
    /// Names given so far.
    pub(crate) names: BTreeSet<String>,
    /// Labels given so far, each with the place that gave it and its line.
    pub(crate) labels: BTreeMap<String, (String, usize)>,
    /// Scripts that this one imports, in all, by name.
    pub(crate) imported: BTreeMap<String, Rc<Script>>,
    /// Values that steps had, for links to later runs.
    pub(crate) results: BTreeMap<String, rhai::Dynamic>,
    /// Readings that were used, for later runs of the job.
    pub(crate) readings: BTreeMap<String, rhai::Dynamic>,
    /// Where the value that was refused was written.
    pub(crate) blamed: Option<Place>,
    /// The engine's own functions as they are written in the language.
    pub(crate) worked: Option<Rc<Worked>>,
    /// How many numbers the figures shown so far hold.
    pub(crate) drawn: usize,
    /// How many items names held when they were used last.
    used: BTreeMap<String, u64>,
}

thread_local! {
    static CURRENT: RefCell<Option<Run>> = const { RefCell::new(None) };
}

/// Works on the run that is going on; a native function called outside one is refused.
pub(crate) fn with<T>(work: impl FnOnce(&mut Run) -> Result<T, Refusal>) -> Result<T, Refusal> {
    CURRENT.with_borrow_mut(|current| match current {
        Some(run) => work(run),
        None => Err(Refusal::new("no run", "no script is running")),
    })
}

/// Starts a run on this thread.
pub(crate) fn begin(run: Run) {
    CURRENT.with_borrow_mut(|current| *current = Some(run));
}

/// Ends the run on this thread and gives what it yielded.
pub(crate) fn end() -> Option<Run> {
    CURRENT.with_borrow_mut(Option::take)
}

/// What a text carries under this number: a quantity, or why there is none.
pub(crate) fn written(number: usize) -> Option<Result<Amount, Refusal>> {
    CURRENT.with_borrow(|current| current.as_ref()?.written.get(number).cloned())
}

/// Notes where a torque was multiplied by a plain rate, each place once.
pub(crate) fn note_plain_rate(source: Option<&str>, position: Position) {
    CURRENT.with_borrow_mut(|current| {
        if let Some(run) = current.as_mut().filter(|_| !position.is_none()) {
            let place = run.script_of(source).place(position);
            if !run.outcome.plain_rates.contains(&place) {
                run.outcome.plain_rates.push(place);
            }
        }
    });
}

impl Run {
    /// A run of a script that has yielded nothing yet.
    pub(crate) fn new(script: Rc<Script>, recording: Rc<Recording>, bindings: Bindings) -> Self {
        let outcome = Outcome {
            script: script.text.name.clone(),
            began: recording.reached(),
            ended: recording.reached(),
            ..Outcome::default()
        };
        Self {
            script,
            recording,
            bindings,
            outcome,
            heading: None,
            written: Vec::new(),
            sample: None,
            opened: 0,
            names: BTreeSet::new(),
            labels: BTreeMap::new(),
            imported: BTreeMap::new(),
            results: BTreeMap::new(),
            readings: BTreeMap::new(),
            blamed: None,
            worked: None,
            drawn: 0,
            used: BTreeMap::new(),
        }
    }

    /// Whether using a name that holds so many items may be to copy them: where the script does so somewhere, and the name
    /// does not hold one more each time, as a list does that is being made.
    pub(crate) fn may_copy(&mut self, source: Option<&str>, name: &str, items: u64) -> bool {
        if !self.script_of(source).is_copied(name) {
            return false;
        }
        match self.used.get_mut(name) {
            Some(before) => std::mem::replace(before, items) == items,
            None => {
                self.used.insert(name.to_owned(), items);
                true
            }
        }
    }

    /// The script of this name: the one that runs, or one that it imports.
    pub(crate) fn script_of(&self, name: Option<&str>) -> &Script {
        let worked = self.worked.as_ref().map(|worked| &worked.script);
        let worked = worked.filter(|script| Some(script.text.name.as_str()) == name);
        let imported = name.and_then(|name| self.imported.get(name));
        imported.or(worked).unwrap_or(&self.script)
    }

    /// Opens an input on the tape: with the sample's value where there is one.
    pub(crate) fn open_input(&mut self, value: f64) -> (usize, Number) {
        let index = self.opened;
        self.opened += 1;
        let value = self
            .sample
            .as_ref()
            .and_then(|sample| sample.values.get(index))
            .copied()
            .unwrap_or(value);
        (index, self.recording.input(value))
    }

    /// Its readings and steps as later runs may take them.
    pub(crate) fn held(&mut self) -> BTreeMap<String, Held> {
        let inputs = &self.outcome.inputs;
        let parts_of = |name: &str| {
            let input = inputs.iter().find(|input| input.name == name);
            input.map(|input| input.parts.clone()).unwrap_or_default()
        };
        let readings = std::mem::take(&mut self.readings).into_iter().map(|(name, value)| {
            let parts = parts_of(&name);
            (
                name,
                Held {
                    value,
                    parts,
                    taken_from: None,
                },
            )
        });
        let steps = std::mem::take(&mut self.results).into_iter().map(|(name, value)| {
            let parts = Vec::new();
            (
                name,
                Held {
                    value,
                    parts,
                    taken_from: None,
                },
            )
        });
        readings.chain(steps).collect()
    }

    /// Keeps what a text carries and gives its number.
    pub(crate) fn keep_written(&mut self, written: Result<Amount, Refusal>) -> usize {
        self.written.push(written);
        self.written.len() - 1
    }
}

/// A quantity as the outcome holds it.
pub(crate) fn amount(quantity: crate::quantity::Quantity) -> Amount {
    Amount::of(quantity)
}

/// The same of an input: a share that was written in percent is shown so.
pub(crate) fn entered_amount(quantity: crate::quantity::Quantity) -> Amount {
    let percent = quantity.written().filter(|unit| unit.dimension.is_none());
    Amount {
        style: percent.map(|unit| unit.name.to_owned()),
        ..amount(quantity)
    }
}

impl Run {
    /// How far an input may be off; a number that is no input alone has no ± of its own yet.
    pub(crate) fn spread_of(&mut self, quantity: crate::quantity::Quantity) -> Result<crate::outcome::Spread, Refusal> {
        let slot = quantity.number().slot();
        let part = self
            .outcome
            .inputs
            .iter()
            .flat_map(|input| &input.parts)
            .find(|part| Some(part.slot) == slot);
        match part {
            Some(part) => Ok(part.spread),
            None if quantity.number().is_constant() => Ok(crate::outcome::Spread::Exact),
            None => Err(Refusal::new(
                "uncertainty",
                "this is calculated: its uncertainty is known only after the run",
            )),
        }
    }
}
