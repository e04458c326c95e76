//! Inputs: which value a run was given for a name, put on the tape number by number.

use super::admissible::{Choices, in_choices};
use super::coordinates;
use super::held::Held;
use super::reading::{self, Written};
use super::run::{self, Given, GivenValue, Run};
use super::stated::{Stated, fixed, mean_of_repeats};
use super::value;
use crate::diagnostic::{Place, Refusal};
use crate::outcome::{Amount, Origin, Part, Phrase, Spread, Value};
use crate::quantity::{Dimension, Quantity, Scale, words};
use rhai::{Array, Dynamic, ImmutableString, Map};

type Result<T> = std::result::Result<T, Refusal>;

/// What a script says of an input before its value is known.
pub(crate) struct Declared<'a> {
    pub(crate) name: &'a str,
    /// The script's own value.
    pub(crate) example: Dynamic,
    pub(crate) signs: Option<(String, String)>,
    pub(super) choices: Choices,
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
    run: &'a mut Run,
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
        if let Some(text) = example.read_lock::<ImmutableString>() {
            value::text(example, "the example of an input")?;
            return match given {
                None => Ok(Dynamic::from(text.clone())),
                Some(GivenValue::Text(text)) if super::wording::is_marked(text) => {
                    let message = format!("`{address}` holds a character that Unicode keeps for private use");
                    Err(Refusal::new("text", message))
                }
                Some(GivenValue::Text(text)) => Ok(Dynamic::from(text.clone())),
                Some(GivenValue::Tracked(held)) => {
                    let text = value::text(&held.value, &format!("`{address}`"))?;
                    Ok(Dynamic::from(text))
                }
                Some(GivenValue::Number(number)) => {
                    let refusal = unfit(address, "a text", &GivenValue::Number(*number));
                    Err(refusal.hint(format!("a text stands in quotes: \"{number}\"")))
                }
                Some(other) => Err(unfit(address, "a text", other)),
            };
        }
        if let Ok(truth) = example.as_bool() {
            return match given {
                None => Ok(Dynamic::from(truth)),
                Some(GivenValue::Truth(truth)) => Ok(Dynamic::from(*truth)),
                Some(GivenValue::Tracked(held)) if held.value.is_bool() => Ok(held.value.clone()),
                Some(GivenValue::Text(text)) => yes_or_no(address, text),
                Some(other) => Err(unfit(address, "yes or no", other)),
            };
        }
        if let Ok(count) = example.as_int() {
            let taken = self.take_count(address, count, given)?;
            let counted = value::quantity(&taken, &format!("`{address}`"))?;
            self.within_range(address, counted)?;
            return Ok(taken);
        }
        let quantity = value::quantity(example, &format!("the example of `{address}`"))?;
        self.take_quantity(address, quantity, spread, given)
    }

    fn take_count(&self, address: &str, example: i64, given: Option<&GivenValue>) -> Result<Dynamic> {
        let number = match given {
            None => return Ok(Dynamic::from(example)),
            Some(GivenValue::Number(number)) => *number,
            Some(GivenValue::Text(text)) => text.trim().parse().map_err(|_| {
                Refusal::new(
                    "input",
                    format!("`{address}` is a count, a whole number; this is `{text}`"),
                )
            })?,
            Some(GivenValue::Tracked(held)) if held.value.is_int() => return Ok(held.value.clone()),
            Some(other) => return Err(unfit(address, "a whole number", other)),
        };
        if number.fract() != 0.0 || number.abs() > 9.0e15 {
            return Err(Refusal::new(
                "input",
                format!("`{address}` is a count, a whole number; this is {number}"),
            ));
        }
        #[allow(clippy::cast_possible_truncation, reason = "a whole number within ±9e15")]
        Ok(Dynamic::from(number as i64))
    }

    fn take_quantity(
        &mut self,
        address: &str,
        example: Quantity,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        if example.dimension() == Dimension::of(-1, 0, 0, 0, 0, 0) {
            let message = format!("the example of `{address}` is one over a length");
            return Err(Refusal::new("input", message).hint("(1/8).inch is an eighth of an inch"));
        }
        let own = fixed(example, &format!("the example of `{address}`"))?;
        let mut example = example;
        let (number, stated) = match given {
            None => (own, None),
            Some(GivenValue::Tracked(held)) => return self.take_tracked(address, example, held),
            Some(GivenValue::Number(number)) => (plain(address, *number, example)?, None),
            Some(GivenValue::Text(text)) => {
                let written = self.read(address, text, example)?;
                example = written.as_written(example);
                (written.numbers[0], written.spread)
            }
            Some(GivenValue::Repeats(repeats, width)) => {
                let (mean, scatter) = self.repeats(address, repeats, width.as_deref(), example)?;
                (mean, Some(scatter))
            }
            Some(other) => return Err(unfit(address, "one quantity", other)),
        };
        let kept = match stated {
            None => self
                .job
                .take()
                .and_then(|job| self.spread_in_job(address, &job, example)),
            Some(_) => None,
        };
        self.within_range(address, example.with_number(crate::tape::Number::constant(number)))?;
        let (input, number) = self.run.open_input(number);
        let slot = number.slot().unwrap_or_default();
        self.parts.push(Part {
            address: address.to_owned(),
            input,
            slot,
            spread: stated.or(kept).unwrap_or(spread),
            stated: stated.or(kept).is_some(),
            kept: kept.is_some(),
        });
        Ok(Dynamic::from(example.with_number(number)))
    }

    /// A number that stands on the tape already: of another run, or a reading used before.
    fn take_tracked(&mut self, address: &str, example: Quantity, held: &Held) -> Result<Dynamic> {
        let quantity = value::quantity(&held.value, &format!("what is linked to `{address}`"))?;
        if !quantity.dimension().is_like(example.dimension()) {
            return Err(other_kind(address, example, &quantity.described()));
        }
        if quantity.scale() != example.scale() {
            return Err(other_scale(address, example, &quantity.shown()));
        }
        self.within_range(address, quantity)?;
        if let Some(part) = held.part(quantity.number().slot()) {
            let address = address.to_owned();
            self.parts.push(Part { address, ..part });
        }
        Ok(Dynamic::from(example.with_number(quantity.number())))
    }

    fn read(&self, address: &str, text: &str, example: Quantity) -> Result<Written> {
        let written = reading::read(text, self.declared.signs.as_ref())?;
        if written.numbers.len() != 1 {
            return Err(Refusal::new(
                "input",
                format!("`{address}` is one quantity, `{text}` is a point"),
            ));
        }
        if !written.dimension.is_like(example.dimension()) {
            let found = words::with_article(&words::name_of(written.dimension));
            return Err(other_kind(address, example, &format!("{found} (`{text}`)")));
        }
        if written.scale != example.scale() {
            return Err(other_scale(address, example, text));
        }
        Ok(written)
    }

    /// The ± of the job's value, in whose place another is tried; what cannot be read has none.
    fn spread_in_job(&self, address: &str, job: &GivenValue, example: Quantity) -> Option<Spread> {
        match job {
            GivenValue::Text(text) => self.read(address, text, example).ok()?.spread,
            GivenValue::Repeats(repeats, width) => {
                let limits = width_of_repeats(address, width.as_deref(), example).ok()?;
                let numbers = repeats
                    .iter()
                    .map(|repeat| Some(self.read(address, repeat, example).ok()?.numbers[0]));
                let numbers: Vec<f64> = numbers.collect::<Option<_>>()?;
                (!numbers.is_empty()).then(|| mean_of_repeats(&numbers, limits).1)
            }
            _ => None,
        }
    }

    fn repeats(
        &mut self,
        address: &str,
        repeats: &[String],
        width: Option<&str>,
        example: Quantity,
    ) -> Result<(f64, Spread)> {
        let mut numbers = Vec::new();
        for repeat in repeats {
            numbers.push(self.read(address, repeat, example)?.numbers[0]);
        }
        if numbers.is_empty() {
            return Err(Refusal::new("input", format!("there is no reading for `{address}`")));
        }
        let limits = width_of_repeats(address, width, example)?;
        let doubts = super::repeats::doubts(address, &numbers, limits, example);
        self.run.outcome.doubts.extend(doubts);
        Ok(mean_of_repeats(&numbers, limits))
    }

    fn take_list(
        &mut self,
        address: &str,
        example: &Array,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        let tracked = given.and_then(Held::items);
        let rows = match tracked.as_ref().or(given) {
            None => None,
            Some(GivenValue::List(rows)) => Some(rows),
            Some(other) => return Err(unfit(address, "a list", other)),
        };
        let first = example
            .first()
            .ok_or_else(|| Refusal::new("input", format!("the example of `{address}` is an empty list")))?;
        let count = rows.map_or(example.len(), Vec::len);
        if count == 0 {
            let message = format!("`{address}` is empty: it needs at least one");
            return Err(Refusal::new("input", message).hint("leave it out to calculate with the script's example"));
        }
        let mut list = Array::new();
        for number in 0..count {
            let row = rows.and_then(|rows| rows.get(number));
            let own = example.get(number).filter(|_| rows.is_none()).unwrap_or(first);
            let key = row_name(own, row);
            // The script's own row of that name is the better example: its ± is of the same size.
            let named = example.iter().find(|own| key.is_some() && row_name(own, None) == key);
            let own = named.filter(|_| rows.is_some()).unwrap_or(own);
            let key = key.unwrap_or_else(|| number.to_string());
            list.push(self.take(&format!("{address}[{key}]"), own, spread, row)?);
        }
        Ok(Dynamic::from(list))
    }

    fn take_map(
        &mut self,
        address: &str,
        example: &Map,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        let tracked = given.and_then(Held::items);
        let fields = match tracked.as_ref().or(given) {
            None => None,
            Some(GivenValue::Fields(fields)) => Some(fields),
            Some(other) => return Err(unfit(address, "a row with named fields", other)),
        };
        if let Some((unknown, _)) = fields
            .into_iter()
            .flatten()
            .find(|(key, _)| !example.contains_key(key.as_str()))
        {
            let near = crate::diagnostic::nearest(unknown, example.keys().map(|key| key.as_str()));
            let near = near.map(|near| format!("did you mean `{near}`?"));
            return Err(Refusal::new("input", format!("`{address}` has no field `{unknown}`")).maybe_hint(near));
        }
        let mut row = Map::new();
        for (key, own) in example {
            let field = fields.and_then(|fields| fields.iter().find(|(name, _)| name == key.as_str()));
            if fields.is_some() && field.is_none() {
                return Err(Refusal::new("input", format!("`{address}` lacks the field `{key}`")));
            }
            let value = self.take(&format!("{address}.{key}"), own, spread, field.map(|(_, value)| value))?;
            row.insert(key.clone(), value);
        }
        Ok(Dynamic::from(row))
    }

    fn within_range(&self, address: &str, quantity: Quantity) -> Result<()> {
        let Some((low, high)) = self.declared.range else {
            return Ok(());
        };
        // A sample of a ± may fall outside: the range limits what may be entered.
        if self.run.sample.is_some() {
            return Ok(());
        }
        let (x, a, b) = (quantity.number().shown(), low.number().shown(), high.number().shown());
        if (a..=b).contains(&x) {
            return Ok(());
        }
        let message = format!(
            "`{address}` is {}, outside what may be entered ({} to {})",
            quantity.shown(),
            low.shown(),
            high.shown()
        );
        Err(Refusal::new("input", message))
    }
}

