//! The sheet, to be printed and filled in at the car.

use super::super::layout::{Page, WIDTH, length, wrapped};
use super::super::{readings, sheet::AID, written};
use super::boxes::{COLUMN, boxes, listed, taken_as};
use super::groups::{Kind, Measuring};
use super::remarks;
use crate::job::{State, Wanted};

/// A sheet for measuring in 80 columns.
#[must_use]
pub fn measuring_text(sheet: &Measuring<'_>) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    for group in sheet.groups() {
        page.gap();
        page.line(&group.kind.title().to_uppercase());
        for part in group.parts {
            page.gap();
            if !part.heading.is_empty() {
                page.line(&part.heading);
                page.line(&"-".repeat(length(&part.heading).min(WIDTH)));
            }
            for (number, wanted) in part.readings {
                reading(&mut page, number, wanted, group.kind, sheet);
            }
        }
    }
    page.gap();
    page.line(AID);
    page.text
}

fn head(page: &mut Page, sheet: &Measuring<'_>) {
    page.block(0, &format!("MEASURING SHEET: {}", sheet.title));
    page.block(0, &sheet.about);
    page.line(AID);
    page.gap();
    page.line(&format!("Car  {}   Day  {}", "_".repeat(38), "_".repeat(29)));
    page.gap();
    page.line(&format!("By   {}   At   {}", "_".repeat(38), "_".repeat(29)));
    page.gap();
    for caution in sheet.cautions {
        page.marked("CARE", "CARE", &written::phrase(caution, sheet.system));
    }
    page.gap();
    if sheet.in_job {
        let (asked, missing) = sheet.counts();
        page.block(
            0,
            &format!("[x] is in the job already, [ ] is still to do: {missing} of {asked} readings."),
        );
    }
    page.block(0, remarks::OF_BOXES);
}

fn reading(page: &mut Page, number: usize, wanted: &Wanted, kind: Kind, sheet: &Measuring<'_>) {
    let is_given = matches!(wanted.state, State::Given(_));
    let mark = match (kind, is_given) {
        (Kind::TakenAs, false) => "   ",
        (_, true) => "[x]",
        (_, false) => "[ ]",
    };
    page.gap();
    titled(page, &format!("  {mark} {number:>3}"), wanted, sheet);
    let system = sheet.system;
    if is_given {
        let taken = remarks::taken(wanted).map(|taken| format!(" ({taken})"));
        let value = readings::value(&wanted.input, system);
        page.block(COLUMN, &format!("= {value}{}", taken.unwrap_or_default()));
        return;
    }
    if kind == Kind::TakenAs {
        page.block(COLUMN, &taken_as(wanted, system));
        if !wanted.input.choices.is_empty() {
            listed(page, &wanted.input.choices);
        }
    } else {
        boxes(page, wanted, kind, system);
    }
    for said in [
        remarks::how(wanted, system),
        remarks::range(wanted, system),
        remarks::per(wanted, system),
    ] {
        page.block(COLUMN, &said.unwrap_or_default());
    }
}

/// The label with the reading's name at the right edge, or below where there is no room.
fn titled(page: &mut Page, margin: &str, wanted: &Wanted, sheet: &Measuring<'_>) {
    let name = sheet.name_of(wanted);
    let label = readings::label(&wanted.input, sheet.system);
    let mut lines = wrapped(&label, WIDTH - COLUMN);
    if lines
        .last()
        .is_none_or(|last| COLUMN + length(last) + 2 + length(&name) > WIDTH)
    {
        lines.push(String::new());
    }
    let last = lines.len().saturating_sub(1);
    for (nth, line) in lines.iter().enumerate() {
        let margin = if nth == 0 { margin } else { "" };
        let left = format!("{margin}{}{line}", " ".repeat(COLUMN.saturating_sub(length(margin))));
        let own = if nth == last && label != name {
            name.as_str()
        } else {
            ""
        };
        let gap = WIDTH.saturating_sub(length(&left) + length(own));
        page.line(&format!("{left}{}{own}", " ".repeat(gap)));
    }
}
