//! How many verdicts, margins, inputs and steps are the same, and how many are not.

use super::compare::{Change, ComparedCheck, ComparedEntry, ComparedRun, Comparison, EntryChange};

/// Counts of checks.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct CheckCounts {
    pub(super) worse: usize,
    pub(super) better: usize,
    /// Verdicts that are the same.
    pub(super) same: usize,
    /// Of these, those whose margin or chance is another.
    pub(super) margin: usize,
    pub(super) only_a: usize,
    pub(super) only_b: usize,
}

/// Counts of inputs or steps, item by item.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct EntryCounts {
    pub(super) differ: usize,
    pub(super) follow: usize,
    pub(super) same: usize,
    pub(super) only_a: usize,
    pub(super) only_b: usize,
}

pub(super) fn checks(comparison: &Comparison) -> CheckCounts {
    let checks = || comparison.runs.iter().flat_map(|run| &run.checks);
    let count = |change: Change| checks().filter(|check| check.change == change).count();
    let moved = |check: &&ComparedCheck| check.margin_moved;
    CheckCounts {
        worse: count(Change::Worse),
        better: count(Change::Better),
        same: count(Change::Same),
        margin: checks().filter(moved).count(),
        only_a: count(Change::OnlyA),
        only_b: count(Change::OnlyB),
    }
}

pub(super) fn inputs(comparison: &Comparison) -> EntryCounts {
    entries(comparison, &|run| &run.inputs)
}

pub(super) fn steps(comparison: &Comparison) -> EntryCounts {
    entries(comparison, &|run| &run.steps)
}

fn entries(comparison: &Comparison, of: &dyn Fn(&ComparedRun) -> &[ComparedEntry]) -> EntryCounts {
    let count = |change: EntryChange| {
        let entries = comparison.runs.iter().flat_map(of);
        entries.filter(|entry| entry.change == change).count()
    };
    EntryCounts {
        differ: count(EntryChange::Differs),
        follow: count(EntryChange::Follows),
        same: count(EntryChange::Same),
        only_a: count(EntryChange::OnlyA),
        only_b: count(EntryChange::OnlyB),
    }
}

/// `3 changed: 1 worse, 2 better; 41 the same; 2 only in A`
pub(super) fn verdicts_in_words(counts: &CheckCounts) -> String {
    let changed = counts.worse + counts.better;
    let kinds = [(counts.worse, "worse"), (counts.better, "better")];
    let kinds: Vec<String> = kinds
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{count} {word}"))
        .collect();
    let changed = match changed {
        0 => "none changed".to_owned(),
        _ => format!("{changed} changed: {}", kinds.join(", ")),
    };
    with_rest(&changed, counts.same, [counts.only_a, counts.only_b])
}

/// `4 differ; 61 the same; 2 only in B`
pub(super) fn entries_in_words(counts: &EntryCounts) -> String {
    let differ = match counts.differ {
        0 => "none differ".to_owned(),
        1 => "1 differs".to_owned(),
        several => format!("{several} differ"),
    };
    let differ = match counts.follow {
        0 => differ,
        follow => format!("{differ}, and {follow} that follow from other runs"),
    };
    with_rest(&differ, counts.same, [counts.only_a, counts.only_b])
}

fn with_rest(changed: &str, same: usize, [only_a, only_b]: [usize; 2]) -> String {
    let rest = [(same, "the same"), (only_a, "only in A"), (only_b, "only in B")];
    let rest = rest.into_iter().filter(|(count, _)| *count > 0);
    let rest = rest.map(|(count, words)| format!("; {count} {words}"));
    format!("{changed}{}", rest.collect::<String>())
}
