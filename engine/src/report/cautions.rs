//! Cautions, the most urgent first, each once.

use super::finding::of_run;
use super::sheet::{Sheet, SheetRun};
use super::written;
use crate::study::Verdict;

/// What hurts people, by the stems of the words that say so: the more of them, the worse. It only picks what stands
/// first: all are there to be read.
const DANGERS: [&str; 14] = [
    "break", "burn", "crush", "drop", "explode", "fire", "floor", "fumes", "kill", "never", "poison", "spark", "stand",
    "support",
];
/// What may follow such a stem.
const ENDINGS: [&str; 6] = ["", "s", "es", "ed", "ing", "ous"];

/// A run that fails is what somebody will work on next: its cautions weigh like two dangers.
const OF_A_FAILING_RUN: usize = 2;

/// All cautions of the runs shown: first those that weigh most; else as the scripts have them.
pub(super) fn cautions(sheet: &Sheet<'_>) -> Vec<String> {
    let mut ranked: Vec<(usize, String)> = Vec::new();
    for (number, run) in sheet.shown() {
        let failing = fails(sheet, number, run);
        for caution in &run.outcome.cautions {
            let text = written::phrase(caution, sheet.system);
            let rank = dangers(&text) + if failing { OF_A_FAILING_RUN } else { 0 };
            match ranked.iter_mut().find(|(_, known)| *known == text) {
                Some((known, _)) => *known = (*known).max(rank),
                None => ranked.push((rank, text)),
            }
        }
    }
    ranked.sort_by_key(|(rank, _)| std::cmp::Reverse(*rank));
    ranked.into_iter().map(|(_, text)| text).collect()
}

/// What is only tried fails on paper.
fn fails(sheet: &Sheet<'_>, number: usize, run: &SheetRun<'_>) -> bool {
    let findings = of_run(sheet, number);
    let mut decisive = findings.iter().filter(|finding| finding.decides());
    run.tries.is_none() && decisive.any(|finding| finding.judged.verdict == Verdict::Fails)
}

/// How many dangers a text names.
fn dangers(text: &str) -> usize {
    let text = text.to_lowercase();
    let words: Vec<&str> = text.split(|c: char| !c.is_alphabetic()).collect();
    let named = |stem: &&&str| {
        let mut endings = words.iter().filter_map(|word| word.strip_prefix(**stem));
        endings.any(|ending| ENDINGS.contains(&ending))
    };
    DANGERS.iter().filter(named).count()
}
