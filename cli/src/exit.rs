//! Exit codes.

use crankline_engine::report::Sheet;
use crankline_engine::study::Verdict;

/// All checks hold.
pub const DONE: u8 = 0;
/// A check fails, is unsure, not to be trusted, or rests in a job on a reading that nobody took.
pub const FAILED: u8 = 1;
/// It could not be done.
pub const NOT_DONE: u8 = 2;

/// The code of a sheet; `strict` takes a reading that nobody took for an error.
pub(crate) fn of(sheet: &Sheet<'_>, strict: bool) -> u8 {
    if strict && !unmeasured(sheet).is_empty() {
        return NOT_DONE;
    }
    match sheet.verdict() {
        Verdict::Holds => DONE,
        _ => FAILED,
    }
}

/// Names of the examples that verdicts about the car as it is rest on, each once.
pub(crate) fn unmeasured<'a>(sheet: &'a Sheet<'_>) -> Vec<&'a str> {
    let runs = sheet.runs.iter().zip(&sheet.judged.runs);
    let counted = runs.filter(|(run, _)| run.asked && run.tries.is_none());
    let mut names = Vec::new();
    for name in counted.flat_map(|(_, judged)| judged.all().flat_map(|check| &check.examples)) {
        if !names.contains(&name.as_str()) {
            names.push(name.as_str());
        }
    }
    names
}
