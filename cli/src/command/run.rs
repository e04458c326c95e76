//! `run`: checks of a script or a job, worst first, or the working.

use super::dispatch::Output;
use crate::arguments::{Common, Format, On, Run};
use crate::disk;
use crate::exit;
use crate::inquiry::typed;
use crate::listing::pretty;
use crate::screen::Io;
use crate::work::{Done, Work};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::report::{
    Depth, Made, Sheet, figure_title, is_drawn, json, markdown, page, picture, text, unpainted, working,
};
use std::path::MAIN_SEPARATOR;

/// What a run in full is called in a folder.
const RECORD: &str = "record.json";
/// Letters of a title that go into the name of a file.
const LONGEST_NAME: usize = 48;

/// Runs a target.
pub(crate) fn run(options: &Run, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    let done = work.done(&options.on.set, options.on.only.as_deref())?;
    let sheet = work.sheet(&done, common.system())?;
    let text = match common.format {
        Format::Html => html(&work, &done, &sheet, options)?,
        _ => written(&sheet, options, common, io),
    };
    Ok(Output {
        text,
        code: exit::of(&sheet, options.strict),
        also: None,
        why: options.strict.then(|| strict(&sheet)).flatten().map(Diagnostic::from),
    })
}

/// Runs a target and writes all that there is of it into a folder: the page, the sheet, the record, the pictures.
pub(crate) fn into_folder(options: &Run, common: &Common, io: &Io<'_>, name: &str) -> Result<Output, Diagnostic> {
    if common.format != Format::Text {
        let refusal = Refusal::new(
            "format",
            format!("`{name}` is a folder, and a folder gets the run in every format"),
        );
        return Err(refusal.hint("leave --format out, or name a file after --out").into());
    }
    let folder = name.trim_end_matches(['/', MAIN_SEPARATOR]);
    if io.directory.join(name).join(RECORD).symlink_metadata().is_ok() {
        let refusal = Refusal::new(
            "file",
            format!("`{folder}/{RECORD}` is there already: the record of an earlier run"),
        );
        let target = typed(&options.on.target);
        return Err(refusal
            .hint("name another folder after --out")
            .hint(format!(
                "what changed since: crankline compare {}/{RECORD} {target}",
                typed(folder)
            ))
            .into());
    }
    disk::refuse_taken_folder(&io.directory.join(name), name)?;
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    let done = work.done(&options.on.set, options.on.only.as_deref())?;
    let sheet = work.sheet(&done, common.system())?;
    let mut files = vec![
        ("sheet.html".to_owned(), html(&work, &done, &sheet, options)?),
        ("sheet.md".to_owned(), markdown(&sheet, true)),
        (RECORD.to_owned(), pretty(&json(&sheet))),
    ];
    let shown = sheet.shown().flat_map(|(_, run)| &run.outcome.figures);
    let drawn = shown.filter(|shown| is_drawn(&shown.figure));
    for (nth, shown) in drawn.enumerate() {
        let title = figure_title(shown, sheet.system);
        files.push((
            format!("{:02}-{}.svg", nth + 1, file_name(&title)),
            picture(shown, sheet.system),
        ));
    }
    disk::write_folder(&io.directory.join(name), name, &files)?;
    let lines = files.iter().map(|(file, _)| format!("written to {folder}/{file}\n"));
    Ok(Output {
        text: lines.collect(),
        code: exit::of(&sheet, options.strict),
        also: None,
        why: options.strict.then(|| strict(&sheet)).flatten().map(Diagnostic::from),
    })
}

/// A title as a file's name: small letters and digits, hyphens for the rest.
fn file_name(title: &str) -> String {
    let words = title
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty());
    let name = words.map(str::to_ascii_lowercase).collect::<Vec<_>>().join("-");
    let name: String = name.chars().take(LONGEST_NAME).collect();
    name.trim_end_matches('-').to_owned()
}

/// Why `--strict` calls it not done.
fn strict(sheet: &Sheet<'_>) -> Option<Refusal> {
    let names = exit::unmeasured(sheet);
    (!names.is_empty()).then(|| {
        let message = format!("nobody has measured {}, and --strict asks for it", names.join(", "));
        Refusal::new("strict", message).hint("put readings in the job, or leave --strict out")
    })
}

/// The page of a run.
fn html(work: &Work, done: &Done, sheet: &Sheet<'_>, options: &Run) -> Result<String, Diagnostic> {
    let made = Made {
        program: concat!("crankline ", env!("CARGO_PKG_VERSION")),
        command: &command(&options.on),
        set: &options.on.set,
        tape: &done.ran.tape,
        outcomes: &done.outcomes,
        bands: &work.bands(done, options.on.only.as_deref())?,
    };
    Ok(page(sheet, &made))
}

fn written(sheet: &Sheet<'_>, options: &Run, common: &Common, io: &Io<'_>) -> String {
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    match common.format {
        Format::Json => pretty(&json(sheet)),
        Format::Markdown => markdown(sheet, options.working),
        Format::Text if options.working => working(sheet, paint),
        Format::Text if options.all => text(sheet, Depth::All, paint),
        Format::Text | Format::Csv | Format::Html => text(sheet, Depth::First, paint),
    }
}

/// The command without values tried.
fn command(on: &On) -> String {
    let option = on.option.iter().flat_map(|option| ["--option", option]);
    let only = on.only.iter().flat_map(|only| ["--only", only]);
    let words = ["run", on.target.as_str()].into_iter().chain(option).chain(only);
    words.map(quoted).collect::<Vec<_>>().join(" ")
}

/// A word as a shell takes it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "./_-".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    let mut quoted = String::from("\"");
    for c in word.chars() {
        if matches!(c, '"' | '\\' | '$' | '`') {
            quoted.push('\\');
        }
        quoted.push(c);
    }
    quoted.push('"');
    quoted
}
