//! The value of an input as somebody would enter it.

use super::super::written;
use crate::job::{Entry, is_bare_number, is_list, is_point};
use crate::outcome::{Amount, Input, Spread, Value};
use crate::quantity::text::{Style, System};
use crate::quantity::units::WrittenUnit;
use crate::script::standard;

/// The value of an input as somebody would enter it, in the units of a reader.
pub(super) fn example(input: &Input, system: System) -> Entry {
    Writer { input, system }.entry(&input.value, &input.name)
}

/// Writes values with their units and ±.
struct Writer<'a> {
    input: &'a Input,
    system: System,
}

impl Writer<'_> {
    fn entry(&self, value: &Value, address: &str) -> Entry {
        match value {
            Value::Amount(amount) => self.amount(amount, address),
            Value::Count(count) => Entry::Bare(count.to_string()),
            Value::Truth(truth) => Entry::Bare(truth.to_string()),
            Value::Text(text) => Entry::Text(written::phrase(text, self.system)),
            Value::Items(items) if is_point(items) => self.point(items, address),
            Value::Items(items) if is_list(items) => {
                let items = items.iter().map(|(key, item)| {
                    let key = row_name(item).unwrap_or_else(|| key.clone());
                    self.entry(item, &format!("{address}[{key}]"))
                });
                Entry::List(items.collect())
            }
            Value::Items(items) => {
                let fields = items.iter();
                let fields = fields.map(|(key, item)| (key.clone(), self.entry(item, &format!("{address}.{key}"))));
                Entry::Fields(fields.collect())
            }
        }
    }

    /// `3.4 deg tail down +/- 0.1 deg`; a plain number without a ± stands without quotes.
    fn amount(&self, amount: &Amount, address: &str) -> Entry {
        let unit = unit(amount, self.system);
        let spread = self.spread_at(address);
        let word = match &amount.signs {
            Some((positive, _)) if amount.si > 0.0 => Some(positive),
            Some((_, negative)) if amount.si < 0.0 => Some(negative),
            _ => None,
        };
        let shown = if word.is_some() { amount.si.abs() } else { amount.si };
        let mut text = with_unit(&number(unit.from_si(shown), SIGNIFICANT), &typed(&unit));
        if let Some(word) = word {
            text = format!("{text} {word}");
        }
        match plus_minus(spread, &unit, amount.si) {
            Some(width) => Entry::Text(format!("{text} {width}")),
            None if amount.dimension.is_none() && is_bare_number(&text) => Entry::Bare(text),
            None => Entry::Text(text),
        }
    }

    /// `(905, 22, -70) mm +/- 1 mm`
    fn point(&self, items: &[(String, Value)], address: &str) -> Entry {
        let each = items.iter().filter_map(|(_, item)| match item {
            Value::Amount(amount) => Some(amount),
            _ => None,
        });
        let each: Vec<&Amount> = each.collect();
        let largest = each
            .iter()
            .copied()
            .reduce(|a, b| if b.si.abs() > a.si.abs() { b } else { a });
        let Some(largest) = largest else {
            return Entry::Text(String::new());
        };
        let unit = unit(largest, self.system);
        let numbers: Vec<String> = each
            .iter()
            .map(|amount| number(unit.from_si(amount.si), SIGNIFICANT))
            .collect();
        let text = with_unit(&format!("({})", numbers.join(", ")), &typed(&unit));
        let spread = self.spread_at(&format!("{address}.x"));
        match plus_minus(spread, &unit, largest.si) {
            Some(width) => Entry::Text(format!("{text} {width}")),
            None => Entry::Text(text),
        }
    }

    fn spread_at(&self, address: &str) -> Spread {
        let mut parts = self.input.parts.iter();
        let part = parts.find(|part| part.address == address);
        part.map_or(Spread::Exact, |part| part.spread)
    }
}

/// The row's own name, where the table has a column `name`.
fn row_name(item: &Value) -> Option<String> {
    let Value::Items(cells) = item else { return None };
    let (_, name) = cells.iter().find(|(key, _)| key == "name")?;
    match name {
        Value::Text(text) => Some(written::phrase(text, System::Metric)),
        _ => None,
    }
}

/// Digits of an example's numbers, and of its ±.
pub(super) const SIGNIFICANT: i32 = 6;
const OF_A_WIDTH: i32 = 3;

/// The unit that a number is entered in.
pub(super) fn unit(amount: &Amount, system: System) -> WrittenUnit {
    let own = amount.style.as_deref();
    let own = own.and_then(|text| Style::parse(text, amount.dimension, amount.scale).ok());
    let style = own.unwrap_or_else(|| Style::usual(amount.dimension, amount.scale, system, amount.si));
    style.shown_unit()
}

/// The unit as people type it: its symbol where that is on every keyboard, else its name.
pub(super) fn typed(unit: &WrittenUnit) -> String {
    match unit {
        WrittenUnit::Single(single) if !single.symbol.is_ascii() => single.name.to_owned(),
        other => other
            .symbol()
            .replace('²', "^2")
            .replace('³', "^3")
            .replace('⁴', "^4")
            .replace('·', " "),
    }
}

fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() {
        number.to_owned()
    } else {
        format!("{number} {unit}")
    }
}

/// `+/- 0.1 deg`; of a temperature in kelvin or the like.
pub(super) fn plus_minus(spread: Spread, unit: &WrittenUnit, at: f64) -> Option<String> {
    let (word, width) = match spread {
        Spread::Exact => return None,
        Spread::Limits(width) => ("+/-", width),
        Spread::Standard(_) | Spread::Repeats { .. } => ("std_dev", standard(&spread)),
    };
    let difference = match unit {
        WrittenUnit::Single(single) if single.symbol == "°C" => "K".to_owned(),
        WrittenUnit::Single(single) if single.symbol == "°F" => "delta_degF".to_owned(),
        other => typed(other),
    };
    let width = number(unit.width_from_si(width, at), OF_A_WIDTH);
    Some(format!("{word} {}", with_unit(&width, &difference)))
}

/// A number to so many figures, without zeros behind them.
pub(super) fn number(value: f64, figures: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let digits = usize::try_from(figures - 1).unwrap_or(0);
    let rounded: f64 = format!("{value:.digits$e}").parse().unwrap_or(value);
    if !(1.0e-6..1.0e15).contains(&rounded.abs()) {
        return format!("{rounded:e}");
    }
    rounded.to_string()
}
