//! The sheet as one HTML file, to be printed and filled in at the car: on A4 and on Letter.

use super::super::figure::{Drawing, FIGURE_STYLE, drawing};
use super::super::{file_of_page::file_of_page, readings, sheet::AID, written};
use super::boxes::{of_width, symbol};
use super::groups::{Group, Kind as GroupKind, Measuring};
use super::{remarks, ruled};
use crate::job::{Kind, State, Wanted};
use maud::{Markup, html};

const STYLE: &str = include_str!("measuring.css");
/// Two sketches stand side by side on paper.
const WIDTH: f64 = 420.0;

/// A sheet for measuring as HTML: it fetches nothing and has no script.
#[must_use]
pub fn measuring_page(sheet: &Measuring<'_>) -> String {
    let title = format!("Measuring sheet: {}", sheet.title);
    let body = html! {
        // What a printer repeats on every sheet of paper.
        table.paper role="presentation" {
            thead { tr { td { p.running aria-hidden="true" { b { (sheet.title) } " measuring sheet. " (AID) } } } }
            tbody { tr { td { (content(&title, sheet)) } } }
        }
    };
    file_of_page(&title, &[FIGURE_STYLE, STYLE], "", &body)
}

fn content(title: &str, sheet: &Measuring<'_>) -> Markup {
    html! {
        header {
            h1 { (title) }
            @if !sheet.about.is_empty() { p { (sheet.about) } }
            p.aid { (AID) }
            p.who { @for word in ["Car", "Day", "By", "At"] { span { (word) } i {} } }
        }
        main {
            @if !sheet.cautions.is_empty() {
                section aria-labelledby="care" {
                    h2 #care { "Care" }
                    ul { @for caution in sheet.cautions { li { (written::phrase(caution, sheet.system)) } } }
                }
            }
            p.hint { (hint(sheet)) }
            (sketches(sheet))
            @for group in sheet.groups() { (of_group(&group, sheet)) }
        }
        footer { p.aid { (AID) } }
    }
}

fn hint(sheet: &Measuring<'_>) -> String {
    if !sheet.in_job {
        return remarks::OF_BOXES.to_owned();
    }
    let (asked, missing) = sheet.counts();
    format!(
        "Ticked is what the job has; still to do: {missing} of {asked} readings. {}",
        remarks::OF_BOXES
    )
}

/// Where the points lie and the angles are: what the scripts sketch, from their own values where nobody has given others.
fn sketches(sheet: &Measuring<'_>) -> Markup {
    if sheet.sketches.is_empty() {
        return html! {};
    }
    html! {
        section aria-labelledby="pictures" {
            h2 #pictures { "What is where" }
            p.hint { "Sketches of a worked example, or of what is there: go by the names, not by the numbers." }
            div.figures { @for (nth, shown) in sheet.sketches.iter().enumerate() {
                @let name = format!("sketch-{nth}");
                @let on = Drawing { system: sheet.system, width: WIDTH, name: &name, bands: &[] };
                figure {
                    figcaption { (written::phrase(shown.figure.title(), sheet.system)) }
                    (drawing(shown, &on, &mut |_, words| html! { (words) }).0)
                }
            } }
        }
    }
}

fn of_group(group: &Group<'_>, sheet: &Measuring<'_>) -> Markup {
    html! {
        section {
            h2 { (group.kind.title()) }
            @for part in &group.parts {
                @if !part.heading.is_empty() { h3 { (part.heading) } }
                @for (number, wanted) in &part.readings { (reading(*number, wanted, group.kind, sheet)) }
            }
        }
    }
}

