//! The lesson as Markdown.

use super::line::{Lesson, Line};
use super::text::{result, slip_words, source, verdict};
use crate::report::markdown::plain;
use crate::report::sheet::AID;

/// The lesson as Markdown.
#[must_use]
pub fn lesson_markdown(lesson: &Lesson) -> String {
    let mut text = String::new();
    head(&mut text, lesson, "Lesson");
    readings(&mut text, lesson);
    let all = lesson.lines.len();
    for line in &lesson.lines {
        text.push_str(&format!(
            "\n## Line {} of {all}: {}\n\n",
            line.number,
            plain(&line.words)
        ));
        if let Some(toward) = &line.toward {
            text.push_str(&format!("On the way to: {}\n\n", plain(toward)));
        }
        of_line(&mut text, line);
    }
    if !lesson.notes.is_empty() {
        text.push_str("\n## Notes\n\n");
    }
    lesson
        .notes
        .iter()
        .for_each(|note| text.push_str(&format!("- {}\n", plain(note))));
    text
}

pub(super) fn head(text: &mut String, lesson: &Lesson, what: &str) {
    let trial = if lesson.trial { "TRIAL: " } else { "" };
    text.push_str(&format!("# {what}: {trial}{}\n\n", plain(&lesson.title)));
    if !lesson.about.is_empty() {
        text.push_str(&format!("{}\n\n", plain(&lesson.about)));
    }
    text.push_str(&format!("*{AID}*\n"));
    if !lesson.cautions.is_empty() {
        text.push('\n');
    }
    for caution in &lesson.cautions {
        text.push_str(&format!("- **CARE** {}\n", plain(caution)));
    }
}

pub(super) fn readings(text: &mut String, lesson: &Lesson) {
    text.push_str("\n## What it starts from\n\n| Name | Reading | Value |\n|---|---|---|\n");
    for reading in &lesson.readings {
        let taken = if reading.assumed { " (taken on trust)" } else { "" };
        text.push_str(&format!(
            "| {} | {} | {}{taken} |\n",
            plain(&reading.name),
            plain(&reading.label),
            plain(&reading.value)
        ));
    }
}

fn of_line(text: &mut String, line: &Line) {
    letters(text, line);
    if let Some(numbers) = &line.numbers {
        text.push_str(&format!("- Numbers: {}\n", plain(&numbers.letters())));
    }
    for answer in &line.answers {
        let key = if answer.key.is_empty() {
            String::new()
        } else {
            format!("{} ", answer.key)
        };
        text.push_str(&format!(
            "- Answer: {}**{}**\n",
            plain(&key),
            plain(&result(&answer.full, &answer.shown))
        ));
    }
    if !line.because.is_empty() {
        let from: Vec<String> = line.because.iter().map(source).collect();
        text.push_str(&format!("- Because: {}\n", plain(&from.join("; "))));
    }
    if let Some(per) = &line.per {
        text.push_str(&format!("- Per: {}\n", plain(per)));
    }
    for limit in &line.limits {
        text.push_str(&format!(
            "- **{}** {}: {}\n",
            limit.word,
            plain(&limit.label),
            plain(&verdict(limit))
        ));
    }
    for slip in &line.slips {
        text.push_str(&format!(
            "- *Wrong* {}: {}\n",
            plain(&slip.shown),
            plain(&slip_words(slip))
        ));
    }
}

pub(super) fn letters(text: &mut String, line: &Line) {
    let sign = if line.name.is_empty() {
        String::new()
    } else {
        format!("{} = ", line.name)
    };
    text.push_str(&format!(
        "- Letters: {}{}\n",
        plain(&sign),
        plain(&line.letters.letters())
    ));
    for (name, formula) in &line.definitions {
        text.push_str(&format!("- With {} = {}\n", plain(name), plain(&formula.letters())));
    }
}