impl Given {
    /// Whether somebody tries it at this moment: then it is written nowhere.
    pub(crate) fn is_tried(&self) -> bool {
        self.origin == Origin::Trial && self.places.is_empty()
    }

    /// Where the value at an address was written: the nearest one around it that is known.
    fn place_of(&self, address: &str) -> Option<Place> {
        let around = self
            .places
            .iter()
            .filter(|(known, _)| address.starts_with(known.as_str()));
        around
            .max_by_key(|(known, _)| known.len())
            .map(|(_, place)| place.clone())
    }
}

impl Held {
    /// The input of the tape that stands in a slot.
    fn part(&self, slot: Option<crate::tape::Slot>) -> Option<Part> {
        self.parts.iter().find(|part| Some(part.slot) == slot).cloned()
    }

    /// A list or a map of values that stand on the tape, as one that is given: each item is looked at like a written one.
    fn items(given: &GivenValue) -> Option<GivenValue> {
        let GivenValue::Tracked(held) = given else { return None };
        let item = |value: &Dynamic| {
            let (value, parts) = (value.clone(), held.parts.clone());
            GivenValue::Tracked(Held {
                value,
                parts,
                taken_from: None,
            })
        };
        if let Some(list) = held.value.read_lock::<Array>() {
            return Some(GivenValue::List(list.iter().map(item).collect()));
        }
        let map = held.value.read_lock::<Map>()?;
        let fields = map.iter().map(|(key, value)| (key.to_string(), item(value)));
        Some(GivenValue::Fields(fields.collect()))
    }
}

