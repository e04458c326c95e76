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
    let mut judged = sheet.judged.runs.iter().flat_map(|run| &run.checks);
    if strict && judged.any(|check| !check.examples.is_empty()) {
        return NOT_DONE;
    }
    match sheet.verdict() {
        Verdict::Holds => DONE,
        _ => FAILED,
    }
}
