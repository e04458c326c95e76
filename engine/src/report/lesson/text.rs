//! The lesson as text: every line in words, letters, numbers, answer.

use super::line::{Because, Formula, Lesson, Limit, Line, Wrong};
use crate::report::layout::{Page, length};
use crate::report::sheet::AID;

/// Where formulas begin, and what stands left of them at most.
const NAME: usize = 4;
const LONGEST_NAME: usize = 18;

/// The lesson as text.
#[must_use]
pub fn lesson_text(lesson: &Lesson) -> String {
    let mut page = Page::default();
    head(&mut page, lesson);
    readings(&mut page, lesson);
    for line in &lesson.lines {
        of_line(&mut page, line, lesson.lines.len());
    }
    for note in &lesson.notes {
        page.marked("NOTE", "NOTE", note);
    }
    page.text
}

pub(super) fn head(page: &mut Page, lesson: &Lesson) {
    let trial = if lesson.trial { "TRIAL: " } else { "" };
    page.block(0, &format!("{trial}{}", lesson.title));
    page.block(0, &lesson.about);
    page.line(AID);
    page.gap();
    for caution in &lesson.cautions {
        page.marked("CARE", "CARE", caution);
    }
    page.gap();
}

pub(super) fn readings(page: &mut Page, lesson: &Lesson) {
    page.line("WHAT IT STARTS FROM");
    page.gap();
    let mut heading = &None;
    for reading in &lesson.readings {
        if reading.heading != *heading {
            heading = &reading.heading;
            page.gap();
            page.block(2, heading.as_deref().unwrap_or_default());
        }
        page.block(NAME, &format!("{}: {}", reading.name, reading.label));
        let taken = if reading.assumed { ", taken on trust" } else { "" };
        let per = reading
            .per
            .as_ref()
            .map(|per| format!("; per {per}"))
            .unwrap_or_default();
        page.block(NAME + 4, &format!("{}{taken}{per}", reading.value));
    }
    page.gap();
}

/// `LINE 5 OF 11`, with the heading above it.
fn of_line(page: &mut Page, line: &Line, all: usize) {
    page.line(&format!("LINE {} OF {all}", line.number));
    let above = [line.run.as_deref(), line.heading.as_deref()];
    let above: Vec<&str> = above.into_iter().flatten().collect();
    if !above.is_empty() {
        page.block(2, &above.join(": "));
    }
    if let Some(toward) = &line.toward {
        page.block(2, &format!("on the way to: {toward}"));
    }
    page.gap();
    page.block(2, &line.words);
    formulas(page, line);
    for answer in &line.answers {
        page.block(
            NAME,
            &format!(
                "{} = {}",
                before_sign(line, &answer.key),
                result(&answer.full, &answer.shown)
            ),
        );
    }
    because(page, line);
    line.limits.iter().for_each(|limit| self::limit(page, limit));
    slips(page, &line.slips);
    page.gap();
}

/// The letters and the numbers.
pub(super) fn formulas(page: &mut Page, line: &Line) {
    sided(page, &line.name, &line.letters);
    if let Some(numbers) = &line.numbers {
        sided(page, &" ".repeat(length(&line.name).min(LONGEST_NAME)), numbers);
    }
    for (name, formula) in &line.definitions {
        page.block(NAME + 2, &format!("with {name} = {}", formula.letters()));
    }
}

fn sided(page: &mut Page, name: &str, formula: &Formula) {
    let sign = if name.trim().is_empty() && !name.is_empty() {
        format!("{name} = ")
    } else if name.is_empty() {
        String::new()
    } else {
        format!("{name} = ")
    };
    let column = NAME + length(&sign).min(LONGEST_NAME);
    let before = page.text.len();
    page.block(column, &formula.letters());
    // What stands left of the sign takes the place of the first line's spaces.
    if length(&sign) + NAME <= column
        && let Some(first) = page
            .text
            .get(before..)
            .map(|text| text.trim_start_matches(' ').to_owned())
    {
        page.text.truncate(before);
        page.text.push_str(&format!("{}{sign}{first}", " ".repeat(NAME)));
    } else if let Some(rest) = page.text.get(before..).map(str::to_owned) {
        page.text.truncate(before);
        page.block(NAME, &sign);
        page.text.push_str(&rest);
    }
}

fn before_sign(line: &Line, key: &str) -> String {
    let pad = " ".repeat(length(&line.name).min(LONGEST_NAME));
    if key.is_empty() { pad } else { format!("{pad} {key}") }
}

/// With all digits, then rounded.
pub(super) fn result(full: &str, shown: &str) -> String {
    if full == shown {
        full.to_owned()
    } else if shown.starts_with(|c: char| c.is_alphabetic()) {
        // `at most 0.02 mm`, `not known`
        format!("{full}, with the ± {shown}")
    } else {
        format!("{full}, rounded {shown}")
    }
}

/// Where the numbers came from.
fn because(page: &mut Page, line: &Line) {
    if !line.because.is_empty() {
        let from: Vec<String> = line.because.iter().map(source).collect();
        page.block(NAME, &format!("because {}", from.join("; ")));
    }
    if let Some(per) = &line.per {
        page.block(NAME, &format!("per {per}"));
    }
}

/// `front 0.19°, line 2`
pub(super) fn source(because: &Because) -> String {
    match because.line {
        Some(line) => format!("{} {}, line {line}", because.name, because.value),
        None => format!("{} {}", because.name, because.value),
    }
}

/// `at most 0.3 mm, 0.028 mm to spare`
pub(super) fn verdict(limit: &Limit) -> String {
    let parts = [
        Some(limit.value.clone()),
        Some(limit.limit.clone()),
        limit.margin.clone(),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn limit(page: &mut Page, limit: &Limit) {
    page.marked(limit.word, limit.word, &limit.label);
    page.block(NAME + 9, &verdict(limit));
    if let Some(rests_on) = &limit.rests_on {
        page.block(NAME + 9, &format!("rests on {rests_on}"));
    }
    if let Some(per) = &limit.per {
        page.block(NAME + 9, &format!("limit per {per}"));
    }
}

fn slips(page: &mut Page, slips: &[Wrong]) {
    if slips.is_empty() {
        return;
    }
    page.block(
        NAME,
        "Slips that this line knows, and the wrong answer that each gives:",
    );
    for slip in slips {
        page.block(NAME + 2, &format!("WRONG {}: {}", slip.shown, slip_words(slip)));
    }
}

/// What was done, with its numbers.
pub(super) fn slip_words(slip: &Wrong) -> String {
    match &slip.working {
        Some(working) => format!("{} ({working})", slip.words),
        None => slip.words.clone(),
    }
}
