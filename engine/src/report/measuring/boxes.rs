//! Boxes to write in: one for a value, three for a point, one for a ±.

use super::super::layout::{Page, WIDTH, length};
use super::super::readings;
use super::example::unit;
use super::ruled;
use super::{groups::Kind as Group, remarks};
use crate::job::{Kind, Wanted};
use crate::outcome::Value;
use crate::quantity::text::System;
use crate::quantity::units::WrittenUnit;

/// Where the boxes of a reading begin.
pub(super) const COLUMN: usize = 11;
/// Room to write in, in characters.
const VALUE: usize = 14;
const COORDINATE: usize = 9;
const SPREAD: usize = 8;
/// Less than this is no line to write on.
const SHORTEST: usize = 10;

/// The boxes of a reading that is not there.
pub(super) fn boxes(page: &mut Page, wanted: &Wanted, group: Group, system: System) {
    let value = &wanted.input.value;
    match Kind::of(value) {
        Kind::Point => page.block(COLUMN, &point(wanted, system)),
        Kind::List(_) | Kind::Table(_) | Kind::Row(_) => {
            ruled::rows(page, value, system);
            if let Some(usual) = remarks::usual(wanted, system) {
                page.block(
                    COLUMN,
                    &format!("each {}   usual {usual}", spread(&symbol(value, system))),
                );
            }
        }
        Kind::YesNo => page.block(COLUMN, "( ) yes   ( ) no"),
        Kind::Quantity if group == Group::Measured => quantity(page, wanted, system),
        _ if !wanted.input.choices.is_empty() => choices(page, &wanted.input.choices),
        Kind::Text => page.line(&format!("{}{}", " ".repeat(COLUMN), blank(2 * VALUE))),
        _ => page.block(COLUMN, &with_unit(blank(VALUE), &symbol(value, system))),
    }
    if let Some((positive, negative)) = remarks::signs(wanted) {
        page.block(COLUMN, &format!("( ) {positive}   ( ) {negative}"));
    }
}

/// A value that the script takes, and a box for another.
pub(super) fn taken_as(wanted: &Wanted, system: System) -> String {
    let value = readings::value(&wanted.input, system);
    match Kind::of(&wanted.input.value) {
        Kind::Quantity | Kind::Count => {
            let unit = symbol(&wanted.input.value, system);
            format!("taken as {value}; another: {}", with_unit(blank(VALUE), &unit))
        }
        _ => format!("taken as {value}; another: {}", blank(VALUE)),
    }
}

/// `[______________] mm   ± [________] mm   usual ± 1 mm`, then what it was measured with.
fn quantity(page: &mut Page, wanted: &Wanted, system: System) {
    let unit = symbol(&wanted.input.value, system);
    let mut line = format!("{}   {}", with_unit(blank(VALUE), &unit), spread(&unit));
    if let Some(usual) = remarks::usual(wanted, system) {
        let hint = format!("   usual {usual}");
        if COLUMN + length(&line) + length(&hint) <= WIDTH {
            line.push_str(&hint);
        }
    }
    let with = "   with ";
    let rest = WIDTH.saturating_sub(COLUMN + length(&line) + length(with));
    if rest >= SHORTEST {
        line.push_str(&format!("{with}{}", "_".repeat(rest)));
    }
    page.line(&format!("{}{line}", " ".repeat(COLUMN)));
    if rest < SHORTEST {
        page.line(&format!("{}with {}", " ".repeat(COLUMN), "_".repeat(2 * VALUE)));
    }
}

fn point(wanted: &Wanted, system: System) -> String {
    let unit = symbol(&wanted.input.value, system);
    let each = ["x", "y", "z"].map(|name| format!("{name} {}", with_unit(blank(COORDINATE), &unit)));
    let usual = remarks::usual(wanted, system).map(|usual| format!(" usual {usual}"));
    format!("{}  {}{}", each.join("  "), spread(&unit), usual.unwrap_or_default())
}

/// A few short choices to tick, else a box and the list.
fn choices(page: &mut Page, choices: &[String]) {
    let ticks: Vec<String> = choices.iter().map(|choice| format!("( ) {choice}")).collect();
    let ticks = ticks.join("   ");
    if COLUMN + length(&ticks) <= WIDTH {
        page.line(&format!("{}{ticks}", " ".repeat(COLUMN)));
        return;
    }
    page.line(&format!("{}{}", " ".repeat(COLUMN), blank(2 * VALUE)));
    listed(page, choices);
}

/// `one of thin, thick`, on as many lines as it takes, none broken within a choice.
pub(super) fn listed(page: &mut Page, choices: &[String]) {
    let mut line = "one of".to_owned();
    for (nth, choice) in choices.iter().enumerate() {
        let end = if nth + 1 == choices.len() { "" } else { "," };
        if COLUMN + length(&line) + 1 + length(choice) + length(end) > WIDTH {
            page.line(&format!("{}{line}", " ".repeat(COLUMN)));
            line.clear();
        }
        let gap = if line.is_empty() { "" } else { " " };
        line.push_str(&format!("{gap}{choice}{end}"));
    }
    page.line(&format!("{}{line}", " ".repeat(COLUMN)));
}

fn blank(width: usize) -> String {
    format!("[{}]", "_".repeat(width))
}

/// `± [________] mm`; of a temperature in kelvin.
fn spread(unit: &str) -> String {
    with_unit(format!("± {}", blank(SPREAD)), of_width(unit))
}

/// The unit of a ±: of a temperature that of a difference.
pub(super) fn of_width(unit: &str) -> &str {
    match unit {
        "°C" => "K",
        "°F" => "delta °F",
        unit => unit,
    }
}

fn with_unit(text: String, unit: &str) -> String {
    if unit.is_empty() {
        text
    } else {
        format!("{text} {unit}")
    }
}

/// The unit of a value's first number, for people.
pub(super) fn symbol(value: &Value, system: System) -> String {
    let unit = readings::first_amount(value).map_or(WrittenUnit::None, |amount| unit(amount, system));
    unit.symbol().to_owned()
}
