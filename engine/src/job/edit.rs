//! A reading put into the text of a job file: remarks, order and layout stay as they are.

use super::entry::Entry;
use super::template;
use crate::diagnostic::Refusal;
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value as Toml};

type Result<T> = std::result::Result<T, Refusal>;

/// Where a reading is put.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Section {
    /// What was measured.
    Measured,
    /// What was decided, or read off a plate.
    Chosen,
    /// A day's readings.
    Session {
        /// The day: `2026-03-14`.
        on: String,
        /// By whom.
        by: Option<String>,
    },
}

impl Section {
    /// A day's readings.
    ///
    /// # Errors
    /// What is no day.
    pub fn session(on: &str, by: Option<&str>) -> Result<Self> {
        let is_day =
            matches!(on.parse::<toml_edit::Datetime>(), Ok(date) if date.date.is_some() && date.time.is_none());
        if !is_day {
            let refusal = Refusal::new("session", format!("`{on}` is no day"));
            return Err(refusal.hint("year, month and day, as 2026-03-14"));
        }
        Ok(Self::Session {
            on: on.to_owned(),
            by: by.map(str::to_owned),
        })
    }
}

/// The text of a job file with a reading entered. Where one of that name stands already, in the section or without a day,
/// it gets the new value; a remark that waits for it gives way to it.
///
/// # Errors
/// A text that is no TOML, or in which the section is something else.
pub fn enter(text: &str, name: &str, entry: &Entry, section: &Section) -> Result<String> {
    // What is written between lines of one kind gets the same ends.
    let returns = text.contains("\r\n") && text.matches('\n').count() == text.matches("\r\n").count();
    let plain = if returns {
        text.replace("\r\n", "\n")
    } else {
        text.to_owned()
    };
    let entered = entered(&plain, name, entry, section)?;
    Ok(if returns {
        entered.replace('\n', "\r\n")
    } else {
        entered
    })
}

fn entered(text: &str, name: &str, entry: &Entry, section: &Section) -> Result<String> {
    let mut document = parse(text)?;
    if let Some(value) = standing(&mut document, name, section) {
        let decor = value.decor().clone();
        *value = entry.value(entry_has_lines(entry));
        *value.decor_mut() = decor;
        return Ok(document.to_string());
    }
    let Some(waiting) = template::waiting(text, name) else {
        return inserted(document, name, entry, section);
    };
    let (before, after) = (text.get(..waiting.start), text.get(waiting.end..));
    let (Some(before), Some(after)) = (before, after) else {
        return inserted(document, name, entry, section);
    };
    if let Section::Session { .. } = section {
        let told = format!("{before}# {name}: see the sessions below{after}");
        return inserted(parse(&told)?, name, entry, section);
    }
    let entered = format!("{before}{name} = {}{after}", entry.toml());
    // What looks like a remark may be part of a text on several lines.
    match adds_only(text, &entered, name) {
        true => Ok(entered),
        false => inserted(document, name, entry, section),
    }
}

fn entry_has_lines(entry: &Entry) -> bool {
    matches!(entry, Entry::List(_))
}

fn parse(text: &str) -> Result<DocumentMut> {
    let parsed = text.parse::<DocumentMut>();
    parsed.map_err(|error| Refusal::new("toml", format!("the job file cannot be read: {}", error.message())))
}

/// Whether one text says what the other does and has a reading more.
fn adds_only(before: &str, after: &str, name: &str) -> bool {
    let (Ok(before), Ok(mut after)) = (before.parse::<toml::Table>(), after.parse::<toml::Table>()) else {
        return false;
    };
    let sections = ["measured", "chosen"].into_iter();
    let removed = sections.filter_map(|section| after.get_mut(section)?.as_table_mut()?.remove(name));
    removed.count() == 1 && before == after
}

/// The value of a reading that stands in the section, or in one without a day.
fn standing<'a>(document: &'a mut DocumentMut, name: &str, section: &Section) -> Option<&'a mut Toml> {
    let has = |item: Option<&Item>| {
        item.and_then(|item| item.as_table_like()?.get(name)?.as_value())
            .is_some()
    };
    if let Section::Session { on, by } = section {
        let (day, by) = (on.as_str(), by.as_deref());
        let sessions = document.get_mut("session")?.as_array_of_tables_mut()?;
        let session = sessions.iter_mut().find(|session| is_of(session, day, by))?;
        return session
            .get_mut("readings")?
            .as_table_like_mut()?
            .get_mut(name)?
            .as_value_mut();
    }
    let key = ["measured", "chosen"].into_iter().find(|key| has(document.get(key)))?;
    document
        .get_mut(key)?
        .as_table_like_mut()?
        .get_mut(name)?
        .as_value_mut()
}

/// The document with a reading at the end of its section.
fn inserted(mut document: DocumentMut, name: &str, entry: &Entry, section: &Section) -> Result<String> {
    let value = entry.value(entry_has_lines(entry));
    match section {
        Section::Measured => insert(document.as_table_mut(), "measured", name, value)?,
        Section::Chosen => insert(document.as_table_mut(), "chosen", name, value)?,
        Section::Session { on, by } => {
            let session = session(&mut document, on, by.as_deref())?;
            insert(session, "readings", name, value)?;
        }
    }
    Ok(document.to_string())
}

/// Puts a value into the table under a key, a new one where there is none.
fn insert(parent: &mut Table, key: &str, name: &str, mut value: Toml) -> Result<()> {
    let item = parent.entry(key).or_insert_with(|| Item::Table(Table::new()));
    if let Some(inline) = item.as_inline_table_mut() {
        // The space before the bracket stays there.
        if let Some((_, last)) = inline.iter_mut().last() {
            let end = last.decor().suffix().cloned().unwrap_or_default();
            last.decor_mut().set_suffix("");
            value.decor_mut().set_prefix(" ");
            value.decor_mut().set_suffix(end);
        }
        inline.insert(name, value);
        return Ok(());
    }
    let Some(table) = item.as_table_like_mut() else {
        return Err(Refusal::new("toml", format!("`{key}` in the job file is no table")));
    };
    table.insert(name, Item::Value(value));
    Ok(())
}

/// The session of a day and a person, new where there is none.
fn session<'a>(document: &'a mut DocumentMut, on: &str, by: Option<&str>) -> Result<&'a mut Table> {
    let item = document.entry("session");
    let item = item.or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(sessions) = item.as_array_of_tables_mut() else {
        let refusal = Refusal::new("toml", "the sessions of the job file stand in one list");
        return Err(refusal.hint("[[session]] on a line of its own begins each"));
    };
    let known = sessions.iter().position(|session| is_of(session, on, by));
    let at = known.unwrap_or(sessions.len());
    if known.is_none() {
        let mut session = Table::new();
        if let Ok(day) = on.parse::<toml_edit::Datetime>() {
            session.insert("on", Item::Value(day.into()));
        }
        if let Some(by) = by {
            session.insert("by", Item::Value(by.into()));
        }
        sessions.push(session);
    }
    let lost = || Refusal::new("toml", "the session cannot be found again");
    sessions.get_mut(at).ok_or_else(lost)
}

fn is_of(session: &Table, on: &str, by: Option<&str>) -> bool {
    let day = session.get("on").and_then(Item::as_datetime).map(ToString::to_string);
    day.as_deref() == Some(on) && session.get("by").and_then(Item::as_str) == by
}
