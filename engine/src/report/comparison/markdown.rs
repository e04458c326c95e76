//! The comparison for a folder, in Markdown.

use super::compare::{Change, Comparison};
use super::counts;
use super::rows::{self, Row, checks_that};
use super::words;
use crate::quantity::text::System;
use crate::report::markdown::{line, paragraph, plain, row, table};
use crate::report::sheet::AID;

/// The comparison as Markdown; `all`: also what is the same. `system` turns numbers of records into the reader's units.
#[must_use]
pub fn comparison_markdown(comparison: &Comparison, all: bool, system: Option<System>) -> String {
    let mut text = String::new();
    let [title, a, b] = comparison.called();
    line(&mut text, &format!("# {}", plain(&title)));
    paragraph(&mut text, &format!("*{AID}*"));
    paragraph(&mut text, &format!("**A:** {}", plain(&a)));
    paragraph(&mut text, &format!("**B:** {}", plain(&b)));
    let verdicts = counts::verdicts_in_words(&counts::checks(comparison));
    paragraph(&mut text, &format!("**Verdicts:** {verdicts}."));
    for (word, remark) in rows::remarks(comparison) {
        paragraph(&mut text, &format!("**{}:** {}", capital(word), plain(&remark)));
    }
    checks(&mut text, comparison, all, system);
    let margins = rows::margins(comparison, system);
    if !margins.is_empty() {
        paragraph(&mut text, "## Margins");
        rows_of(&mut text, "Check", &margins, comparison.in_job());
    }
    paragraph(&mut text, "## Inputs");
    let counts = counts::entries_in_words(&counts::inputs(comparison));
    paragraph(&mut text, &format!("{}.", capital(&counts)));
    let inputs = rows::inputs(comparison, all, system);
    rows_of(&mut text, "Input", &inputs, comparison.in_job());
    paragraph(&mut text, "## Steps");
    let counts = counts::entries_in_words(&counts::steps(comparison));
    paragraph(&mut text, &format!("{}.", capital(&counts)));
    let runs = comparison.runs.iter().filter(|run| run.is_in_both());
    let steps = runs.flat_map(|run| {
        let mut steps = rows::steps(run, all, system);
        steps.iter_mut().for_each(|row| row.runs.push(run.name.clone()));
        steps
    });
    rows_of(&mut text, "Step", &steps.collect::<Vec<_>>(), comparison.in_job());
    text
}

/// `ONLY IN A` as `Only in A`.
fn capital(words: &str) -> String {
    let lower = words.to_lowercase();
    let lower = match lower.strip_suffix(['a', 'b']) {
        Some(start) if start.ends_with("in ") => format!("{start}{}", words.get(start.len()..).unwrap_or_default()),
        _ if words == words.to_uppercase() => lower,
        _ => words.to_owned(),
    };
    let mut letters = lower.chars();
    let first = letters.next().map(|first| first.to_uppercase().collect::<String>());
    format!("{}{}", first.unwrap_or_default(), letters.as_str())
}

/// Checks whose verdict changed, with both sides.
fn checks(text: &mut String, comparison: &Comparison, all: bool, system: Option<System>) {
    let mut found = Vec::new();
    for change in [Change::Worse, Change::Better, Change::Same] {
        if all || change != Change::Same {
            found.extend(checks_that(comparison, |check| check.change == change));
        }
    }
    if found.is_empty() {
        return;
    }
    paragraph(text, "## Checks");
    table(text, ["Verdict", "Check", "A", "B"].iter());
    for (run, check) in found {
        if let Some((a, b)) = check.sides.both() {
            let name = rows::named(comparison, run, check);
            let cells = [
                check.change.word().to_owned(),
                name,
                words::check(a, system),
                words::check(b, system),
            ];
            row(text, &cells);
        }
    }
}

fn rows_of(text: &mut String, head: &str, rows: &[Row], in_job: bool) {
    if rows.is_empty() {
        return;
    }
    let in_job = in_job && rows.iter().any(|row| !row.runs.is_empty());
    let remarked = rows.iter().any(|row| !row.remarks.is_empty());
    let columns = [head, "A", "B", "From A to B", "Run", "Remark"];
    let shown = |column: &str| (column != "Run" || in_job) && (column != "Remark" || remarked);
    table(text, columns.iter().filter(|column| shown(column)));
    for of in rows {
        let cells = [
            of.name.clone(),
            of.a.clone(),
            of.b.clone(),
            of.difference.clone(),
            of.runs.join(", "),
            of.remarks.join("; "),
        ];
        let cells = columns.iter().zip(cells).filter(|(column, _)| shown(column));
        row(text, &cells.map(|(_, cell)| cell).collect::<Vec<_>>());
    }
}
