//! The sheet for a folder: Markdown, with readings, steps and checks as tables.

use super::advice;
use super::cautions::cautions;
use super::closing;
use super::compared::compared;
use super::considered::{self, fate, settings};
use super::figure::{cells, letters};
use super::finding::worst_first;
use super::head::trials;
use super::headline::headline;
use super::json::system_name;
use super::readings;
use super::results::flat;
use super::sheet::{AID, Identity, Sheet, SheetRun};
use super::text::reasons;
use super::working::opened_lines;
use super::written;
use crate::figure::Figure;
use crate::outcome::Input;

/// The sheet as Markdown; `with_working` adds each step's formula with its numbers put in.
#[must_use]
pub fn markdown(sheet: &Sheet<'_>, with_working: bool) -> String {
    let mut text = String::new();
    let trial = if sheet.is_trial() { " (TRIAL)" } else { "" };
    line(&mut text, &format!("# {}{trial}", plain(&sheet.title)));
    paragraph(&mut text, &plain(&sheet.about));
    paragraph(&mut text, &format!("*{AID}*"));
    for altered in &sheet.altered {
        paragraph(&mut text, &format!("**Altered:** {}", plain(&altered.words())));
    }
    for trial in trials(sheet) {
        paragraph(&mut text, &format!("**With:** {}", plain(&trial)));
    }
    for caution in cautions(sheet) {
        paragraph(&mut text, &format!("> **Care:** {}", plain(&caution)));
    }
    let headline = headline(sheet);
    paragraph(&mut text, &format!("**{}:** {}.", headline.word, plain(&headline.text)));
    checks(&mut text, sheet);
    ways(&mut text, sheet);
    for samples in closing::samples(sheet) {
        paragraph(&mut text, &format!("**Samples:** {}", plain(&samples)));
    }
    items(&mut text, "## Look again", "-", &closing::doubts(sheet));
    items(&mut text, "## Next at the car", "1.", &advice::next(sheet));
    for remark in closing::readings(sheet) {
        paragraph(&mut text, &format!("**Readings:** {}", plain(&remark)));
    }
    if let Some(examples) = closing::examples(sheet) {
        paragraph(&mut text, &format!("**Example:** {}", plain(&examples)));
    }
    for (run, of_sheet) in sheet.shown() {
        of_run(&mut text, sheet, (run, of_sheet), with_working);
    }
    record(&mut text, sheet);
    text
}

/// What this is a record of, so that it can be made again: the job file and all scripts, units and samples.
fn record(text: &mut String, sheet: &Sheet<'_>) {
    let mut lines = Vec::new();
    if let Some(file) = &sheet.job_file {
        lines.push(format!("job {}, SHA-256 {}", file.name, file.sha256));
    }
    let scripts = || sheet.runs.iter().map(|run| &run.script);
    let imported = scripts()
        .flat_map(Identity::imported)
        .map(|script| ("imported script", script));
    for (word, script) in scripts().map(|script| ("script", script)).chain(imported) {
        let version = script.pack_version.as_ref().map(|version| format!(" {version}"));
        let (name, version) = (&script.name, version.unwrap_or_default());
        let altered = sheet.altered(script).map(|altered| format!("; {}", altered.words()));
        let (sha256, altered) = (&script.sha256, altered.unwrap_or_default());
        let line = format!("{word} {name}{version}, SHA-256 {sha256}{altered}");
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.push(format!(
        "{} units; samples of the ±: {}",
        system_name(sheet.system),
        sheet.judged.samples
    ));
    items(text, "## Record", "-", &lines);
}

fn checks(text: &mut String, sheet: &Sheet<'_>) {
    let findings = worst_first(sheet);
    if findings.is_empty() {
        return;
    }
    paragraph(text, "## Checks");
    let head = ["Verdict", "Run", "Check", "Value", "Limit", "Why"];
    table(text, head.iter().filter(|column| sheet.in_job || **column != "Run"));
    for finding in findings {
        let words = compared(sheet, finding);
        let why: Vec<String> = words.off.into_iter().chain(reasons(sheet, finding)).collect();
        let mut cells = vec![finding.word().to_lowercase()];
        if sheet.in_job {
            cells.push(
                sheet
                    .runs
                    .get(finding.run)
                    .map_or("", |run| run.name.as_str())
                    .to_owned(),
            );
        }
        cells.extend([finding.label(sheet), words.value, words.limit, why.join("; ")]);
        row(text, &cells);
    }
}

/// Runs that try an option, and the options with their fate.
fn ways(text: &mut String, sheet: &Sheet<'_>) {
    let tried = considered::tried(sheet).into_iter();
    let tried: Vec<String> = tried
        .map(|tried| {
            let runs: Vec<String> = tried.runs.into_iter().map(|(_, outcome)| outcome).collect();
            format!("{}. {}", tried.what, runs.join(". "))
        })
        .collect();
    items(text, "## Tried", "-", &tried);
    let options = sheet.options.iter();
    let options: Vec<String> = options
        .map(|option| format!("{} ({}). {}", option.name, settings(option), fate(&option.fate)))
        .collect();
    items(text, "## Ways considered", "-", &options);
}

/// A list under a heading; `mark` stands before each item, a number counted up.
fn items(text: &mut String, heading: &str, mark: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    paragraph(text, heading);
    text.push('\n');
    for (nth, item) in items.iter().enumerate() {
        match mark {
            "1." => line(text, &format!("{}. {}", nth + 1, plain(item))),
            mark => line(text, &format!("{mark} {}", plain(item))),
        }
    }
}

fn of_run(text: &mut String, sheet: &Sheet<'_>, (run, of_sheet): (usize, &SheetRun<'_>), with_working: bool) {
    if sheet.in_job {
        let tries = of_sheet.tries.as_ref().map(|option| format!(" (tries: {option})"));
        let name = format!("{}{}", of_sheet.name, tries.unwrap_or_default());
        paragraph(text, &format!("## {}", plain(&name)));
    }
    paragraph(text, "## Readings");
    let taken = |input: &Input| {
        let taken = of_sheet.taken(&input.name);
        let taken = taken.map(|taken| readings::taken(input, taken, sheet.system));
        taken.unwrap_or_default()
    };
    let is_told = of_sheet.outcome.inputs.iter().any(|input| !taken(input).is_empty());
    let head = ["Name", "What it is", "Value", "From", "Taken", "Source"];
    table(text, head.iter().filter(|column| is_told || **column != "Taken"));
    for input in &of_sheet.outcome.inputs {
        let per = input.per.as_ref().map(|per| written::phrase(per, sheet.system));
        let mut cells = vec![
            input.name.clone(),
            readings::label(input, sheet.system),
            readings::on_sheet(input, sheet),
            readings::source(input, of_sheet),
        ];
        cells.extend(is_told.then(|| taken(input)));
        cells.extend([per.unwrap_or_default()]);
        row(text, &cells);
    }
    paragraph(text, "## Results");
    table(text, ["Name", "What it is", "Value", "Formula", "Source"].iter());
    for step in &of_sheet.outcome.steps {
        let label = step.label.as_ref().map(|label| written::phrase(label, sheet.system));
        let per = step.per.as_ref().map(|per| written::phrase(per, sheet.system));
        let values: Vec<String> = flat(sheet, run, step)
            .into_iter()
            .map(|(key, value)| {
                if key.is_empty() {
                    value
                } else {
                    format!("{key} {value}")
                }
            })
            .collect();
        let formula = if with_working {
            let substituted = written::formula(&step.substituted, sheet.system);
            format!("{} = {substituted}", step.formula)
        } else {
            step.formula.clone()
        };
        row(
            text,
            &[
                step.name.clone(),
                label.unwrap_or_default(),
                values.join("; "),
                formula,
                per.unwrap_or_default(),
            ],
        );
    }
    if with_working {
        working(text, sheet, of_sheet);
    }
    figures(text, sheet, of_sheet);
    for note in &of_sheet.outcome.notes {
        paragraph(text, &plain(&written::phrase(note, sheet.system)));
    }
    let script = &of_sheet.script;
    let version = script.pack_version.as_ref().map(|version| format!(" {version}"));
    paragraph(
        text,
        &format!("Script {}{}.", plain(&script.name), version.unwrap_or_default()),
    );
}

