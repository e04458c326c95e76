//! Exercise sheets for programs, answers with them.

use super::answer::TOLERANCE;
use super::exercise::{ExerciseSheet, Exercises, Question};
use super::json::{answer, readings, slip};
use crate::report::sheet::AID;
use serde_json::{Value, json};

/// The sheets as JSON: `set` holds the readings as `--set` takes them.
#[must_use]
pub fn exercises_json(exercises: &Exercises) -> Value {
    json!({
        "format": 1,
        "aid": AID,
        "title": exercises.title,
        "seed": exercises.seed,
        "tolerance": TOLERANCE,
        "sheets": exercises.sheets.iter().map(of_sheet).collect::<Vec<_>>(),
    })
}

fn of_sheet(sheet: &ExerciseSheet) -> Value {
    let set: serde_json::Map<String, Value> = sheet
        .readings
        .iter()
        .map(|reading| (reading.address.clone(), json!(reading.text)))
        .collect();
    json!({
        "sheet": sheet.number,
        "set": set,
        "readings": readings(&sheet.lesson),
        "questions": sheet.questions().iter().enumerate().map(|(number, question)| of_question(number + 1, question)).collect::<Vec<_>>(),
    })
}

fn of_question(number: usize, question: &Question<'_>) -> Value {
    json!({
        "question": number,
        "run": question.line.run,
        "step": question.line.step,
        "words": question.line.words,
        "letters": question.letters(),
        "answers": question.answers().map(answer).collect::<Vec<_>>(),
        "slips": question.line.slips.iter().map(slip).collect::<Vec<_>>(),
    })
}