/// The instrument's ± of repeats.
pub(super) fn width_of_repeats(address: &str, width: Option<&str>, example: Quantity) -> Result<f64> {
    let Some(width) = width else { return Ok(0.0) };
    let width = reading::read(width, None)?;
    if !width.dimension.is_like(example.dimension()) {
        return Err(other_kind(&format!("± of {address}"), example, "of another kind"));
    }
    Ok(width.numbers[0].abs())
}

/// The row's own name, where the table has a column `name`.
fn row_name(example: &Dynamic, row: Option<&GivenValue>) -> Option<String> {
    let own = example
        .read_lock::<Map>()?
        .get("name")?
        .read_lock::<ImmutableString>()?
        .to_string();
    match row {
        None => Some(own),
        Some(GivenValue::Tracked(held)) => row_name(&held.value, None),
        Some(GivenValue::Fields(fields)) => fields.iter().find_map(|(key, value)| match value {
            GivenValue::Text(text) if key == "name" => Some(text.clone()),
            _ => None,
        }),
        Some(_) => None,
    }
}

fn plain(address: &str, number: f64, example: Quantity) -> Result<f64> {
    if example.dimension().is_none() {
        return Ok(number);
    }
    let refusal = other_kind(address, example, &format!("a number without a unit ({number})"));
    if example.dimension() != Dimension::LENGTH {
        return Err(refusal.hint(format!("write its unit, as in \"{}\"", example.shown())));
    }
    Err(refusal.hint(format!(
        "write its unit: \"{number} mm\", \"{number} in\" or what it was measured in"
    )))
}

