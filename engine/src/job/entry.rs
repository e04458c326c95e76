//! A reading as somebody enters it: what kind of value it is, an answer to it, and that as TOML.

use crate::outcome::Value;
use toml_edit::{Array, InlineTable, Value as Toml};

/// What is entered for a reading, as a job file holds it.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// What stands in quotes: `"3.4 deg +/- 0.1 deg"`.
    Text(String),
    /// What stands without: a plain number, a count, yes or no.
    Bare(String),
    /// One after the other: points, the rows of a table.
    List(Vec<Entry>),
    /// A row's cells under their names.
    Fields(Vec<(String, Entry)>),
}

/// What kind of value a reading is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// One quantity.
    Quantity,
    /// Three numbers with one ±.
    Point,
    /// A whole number that counts.
    Count,
    /// A text.
    Text,
    /// Yes or no.
    YesNo,
    /// Several of one kind, one after the other.
    List(Box<Kind>),
    /// Rows of cells under the names of columns.
    Table(Vec<Column>),
    /// One such row.
    Row(Vec<Column>),
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// What its cells are.
    pub kind: Kind,
}

impl Kind {
    /// Of a value.
    #[must_use]
    pub fn of(value: &Value) -> Self {
        match value {
            Value::Amount(_) => Self::Quantity,
            Value::Count(_) => Self::Count,
            Value::Text(_) => Self::Text,
            Value::Truth(_) => Self::YesNo,
            Value::Items(items) if is_point(items) => Self::Point,
            Value::Items(items) => match (is_list(items), items.first()) {
                (true, Some((_, first))) => match Self::of(first) {
                    Self::Row(columns) => Self::Table(columns),
                    kind => Self::List(Box::new(kind)),
                },
                _ => Self::Row(items.iter().map(column).collect()),
            },
        }
    }

    /// Whether it is entered line by line.
    #[must_use]
    pub const fn has_rows(&self) -> bool {
        matches!(self, Self::List(_) | Self::Table(_))
    }
}

fn column((name, value): &(String, Value)) -> Column {
    let name = name.clone();
    let kind = Kind::of(value);
    Column { name, kind }
}

pub(crate) fn is_point(items: &[(String, Value)]) -> bool {
    let named = items.iter().map(|(key, _)| key.as_str()).eq(["x", "y", "z"]);
    named && items.iter().all(|(_, item)| matches!(item, Value::Amount(_)))
}

pub(crate) fn is_list(items: &[(String, Value)]) -> bool {
    let mut numbered = items.iter().enumerate();
    !items.is_empty() && numbered.all(|(number, (key, _))| *key == number.to_string())
}

impl Entry {
    /// An answer of somebody who was asked for a value of a kind. Whether it is right is for whoever reads it to say.
    ///
    /// Cells of a row stand between semicolons. So do repeats of a quantity or a point; a ± after the last of them is the
    /// instrument's.
    #[must_use]
    pub fn of_answer(kind: &Kind, answer: &str) -> Self {
        let answer = answer.trim();
        match kind {
            Kind::Text => Self::Text(unquoted(answer).to_owned()),
            Kind::Count | Kind::Quantity if is_bare_number(answer) => Self::Bare(answer.to_owned()),
            Kind::YesNo => match answer.to_lowercase().as_str() {
                "yes" | "y" | "true" => Self::Bare("true".to_owned()),
                "no" | "n" | "false" => Self::Bare("false".to_owned()),
                _ => Self::Text(answer.to_owned()),
            },
            Kind::Quantity | Kind::Point if answer.contains(';') => repeats(answer),
            Kind::Row(columns) | Kind::Table(columns) => {
                let cells = answer.split(';').map(str::trim);
                let named = columns.iter().map(Some).chain(std::iter::repeat(None)).zip(cells);
                let named = named.enumerate().map(|(number, (column, cell))| match column {
                    Some(column) => (column.name.clone(), Self::of_answer(&column.kind, cell)),
                    // One cell too many has no column: whoever reads it says so.
                    None => (format!("cell {}", number + 1), Self::Text(cell.to_owned())),
                });
                Self::Fields(named.collect())
            }
            Kind::List(kind) => Self::of_answer(kind, answer),
            _ => Self::Text(answer.to_owned()),
        }
    }

    /// As TOML writes it; a list one item a line.
    #[must_use]
    pub fn toml(&self) -> String {
        self.value(true).to_string().trim().to_owned()
    }

    /// As TOML holds it; `lines`: a list has one item a line.
    pub(super) fn value(&self, lines: bool) -> Toml {
        match self {
            Self::Text(text) => Toml::from(text.as_str()),
            Self::Bare(text) => text.parse().unwrap_or_else(|_| Toml::from(text.as_str())),
            Self::List(items) => {
                let mut array = Array::new();
                for item in items {
                    let mut value = item.value(false);
                    if lines {
                        value.decor_mut().set_prefix("\n    ");
                    }
                    array.push_formatted(value);
                }
                array.set_trailing_comma(lines);
                array.set_trailing(if lines { "\n" } else { "" });
                Toml::Array(array)
            }
            Self::Fields(fields) => {
                let mut table = InlineTable::new();
                for (name, field) in fields {
                    table.insert(name, field.value(false));
                }
                Toml::InlineTable(table)
            }
        }
    }

    /// As it is typed: rows one after the other with semicolons between their cells.
    #[must_use]
    pub fn answer(&self) -> Vec<String> {
        match self {
            Self::Text(text) | Self::Bare(text) => vec![text.clone()],
            Self::List(items) => items.iter().map(|item| item.answer().join("; ")).collect(),
            Self::Fields(fields) => {
                let cells = fields.iter().map(|(_, field)| field.answer().join(" "));
                vec![cells.collect::<Vec<_>>().join("; ")]
            }
        }
    }
}

/// What a text is without the quotes that somebody may have put round it.
fn unquoted(text: &str) -> &str {
    let inner = text.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    inner.unwrap_or(text)
}

/// A number that people and TOML write alike.
pub(crate) fn is_bare_number(text: &str) -> bool {
    let plain = text.chars().all(|c| c.is_ascii_digit() || "+-.eE".contains(c));
    plain && matches!(text.parse(), Ok(Toml::Integer(_) | Toml::Float(_)))
}

/// `3.4 deg; 3.5 deg; 3.3 deg +/- 0.1 deg`
fn repeats(answer: &str) -> Entry {
    let mut readings: Vec<&str> = answer
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let last = readings.last().copied().unwrap_or("");
    let split = ["+/-", "±", "plus_minus"]
        .into_iter()
        .find_map(|mark| last.split_once(mark));
    if let (Some((value, _)), Some(place)) = (split, readings.last_mut()) {
        *place = value.trim();
    }
    let text = |text: &str| Entry::Text(text.trim().to_owned());
    let list = Entry::List(readings.into_iter().map(text).collect());
    let width = split.map(|(_, width)| ("plus_minus".to_owned(), text(width)));
    Entry::Fields(std::iter::once(("readings".to_owned(), list)).chain(width).collect())
}
