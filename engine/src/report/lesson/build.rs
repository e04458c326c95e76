//! From runs to a lesson: every step a line, the lines of the functions that it calls before it.

use super::answer;
use super::formula::{self, letters};
use super::limit::{Judging, limit_alone};
use super::line::{Answer, Because, Formula, Lesson, Line, Reading};
use super::names::{Names, in_words};
use super::wrong;
use crate::outcome::{Opened, Outcome, Phrase, Step};
use crate::report::cautions::cautions;
use crate::report::sheet::{Sheet, SheetRun};
use crate::report::{readings, written};
use crate::tape::Tape;
use std::collections::BTreeMap;

/// The lesson of what is on a sheet; the tape is that of its runs.
#[must_use]
pub fn lesson(sheet: &Sheet<'_>, tape: &Tape) -> Lesson {
    let mut building = Building {
        sheet,
        tape,
        names: Names::new(sheet.system),
        seen: Vec::new(),
        lesson: Lesson {
            title: sheet.title.clone(),
            about: sheet.about.clone(),
            trial: sheet.is_trial(),
            cautions: cautions(sheet),
            ..Lesson::default()
        },
    };
    for (number, run) in sheet.shown() {
        building.run(number, run);
    }
    building.lesson
}

struct Building<'a> {
    sheet: &'a Sheet<'a>,
    tape: &'a Tape,
    names: Names,
    /// Functions whose lines stand in the lesson.
    seen: Vec<&'a Opened>,
    lesson: Lesson,
}

/// What the lines of a step have in common.
struct Within<'a> {
    run: Option<String>,
    heading: Option<String>,
    words: &'a str,
}

impl<'a> Building<'a> {
    fn run(&mut self, number: usize, run: &'a SheetRun<'a>) {
        self.names.another_run(&run.outcome.inputs);
        self.readings(run);
        let title = self.sheet.in_job.then(|| run.name.clone());
        let mut judging = Judging::new(self.sheet, number);
        for step in &run.outcome.steps {
            self.step(number, step, title.clone(), &mut judging);
        }
        for finding in judging.left() {
            let mut line = limit_alone(self.sheet, finding);
            (line.because, line.definitions) = self.names.because(&line.letters, &Phrase::default(), &BTreeMap::new());
            line.run.clone_from(&title);
            self.push(line);
        }
        self.notes(run.outcome);
    }

    fn text(&self, phrase: &Phrase) -> String {
        written::phrase(phrase, self.sheet.system)
    }

    fn maybe(&self, phrase: Option<&Phrase>) -> Option<String> {
        phrase.map(|phrase| self.text(phrase))
    }

    fn readings(&mut self, run: &SheetRun<'_>) {
        for input in &run.outcome.inputs {
            let reading = Reading {
                heading: self.maybe(input.heading.as_ref()),
                name: in_words(&input.name),
                label: readings::label(input, self.sheet.system),
                value: readings::on_sheet(input, self.sheet),
                assumed: input.assumed,
                per: self.maybe(input.per.as_ref()),
            };
            let told = |known: &Reading| known.name == reading.name && known.value == reading.value;
            if !self.lesson.readings.iter().any(told) {
                self.lesson.readings.push(reading);
            }
        }
    }

    fn notes(&mut self, outcome: &Outcome) {
        for note in &outcome.notes {
            let text = self.text(note);
            if !self.lesson.notes.contains(&text) {
                self.lesson.notes.push(text);
            }
        }
    }

    fn push(&mut self, line: Line) -> usize {
        let number = self.lesson.lines.len() + 1;
        self.lesson.lines.push(Line { number, ..line });
        number
    }

