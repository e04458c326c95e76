//! Taking what is known from a table, refusing what is not.

use super::tree::{Content, Item, Key};
use super::words::Words;
use crate::diagnostic::{Diagnostic, Place, Refusal, nearest};

type Result<T> = std::result::Result<T, Diagnostic>;

/// The fields of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fields<'a> {
    /// What it is the table of, for messages: "a run".
    what: &'a str,
    entries: &'a [(Key, Item)],
    place: &'a Place,
}

impl<'a> Fields<'a> {
    /// Of a table that has no other keys than these.
    ///
    /// # Errors
    /// It is no table; an unknown key.
    pub(crate) fn of(item: &'a Item, what: &'a str, known: &[&str]) -> Result<Self> {
        let fields = Self::any(item, what)?;
        for (key, _) in fields.entries {
            if !known.contains(&key.name.as_str()) {
                let refusal = Refusal::new("unknown key", format!("{what} has no key `{}`", key.name));
                let near = nearest(&key.name, known.iter().copied());
                let hint = near.map_or_else(
                    || format!("its keys are {}", known.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                return Err(Diagnostic::at(refusal.hint(hint), key.place.clone()));
            }
        }
        Ok(fields)
    }

    /// Of a table whose keys are names that the writer chose.
    ///
    /// # Errors
    /// It is no table.
    pub(crate) fn any(item: &'a Item, what: &'a str) -> Result<Self> {
        let Content::Table(entries) = &item.content else {
            return Err(item.unfit(what, "a table"));
        };
        let place = &item.place;
        Ok(Self { what, entries, place })
    }

    pub(crate) fn entries(&self) -> &'a [(Key, Item)] {
        self.entries
    }

    pub(crate) fn get(&self, key: &str) -> Option<&'a Item> {
        let entry = self.entries.iter().find(|(found, _)| found.name == key);
        entry.map(|(_, item)| item)
    }

    /// The text under a key, where there is one.
    pub(crate) fn text(&self, key: &str) -> Result<Option<String>> {
        self.get(key).map(|item| item.text(&format!("`{key}`"))).transpose()
    }

    /// The text that must stand under a key.
    pub(crate) fn needed_text(&self, key: &str) -> Result<String> {
        let text = self.text(key)?.ok_or_else(|| self.lacks(key))?;
        if text.trim().is_empty() {
            return Err(self.lacks(key));
        }
        Ok(text)
    }

    /// The name of a file that must stand under a key, as it was written.
    pub(crate) fn needed_file(&self, key: &str) -> Result<String> {
        self.needed_text(key)?;
        let item = self.get(key).ok_or_else(|| self.lacks(key))?;
        Ok(item.words(&format!("`{key}`"))?.as_written().to_owned())
    }

    /// The name under a key, where there is one: it stands on one line.
    pub(crate) fn name(&self, key: &str) -> Result<Option<String>> {
        self.get(key).map(|item| item.name(&format!("`{key}`"))).transpose()
    }

    /// The name that must stand under a key.
    pub(crate) fn needed_name(&self, key: &str) -> Result<String> {
        self.needed_text(key)?;
        self.name(key)?.ok_or_else(|| self.lacks(key))
    }

    /// The items of the list under a key; none where there is no such key.
    pub(crate) fn list(&self, key: &str) -> Result<&'a [Item]> {
        let Some(item) = self.get(key) else { return Ok(&[]) };
        match &item.content {
            Content::List(items) => Ok(items),
            _ => Err(item.unfit(&format!("`{key}`"), "a list")),
        }
    }

    /// Refuses a table that lacks a key with a text.
    pub(crate) fn lacks(&self, key: &str) -> Diagnostic {
        self.lacks_as(key, "\"…\"")
    }

    /// The same for a key whose value looks so: `{ … }`.
    pub(crate) fn lacks_as(&self, key: &str, value: &str) -> Diagnostic {
        let refusal = Refusal::new("missing key", format!("{} needs `{key}`", self.what));
        Diagnostic::at(refusal.hint(format!("{key} = {value}")), self.place.clone())
    }

    /// Refuses a file of another format than this one: `format = 1`.
    pub(crate) fn format(&self) -> Result<()> {
        let Some(item) = self.get("format") else {
            let refusal = Refusal::new("format", format!("{} says in which format it is written", self.what));
            return Err(Diagnostic::at(refusal.hint("format = 1"), self.place.clone()));
        };
        let refusal = match item.content {
            Content::Whole(1) => return Ok(()),
            Content::Whole(number) if number > 1 => Refusal::new(
                "format",
                format!("this is written in format {number}, this Crankline reads format 1"),
            )
            .hint("read it with a newer Crankline"),
            _ => Refusal::new("format", "the format is a whole number from 1").hint("format = 1"),
        };
        Err(Diagnostic::at(refusal, item.place.clone()))
    }
}

impl Item {
    /// The text that it must be, on one line.
    pub(crate) fn text(&self, what: &str) -> Result<String> {
        self.words(what).map(Words::line)
    }

    /// The name that it must be: it stands on one line.
    pub(crate) fn name(&self, what: &str) -> Result<String> {
        let name = self.words(what)?.name(what);
        name.map_err(|refusal| Diagnostic::at(refusal, self.place.clone()))
    }

    fn words(&self, what: &str) -> Result<&Words> {
        match &self.content {
            Content::Text(words) => Ok(words),
            _ => Err(self.unfit(what, "a text in quotes")),
        }
    }

    /// "`title` must be a text in quotes, this is a number"
    pub(crate) fn unfit(&self, what: &str, wanted: &str) -> Diagnostic {
        let found = match &self.content {
            Content::Text(_) => "a text",
            Content::Whole(_) | Content::Number(_) => "a number",
            Content::Truth(_) => "yes or no",
            Content::Date(_) => "a date",
            Content::List(_) => "a list",
            Content::Table(_) => "a table",
        };
        let message = format!("{what} must be {wanted}, this is {found}");
        Diagnostic::at(Refusal::new("type", message), self.place.clone())
    }
}