fn other_kind(address: &str, example: Quantity, found: &str) -> Refusal {
    let wanted = words::with_article(&example.kind());
    let refusal = Refusal::new("dimension", format!("`{address}` must be {wanted}, this is {found}"));
    if example.dimension() == Dimension::ANGLE && found.contains("number") {
        return refusal.hint("write its unit: 3.4 deg");
    }
    refusal
}

/// A point on the temperature scale and a difference of two are mixed up: 80 K is no 80 °C.
fn other_scale(address: &str, example: Quantity, found: &str) -> Refusal {
    let (wanted, other, hint) = match example.scale() {
        Scale::Point => (
            "a temperature, a point on the scale",
            "a difference of temperatures",
            "a point on the scale is written in degC or degF: 80 degC",
        ),
        Scale::Difference => (
            "a difference of temperatures",
            "a point on the scale",
            "a difference is written in K, delta_degC or delta_degF: 15 K",
        ),
    };
    Refusal::new(
        "dimension",
        format!("`{address}` must be {wanted}; `{found}` is {other}"),
    )
    .hint(hint)
}

pub(super) fn unfit(address: &str, wanted: &str, given: &GivenValue) -> Refusal {
    let found = match given {
        GivenValue::Text(text) => format!("the text `{text}`"),
        GivenValue::Tracked(held) => value::described(&held.value),
        GivenValue::Truth(_) => "yes or no".to_owned(),
        GivenValue::Number(number) => format!("the number {number}"),
        GivenValue::InPlaceOf(tried, _) => return unfit(address, wanted, tried),
        GivenValue::Repeats(..) => "repeats of a reading".to_owned(),
        GivenValue::List(_) => "a list".to_owned(),
        GivenValue::Fields(_) => "a row with named fields".to_owned(),
    };
    Refusal::new("input", format!("`{address}` must be {wanted}, this is {found}"))
}

fn yes_or_no(address: &str, text: &str) -> Result<Dynamic> {
    match text.trim() {
        "yes" | "true" => Ok(Dynamic::from(true)),
        "no" | "false" => Ok(Dynamic::from(false)),
        other => Err(Refusal::new(
            "input",
            format!("`{address}` must be yes or no, this is `{other}`"),
        )),
    }
}

/// A value as the outcome holds it.
pub(crate) fn outcome_value(value: &Dynamic) -> Result<Value> {
    value_by(value, run::amount)
}

/// The value of an input, a share in percent where somebody wrote it so: `30 %`, not 0.3.
pub(crate) fn entered_value(value: &Dynamic) -> Result<Value> {
    value_by(value, run::entered_amount)
}

fn value_by(value: &Dynamic, amount: fn(Quantity) -> Amount) -> Result<Value> {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return Ok(Value::Amount(amount(*quantity)));
    }
    if let Some(stated) = value.read_lock::<Stated>() {
        return value_by(&stated.value, amount);
    }
    if let Ok(count) = value.as_int() {
        return Ok(Value::Count(count));
    }
    if let Some(number) = value::as_quantity(value) {
        return Ok(Value::Amount(amount(number)));
    }
    if let Ok(truth) = value.as_bool() {
        return Ok(Value::Truth(truth));
    }
    if let Some(text) = value.read_lock::<ImmutableString>() {
        return Ok(Value::Text(super::wording::phrase(&text)));
    }
    if let Some(list) = value.read_lock::<Array>() {
        let items = list
            .iter()
            .enumerate()
            .map(|(key, item)| Ok((key.to_string(), value_by(item, amount)?)));
        return items.collect::<Result<_>>().map(Value::Items);
    }
    if let Some(map) = value.read_lock::<Map>() {
        let items = map
            .iter()
            .map(|(key, item)| Ok((key.to_string(), value_by(item, amount)?)));
        return items.collect::<Result<_>>().map(Value::Items);
    }
    if let Some(coordinates) = coordinates::of(value) {
        let parts = coordinates::NAMES.into_iter().zip(coordinates.each);
        let items = parts.map(|(name, each)| (name.to_owned(), Value::Amount(amount(each))));
        return Ok(Value::Items(items.collect()));
    }
    if value.is_unit() {
        return Err(Refusal::new("type", "this gives nothing").hint("the last line of a function is what it gives"));
    }
    Ok(Value::Text(Phrase::words(value::described(value))))
}
