//! The sheet as Markdown.

use super::super::{markdown::plain, readings, sheet::AID, written};
use super::boxes::symbol;
use super::groups::{Group, Kind as GroupKind, Measuring};
use super::{remarks, ruled};
use crate::job::{Kind, State, Wanted};

/// A sheet for measuring as Markdown.
#[must_use]
pub fn measuring_markdown(sheet: &Measuring<'_>) -> String {
    let mut text = format!("# Measuring sheet: {}\n\n", plain(&sheet.title));
    if !sheet.about.is_empty() {
        text.push_str(&format!("{}\n\n", plain(&sheet.about)));
    }
    text.push_str(&format!(
        "*{AID}*\n\n| Car | Day | By | At |\n|---|---|---|---|\n|  |  |  |  |\n"
    ));
    if !sheet.cautions.is_empty() {
        text.push('\n');
    }
    for caution in sheet.cautions {
        text.push_str(&format!(
            "- **CARE** {}\n",
            plain(&written::phrase(caution, sheet.system))
        ));
    }
    if sheet.in_job {
        let (asked, missing) = sheet.counts();
        text.push_str(&format!("\nStill to do: {missing} of {asked} readings.\n"));
    }
    for group in sheet.groups() {
        of_group(&mut text, &group, sheet);
    }
    text
}

fn of_group(text: &mut String, group: &Group<'_>, sheet: &Measuring<'_>) {
    text.push_str(&format!("\n## {}\n", group.kind.title()));
    for part in &group.parts {
        if !part.heading.is_empty() {
            text.push_str(&format!("\n### {}\n", plain(&part.heading)));
        }
        text.push_str("\n| | Reading | Value | ± | How |\n|---|---|---|---|---|\n");
        for (number, wanted) in &part.readings {
            text.push_str(&row(*number, wanted, group.kind, sheet));
        }
        for (number, wanted) in &part.readings {
            let has_rows = matches!(
                Kind::of(&wanted.input.value),
                Kind::List(_) | Kind::Table(_) | Kind::Row(_)
            );
            if has_rows && !is_given(wanted) && group.kind != GroupKind::TakenAs {
                text.push_str(&rows(*number, wanted, sheet));
            }
        }
    }
}

fn is_given(wanted: &Wanted) -> bool {
    matches!(wanted.state, State::Given(_))
}

fn row(number: usize, wanted: &Wanted, kind: GroupKind, sheet: &Measuring<'_>) -> String {
    let system = sheet.system;
    let mark = if is_given(wanted) { "done" } else { "" };
    let label = plain(&readings::label(&wanted.input, system));
    let (value, spread) = match (is_given(wanted), kind) {
        (true, _) => {
            let taken = remarks::taken(wanted)
                .map(|taken| format!(" ({taken})"))
                .unwrap_or_default();
            (
                format!("{}{taken}", readings::value(&wanted.input, system)),
                String::new(),
            )
        }
        (false, GroupKind::TakenAs) => (
            format!("taken as {}", readings::value(&wanted.input, system)),
            String::new(),
        ),
        (false, _) => (blank(wanted, sheet), spread(wanted, kind, sheet)),
    };
    let how = [
        remarks::how(wanted, system),
        remarks::range(wanted, system),
        remarks::choices(wanted),
        remarks::per(wanted, system),
    ];
    let how: Vec<String> = how.into_iter().flatten().collect();
    let number = format!("{number} {mark}");
    format!(
        "| {} | {label} (`{}`) | {} | {} | {} |\n",
        number.trim_end(),
        wanted.name,
        plain(&value),
        plain(&spread),
        plain(&how.join("; "))
    )
}

/// What stands in an empty cell: its unit, its coordinates, its words.
fn blank(wanted: &Wanted, sheet: &Measuring<'_>) -> String {
    let unit = symbol(&wanted.input.value, sheet.system);
    let blank = match Kind::of(&wanted.input.value) {
        Kind::Point => format!("x …… y …… z …… {unit}"),
        Kind::YesNo => "yes / no".to_owned(),
        Kind::List(_) | Kind::Table(_) | Kind::Row(_) => "see below".to_owned(),
        _ => format!("…… {unit}"),
    };
    match remarks::signs(wanted) {
        Some((positive, negative)) => format!("{blank} {positive} / {negative}"),
        None => blank,
    }
}

fn spread(wanted: &Wanted, kind: GroupKind, sheet: &Measuring<'_>) -> String {
    match (kind, remarks::usual(wanted, sheet.system)) {
        (GroupKind::Measured, Some(usual)) => format!("± …… (usual {usual})"),
        (GroupKind::Measured, None) => "± ……".to_owned(),
        _ => String::new(),
    }
}

/// The empty table of a reading that is one.
fn rows(number: usize, wanted: &Wanted, sheet: &Measuring<'_>) -> String {
    let columns = ruled::columns(&wanted.input.value, sheet.system);
    let label = plain(&readings::label(&wanted.input, sheet.system));
    let heads: Vec<String> = columns.iter().map(|column| plain(&column.head)).collect();
    let mut text = format!(
        "\n{number}. {label}\n\n| {} |\n|{}\n",
        heads.join(" | "),
        "---|".repeat(heads.len())
    );
    let count = columns.first().map_or(0, |column| column.cells.len());
    for row in 0..count + 2 {
        let cells = columns
            .iter()
            .map(|column| column.cells.get(row).map_or_else(String::new, |cell| plain(cell)));
        text.push_str(&format!("| {} |\n", cells.collect::<Vec<_>>().join(" | ")));
    }
    text
}
