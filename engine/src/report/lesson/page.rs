//! The lesson as one HTML file that fetches nothing: for a class screen, a phone, and paper.

use super::formula::{laid_out, letters};
use super::line::{Answer, Formula, Lesson, Limit, Line, Wrong};
use super::script::joined;
use super::text::{slip_words, verdict};
use crate::report::file_of_page::file_of_page;
use crate::report::sheet::AID;
use maud::{Markup, PreEscaped, html};

/// How it looks.
pub(super) const STYLE: &str = include_str!("lesson.css");

/// Numbers with more letters than this are no picture any more: they are written as text, which breaks where it has to.
const PICTURE: usize = 420;

/// The lesson as HTML.
#[must_use]
pub fn lesson_page(lesson: &Lesson) -> String {
    let body = html! {
        main {
            h1.unseen { "Lesson: " (lesson.title) }
            (start(lesson))
            @for line in &lesson.lines { (card(line)) }
            (end(lesson))
        }
        (steer(lesson))
        p.unseen #told role="status" aria-live="polite" {}
    };
    let script = joined(&["lesson.js"], "startLesson(document);");
    document(&format!("Lesson: {}", lesson.title), &[STYLE], &body, &script)
}

/// A whole file around a body: it fetches nothing and runs this script alone.
pub(super) fn document(title: &str, styles: &[&str], body: &Markup, script: &str) -> String {
    let with_script = html! {
        (body)
        @if !script.is_empty() { script { (PreEscaped(script)) } }
    };
    file_of_page(title, styles, script, &with_script)
}

fn start(lesson: &Lesson) -> Markup {
    html! {
        section.card.start #start {
            @if lesson.trial { p.trial { "TRIAL" } }
            p.title { (lesson.title) }
            p { (lesson.about) }
            p.aid { (AID) }
            @for caution in &lesson.cautions { p.care { b { "Care: " } (caution) } }
            h2 { "What it starts from" }
            (readings(lesson))
        }
    }
}

pub(super) fn readings(lesson: &Lesson) -> Markup {
    html! {
        table {
            thead.unseen { tr { th { "Name" } th { "Reading" } th { "Value" } } }
            tbody {
                @for reading in &lesson.readings {
                    tr {
                        th scope="row" { (reading.name) }
                        td { (reading.label) @if reading.assumed { span.soft { " (taken on trust" @if let Some(per) = &reading.per { ": " (per) } ")" } } }
                        td.value { (reading.value) }
                    }
                }
            }
        }
    }
}

fn card(line: &Line) -> Markup {
    html! {
        section.card.line id=(format!("line-{}", line.number)) data-line=(line.number) aria-label=(format!("Line {}", line.number)) {
            p.above {
                span { "line " (line.number) }
                @if let Some(run) = &line.run { span { (run) } }
                @if let Some(heading) = &line.heading { span { (heading) } }
                @if let Some(toward) = &line.toward { span { "on the way to: " (toward) } }
            }
            div.part.words { span.row { "words" } h2 { (line.words) } }
            (in_letters(line))
            (in_numbers(line))
            (answer(line))
            @for limit in &line.limits { (self::limit(limit)) }
            (wrong_ways(&line.slips))
        }
    }
}

fn in_letters(line: &Line) -> Markup {
    html! {
        div.part.letters {
            span.row { "letters" }
            div {
                p { (equation(&line.name, &line.letters)) }
                @for (name, formula) in &line.definitions {
                    p.soft { "with " (equation(name, formula)) }
                }
                @if let Some(per) = &line.per { p.per { "per " (per) } }
            }
        }
    }
}

/// A name, an equals sign, and the formula.
pub(super) fn equation(name: &str, formula: &Formula) -> Markup {
    html! {
        @if !name.is_empty() { span.equals { (name) " = " } }
        (self::formula(formula))
    }
}

pub(super) fn formula(formula: &Formula) -> Markup {
    match &formula.expression {
        Some(expression) if letters(expression).chars().count() <= PICTURE => laid_out(expression),
        _ => html! { span { (formula.letters()) } },
    }
}

/// The numbers put in, and where they came from.
fn in_numbers(line: &Line) -> Markup {
    html! {
        @if line.numbers.is_some() || !line.because.is_empty() {
            div.part.numbers {
                span.row { "numbers" }
                div {
                    @if let Some(numbers) = &line.numbers { p { span.equals { "= " } (formula(numbers)) } }
                    (because(line))
                }
            }
        }
    }
}

fn because(line: &Line) -> Markup {
    html! {
        @if !line.because.is_empty() {
            ul.from.soft aria-label="Where its numbers came from" {
                @for because in &line.because {
                    li {
                        (because.name) " " b { (because.value) }
                        @if let Some(from) = because.line { ", " a href=(format!("#line-{from}")) { "line " (from) } }
                    }
                }
            }
        }
    }
}

fn answer(line: &Line) -> Markup {
    html! {
        @if !line.answers.is_empty() {
            div.part.answer {
                span.row { "answer" }
                div { @for answer in &line.answers { (one(answer)) } }
            }
        }
    }
}

fn one(answer: &Answer) -> Markup {
    html! {
        p {
            "= " @if !answer.key.is_empty() { span.soft { (answer.key) " " } }
            @if answer.full != answer.shown { span.full { (answer.full) } " rounded " }
            span.shown { (answer.shown) }
        }
    }
}

fn limit(limit: &Limit) -> Markup {
    let class = match limit.word {
        "FAILS" => "fails",
        "HOLDS" | "MET" => "holds",
        _ => "other",
    };
    html! {
        div.part.limit {
            span.row { "limit" }
            div {
                p { span class=(format!("verdict {class}")) { (limit.word) } (limit.label) }
                p { (verdict(limit)) }
                @if limit.per.is_some() || limit.rests_on.is_some() {
                    p.per {
                        @if let Some(per) = &limit.per { "limit per " (per) }
                        @if limit.per.is_some() && limit.rests_on.is_some() { "; " }
                        @if let Some(rests_on) = &limit.rests_on { "rests on " (rests_on) }
                    }
                }
            }
        }
    }
}

fn wrong_ways(slips: &[Wrong]) -> Markup {
    html! {
        @if !slips.is_empty() {
            ul.wrong aria-label="Slips that this line knows" {
                @for slip in slips {
                    li {
                        p { span.verdict.wrong-tag { "WRONG" } (slip_words(slip)) }
                        p { "gives " span.shown { (slip.shown) } }
                    }
                }
            }
        }
    }
}

fn end(lesson: &Lesson) -> Markup {
    html! {
        section.card.line #end {
            div.part.words { span.row { "said" } h2 { "What is to be said of it" } }
            @for note in &lesson.notes { div.part { span.row { "note" } p { (note) } } }
            div.part { span.row { "care" } p.aid { (AID) } }
        }
    }
}

fn steer(lesson: &Lesson) -> Markup {
    html! {
        nav.steer aria-label="Steps of the lesson" {
            div.scale aria-hidden="true" { @for _ in &lesson.lines { i {} } }
            div.keys {
                button #back type="button" title="left arrow" { "Back" }
                button.go #next type="button" title="space or right arrow" { "Next" }
                button #slip type="button" title="w" { "Wrong way" }
                span.place #place {}
            }
        }
    }
}
