//! What the names in a formula stand for, and where their numbers came from.

use super::formula::of_script;
use super::line::{Because, Formula};
use crate::outcome::{Amount, Input, Phrase, Piece, Value};
use crate::quantity::Dimension;
use crate::quantity::text::System;
use crate::report::written;
use crate::tape::Slot;
use std::collections::BTreeMap;

/// Names known so far, and numbers by their place on the tape.
pub(super) struct Names {
    system: System,
    /// Readings and steps of this run.
    known: BTreeMap<String, Known>,
    /// `let` at the top level of the script.
    definitions: BTreeMap<String, String>,
    /// Of all runs so far.
    slots: BTreeMap<Slot, Known>,
}

#[derive(Clone)]
struct Known {
    value: Value,
    name: String,
    line: Option<usize>,
}

impl Names {
    pub(super) fn new(system: System) -> Self {
        Self {
            system,
            known: BTreeMap::new(),
            definitions: BTreeMap::new(),
            slots: BTreeMap::new(),
        }
    }

    /// Another run: its names are its own, what stands on the tape stays known.
    pub(super) fn another_run(&mut self, inputs: &[Input]) {
        self.known.clear();
        self.definitions.clear();
        for input in inputs {
            self.learn(&input.name, &input.value, None);
        }
        for input in inputs {
            for part in &input.parts {
                if let Some(amount) = crate::report::readings::amount_in(&input.value, part.slot) {
                    let known = Known {
                        value: Value::Amount(amount.clone()),
                        name: part.address.clone(),
                        line: None,
                    };
                    self.slots.insert(part.slot, known);
                }
            }
        }
    }

    /// The script's definitions.
    pub(super) fn script(&mut self, text: &str) {
        if self.definitions.is_empty() {
            self.definitions = definitions(text);
        }
    }

    /// A reading, or a step with its line.
    pub(super) fn learn(&mut self, name: &str, value: &Value, line: Option<usize>) {
        self.learn_slots(name, value, line);
        let known = Known {
            value: value.clone(),
            name: name.to_owned(),
            line,
        };
        self.known.insert(name.to_owned(), known);
    }

    fn learn_slots(&mut self, name: &str, value: &Value, line: Option<usize>) {
        match value {
            Value::Amount(amount) => {
                if let Some(slot) = amount.slot {
                    self.slots.entry(slot).or_insert_with(|| Known {
                        value: value.clone(),
                        name: name.to_owned(),
                        line,
                    });
                }
            }
            Value::Items(items) => {
                for (key, item) in items {
                    self.learn_slots(&format!("{name}.{key}"), item, line);
                }
            }
            _ => {}
        }
    }

    /// What a number measures that is known.
    pub(super) fn dimensions(&self) -> BTreeMap<Slot, Dimension> {
        let slots = self.slots.iter().filter_map(|(slot, known)| match &known.value {
            Value::Amount(amount) => Some((*slot, amount.dimension)),
            _ => None,
        });
        slots.collect()
    }

    /// Whether a number is a reading.
    pub(super) fn is_reading(&self, slot: Slot) -> bool {
        self.slots.get(&slot).is_some_and(|known| known.line.is_none())
    }

    /// A number's name and how it is written.
    pub(super) fn named(&self, slot: Slot) -> Option<(&str, &Amount)> {
        let known = self.slots.get(&slot)?;
        match &known.value {
            Value::Amount(amount) => Some((&known.name, amount)),
            _ => None,
        }
    }

    /// The reading or the line that a number is, where it is one alone.
    pub(super) fn came_from(&self, phrase: &Phrase) -> Option<Because> {
        match phrase.pieces.as_slice() {
            [Piece::Amount(amount)] => {
                let known = self.slots.get(&amount.slot?)?;
                Some(self.shown(known, &known.name, &known.value))
            }
            _ => None,
        }
    }

