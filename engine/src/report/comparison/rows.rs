//! Margins, inputs and steps in columns: A, B, and from A to B.

use super::compare::{Change, ComparedCheck, ComparedEntry, ComparedRun, Comparison, EntryChange};
use super::record::Entry;
use super::words;
use crate::quantity::text::System;
use crate::report::{Identity, short_digest};
use std::cmp::Ordering;

/// A line of a table.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) name: String,
    pub(super) a: String,
    pub(super) b: String,
    /// From A to B.
    pub(super) difference: String,
    /// Runs of a job in which it stands.
    pub(super) runs: Vec<String>,
    /// What else is to be said.
    pub(super) remarks: Vec<String>,
}

/// A check with its run, as a reader sorts them: what decides first, then by how bad it is, then by how far it went.
pub(super) fn checks_that(
    comparison: &Comparison,
    wanted: impl Fn(&ComparedCheck) -> bool,
) -> Vec<(&ComparedRun, &ComparedCheck)> {
    let runs = comparison.runs.iter().filter(|run| run.is_in_both());
    let checks = runs.flat_map(|run| run.checks.iter().map(move |check| (run, check)));
    let mut found: Vec<_> = checks.filter(|(_, check)| wanted(check)).collect();
    found.sort_by(|(run_a, a), (run_b, b)| {
        let rank = |run: &ComparedRun, check: &ComparedCheck| {
            let verdict = check.sides.b.as_ref().map(|check| check.verdict);
            (run.tries.is_some(), !check.decides(), verdict)
        };
        let order = rank(run_a, a).cmp(&rank(run_b, b));
        order.then(a.margin_change().total_cmp(&b.margin_change()))
    });
    found
}

/// A check's name with its run: `Front joint rolls (as found)`.
pub(super) fn named(comparison: &Comparison, run: &ComparedRun, check: &ComparedCheck) -> String {
    let tries = match &run.tries {
        Some(_) => ", which only tries an option",
        None => "",
    };
    match comparison.in_job() {
        true => format!("{} ({}{tries})", check.name(), run.name),
        false => check.name().to_owned(),
    }
}

/// Checks whose verdict is the same and whose margin is another, what lost most first.
pub(super) fn margins(comparison: &Comparison, system: Option<System>) -> Vec<Row> {
    let mut moved = checks_that(comparison, |check| check.change == Change::Same && check.margin_moved);
    moved.sort_by(|(run_a, a), (run_b, b)| {
        let order = run_a.tries.is_some().cmp(&run_b.tries.is_some());
        let change = a.margin_change().total_cmp(&b.margin_change());
        match order {
            Ordering::Equal => change,
            order => order,
        }
    });
    let row = |(run, check): (&ComparedRun, &ComparedCheck)| {
        let (a, b) = check.sides.both()?;
        let margin = |side| words::margin(side, system).unwrap_or_else(|| "no margin".to_owned());
        let chances = (a.chance - b.chance).abs() >= 0.01;
        let remark = chances.then(|| {
            let of = |chance: f64| format!("{:.0}", chance * 100.0);
            format!("holds in {} of 100 in A, in {} of 100 in B", of(a.chance), of(b.chance))
        });
        Some(Row {
            name: named(comparison, run, check),
            a: margin(a),
            b: margin(b),
            difference: words::margin_difference(check, system).unwrap_or_default(),
            runs: Vec::new(),
            remarks: remark.into_iter().collect(),
        })
    };
    moved.into_iter().filter_map(row).collect()
}

/// Inputs that are not the same, each once however many runs have it; `all`: the others too.
pub(super) fn inputs(comparison: &Comparison, all: bool, system: Option<System>) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for run in comparison.runs.iter().filter(|run| run.is_in_both()) {
        for entry in run.inputs.iter().filter(|entry| all || is_told(entry.change)) {
            let row = input(run, entry, system);
            let same = rows.iter_mut().find(|known| {
                let of = |row: &Row| (row.name.clone(), row.a.clone(), row.b.clone(), row.remarks.clone());
                of(known) == of(&row)
            });
            match same {
                Some(known) => known.runs.extend(row.runs),
                None => rows.push(row),
            }
        }
    }
    rows
}

/// What follows from another run is told there.
const fn is_told(change: EntryChange) -> bool {
    !matches!(change, EntryChange::Same | EntryChange::Follows)
}

fn input(run: &ComparedRun, entry: &ComparedEntry, system: Option<System>) -> Row {
    let origin = |side: &Option<Entry>| {
        let origin = side.as_ref().and_then(|entry| entry.origin.as_ref());
        origin.map(words::origin)
    };
    let remark = match (origin(&entry.sides.a), origin(&entry.sides.b)) {
        (Some(a), Some(b)) if a == b => Some(a),
        (Some(a), Some(b)) => Some(format!("A {a}; B {b}")),
        (a, b) => a.or(b),
    };
    let mut row = row(entry, system);
    if let Some(entry) = entry.sides.any() {
        row.name.clone_from(&entry.address);
    }
    row.runs.push(run.name.clone());
    row.remarks.extend(remark);
    row
}

/// Steps of a run that are not the same; `all`: the others too.
pub(super) fn steps(run: &ComparedRun, all: bool, system: Option<System>) -> Vec<Row> {
    let steps = run.steps.iter().filter(|entry| all || is_told(entry.change));
    steps.map(|entry| row(entry, system)).collect()
}

