//! Exercise sheets as text and as Markdown, the table of answers behind them.

use super::answer::TOLERANCE;
use super::exercise::{ExerciseSheet, Exercises, Question};
use super::line::Answer;
use super::text;
use crate::report::layout::Page;
use crate::report::markdown::plain;
use crate::report::sheet::AID;

/// Begins a new sheet of paper.
const NEW_PAGE: char = '\u{c}';

/// The sheets, each on paper of its own, then the table of answers.
#[must_use]
pub fn exercises_text(exercises: &Exercises) -> String {
    let mut page = Page::default();
    for sheet in &exercises.sheets {
        page.line(&title(exercises, sheet));
        page.line("Name ______________________________   Date ______________");
        page.gap();
        text::head(&mut page, &sheet.lesson);
        text::readings(&mut page, &sheet.lesson);
        for (number, question) in sheet.questions().iter().enumerate() {
            ask(&mut page, number + 1, question);
        }
        page.block(0, TOLERANCE);
        page.text.push(NEW_PAGE);
    }
    answers(&mut page, exercises);
    page.text
}

/// `Sheet 7, seed 2026`
pub(super) fn title(exercises: &Exercises, sheet: &ExerciseSheet) -> String {
    format!("Exercise sheet {}, seed {}", sheet.number, exercises.seed)
}

fn ask(page: &mut Page, number: usize, question: &Question<'_>) {
    page.block(2, &format!("{number}. {}", question.line.words));
    for letters in question.letters() {
        page.block(6, &letters);
    }
    for answer in question.answers() {
        page.block(6, &blank(question, answer));
    }
    page.gap();
}

/// `bore offset = ______________ (to 0.001 mm)`
fn blank(question: &Question<'_>, answer: &Answer) -> String {
    let asked = answer.worth.as_ref().map_or("", |worth| worth.asked.as_str());
    format!(
        "{} = ________________________ (to {asked})",
        question.line.asked_as(&answer.key)
    )
}

fn answers(page: &mut Page, exercises: &Exercises) {
    page.line(&format!(
        "ANSWERS, FOR THE INSTRUCTOR: {}, seed {}",
        exercises.title, exercises.seed
    ));
    page.block(0, TOLERANCE);
    page.gap();
    for row in exercises.table() {
        let run = row.run.map(|run| format!("{run}: ")).unwrap_or_default();
        page.block(2, &format!("{}. {run}{} ({})", row.number, row.words, row.name));
        let found = exercises.sheets.iter().zip(row.answers);
        let found = found.filter_map(|(sheet, answer)| Some(format!("sheet {} {}", sheet.number, answer?.shown)));
        page.block(6, &found.collect::<Vec<_>>().join("; "));
    }
}

/// The same as Markdown.
#[must_use]
pub fn exercises_markdown(exercises: &Exercises) -> String {
    let mut text = String::new();
    for sheet in &exercises.sheets {
        text.push_str(&format!(
            "# {}: {}\n\n*{AID}*\n\nName: ……………………  Date: …………\n\n",
            title(exercises, sheet),
            plain(&exercises.title)
        ));
        super::markdown::readings(&mut text, &sheet.lesson);
        text.push('\n');
        for (number, question) in sheet.questions().iter().enumerate() {
            text.push_str(&format!("{}. **{}**\n", number + 1, plain(&question.line.words)));
            for letters in question.letters() {
                text.push_str(&format!("   - {}\n", plain(&letters)));
            }
            for answer in question.answers() {
                text.push_str(&format!(
                    "   - {}\n",
                    plain(&blank(question, answer).replace("________________________", "……………………"))
                ));
            }
        }
        text.push_str(&format!("\n{TOLERANCE}\n\n"));
    }
    text.push_str(&format!(
        "# Answers, for the instructor\n\n{}, seed {}. {TOLERANCE}\n\n",
        plain(&exercises.title),
        exercises.seed
    ));
    let numbers: Vec<String> = exercises
        .sheets
        .iter()
        .map(|sheet| format!(" Sheet {} |", sheet.number))
        .collect();
    text.push_str(&format!(
        "| Line | Name |{}\n|---|---|{}\n",
        numbers.concat(),
        "---|".repeat(numbers.len())
    ));
    for row in exercises.table() {
        let cells = row
            .answers
            .iter()
            .map(|answer| answer.map_or("", |answer| answer.shown.as_str()));
        let cells: Vec<String> = cells.map(|cell| format!(" {} |", plain(cell))).collect();
        text.push_str(&format!(
            "| {}. {} | {} |{}\n",
            row.number,
            plain(&row.words),
            plain(&row.name),
            cells.concat()
        ));
    }
    text
}
