//! The lesson for programs.

use super::line::{Answer, Lesson, Line, Wrong};
use crate::report::sheet::AID;
use serde_json::{Value, json};

/// The lesson as JSON.
#[must_use]
pub fn lesson_json(lesson: &Lesson) -> Value {
    json!({
        "format": 1,
        "aid": AID,
        "title": lesson.title,
        "about": lesson.about,
        "trial": lesson.trial,
        "cautions": lesson.cautions,
        "readings": readings(lesson),
        "lines": lesson.lines.iter().map(of_line).collect::<Vec<_>>(),
        "notes": lesson.notes,
    })
}

pub(super) fn readings(lesson: &Lesson) -> Vec<Value> {
    let readings = lesson.readings.iter().map(|reading| {
        json!({"name": reading.name, "label": reading.label, "value": reading.value, "assumed": reading.assumed, "per": reading.per})
    });
    readings.collect()
}

fn of_line(line: &Line) -> Value {
    json!({
        "line": line.number,
        "run": line.run,
        "heading": line.heading,
        "step": line.step,
        "toward": line.toward,
        "words": line.words,
        "name": line.name,
        "letters": line.letters.letters(),
        "formula": line.letters.text,
        "definitions": line.definitions.iter().map(|(name, formula)| json!({"name": name, "letters": formula.letters()})).collect::<Vec<_>>(),
        "numbers": line.numbers.as_ref().map(super::line::Formula::letters),
        "because": line.because.iter().map(|because| json!({"name": because.name, "value": because.value, "line": because.line})).collect::<Vec<_>>(),
        "answers": line.answers.iter().map(answer).collect::<Vec<_>>(),
        "per": line.per,
        "limits": line.limits.iter().map(|limit| json!({
            "verdict": limit.word, "label": limit.label, "value": limit.value, "limit": limit.limit, "margin": limit.margin,
            "rests_on": limit.rests_on, "per": limit.per,
        })).collect::<Vec<_>>(),
        "slips": line.slips.iter().map(slip).collect::<Vec<_>>(),
    })
}

pub(super) fn answer(answer: &Answer) -> Value {
    json!({
        "key": answer.key,
        "full": answer.full,
        "rounded": answer.shown,
        "si": answer.worth.as_ref().map(|worth| worth.si),
        "tolerance_si": answer.worth.as_ref().map(|worth| worth.tolerance),
        "asked": answer.worth.as_ref().map(|worth| worth.asked.clone()),
    })
}

pub(super) fn slip(slip: &Wrong) -> Value {
    json!({"answer": slip.answer, "words": slip.words, "working": slip.working, "wrong": slip.shown, "si": slip.si})
}