    fn step(&mut self, run: usize, step: &'a Step, title: Option<String>, judging: &mut Judging<'_>) {
        if let Some(place) = &step.place {
            self.names.script(&place.source.text);
        }
        let label = self.maybe(step.label.as_ref());
        let words = label.unwrap_or_else(|| in_words(&step.name));
        let heading = self.maybe(step.heading.as_ref());
        let within = Within {
            run: title.clone(),
            heading: heading.clone(),
            words: &words,
        };
        self.opened(&step.opened, &within);
        let letters = Formula::of(&step.formula);
        let answers = answer::answers(self.sheet, run, step);
        let (because, definitions) = self.names.because(&letters, &step.substituted, &BTreeMap::new());
        let mut line = Line {
            run: title,
            heading,
            step: Some(step.name.clone()),
            words: words.clone(),
            name: in_words(&step.name),
            numbers: self.numbers(&letters, &step.substituted, &answers),
            letters,
            because,
            definitions,
            answers,
            per: self.maybe(step.per.as_ref()),
            limits: judging.of(&step.value),
            ..Line::default()
        };
        line.slips = wrong::of_step(&line, step, self.tape, &self.names, self.sheet.system);
        let number = self.push(line);
        self.names.learn(&step.name, &step.value, Some(number));
    }

    /// A formula with its numbers put in, where that says more than its letters and its answer.
    fn numbers(&self, letters: &Formula, substituted: &Phrase, answers: &[Answer]) -> Option<Formula> {
        let text = written::formula(substituted, self.sheet.system);
        let says_more =
            text != letters.text && answers.iter().all(|answer| answer.full != text && answer.shown != text);
        if !says_more || matches!(text.as_str(), "" | "…") {
            return None;
        }
        let number = |amount: &crate::outcome::Amount| written::put_in(amount, self.sheet.system);
        Some(Formula {
            expression: formula::of_phrase(substituted, &number),
            text,
        })
    }

    /// The lines of the functions that a formula calls, each function once where it is given the same.
    fn opened(&mut self, functions: &'a [Opened], within: &Within<'_>) {
        for function in functions {
            if self.seen.contains(&function) {
                continue;
            }
            self.seen.push(function);
            let mut local: BTreeMap<String, Because> = BTreeMap::new();
            for (name, value) in &function.given {
                let from = self.names.came_from(value);
                let because = Because {
                    name: in_words(name),
                    value: written::formula(value, self.sheet.system),
                    line: from.as_ref().and_then(|from| from.line),
                };
                local.insert(name.clone(), because);
            }
            for line in &function.lines {
                self.opened(&line.opened, within);
                let number = self.function_line(function, line, &local, within);
                if let Some(name) = &line.name {
                    let because = Because {
                        name: in_words(name),
                        value: written::formula(&line.value, self.sheet.system),
                        line: Some(number),
                    };
                    local.insert(name.clone(), because);
                }
            }
        }
    }

    fn function_line(
        &mut self,
        function: &Opened,
        line: &crate::outcome::Line,
        local: &BTreeMap<String, Because>,
        within: &Within<'_>,
    ) -> usize {
        let called = in_words(function.function.rsplit("::").next().unwrap_or(&function.function));
        let letters = Formula::of(&line.formula);
        let answers = answer::of_phrase(&line.value, self.sheet.system);
        let (because, definitions) = self.names.because(&letters, &Phrase::default(), local);
        let words = match &line.name {
            Some(name) => format!("{called}: {}", in_words(name)),
            None => format!("{called}: what it gives"),
        };
        self.push(Line {
            run: within.run.clone(),
            heading: within.heading.clone(),
            toward: Some(within.words.to_owned()),
            words,
            name: line.name.as_deref().map_or(called, in_words),
            numbers: self.numbers(&letters, &line.substituted, &answers),
            letters,
            because,
            definitions,
            answers,
            ..Line::default()
        })
    }
}

/// The letters of a formula, for a test of the renderer: nothing where it is shown as it is written.
#[must_use]
pub fn in_letters(formula: &str) -> Option<String> {
    formula::of_script(formula).as_ref().map(letters)
}