/// The lines of the functions that formulas call.
fn working(text: &mut String, sheet: &Sheet<'_>, run: &SheetRun<'_>) {
    let mut before = Vec::new();
    let mut is_first = true;
    for step in &run.outcome.steps {
        let lines = opened_lines(sheet, &step.opened, &mut before, 0);
        if lines.is_empty() {
            continue;
        }
        if std::mem::take(&mut is_first) {
            paragraph(text, "## Working");
            text.push('\n');
        }
        line(text, &format!("- {}", plain(&step.name)));
        for (level, words) in lines {
            line(text, &format!("{}- {}", "  ".repeat(level + 1), plain(&words)));
        }
    }
}

/// Tables as tables, pictures in letters.
fn figures(text: &mut String, sheet: &Sheet<'_>, run: &SheetRun<'_>) {
    if !run.outcome.figures.is_empty() {
        paragraph(text, "## Pictures");
    }
    for shown in &run.outcome.figures {
        let Figure::Table(found) = &shown.figure else {
            paragraph(text, "```text");
            for letters in letters(shown, sheet.system) {
                // Nothing in a fence may close it.
                line(text, &letters.replace('`', "'"));
            }
            line(text, "```");
            continue;
        };
        let label = shown.label.as_ref().unwrap_or(&found.title);
        paragraph(text, &plain(&written::phrase(label, sheet.system)));
        let cells = cells(found, sheet.system);
        let head: Vec<&str> = cells.iter().take(1).flatten().map(String::as_str).collect();
        table(text, head.iter());
        for cells in cells.iter().skip(1) {
            row(text, cells);
        }
    }
}

pub(super) fn table<'a>(text: &mut String, columns: impl Iterator<Item = &'a &'a str>) {
    let columns: Vec<String> = columns.map(|column| (*column).to_owned()).collect();
    text.push('\n');
    row(text, &columns);
    line(text, &format!("|{}", "---|".repeat(columns.len())));
}

pub(super) fn row(text: &mut String, cells: &[String]) {
    let cells: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
    line(text, &format!("| {} |", cells.join(" | ")));
}

pub(super) fn paragraph(text: &mut String, words: &str) {
    if words.is_empty() {
        return;
    }
    text.push('\n');
    line(text, words);
}

pub(super) fn line(text: &mut String, words: &str) {
    text.push_str(words);
    text.push('\n');
}

/// On one line, with nothing that Markdown would take for a mark.
#[must_use]
pub fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\r' => plain.push(' '),
            '*' | '_' | '`' | '|' | '<' | '[' | '\\' | '#' => {
                plain.push('\\');
                plain.push(c);
            }
            c => plain.push(c),
        }
    }
    plain
}