    /// Where a formula's numbers came from, and what its other names stand for. `local` are names of a function.
    pub(super) fn because(
        &self,
        formula: &Formula,
        substituted: &Phrase,
        local: &BTreeMap<String, Because>,
    ) -> (Vec<Because>, Vec<(String, Formula)>) {
        let mut found = Found::default();
        self.of_formula(formula, local, &mut found);
        // A loop's own names are nobody's: there the tape says which numbers stand in it.
        for piece in &substituted.pieces {
            let Piece::Amount(amount) = piece else { continue };
            let known = amount.slot.and_then(|slot| self.slots.get(&slot));
            if let Some(known) = known.filter(|_| found.unknown) {
                found.because(self.shown(known, &known.name, &known.value));
            }
        }
        (found.because, found.definitions)
    }

    fn of_formula(&self, formula: &Formula, local: &BTreeMap<String, Because>, found: &mut Found) {
        let Some(expression) = &formula.expression else { return };
        let mut defined = Vec::new();
        expression.names(&mut |name, members| {
            if let Some(because) = local.get(name) {
                found.because(because.clone());
            } else if let Some(known) = self.known.get(name) {
                let (name, value) = within(known, name, members);
                found.because(self.shown(known, &name, value));
            } else if let Some(text) = self.definitions.get(name) {
                defined.push((name.to_owned(), text));
            } else if name != "PI" {
                found.unknown = true;
            }
        });
        for (name, text) in defined {
            if found.definitions.iter().any(|(known, _)| *known == in_words(&name)) {
                continue;
            }
            let formula = Formula::of(text);
            found.definitions.push((in_words(&name), formula.clone()));
            self.of_formula(&formula, local, found);
        }
    }

    fn shown(&self, known: &Known, name: &str, value: &Value) -> Because {
        Because {
            name: in_words(name),
            value: match value {
                Value::Amount(amount) if known.line.is_some() => written::amount(amount, self.system),
                other => written::value(other, self.system),
            },
            line: known.line,
        }
    }
}

#[derive(Default)]
struct Found {
    because: Vec<Because>,
    definitions: Vec<(String, Formula)>,
    unknown: bool,
}

impl Found {
    fn because(&mut self, because: Because) {
        if !self.because.iter().any(|known| known.name == because.name) {
            self.because.push(because);
        }
    }
}

/// The part of a value that a formula asks for, with its name: `front_harmonic.re`.
fn within<'a>(known: &'a Known, name: &str, members: &[&str]) -> (String, &'a Value) {
    let (mut name, mut value) = (name.to_owned(), &known.value);
    for member in members {
        let Value::Items(items) = value else { break };
        let Some((_, item)) = items.iter().find(|(key, _)| key == member) else {
            break;
        };
        name = format!("{name}.{member}");
        value = item;
    }
    (name, value)
}

/// A name as a formula in letters has it: `re of front harmonic`.
pub(super) fn in_words(name: &str) -> String {
    let plain = name.replace('_', " ");
    match plain.split_once('.') {
        Some((owner, member)) => format!("{member} of {owner}"),
        None => plain,
    }
}

/// What stands behind `let NAME =` at the left edge of a script, comments left out.
fn definitions(text: &str) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        let Some((name, rest)) = line.strip_prefix("let ").and_then(|rest| rest.split_once('=')) else {
            continue;
        };
        let mut formula = rest.trim().to_owned();
        while !formula.ends_with(';') {
            // A comment may follow on the line.
            if let Some((before, _)) = formula.split_once(";") {
                formula = format!("{before};");
                break;
            }
            let Some(more) = lines.next() else { break };
            formula.push(' ');
            formula.push_str(more.trim());
        }
        let formula = formula.trim_end_matches(';').to_owned();
        found.entry(name.trim().to_owned()).or_insert(formula);
    }
    found
}

impl Formula {
    /// Of a script's text.
    pub(super) fn of(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            expression: of_script(text),
        }
    }

    /// On one line.
    pub(super) fn letters(&self) -> String {
        match &self.expression {
            Some(expression) => super::formula::letters(expression),
            None => self.text.clone(),
        }
    }
}
