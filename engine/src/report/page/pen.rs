//! Texts with their numbers, each number that moves with the readings marked by what it shows and how it is written.

use crate::outcome::{Amount, Phrase, Piece, Value};
use crate::quantity::Dimension;
use crate::quantity::units::Scale;
use crate::report::finding::Finding;
use crate::report::lookup::linked;
use crate::report::sheet::Sheet;
use crate::report::written;
use crate::study::Interval;
use crate::tape::Slot;
use maud::{Markup, html};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// How a number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Form {
    /// By itself, as in a note.
    Plain,
    /// With its interval.
    Interval,
    /// With the digits that it takes to calculate on.
    Precise,
}

/// A number that moves: where it stands on the tape, and how it is written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Shown {
    pub(super) slot: Slot,
    pub(super) form: Form,
    pub(super) dimension: Dimension,
    /// Whether it is a point on the temperature scale.
    pub(super) is_point: bool,
    pub(super) style: Option<String>,
    pub(super) signs: Option<(String, String)>,
}

/// Writes a sheet's texts and remembers which numbers move.
pub(super) struct Pen<'a> {
    pub(super) sheet: &'a Sheet<'a>,
    numbers: RefCell<Numbers>,
}

#[derive(Default)]
struct Numbers {
    known: BTreeMap<Shown, usize>,
    in_order: Vec<Shown>,
}

impl<'a> Pen<'a> {
    pub(super) fn new(sheet: &'a Sheet<'a>) -> Self {
        Self {
            sheet,
            numbers: RefCell::default(),
        }
    }

    /// A number by itself.
    pub(super) fn amount(&self, amount: &Amount) -> Markup {
        let text = written::amount(amount, self.sheet.system);
        self.marked(amount, Form::Plain, &text)
    }

    /// A number with its interval.
    pub(super) fn with_interval(&self, amount: &Amount, interval: Option<&Interval>) -> Markup {
        let text = written::with_interval(amount, interval, self.sheet.system);
        self.marked(amount, Form::Interval, &text)
    }

    /// A text with its numbers.
    pub(super) fn phrase(&self, phrase: &Phrase) -> Markup {
        html! { @for piece in &phrase.pieces {
            @match piece {
                Piece::Words(words) => (words),
                Piece::Amount(amount) => (self.amount(amount)),
            }
        } }
    }

    /// A formula with its numbers put in.
    pub(super) fn formula(&self, phrase: &Phrase) -> Markup {
        html! { @for piece in &phrase.pieces {
            @match piece {
                Piece::Words(words) => (words),
                Piece::Amount(amount) => (self.marked(amount, Form::Precise, &written::put_in(amount, self.sheet.system))),
            }
        } }
    }

    /// A value of an input that no reading of this run moves: of a link, with the interval of its step.
    pub(super) fn linked(&self, amount: &Amount) -> Markup {
        match linked(self.sheet, amount) {
            Some(interval) => self.with_interval(amount, Some(interval)),
            None => self.marked(amount, Form::Precise, &written::entered(amount, self.sheet.system)),
        }
    }

    /// What a check is about.
    pub(super) fn label(&self, finding: Finding<'_>) -> Markup {
        match &finding.check.label {
            // What only other samples lead to stands on another tape.
            Some(label) if self.is_nominal(finding) => {
                html! { (self.phrase(label)) @if let Some(samples) = written::in_samples(finding.judged.present) { " (" (samples) ")" } }
            }
            _ => html! { (finding.label(self.sheet)) },
        }
    }

    /// The number of a check among those of its run, where the readings as they are lead to it.
    pub(super) fn number_of(&self, finding: Finding<'_>) -> Option<usize> {
        let checks = &self.sheet.runs.get(finding.run)?.outcome.checks;
        checks.iter().position(|check| std::ptr::eq(check, finding.check))
    }

    pub(super) fn is_nominal(&self, finding: Finding<'_>) -> bool {
        self.number_of(finding).is_some()
    }

    fn marked(&self, amount: &Amount, form: Form, text: &str) -> Markup {
        let Some(slot) = amount.slot else {
            return match amount.aside {
                // It moves, and nothing says how.
                true => html! { i { (text) } },
                false => html! { (text) },
            };
        };
        let number = self.number(Shown {
            slot,
            form,
            dimension: amount.dimension,
            is_point: amount.scale == Scale::Point,
            style: amount.style.clone(),
            signs: amount.signs.clone(),
        });
        html! { span data-n=(number) { (text) } }
    }

    fn number(&self, shown: Shown) -> usize {
        let mut numbers = self.numbers.borrow_mut();
        if let Some(known) = numbers.known.get(&shown) {
            return *known;
        }
        let number = numbers.in_order.len();
        numbers.in_order.push(shown.clone());
        numbers.known.insert(shown, number);
        number
    }
}

/// A value of any kind, as the engine's other reports write it on one line, each number by `number`, which is given its
/// address too: `loads[Wipers].current`.
pub(super) fn value(
    pen: &Pen<'_>,
    found: &Value,
    address: &str,
    number: &dyn Fn(&str, &crate::outcome::Amount) -> Markup,
) -> Markup {
    match found {
        Value::Amount(amount) => number(address, amount),
        Value::Text(text) => pen.phrase(text),
        Value::Count(_) | Value::Truth(_) => html! { (written::value(found, pen.sheet.system)) },
        Value::Items(items) if written::is_list(items) => list(pen, items, address, number),
        Value::Items(items) => fields(pen, items.iter(), address, number),
    }
}

type Number<'n> = dyn Fn(&str, &Amount) -> Markup + 'n;

fn fields<'v>(
    pen: &Pen<'_>,
    items: impl Iterator<Item = &'v (String, Value)>,
    address: &str,
    number: &Number<'_>,
) -> Markup {
    html! { @for (nth, (key, item)) in items.enumerate() {
        @if nth > 0 { ", " }
        (key) " " (value(pen, item, &format!("{address}.{key}"), number))
    } }
}

/// `1 mm, 2 mm`; a table's rows by their names, a line each.
fn list(pen: &Pen<'_>, items: &[(String, Value)], address: &str, number: &Number<'_>) -> Markup {
    let rows = items.iter().any(|(_, item)| matches!(item, Value::Items(_)));
    if rows {
        return html! { @for (key, item) in items { span.r { (row(pen, key, item, address, number)) } } };
    }
    html! { @for (nth, (key, item)) in items.iter().enumerate() {
        @if nth > 0 { ", " }
        (row(pen, key, item, address, number))
    } }
}

fn row(pen: &Pen<'_>, key: &str, item: &Value, address: &str, number: &Number<'_>) -> Markup {
    let Some((name, rest)) = written::named_row(item, pen.sheet.system) else {
        return value(pen, item, &format!("{address}[{key}]"), number);
    };
    html! { (name) ": " (fields(pen, rest.into_iter(), &format!("{address}[{name}]"), number)) }
}
