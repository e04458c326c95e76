//! Every slot that an outcome shows.

use crate::outcome::{Amount, Input, Line, Opened, Outcome, Phrase, Piece, Step, Test, Value};
use crate::tape::Slot;

/// The slots of all numbers that stand in an outcome, some of them more than once.
pub(super) fn slots(outcome: &Outcome) -> Vec<Slot> {
    let mut found = Found(Vec::new());
    for input in &outcome.inputs {
        found.input(input);
    }
    for step in &outcome.steps {
        found.step(step);
    }
    for check in &outcome.checks {
        found.test(&check.test);
        found.phrases([&check.label, &check.per, &check.heading]);
    }
    let remarks = outcome.notes.iter().chain(&outcome.cautions).chain(&outcome.doubts);
    remarks.for_each(|phrase| found.phrase(phrase));
    found.0
}

struct Found(Vec<Slot>);

impl Found {
    fn input(&mut self, input: &Input) {
        self.value(&input.value);
        self.0.extend(input.parts.iter().map(|part| part.slot));
        self.phrases([&input.label, &input.how, &input.per]);
        self.phrases([&input.heading]);
    }

    fn step(&mut self, step: &Step) {
        self.value(&step.value);
        self.phrase(&step.substituted);
        self.phrases([&step.label, &step.per, &step.heading]);
        step.opened.iter().for_each(|opened| self.opened(opened));
    }

    fn opened(&mut self, opened: &Opened) {
        opened.given.iter().for_each(|(_, given)| self.phrase(given));
        opened.lines.iter().for_each(|line| self.line(line));
    }

    fn line(&mut self, line: &Line) {
        self.phrase(&line.substituted);
        self.phrase(&line.value);
        line.opened.iter().for_each(|opened| self.opened(opened));
    }

    fn test(&mut self, test: &Test) {
        match test {
            Test::Sides { left, right, .. } => [left, right].into_iter().for_each(|side| self.value(side)),
            Test::Between { value, low, high } => [value, low, high].into_iter().for_each(|side| self.amount(side)),
            Test::Truth(_) => {}
        }
    }

    fn value(&mut self, value: &Value) {
        match value {
            Value::Amount(amount) => self.amount(amount),
            Value::Text(phrase) => self.phrase(phrase),
            Value::Items(items) => items.iter().for_each(|(_, item)| self.value(item)),
            Value::Count(_) | Value::Truth(_) => {}
        }
    }

    fn phrases<const COUNT: usize>(&mut self, phrases: [&Option<Phrase>; COUNT]) {
        phrases.into_iter().flatten().for_each(|phrase| self.phrase(phrase));
    }

    fn phrase(&mut self, phrase: &Phrase) {
        for piece in &phrase.pieces {
            if let Piece::Amount(amount) = piece {
                self.amount(amount);
            }
        }
    }

    fn amount(&mut self, amount: &Amount) {
        self.0.extend(amount.slot);
    }
}
