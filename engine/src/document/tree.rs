//! From a TOML text to keys and values with their places.

use super::words::Words;
use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText, refuse_hidden, refuse_hidden_in, refuse_lines};
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value and where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    pub(crate) content: Content,
    pub(crate) place: Place,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(crate) enum Content {
    Text(Words),
    /// A whole number that a float holds exactly.
    Whole(i64),
    /// A finite number.
    Number(f64),
    Truth(bool),
    /// A day or a time, as the standard writes it: `2026-03-14`.
    Date(String),
    List(Vec<Item>),
    /// In the order written.
    Table(Vec<(Key, Item)>),
}

/// A key and where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    pub(crate) name: String,
    pub(crate) place: Place,
}

/// Beyond this not every whole number has a float of its own.
const LARGEST_WHOLE: i64 = 1 << 53;

/// Reads a TOML text.
///
/// # Errors
/// What is no TOML, a number that is not finite or too large, a text with a character that a screen acts on, with the
/// place.
pub(crate) fn parse(source: &Arc<SourceText>) -> Result<Item, Diagnostic> {
    refuse_hidden_in(source)?;
    let lines = Lines::new(source);
    let root = DeTable::parse(&source.text).map_err(|error| {
        // The first line says it; the rest draws the place, which is ours to draw.
        let message = error.message().lines().next().unwrap_or("this cannot be read");
        let message = match message.contains("recurs") {
            true => "lists or tables stand too deep inside one another",
            false => message,
        };
        let place = lines.place(&error.span().unwrap_or(0..0));
        Diagnostic::at(Refusal::new("toml", format!("this is no TOML: {message}")), place)
    })?;
    let place = lines.place(&(0..0));
    let content = Content::Table(entries(root.get_ref(), &lines)?);
    Ok(Item { content, place })
}

fn entries(table: &DeTable<'_>, lines: &Lines<'_>) -> Result<Vec<(Key, Item)>, Diagnostic> {
    let entry = |(key, value): (&Spanned<std::borrow::Cow<'_, str>>, &Spanned<DeValue<'_>>)| {
        let name = key.get_ref().to_string();
        let place = lines.place(&key.span());
        refuse_hidden(&name, "this name")
            .and_then(|()| refuse_lines(&name, "a name"))
            .map_err(|refusal| Diagnostic::at(refusal, place.clone()))?;
        Ok((Key { name, place }, item(value, lines)?))
    };
    table.iter().map(entry).collect()
}

fn item(value: &Spanned<DeValue<'_>>, lines: &Lines<'_>) -> Result<Item, Diagnostic> {
    let place = lines.place(&value.span());
    let content = match value.get_ref() {
        DeValue::String(text) => {
            refuse_hidden(text, "this text").map_err(|refusal| Diagnostic::at(refusal, place.clone()))?;
            Content::Text(Words::of(text))
        }
        DeValue::Boolean(truth) => Content::Truth(*truth),
        DeValue::Datetime(when) => Content::Date(when.to_string()),
        DeValue::Integer(whole) => {
            let number = i64::from_str_radix(whole.as_str(), whole.radix()).ok();
            let number = number.filter(|number| (-LARGEST_WHOLE..=LARGEST_WHOLE).contains(number));
            Content::Whole(number.ok_or_else(|| too_large(whole.as_str(), &place))?)
        }
        DeValue::Float(float) => {
            let number = float.as_str().parse::<f64>().ok().filter(|number| number.is_finite());
            Content::Number(number.ok_or_else(|| too_large(float.as_str(), &place))?)
        }
        DeValue::Array(items) => {
            let items = items.iter().map(|value| item(value, lines));
            Content::List(items.collect::<Result<_, _>>()?)
        }
        DeValue::Table(table) => Content::Table(entries(table, lines)?),
    };
    Ok(Item { content, place })
}

fn too_large(number: &str, place: &Place) -> Diagnostic {
    let message = format!("{number} is not a number that can be calculated with");
    Diagnostic::at(Refusal::new("number", message), place.clone())
}

/// Where the lines of a text start.
pub(crate) struct Lines<'a> {
    source: &'a Arc<SourceText>,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(crate) fn new(source: &'a Arc<SourceText>) -> Self {
        let starts = source.text.match_indices('\n').map(|(at, _)| at + 1);
        let starts = std::iter::once(0).chain(starts).collect();
        Self { source, starts }
    }

    /// The place of some bytes of the text: as much of them as stands on their first line.
    pub(crate) fn place(&self, range: &Range<usize>) -> Place {
        let text = &self.source.text;
        let line = self.starts.partition_point(|start| *start <= range.start).max(1);
        let line_start = self.starts.get(line - 1).copied().unwrap_or(0);
        let before = text.get(line_start..range.start).unwrap_or("");
        let meant = text.get(range.clone()).unwrap_or("");
        let meant = meant.lines().next().unwrap_or("").trim_end();
        Place {
            source: Arc::clone(self.source),
            line,
            column: before.chars().count() + 1,
            width: meant.chars().count().max(1),
        }
    }
}
