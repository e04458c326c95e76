//! The one line that says how it stands.

use super::finding::{Finding, all};
use super::sheet::Sheet;
use crate::outcome::Origin;
use crate::study::Verdict;

/// A word for the margin, and the counts beside it.
#[derive(Clone, Debug)]
pub(super) struct Headline {
    /// `STOP`
    pub(super) word: &'static str,
    /// Picks the colour.
    pub(super) verdict: Verdict,
    /// `1 fails, 2 unsure; 31 hold; 1 preference not met`
    pub(super) text: String,
}

/// How the sheet stands. What only tries an option does not count, and a script's own numbers are nobody's car.
pub(super) fn headline(sheet: &Sheet<'_>) -> Headline {
    let verdict = sheet.verdict();
    let headline = |word, text| Headline {
        word,
        // What holds on nobody's car is not good news.
        verdict: if matches!(word, "EXAMPLE" | "TRIED") {
            Verdict::Unmeasured
        } else {
            verdict
        },
        text,
    };
    if sheet.shown().count() > 0 && sheet.shown().all(|(_, run)| run.tries.is_some()) {
        let text = "what is only tried decides nothing about the car as it is";
        return headline("TRIED", text.to_owned());
    }
    let findings = all(sheet);
    let preferences = preferences(&findings);
    if !findings.iter().any(|finding| finding.decides()) {
        let text = "there is no check in it: it calculates, and judges nothing";
        return headline("NO CHECK", format!("{text}{preferences}"));
    }
    let own = own_numbers(sheet);
    let word = match verdict {
        Verdict::Fails => "STOP",
        Verdict::Holds if own.is_some() => "EXAMPLE",
        Verdict::Holds => "HOLDS",
        _ => "NOT YET",
    };
    let counts = counts(&findings, word == "EXAMPLE");
    headline(word, format!("{counts}{}{preferences}", own.unwrap_or_default()))
}

/// `1 fails, 2 unsure; 31 hold`; with `would`: `2 would hold`.
fn counts(findings: &[Finding<'_>], would: bool) -> String {
    let count = |verdict| {
        let found = findings.iter().filter(|finding| finding.decides());
        found.filter(|finding| finding.judged.verdict == verdict).count()
    };
    let named = |verdict, one: &str, several: &str| {
        let count = count(verdict);
        let words = if count == 1 { one } else { several };
        (count > 0).then(|| format!("{count} {words}"))
    };
    let bad = [
        named(Verdict::Fails, "fails", "fail"),
        named(Verdict::Unsure, "unsure", "unsure"),
        named(Verdict::Untrusted, "not to be trusted", "not to be trusted"),
        named(Verdict::Unmeasured, "rests on an example", "rest on examples"),
    ];
    let bad: Vec<String> = bad.into_iter().flatten().collect();
    match (bad.is_empty(), count(Verdict::Holds)) {
        (true, 1) if would => "the one check would hold".to_owned(),
        (true, holding) if would => format!("{holding} would hold"),
        (true, 1) => "the one check holds".to_owned(),
        (true, holding) => format!("all {holding} hold"),
        (false, 0) => bad.join(", "),
        (false, 1) => format!("{}; 1 holds", bad.join(", ")),
        (false, holding) => format!("{}; {holding} hold", bad.join(", ")),
    }
}

/// `; 1 preference not met, 2 perhaps`; nothing where all are met.
fn preferences(findings: &[Finding<'_>]) -> String {
    let count = |verdict| {
        let found = findings.iter().filter(|finding| !finding.decides());
        found.filter(|finding| finding.judged.verdict == verdict).count()
    };
    let words = |count: usize| {
        if count == 1 {
            "1 preference".to_owned()
        } else {
            format!("{count} preferences")
        }
    };
    match (count(Verdict::Fails), count(Verdict::Unsure)) {
        (0, 0) => String::new(),
        (not, 0) => format!("; {} not met", words(not)),
        (0, perhaps) => format!("; {} perhaps met", words(perhaps)),
        (not, perhaps) => format!("; {} not met, {perhaps} perhaps", words(not)),
    }
}

/// Of a script alone: whether its own examples stand for readings, `, on the script's own numbers`. In a job each check
/// says so for itself.
fn own_numbers(sheet: &Sheet<'_>) -> Option<String> {
    if sheet.in_job {
        return None;
    }
    let inputs = sheet.shown().flat_map(|(_, run)| &run.outcome.inputs);
    let readings: Vec<bool> = inputs
        .filter(|input| !input.assumed)
        .map(|input| input.origin == Origin::Example)
        .collect();
    let own = readings.iter().filter(|is_example| **is_example).count();
    match own {
        0 => None,
        own if own == readings.len() => Some(", on the script's own numbers".to_owned()),
        own => Some(format!(", {own} of {} numbers being the script's own", readings.len())),
    }
}
