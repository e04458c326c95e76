//! Exercise sheets as one HTML file: answered on a phone or a school's computer, or printed; and the table of answers as
//! another.

use super::answer::TOLERANCE;
use super::exercise::{ExerciseSheet, Exercises, Question};
use super::exercise_text::title;
use super::line::{Answer, Worth};
use super::page::{STYLE, document, equation, readings};
use super::script::joined;
use super::seal::sealed;
use crate::quantity::Scale;
use crate::report::page::{dimension, style_json, units_json};
use crate::report::sheet::AID;
use maud::{Markup, PreEscaped, html};
use serde_json::{Value, json};

const SHEETS: &str = include_str!("exercise.css");
/// So many sheets beside each other in the table of answers.
const BESIDE: usize = 5;

/// The sheets as HTML.
#[must_use]
pub fn exercises_page(exercises: &Exercises) -> String {
    let body = html! {
        header.pick {
            p { b { (exercises.title) } " " span.soft { "seed " (exercises.seed) } }
            @if exercises.sheets.len() > 1 {
                label { "Sheet " select #seat {
                    @for sheet in &exercises.sheets { option value=(sheet.number) { (sheet.number) } }
                } }
            }
        }
        main { @for sheet in &exercises.sheets { (one_sheet(exercises, sheet)) } }
        script type="application/json" #units { (PreEscaped(in_script(&units_json()))) }
    };
    let script = joined(&["exercise.js"], "startExercises(document);");
    document(
        &format!("Exercises: {}", exercises.title),
        &[STYLE, SHEETS],
        &body,
        &script,
    )
}

/// JSON that may stand within a script element.
fn in_script(value: &Value) -> String {
    value.to_string().replace('<', "\\u003c")
}

fn one_sheet(exercises: &Exercises, sheet: &ExerciseSheet) -> Markup {
    let key = key(exercises.seed, sheet.number);
    let questions = sheet.questions();
    let answers: Vec<Value> = questions.iter().flat_map(expected).collect();
    html! {
        section.sheet id=(format!("sheet-{}", sheet.number)) data-key=(key) data-answers=(sealed(&Value::Array(answers).to_string(), key)) {
            h1 { (title(exercises, sheet)) }
            p.who { "Name" span.blank {} "Date" span.blank.short {} }
            p { (exercises.title) ": " (sheet.lesson.about) }
            p.aid { (AID) }
            @for caution in &sheet.lesson.cautions { p.care { b { "Care: " } (caution) } }
            div.start { (readings(&sheet.lesson)) }
            ol.questions { @for (number, question) in questions.iter().enumerate() { (ask(sheet.number, number + 1, question)) } }
            p.soft { (TOLERANCE) " Write the unit. Round at the end only." }
            p.score role="status" {}
        }
    }
}

/// Of a sheet; a browser counts in 32 bits.
fn key(seed: u64, sheet: u64) -> u32 {
    let mixed = seed
        .wrapping_mul(0x9E37_79B9)
        .wrapping_add(sheet.wrapping_mul(0x85EB_CA6B));
    u32::try_from(mixed & 0xFFFF_FFFF).unwrap_or(1) | 1
}

fn ask(sheet: u64, number: usize, question: &Question<'_>) -> Markup {
    let line = question.line;
    let id = |answer: usize| format!("a{sheet}-{number}-{answer}");
    html! {
        li.question {
            p.words { b { (line.words) } @if let Some(run) = &line.run { span.soft { " (" (run) ")" } } }
            div.letters {
                @for before in &question.on_the_way { p.soft { (equation(&before.name, &before.letters)) } }
                p { (equation(&line.name, &line.letters)) }
                @for (name, formula) in &line.definitions { p.soft { "with " (equation(name, formula)) } }
            }
            p.numbers hidden {}
            @for (nth, answer) in question.answers().enumerate() {
                div.box {
                    label for=(id(nth)) { (line.asked_as(&answer.key)) " =" }
                    input type="text" id=(id(nth)) autocomplete="off" autocapitalize="off" spellcheck="false" aria-describedby=(format!("{}-told", id(nth)));
                    span.asked { "to " (answer.worth.as_ref().map_or("", |worth| worth.asked.as_str())) }
                    p.told id=(format!("{}-told", id(nth))) role="status" {}
                }
            }
            button.hint type="button" { "Hint" }
        }
    }
}

/// What the page compares answers with.
fn expected<'a>(question: &'a Question<'_>) -> impl Iterator<Item = Value> + use<'a> {
    let line = question.line;
    question.answers().filter_map(move |answer| {
        let worth = answer.worth.as_ref()?;
        let at = line.answers.iter().position(|other| std::ptr::eq(other, answer));
        let slips = line.slips.iter().filter(|slip| Some(slip.answer) == at);
        let slips = slips.map(|slip| json!({"si": slip.si, "words": slip.words, "working": slip.working}));
        Some(json!({
            "si": worth.si,
            "tolerance": worth.tolerance,
            "shown": answer.shown,
            "spec": spec(worth),
            "style": style_json(&worth.style),
            "slips": slips.collect::<Vec<_>>(),
            "numbers": line.numbers.as_ref().map(super::line::Formula::letters),
        }))
    })
}

fn spec(worth: &Worth) -> Value {
    let scale = if worth.scale == Scale::Point {
        "point"
    } else {
        "difference"
    };
    json!({"dimension": dimension(worth.dimension), "scale": scale, "signs": worth.signs.as_ref().map(|(a, b)| [a, b])})
}

/// The table of answers as HTML.
#[must_use]
pub fn answers_page(exercises: &Exercises) -> String {
    let rows = exercises.table();
    let sheets: Vec<usize> = (0..exercises.sheets.len()).collect();
    let body = html! {
        main.answers {
            h1 { "Answers, for the instructor" }
            p { b { (exercises.title) } ", seed " (exercises.seed) ". " (TOLERANCE) }
            p.aid { (AID) }
            @for some in sheets.chunks(BESIDE) {
                table {
                    thead { tr { th { "Line" } @for at in some { th { "Sheet " (number(exercises, *at)) } } } }
                    tbody {
                        @for row in &rows {
                            tr {
                                th scope="row" {
                                    (row.number) ". " (row.name) " "
                                    span.soft { @if let Some(run) = &row.run { (run) ": " } (row.words) }
                                }
                                @for at in some { td { (cell(row.answers.get(*at).copied().flatten())) } }
                            }
                        }
                    }
                }
            }
        }
    };
    document(&format!("Answers: {}", exercises.title), &[STYLE, SHEETS], &body, "")
}

fn number(exercises: &Exercises, at: usize) -> u64 {
    exercises.sheets.get(at).map_or(0, |sheet| sheet.number)
}

fn cell(answer: Option<&Answer>) -> String {
    answer.map_or_else(String::new, |answer| answer.shown.clone())
}