fn reading(number: usize, wanted: &Wanted, kind: GroupKind, sheet: &Measuring<'_>) -> Markup {
    let system = sheet.system;
    let is_given = matches!(wanted.state, State::Given(_));
    let said = [
        remarks::how(wanted, system),
        remarks::range(wanted, system),
        remarks::per(wanted, system),
    ];
    html! {
        article.reading {
            p.number { (number) }
            p.tick.done[is_given] { @if is_given { "✓" } @else if kind != GroupKind::TakenAs { span.unseen { "to do" } } }
            div {
                p.label { (readings::label(&wanted.input, system)) " " code { (sheet.name_of(wanted)) } }
                @if is_given { (given(wanted, sheet)) }
                @else if kind == GroupKind::TakenAs { (taken_as(wanted, sheet)) }
                @else { (boxes(wanted, kind, sheet)) }
                @for words in said.into_iter().flatten() { p.how { (words) } }
            }
        }
    }
}

fn given(wanted: &Wanted, sheet: &Measuring<'_>) -> Markup {
    html! {
        p.boxes { b { (readings::value(&wanted.input, sheet.system)) } @if let Some(taken) = remarks::taken(wanted) { " " (taken) } }
    }
}

/// A value that the script takes, and a box for another.
fn taken_as(wanted: &Wanted, sheet: &Measuring<'_>) -> Markup {
    let unit = match Kind::of(&wanted.input.value) {
        Kind::Quantity | Kind::Count => symbol(&wanted.input.value, sheet.system),
        _ => String::new(),
    };
    html! {
        p.boxes { "taken as " b { (readings::value(&wanted.input, sheet.system)) } "; another: " (blank("value", &unit)) }
        @if let Some(choices) = remarks::choices(wanted) { p.how { (choices) } }
    }
}

/// The boxes of a reading that is not there.
fn boxes(wanted: &Wanted, kind: GroupKind, sheet: &Measuring<'_>) -> Markup {
    let value = &wanted.input.value;
    let unit = symbol(value, sheet.system);
    let usual = remarks::usual(wanted, sheet.system).map(|usual| format!(" usual {usual}"));
    let spread =
        html! { span.part { "± " (blank("width", of_width(&unit))) @if let Some(usual) = &usual { (usual) } } };
    let with = html! { span.part { "with " i.with {} } };
    let ticks = |words: &[&str]| html! { p.boxes { @for word in words { span.part { i.round {} " " (word) } } } };
    html! {
        @match Kind::of(value) {
            Kind::Point => p.boxes {
                @for axis in ["x", "y", "z"] { span.part { (axis) " " (blank("coordinate", &unit)) } }
                (spread) (with)
            },
            Kind::List(_) | Kind::Table(_) | Kind::Row(_) => {
                (rows(wanted, sheet))
                @if usual.is_some() { p.boxes { span.part { "each " } (spread) (with) } }
            },
            Kind::YesNo => (ticks(&["yes", "no"])),
            Kind::Quantity if kind == GroupKind::Measured => p.boxes { span.part { (blank("value", &unit)) } (spread) (with) },
            _ if !wanted.input.choices.is_empty() => (ticks(&wanted.input.choices.iter().map(String::as_str).collect::<Vec<_>>())),
            Kind::Text => p.boxes { (blank("text", "")) },
            _ => p.boxes { (blank("value", &unit)) },
        }
        @if let Some((positive, negative)) = remarks::signs(wanted) { (ticks(&[positive, negative])) }
    }
}

/// A box to write in, with its unit.
fn blank(size: &str, unit: &str) -> Markup {
    html! { i.box.(size) {} @if !unit.is_empty() { " " (unit) } }
}

/// The empty table of a reading that is one, with rows for what the example does not have.
fn rows(wanted: &Wanted, sheet: &Measuring<'_>) -> Markup {
    let columns = ruled::columns(&wanted.input.value, sheet.system);
    html! {
        table.rows {
            thead { tr { @for column in &columns {
                @if column.head.is_empty() { td {} } @else { th scope="col" { (column.head) } }
            } } }
            tbody { @for row in 0..ruled::row_count(&columns) {
                tr { @for column in &columns { td { (column.cells.get(row).map_or("", String::as_str)) } } }
            } }
        }
    }
}
