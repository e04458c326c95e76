//! Lists and maps, item by item.

use super::admit::{Result, Taking};
use super::refused::unfit;
use crate::diagnostic::{Refusal, on_one_line};
use crate::outcome::Spread;
use crate::script::held::Held;
use crate::script::run::GivenValue;
use rhai::{Array, Dynamic, ImmutableString, Map};

impl Taking<'_, '_> {
    pub(super) fn take_list(
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

    pub(super) fn take_map(
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
}

/// The row's own name, where the table has a column `name`: part of addresses, and on one line as all that is shown.
fn row_name(example: &Dynamic, row: Option<&GivenValue>) -> Option<String> {
    let own = example
        .read_lock::<Map>()?
        .get("name")?
        .read_lock::<ImmutableString>()
        .map(|name| on_one_line(&name).into_owned())?;
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
