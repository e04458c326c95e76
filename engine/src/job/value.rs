//! Values as a job file holds them.

use super::csv;
use super::job::Setting;
use super::read::CsvFiles;
use crate::diagnostic::{Diagnostic, Place, Refusal};
use crate::document::{Content, Fields, Item, Key};
use crate::outcome::Origin;
use crate::script::{Given, GivenValue};

type Result<T> = std::result::Result<T, Diagnostic>;

/// A value with its places, and what it was measured with.
pub(crate) struct Written {
    pub(crate) given: Given,
    pub(crate) with: Option<String>,
}

/// Reads the value of an input.
pub(crate) fn written(name: &str, item: &Item, origin: Origin, files: &CsvFiles<'_>) -> Result<Written> {
    let mut reading = Reading {
        places: Vec::new(),
        with: None,
        files,
    };
    let what = reading.value(name, item)?;
    let Reading { places, with, .. } = reading;
    let given = Given { what, origin, places };
    Ok(Written { given, with })
}

/// Reads a table of inputs with their values: `with = { tube_od = "3 in" }`.
pub(crate) fn settings(item: &Item, what: &str, origin: Origin, files: &CsvFiles<'_>) -> Result<Vec<Setting>> {
    let entries = Fields::any(item, what)?.entries().iter();
    let setting = |(key, item): &(Key, Item)| {
        // Of `road speed: axle_ratio` the script knows the last part.
        let name = key.name.rsplit(": ").next().unwrap_or(&key.name);
        Ok(Setting {
            name: key.name.clone(),
            given: written(name, item, origin, files)?.given,
            place: key.place.clone(),
        })
    };
    entries.map(setting).collect()
}

/// Whether a table is one reading of its own kind (repeats, a csv file, a value with its ±), whatever a run is named.
pub(crate) fn is_one_reading(entries: &[(Key, Item)]) -> bool {
    let has = |key: &str| entries.iter().any(|(found, _)| found.name == key);
    let only = |known: &[&str]| entries.iter().all(|(key, _)| known.contains(&key.name.as_str()));
    has("readings") || has("csv") || (has("value") && only(&["value", "plus_minus", "std_dev", "with"]))
}

struct Reading<'a> {
    places: Vec<(String, Place)>,
    with: Option<String>,
    files: &'a CsvFiles<'a>,
}

impl Reading<'_> {
    fn value(&mut self, address: &str, item: &Item) -> Result<GivenValue> {
        self.places.push((address.to_owned(), item.place.clone()));
        #[allow(
            clippy::cast_precision_loss,
            reason = "whole numbers beyond 2^53 are refused where they are read"
        )]
        Ok(match &item.content {
            Content::Text(text) => GivenValue::Text(text.line()),
            Content::Whole(whole) => GivenValue::Number(*whole as f64),
            Content::Number(number) => GivenValue::Number(*number),
            Content::Truth(truth) => GivenValue::Truth(*truth),
            Content::Date(_) => return Err(item.unfit(&format!("`{address}`"), "a reading")),
            Content::List(items) => self.list(address, items)?,
            Content::Table(entries) => self.table(address, item, entries)?,
        })
    }

    fn list(&mut self, address: &str, items: &[Item]) -> Result<GivenValue> {
        let rows = items.iter().enumerate().map(|(number, item)| {
            let key = row_name(item).unwrap_or_else(|| number.to_string());
            self.value(&format!("{address}[{key}]"), item)
        });
        rows.collect::<Result<_>>().map(GivenValue::List)
    }

    fn table(&mut self, address: &str, item: &Item, entries: &[(Key, Item)]) -> Result<GivenValue> {
        let has = |key: &str| entries.iter().any(|(found, _)| found.name == key);
        if has("readings") {
            return self.repeats(item);
        }
        if has("csv") {
            return self.csv(address, item);
        }
        if is_one_reading(entries) {
            return self.single(item);
        }
        let fields = entries.iter().map(|(key, item)| {
            let value = self.value(&format!("{address}.{}", key.name), item)?;
            Ok((key.name.clone(), value))
        });
        fields.collect::<Result<_>>().map(GivenValue::Fields)
    }

    /// `{ readings = ["640 mm", "641 mm"], plus_minus = "1 mm", with = "steel rule" }`
    fn repeats(&mut self, item: &Item) -> Result<GivenValue> {
        let fields = Fields::of(item, "a repeated reading", &["readings", "plus_minus", "with"])?;
        self.measured_with(&fields)?;
        let repeats = fields.list("readings")?.iter().map(|item| as_text(item, "a reading"));
        let repeats = repeats.collect::<Result<Vec<_>>>()?;
        if repeats.is_empty() {
            return Err(Diagnostic::at(
                Refusal::new("readings", "there is no reading in this list"),
                item.place.clone(),
            ));
        }
        let width = fields
            .get("plus_minus")
            .map(|item| as_text(item, "`plus_minus`"))
            .transpose()?;
        Ok(GivenValue::Repeats(repeats, width))
    }

    /// `{ value = "640 mm", plus_minus = "1 mm", with = "steel rule" }`
    fn single(&mut self, item: &Item) -> Result<GivenValue> {
        let fields = Fields::any(item, "a reading")?;
        self.measured_with(&fields)?;
        let Some(value) = fields.get("value") else {
            return Err(fields.lacks("value"));
        };
        let mut widths = Vec::new();
        for (key, word) in [("plus_minus", "+/-"), ("std_dev", "std_dev")] {
            if let Some(width) = fields.get(key) {
                widths.push(format!("{word} {}", as_text(width, &format!("`{key}`"))?));
            }
        }
        match (&widths[..], &value.content) {
            ([], Content::Text(text)) => Ok(GivenValue::Text(text.line())),
            ([], _) => self.value("", value),
            ([width], _) => Ok(GivenValue::Text(format!("{} {width}", as_text(value, "`value`")?))),
            _ => Err(Diagnostic::at(
                Refusal::new("readings", "a reading has a `plus_minus` or a `std_dev`, not both"),
                item.place.clone(),
            )),
        }
    }

    /// `{ csv = "loads.csv" }`
    fn csv(&mut self, address: &str, item: &Item) -> Result<GivenValue> {
        let fields = Fields::of(item, "a table in a file", &["csv", "with"])?;
        self.measured_with(&fields)?;
        let name = fields.needed_file("csv")?;
        let text = (self.files)(&name).map_err(|refusal| Diagnostic::at(refusal, item.place.clone()))?;
        csv::rows(text, address, &mut self.places)
    }

    fn measured_with(&mut self, fields: &Fields<'_>) -> Result<()> {
        if let Some(with) = fields.text("with")? {
            self.with = Some(with);
        }
        Ok(())
    }
}

/// The row's own name, where the table has a column `name`.
fn row_name(item: &Item) -> Option<String> {
    let Content::Table(entries) = &item.content else {
        return None;
    };
    let (_, name) = entries.iter().find(|(key, _)| key.name == "name")?;
    name.text("a name").ok()
}

/// A text, or a number as a person would write it.
fn as_text(item: &Item, what: &str) -> Result<String> {
    match &item.content {
        Content::Whole(whole) => Ok(whole.to_string()),
        Content::Number(number) => Ok(number.to_string()),
        _ => item.text(what),
    }
}
