//! Ways considered: options with their fate, and the runs that try one.

use super::finding::of_run;
use super::sheet::Sheet;
use crate::job::{ConsideredOption, Fate};
use crate::script::GivenValue;
use crate::study::Verdict;

/// An option that runs try, in words.
#[derive(Clone, Debug)]
pub(super) struct Tried<'a> {
    /// `mount up until the lines are parallel. Rejected: both joints get twice the angle`
    pub(super) what: String,
    /// The option, where the job has it.
    pub(super) option: Option<&'a ConsideredOption>,
    /// The runs that try it, each by its number in the sheet with what came of it: `made parallel: 1 would fail (Shaft
    /// under drive); 5 would hold`
    pub(super) runs: Vec<(usize, String)>,
}

/// The options that shown runs try, in the order of the runs.
pub(super) fn tried<'a>(sheet: &'a Sheet<'_>) -> Vec<Tried<'a>> {
    let mut found: Vec<(&str, Tried<'a>)> = Vec::new();
    for (number, run) in sheet.shown() {
        let Some(name) = &run.tries else { continue };
        let outcome = (number, format!("{}: {}", run.name, outcome(sheet, number)));
        if let Some((_, tried)) = found.iter_mut().find(|(known, _)| *known == name) {
            tried.runs.push(outcome);
            continue;
        }
        let option = sheet.options.iter().find(|option| option.name == *name);
        let fate = option.map(|option| format!(". {}", fate(&option.fate)));
        let tried = Tried {
            what: format!("{name}{}", fate.unwrap_or_default()),
            option,
            runs: vec![outcome],
        };
        found.push((name, tried));
    }
    found.into_iter().map(|(_, tried)| tried).collect()
}

fn outcome(sheet: &Sheet<'_>, run: usize) -> String {
    let findings = of_run(sheet, run);
    let labels = |verdict| -> Vec<String> {
        let found = findings.iter().filter(|finding| finding.decides());
        let found = found.filter(|finding| finding.judged.verdict == verdict);
        found.map(|finding| finding.label(sheet)).collect()
    };
    let named = |verdict, words: &str| {
        let labels = labels(verdict);
        (!labels.is_empty()).then(|| format!("{} {words} ({})", labels.len(), labels.join("; ")))
    };
    let bad = [
        named(Verdict::Fails, "would fail"),
        named(Verdict::Unsure, "unsure"),
        named(Verdict::Untrusted, "not to be trusted"),
        named(Verdict::Unmeasured, "would hold, but nobody has measured what it takes"),
    ];
    let good = match labels(Verdict::Holds).len() {
        0 => None,
        holding => Some(format!("{holding} would hold")),
    };
    let all: Vec<String> = bad.into_iter().chain([good]).flatten().collect();
    if all.is_empty() {
        "there is no check in it".to_owned()
    } else {
        all.join(", ")
    }
}

/// `Kept: one degree at both joints`.
pub(super) fn fate(fate: &Fate) -> String {
    let (word, why) = match fate {
        Fate::Open => ("Not decided", None),
        Fate::Kept(why) => ("Kept", why.as_ref()),
        Fate::Rejected(why) => ("Rejected", why.as_ref()),
    };
    match why {
        Some(why) => format!("{word}: {why}"),
        None => word.to_owned(),
    }
}

/// What an option changes: `gearbox_fall = 2.6 deg, gearbox_plan = 0 deg`.
pub(super) fn settings(option: &ConsideredOption) -> String {
    let set = option.set.iter();
    let set = set.map(|setting| format!("{} = {}", setting.name, given(&setting.given.what)));
    set.collect::<Vec<_>>().join(", ")
}

/// A value as somebody wrote it.
pub(super) fn given(value: &GivenValue) -> String {
    match value {
        GivenValue::Text(text) => text.clone(),
        // A number that stands elsewhere has no words of its own.
        GivenValue::Tracked(_) => "linked".to_owned(),
        GivenValue::InPlaceOf(tried, _) => given(tried),
        GivenValue::Truth(truth) => if *truth { "yes" } else { "no" }.to_owned(),
        GivenValue::Number(number) => number.to_string(),
        GivenValue::Repeats(repeats, limits) => {
            let limits = limits.as_ref().map(|limits| format!(" ± {limits}"));
            format!("mean of {}{}", repeats.join(", "), limits.unwrap_or_default())
        }
        GivenValue::List(items) => items.iter().map(given).collect::<Vec<_>>().join(", "),
        GivenValue::Fields(fields) => {
            let fields = fields.iter().map(|(name, value)| format!("{name} {}", given(value)));
            fields.collect::<Vec<_>>().join(", ")
        }
    }
}
