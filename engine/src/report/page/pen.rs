//! Texts with their numbers, each number that moves with the readings marked by what it shows and how it is written.

use super::isolated::{isolated, isolated_phrase};
use super::writing::writing;
use crate::outcome::{Amount, Phrase, Piece, Value};
use crate::report::finding::Finding;
use crate::report::lookup::linked;
use crate::report::sheet::Sheet;
use crate::report::written;
use crate::study::{Carried, Interval};
use maud::{Markup, html};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// How a number is written: its number in the page's data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    /// By itself, as in a note.
    Plain = 0,
    /// With its interval.
    Interval = 1,
    /// With the digits that it takes to calculate on.
    Precise = 2,
}

/// Writes a sheet's texts and remembers which numbers move.
pub(super) struct Pen<'a> {
    pub(super) sheet: &'a Sheet<'a>,
    pub(super) carried: &'a Carried,
    marks: RefCell<Marks>,
    /// How readings are taken, as far as the page has said so: a reading of several runs is told once.
    told: RefCell<BTreeSet<(String, String)>>,
    /// What moves in each picture.
    pictures: RefCell<Vec<serde_json::Value>>,
}

/// What marks on the page stand for, each once.
#[derive(Debug, Default)]
pub(super) struct Marks {
    /// How numbers are written.
    pub(super) specs: Table<String>,
    /// Place, spec, form.
    pub(super) shown: Table<[usize; 3]>,
    /// Input, spec, whether its ± stands elsewhere.
    pub(super) readings: Table<[usize; 3]>,
    /// Run, and where on the tape it comes there: line, guard.
    pub(super) positions: Table<[usize; 3]>,
}

/// Things in the order in which they were first met.
#[derive(Debug)]
pub(super) struct Table<T> {
    known: BTreeMap<T, usize>,
    pub(super) in_order: Vec<T>,
}

impl<T> Default for Table<T> {
    fn default() -> Self {
        Self {
            known: BTreeMap::new(),
            in_order: Vec::new(),
        }
    }
}

impl<T: Ord + Clone> Table<T> {
    fn number(&mut self, entry: T) -> usize {
        if let Some(known) = self.known.get(&entry) {
            return *known;
        }
        let number = self.in_order.len();
        self.in_order.push(entry.clone());
        self.known.insert(entry, number);
        number
    }
}

impl<'a> Pen<'a> {
    pub(super) fn new(sheet: &'a Sheet<'a>, carried: &'a Carried) -> Self {
        Self {
            sheet,
            carried,
            marks: RefCell::default(),
            told: RefCell::default(),
            pictures: RefCell::default(),
        }
    }

    /// What its marks stand for, and what moves in its pictures.
    pub(super) fn done(self) -> (Marks, Vec<serde_json::Value>) {
        (self.marks.into_inner(), self.pictures.into_inner())
    }

    /// The name of the next picture: by its number.
    pub(super) fn next_picture(&self) -> String {
        format!("picture-{}", self.pictures.borrow().len())
    }

    /// Remembers what moves in a picture.
    pub(super) fn keep_picture(&self, scene: serde_json::Value) {
        self.pictures.borrow_mut().push(scene);
    }

    /// A number in a picture's words.
    pub(super) fn in_picture(&self, amount: &Amount, words: &str) -> Markup {
        match self.mark(amount, Form::Plain) {
            Some(number) => html! { tspan data-n=(number) { (words) } },
            None => html! { (words) },
        }
    }

    /// The number of the way to write an amount.
    pub(super) fn spec(&self, amount: &Amount) -> usize {
        let spec = writing(amount, self.sheet.system).to_string();
        self.marks.borrow_mut().specs.number(spec)
    }

    /// The mark of a part of the page that a run comes to at a position; none where that is not known.
    pub(super) fn position(&self, run: usize, at: Option<&[usize; 2]>) -> Option<usize> {
        let [line, guard] = at?;
        Some(self.marks.borrow_mut().positions.number([run, *line, *guard]))
    }

    /// The mark of a number of an input; `bare`: its ± stands elsewhere.
    pub(super) fn reading(&self, input: usize, amount: &Amount, bare: bool) -> usize {
        let spec = self.spec(amount);
        self.marks
            .borrow_mut()
            .readings
            .number([input, spec, usize::from(bare)])
    }

    /// Whether the page has not yet said how a reading is taken.
    pub(super) fn is_new(&self, name: &str, how: &Phrase) -> bool {
        let how = written::phrase(how, self.sheet.system);
        self.told.borrow_mut().insert((name.to_owned(), how))
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
        let written = html! { @for piece in &phrase.pieces {
            @match piece {
                Piece::Words(words) => (words),
                Piece::Amount(amount) => (self.amount(amount)),
            }
        } };
        isolated_phrase(phrase, written)
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
    fn number_in_run(&self, finding: Finding<'_>) -> Option<usize> {
        let checks = &self.sheet.runs.get(finding.run)?.outcome.checks;
        checks.iter().position(|check| std::ptr::eq(check, finding.check))
    }

    /// The same among those of all runs.
    pub(super) fn number_of(&self, finding: Finding<'_>) -> Option<usize> {
        let before = self.sheet.runs.iter().take(finding.run);
        let before: usize = before.map(|run| run.outcome.checks.len()).sum();
        Some(before + self.number_in_run(finding)?)
    }

    /// The mark of where its run comes to it.
    pub(super) fn position_of(&self, finding: Finding<'_>) -> Option<usize> {
        let number = self.number_in_run(finding)?;
        let at = self.carried.reached.get(finding.run)?.checks.get(number);
        self.position(finding.run, at)
    }

    pub(super) fn is_nominal(&self, finding: Finding<'_>) -> bool {
        self.number_in_run(finding).is_some()
    }

    fn marked(&self, amount: &Amount, form: Form, text: &str) -> Markup {
        match self.mark(amount, form) {
            Some(number) => html! { i data-n=(number) { (text) } },
            // It moves, and nothing says how.
            None if amount.aside => html! { u { (text) } },
            None => html! { (text) },
        }
    }

    /// The mark of a number that moves.
    fn mark(&self, amount: &Amount, form: Form) -> Option<usize> {
        let place = *self.carried.places.get(&amount.slot?)?;
        let spec = self.spec(amount);
        let entry = [place as usize, spec, form as usize];
        Some(self.marks.borrow_mut().shown.number(entry))
    }
}

/// The elements of numbers that move, without their marks, and the marks in the order of these elements: they are many.
pub(super) fn without_marks(body: &str) -> (String, Vec<usize>) {
    let mut marks = Vec::new();
    let mut bare = String::with_capacity(body.len());
    // A `<` in a text is escaped.
    let mut pieces = body.split("<i data-n=\"");
    bare.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        let (mark, rest) = piece.split_once("\">").unwrap_or_default();
        marks.extend(mark.parse::<usize>());
        bare.push_str("<i>");
        bare.push_str(rest);
    }
    (bare, marks)
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
        (isolated(key)) " " (value(pen, item, &format!("{address}.{key}"), number))
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
    html! { (isolated(&name)) ": " (fields(pen, rest.into_iter(), &format!("{address}[{name}]"), number)) }
}
