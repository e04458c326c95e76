//! Which value a run was given for a name, put on the tape number by number.

use super::admissible::{Choices, in_choices};
use crate::diagnostic::{Place, Refusal};
use crate::outcome::{Origin, Part, Spread};
use crate::quantity::Quantity;
use crate::script::coordinates;
use crate::script::run::{GivenValue, Run};
use crate::script::stated::Stated;
use crate::script::value;
use rhai::{Array, Dynamic, Map};

pub(super) type Result<T> = std::result::Result<T, Refusal>;

/// What a script says of an input before its value is known.
pub(crate) struct Declared<'a> {
    pub(crate) name: &'a str,
    /// The script's own value.
    pub(crate) example: Dynamic,
    pub(crate) signs: Option<(String, String)>,
    pub(crate) choices: Choices,
    pub(crate) range: Option<(Quantity, Quantity)>,
}

/// An input with its value.
pub(crate) struct Admitted {
    pub(crate) value: Dynamic,
    pub(crate) parts: Vec<Part>,
    pub(crate) origin: Option<Origin>,
    pub(crate) taken_from: Option<String>,
}

/// Takes the value given for an input, or the script's own.
pub(crate) fn admit(run: &mut Run, declared: &Declared<'_>) -> Result<Admitted> {
    let given = run.bindings.get(declared.name).cloned();
    let mut taking = Taking {
        run,
        declared,
        parts: Vec::new(),
        values: 0,
        addresses: Vec::new(),
        replaced: Vec::new(),
        refused_at: None,
        refused_place: None,
        job: None,
    };
    let what = given.as_ref().map(|given| &given.what);
    let taken = taking.take(declared.name, &declared.example, Spread::Exact, what);
    let taken = taken.and_then(|value| taking.no_part_is_left().map(|()| value));
    let origin = taking.origin(given.as_ref().map(|given| given.origin));
    let sampled = taking.run.sample.is_some();
    let (parts, refused_at, refused_place) = (taking.parts, taking.refused_at, taking.refused_place);
    let value = taken
        .and_then(|value| match sampled {
            // A sample of a ± lies beside the choice.
            true => Ok(value),
            false => in_choices(declared.name, &declared.choices, &value).map(|()| value),
        })
        .inspect_err(|_| {
            let address = refused_at.as_deref().unwrap_or(declared.name);
            let place = || given.as_ref().and_then(|given| given.place_of(address));
            run.blamed = refused_place.or_else(place);
        })?;
    let taken_from = match given.as_ref().map(|given| &given.what) {
        Some(GivenValue::Tracked(held)) => held.taken_from.clone(),
        _ => None,
    };
    Ok(Admitted {
        value,
        parts,
        origin,
        taken_from,
    })
}

pub(super) struct Taking<'a, 'b> {
    pub(super) run: &'a mut Run,
    pub(super) declared: &'a Declared<'b>,
    pub(super) parts: Vec<Part>,
    /// How many single values were taken.
    values: usize,
    /// The addresses of all its parts.
    addresses: Vec<String>,
    /// Where those single values came from that were given by an address of their own: `front_joint.x`.
    replaced: Vec<Origin>,
    /// The address of the value that was refused, the innermost.
    refused_at: Option<String>,
    /// Where it was written, if under an address of its own.
    refused_place: Option<Place>,
    /// What the job has for the value that is taken, where another is tried.
    pub(super) job: Option<GivenValue>,
}

impl Taking<'_, '_> {
    /// Where the whole came from: one part on trial puts the whole on trial; parts alone are no measurement of the whole
    /// unless they are all of it.
    fn origin(&self, whole: Option<Origin>) -> Option<Origin> {
        if self.replaced.contains(&Origin::Trial) {
            return Some(Origin::Trial);
        }
        let complete = !self.replaced.is_empty() && self.replaced.len() == self.values;
        whole.or_else(|| complete.then(|| self.replaced.first().copied()).flatten())
    }

    /// Refuses a value given for a part that the input does not have: `front_joint.w`.
    fn no_part_is_left(&mut self) -> Result<()> {
        let name = self.declared.name;
        let stray = self.run.bindings.iter().find(|(address, _)| {
            let rest = address.strip_prefix(name);
            rest.is_some_and(|rest| rest.starts_with(['.', '['])) && !self.addresses.contains(address)
        });
        let Some((address, given)) = stray else { return Ok(()) };
        let near = crate::diagnostic::nearest(address, self.addresses.iter().map(String::as_str));
        let near = near.map(|near| format!("did you mean `{near}`?"));
        let first: Vec<&str> = self.addresses.iter().take(6).map(String::as_str).collect();
        let parts = match first.is_empty() {
            true => format!("`{name}` has no parts"),
            false => format!("it has {}", first.join(", ")),
        };
        self.refused_place = given.place_of(address);
        Err(Refusal::new("input", format!("`{name}` has no part `{address}`"))
            .maybe_hint(near)
            .hint(parts))
    }

    /// Takes one value, or what was given under its own address in the place of a part.
    pub(super) fn take(
        &mut self,
        address: &str,
        example: &Dynamic,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        let own = match address == self.declared.name {
            true => None,
            false => {
                self.addresses.push(address.to_owned());
                self.run.bindings.get(address).cloned()
            }
        };
        let (given, job) = match (&own, given) {
            (Some(own), job) => (Some(&own.what), job.filter(|_| own.is_tried())),
            (None, Some(GivenValue::InPlaceOf(tried, job))) => (Some(&**tried), Some(&**job)),
            (None, given) => (given, None),
        };
        self.job = job.cloned();
        self.replaced.extend(own.as_ref().map(|own| own.origin));
        let taken = self.take_by_kind(address, example, spread, given);
        if taken.is_err() && self.refused_at.is_none() {
            self.refused_at = Some(address.to_owned());
        }
        if let (Err(_), None, Some(own)) = (&taken, &self.refused_place, own) {
            self.refused_place = own.place_of(self.refused_at.as_deref().unwrap_or(address));
        }
        taken
    }

    /// `spread` is what the script states for the whole of which this is a part.
    fn take_by_kind(
        &mut self,
        address: &str,
        example: &Dynamic,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        if let Some(stated) = example.read_lock::<Stated>() {
            return self.take_by_kind(address, &stated.value, stated.spread, given);
        }
        if let Some(list) = example.read_lock::<Array>() {
            return self.take_list(address, &list, spread, given);
        }
        if let Some(map) = example.read_lock::<Map>() {
            return self.take_map(address, &map, spread, given);
        }
        if let Some(coordinates) = coordinates::of(example) {
            return self.take_coordinates(address, coordinates, spread, given);
        }
        self.values += 1;
        if let Some(taken) = self.take_plain(address, example, given)? {
            return Ok(taken);
        }
        let quantity = value::quantity(example, &format!("the example of `{address}`"))?;
        self.take_quantity(address, quantity, spread, given)
    }
}
