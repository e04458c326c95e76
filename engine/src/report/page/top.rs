//! What stands first: what it is, what is only tried, how it stands, cautions.

use super::checks::tag;
use super::pen::Pen;
use crate::report::cautions::cautions;
use crate::report::head::trials;
use crate::report::headline::headline;
use crate::report::sheet::AID;
use crate::report::text::CAUTIONS;
use maud::{Markup, html};

/// Title, purpose or day, what the page is not, and the values tried.
pub(super) fn top(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    html! {
        header {
            p.trial #trial hidden[!sheet.is_trial()] { "TRIAL" }
            h1 { (sheet.title) }
            @if !sheet.about.is_empty() { p.about { (sheet.about) } }
            p.aid { (AID) }
            @for altered in &sheet.altered { p.with { b { "Altered" } " " (altered.words()) } }
            @for trial in trials(sheet) { p.with { b { "With" } " " (trial) } }
            div #with {}
        }
    }
}

/// How it stands, in one line.
pub(super) fn verdict(pen: &Pen<'_>) -> Markup {
    let headline = headline(pen.sheet);
    html! {
        section #verdict aria-label="Verdict" {
            p.stands { (tag(headline.verdict, headline.word)) " " span #counts { (headline.text) } }
        }
    }
}

/// Cautions, the most urgent first; the others folded.
pub(super) fn care(pen: &Pen<'_>) -> Markup {
    let all = cautions(pen.sheet);
    if all.is_empty() {
        return html! {};
    }
    let (first, more) = all.split_at(all.len().min(CAUTIONS));
    let list = |cautions: &[String]| html! { ul { @for caution in cautions { li { (caution) } } } };
    html! {
        section.care aria-labelledby="care" {
            h2 #care { "Care" }
            (list(first))
            @if !more.is_empty() {
                details.open { summary { (more.len()) " more" } (list(more)) }
            }
        }
    }
}
