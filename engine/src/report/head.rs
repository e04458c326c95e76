//! The top of a page: what it is, on which day, whose scripts somebody altered, what is only tried.

use super::considered::given;
use super::layout::{Page, WIDTH, length, wrapped};
use super::readings;
use super::sheet::{AID, Sheet};
use super::written;

/// Title, purpose or day, what the page is not, packs that are not what was sealed, and the values tried.
pub(super) fn head(page: &mut Page, sheet: &Sheet<'_>) {
    let trial = if sheet.is_trial() { "TRIAL" } else { "" };
    let gap = WIDTH.saturating_sub(length(&sheet.title) + length(trial)).max(2);
    page.line(&format!("{}{}{trial}", sheet.title, " ".repeat(gap)));
    for line in wrapped(&sheet.about, WIDTH) {
        page.line(&line);
    }
    page.line(AID);
    page.gap();
    for altered in &sheet.altered {
        page.marked("ALTERED", "ALTERED", &altered.words());
    }
    for line in trials(sheet) {
        page.marked("WITH", "WITH", &line);
    }
    page.gap();
}

/// Values tried in place of others, each once: `wall = 0.095 in ± 0.005 in; the script's own: 0.083 in`; the option that sets them
/// stands above.
pub(super) fn trials(sheet: &Sheet<'_>) -> Vec<String> {
    let option = sheet.option().map(|option| format!("option \"{option}\""));
    let mut lines: Vec<String> = option.into_iter().collect();
    for run in &sheet.runs {
        for set in &run.set {
            let mut inputs = run.outcome.inputs.iter();
            let Some(input) = inputs.find(|input| input.name == set.input) else {
                continue;
            };
            let instead = match (&set.job, &input.own) {
                (Some(job), _) => format!("; the job's: {}", given(job)),
                (None, Some(own)) => format!("; the script's own: {}", written::value(own, sheet.system)),
                (None, None) => String::new(),
            };
            let value = readings::value(input, sheet.system);
            let line = format!("{} = {value}{instead}", input.name);
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}