fn row(entry: &ComparedEntry, system: Option<System>) -> Row {
    let any = entry.sides.any();
    let value = |side: &Option<Entry>| match (side, any) {
        (Some(side), Some(any)) => words::value(&side.found, &any.found, system),
        _ => "is not there".to_owned(),
    };
    let difference = entry.sides.both();
    Row {
        name: any.map(|entry| entry.label.clone()).unwrap_or_default(),
        a: value(&entry.sides.a),
        b: value(&entry.sides.b),
        difference: difference
            .map(|(a, b)| words::difference(&a.found, &b.found, system))
            .unwrap_or_default(),
        runs: Vec::new(),
        remarks: difference
            .and_then(|(a, b)| words::other_kind(&a.found, &b.found))
            .into_iter()
            .collect(),
    }
}

/// What is to be known beside the numbers: scripts that changed, and runs that one record alone has.
pub(super) fn remarks(comparison: &Comparison) -> Vec<(&'static str, String)> {
    let mut found = Vec::new();
    for run in &comparison.runs {
        let of_run = if run.name.is_empty() {
            String::new()
        } else {
            format!("{}: ", run.name)
        };
        if run.a_only || run.b_only {
            let word = if run.a_only { "ONLY IN A" } else { "ONLY IN B" };
            let checks = run.checks.len();
            let are = if checks == 1 { "check" } else { "checks" };
            found.push((word, format!("run {}, with {checks} {are}", run.name)));
        } else if run.script_changed() {
            found.push(("SCRIPT", format!("{of_run}{}", script(run))));
        }
        let softened = run.checks.iter().filter(|check| check.is_softened());
        found.extend(softened.map(|check| {
            let words = format!("{of_run}check {} decides in A, and is mere advice in B", check.name());
            ("ADVICE", words)
        }));
        for (change, word) in [(Change::OnlyA, "ONLY IN A"), (Change::OnlyB, "ONLY IN B")] {
            for check in run
                .checks
                .iter()
                .filter(|check| run.is_in_both() && check.change == change)
            {
                let side = check.sides.any();
                let verdict = side.map_or("", |check| check.verdict.word());
                found.push((word, format!("{of_run}check {} ({verdict})", check.name())));
            }
        }
    }
    found
}

/// How many results are named; the rest are counted.
const NAMED: usize = 6;

/// From which script to which, and which results did differ.
fn script(run: &ComparedRun) -> String {
    let Some((a, b)) = run.script.both() else {
        return String::new();
    };
    let own = if a.is_same_text(b) {
        None
    } else if a.name == b.name {
        Some(format!("{} is {} in A, {} in B", a.name, identity(a), identity(b)))
    } else {
        let (was, is) = (identity(a), identity(b));
        Some(format!("{}, {was}, in A; {}, {is}, in B", a.name, b.name))
    };
    let what: Vec<String> = own.into_iter().chain(imported(a, b)).collect();
    format!(
        "{}; results may differ because the script changed: {}",
        what.join("; "),
        differing(run)
    )
}

/// What a script imports that is another one, or that one side alone has.
fn imported(a: &Identity, b: &Identity) -> Vec<String> {
    let (Some(old), Some(new)) = (&a.imports, &b.imports) else {
        return Vec::new();
    };
    let of = |script: &Identity| format!("{}, which {} imports,", script.name, b.name);
    let twin = |script: &Identity, others: &[Identity]| others.iter().find(|other| other.name == script.name).cloned();
    let gone = |script: &Identity| format!("{} {} in A alone", of(script), identity(script));
    let mut found: Vec<String> = old
        .iter()
        .filter_map(|was| match twin(was, new) {
            Some(is) if is.is_same_text(was) => None,
            Some(is) => Some(format!("{} is {} in A, {} in B", of(was), identity(was), identity(&is))),
            None => Some(gone(was)),
        })
        .collect();
    let come = new.iter().filter(|is| twin(is, old).is_none());
    found.extend(come.map(|is| format!("{} {} in B alone", of(is), identity(is))));
    found
}

/// `version 0.1.0 (SHA-256 3f2a90c4…)`
fn identity(script: &Identity) -> String {
    let digest = short_digest(&script.sha256);
    match &script.pack_version {
        Some(version) => format!("version {version} (SHA-256 {digest}…)"),
        None => format!("SHA-256 {digest}…"),
    }
}

/// Steps and checks that are not the same; where readings are others too, not all of it is the script's doing.
fn differing(run: &ComparedRun) -> String {
    let steps = run.steps.iter().filter(|entry| entry.change != EntryChange::Same);
    let steps = steps.filter_map(|entry| Some(entry.sides.any()?.label.clone()));
    let checks = run
        .checks
        .iter()
        .filter(|check| check.change != Change::Same || check.margin_moved);
    let checks = checks.map(|check| format!("check {}", check.name()));
    let found: Vec<String> = steps.chain(checks).collect();
    if found.is_empty() {
        return "none does".to_owned();
    }
    let more = match found.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let named: Vec<&str> = found.iter().take(NAMED).map(String::as_str).collect();
    let readings = run.inputs.iter().any(|entry| entry.change != EntryChange::Same);
    let readings = if readings { "; readings are others too" } else { "" };
    format!("{}{more}{readings}", named.join(", "))
}
