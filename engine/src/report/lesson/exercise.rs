//! Exercise sheets: the lesson's lines with readings of their own and boxes for the answers.

use super::line::{Answer, Lesson, Line};
use crate::study::DrawnReading;

/// Exercise sheets of one seed.
#[derive(Clone, Debug)]
pub struct Exercises {
    /// The script's name, or the job's title.
    pub(super) title: String,
    /// What drew the readings.
    pub(super) seed: u64,
    /// The sheets.
    pub(super) sheets: Vec<ExerciseSheet>,
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct ExerciseSheet {
    /// Its number: with the seed it makes the readings.
    pub(super) number: u64,
    /// The lines worked out with its readings.
    pub(super) lesson: Lesson,
    /// The readings that were drawn, as they are entered.
    pub(super) readings: Vec<DrawnReading>,
}

/// A line that is asked, with the lines of functions that stand before it.
pub(super) struct Question<'a> {
    pub(super) line: &'a Line,
    pub(super) on_the_way: Vec<&'a Line>,
}

impl Exercises {
    /// Of sheets in their order.
    #[must_use]
    pub fn new(title: String, seed: u64, sheets: Vec<ExerciseSheet>) -> Self {
        Self { title, seed, sheets }
    }

    /// Every line that is asked on any sheet, by its step's name: its number and words, then the answers by sheet.
    pub(super) fn table(&self) -> Vec<Row<'_>> {
        let mut rows: Vec<Row<'_>> = Vec::new();
        for (at, sheet) in self.sheets.iter().enumerate() {
            for (number, question) in sheet.questions().into_iter().enumerate() {
                for answer in question.answers() {
                    let name = question.line.asked_as(&answer.key);
                    let found = rows
                        .iter()
                        .position(|row| row.name == name && row.run == question.line.run);
                    let row = match found {
                        Some(row) => row,
                        None => {
                            rows.push(Row {
                                number: number + 1,
                                run: question.line.run.clone(),
                                words: question.line.words.clone(),
                                name,
                                answers: vec![None; self.sheets.len()],
                            });
                            rows.len() - 1
                        }
                    };
                    if let Some(cell) = rows.get_mut(row).and_then(|row| row.answers.get_mut(at)) {
                        *cell = Some(answer);
                    }
                }
            }
        }
        rows
    }
}

/// A line of the table of answers.
pub(super) struct Row<'a> {
    pub(super) number: usize,
    pub(super) run: Option<String>,
    pub(super) words: String,
    pub(super) name: String,
    /// By sheet; a sheet on which the script goes another way may not ask it.
    pub(super) answers: Vec<Option<&'a Answer>>,
}

impl ExerciseSheet {
    /// A sheet of a lesson worked out with the readings drawn for it.
    #[must_use]
    pub fn new(number: u64, lesson: Lesson, readings: Vec<DrawnReading>) -> Self {
        Self {
            number,
            lesson,
            readings,
        }
    }

    /// The lines that are asked: those with a number for an answer.
    pub(super) fn questions(&self) -> Vec<Question<'_>> {
        let mut found = Vec::new();
        let mut on_the_way = Vec::new();
        for line in &self.lesson.lines {
            if line.step.is_none() {
                on_the_way.push(line);
            } else {
                let on_the_way = std::mem::take(&mut on_the_way);
                if line.answers.iter().any(|answer| answer.worth.is_some()) {
                    found.push(Question { line, on_the_way });
                }
            }
        }
        found
    }
}

impl<'a> Question<'a> {
    /// The numbers that are asked.
    pub(super) fn answers(&self) -> impl Iterator<Item = &'a Answer> + use<'a> {
        self.line.answers.iter().filter(|answer| answer.worth.is_some())
    }

    /// The letters of the lines on the way, then those of the line itself.
    pub(super) fn letters(&self) -> Vec<String> {
        let lines = self.on_the_way.iter().chain(std::iter::once(&self.line));
        let mut found = Vec::new();
        for line in lines {
            found.push(format!("{} = {}", line.name, line.letters.letters()));
            for (name, formula) in &line.definitions {
                found.push(format!("with {name} = {}", formula.letters()));
            }
        }
        found
    }
}

impl Line {
    /// What is asked: `bore offset`, `re of front harmonic`.
    pub(super) fn asked_as(&self, key: &str) -> String {
        if key.is_empty() {
            self.name.clone()
        } else {
            format!("{} {key}", self.name)
        }
    }
}
