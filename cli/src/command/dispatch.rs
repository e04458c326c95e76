//! Picks a command and delivers what it gives.

use super::{
    adapt, compare, describe, follow, functions, inspect, job, lesson, list, materials, open, pack, prove,
    run as run_command, sheet, solve, spread, sweep, units,
};
use crate::arguments::{Arguments, Command, Common, Format, Pack, Run};
use crate::disk;
use crate::exit::{DONE, NOT_DONE};
use crate::packs::used;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use std::path::Path;

/// What a command gives: a text and an exit code.
pub(crate) struct Output {
    pub(crate) text: String,
    pub(crate) code: u8,
    /// Another file that goes with it, where it goes to one: its name and its text.
    pub(crate) also: Option<(String, String)>,
    /// Why the code is what it is, where the text does not say so.
    pub(crate) why: Option<Diagnostic>,
}

impl From<String> for Output {
    fn from(text: String) -> Self {
        Self {
            text,
            code: DONE,
            also: None,
            why: None,
        }
    }
}

impl Output {
    /// A list of what is there, beside what could not be read.
    pub(crate) fn beside(text: String, trouble: Option<Diagnostic>) -> Self {
        Self {
            code: if trouble.is_some() { NOT_DONE } else { DONE },
            why: trouble,
            ..text.into()
        }
    }
}

/// Carries a command out and gives the exit code.
pub(crate) fn run(arguments: &Arguments, io: &mut Io<'_>) -> u8 {
    let common = &arguments.common;
    if let Err(refusal) = places_are_there(&arguments.command, common, io) {
        return spoken(Err(refusal.into()), io);
    }
    if let Command::Run(options) = &arguments.command
        && common.format != Format::Csv
    {
        if options.follow {
            return follow::run(options, common, io);
        }
        if options.open {
            return spoken(opened(options, common, io), io);
        }
    }
    let done = match &arguments.command {
        // A page is made of a run, a lesson or a sheet.
        command if common.format == Format::Html && !is_page(command) => {
            let refusal = Refusal::new("format", "only a run, a lesson and a sheet are written as html");
            Err(refusal.hint("--format markdown is read by people too").into())
        }
        Command::Sweep(options) => sweep::run(options, common, io),
        // Only a sweep is a table.
        _ if common.format == Format::Csv => {
            let refusal = Refusal::new("format", "only a sweep is written as csv");
            Err(refusal.hint("--format json has every number").into())
        }
        Command::Spread(options) => spread::run(options, common, io),
        Command::List { pattern } => Ok(list::run(pattern.as_deref(), common, io)),
        Command::Describe { script } => describe::run(script, common, io),
        Command::Run(options) => match folder(common, io) {
            Some(name) => run_command::into_folder(options, common, io, &name),
            None => run_command::run(options, common, io),
        },
        Command::Solve(options) => solve::run(options, common, io),
        Command::Compare(options) => compare::run(options, common, io),
        Command::Sheet { targets } => sheet::run(targets, common, io),
        Command::Lesson(options) => lesson::run(options, common, io),
        Command::Job(options) => job::run(options, common, io),
        Command::Prove { what } => prove::run(what.as_deref(), common, io),
        Command::Inspect { what } => inspect::run(what, common, io),
        Command::Adapt { script, new_name } => adapt::run(script, new_name, io).map(Output::from),
        Command::Pack(options) => pack::run(options, common, io),
        Command::Functions { pattern } => Ok(functions::run(pattern.as_deref(), common).into()),
        Command::Units { pattern } => Ok(units::run(pattern.as_deref(), common).into()),
        Command::Materials { pattern } => Ok(materials::run(pattern.as_deref(), common).into()),
    };
    // A run has written into its folder already: the screen gets the names.
    let is_written = match &arguments.command {
        Command::Run(_) => folder(common, io).is_some(),
        Command::Pack(pack) => pack.makes_a_file(),
        _ => false,
    };
    let delivered = done.and_then(|output| deliver(output, if is_written { None } else { common.out.as_deref() }, io));
    // A run says it itself, and who seals such a pack has given it another name.
    if !matches!(&arguments.command, Command::Run(_) | Command::Pack(Pack::Seal(_))) {
        for altered in used::altered() {
            io.error(&format!("caution: {}\n", altered.words()));
        }
    }
    spoken(delivered, io)
}

/// Refuses places for packs that are not there; a command that puts packs into one makes it.
fn places_are_there(command: &Command, common: &Common, io: &Io<'_>) -> Result<(), Refusal> {
    if matches!(
        command,
        Command::Adapt { .. } | Command::Pack(Pack::New { .. } | Pack::Add(_))
    ) {
        return Ok(());
    }
    match common.packs.iter().find(|place| !io.directory.join(place).is_dir()) {
        Some(place) => {
            let refusal = Refusal::new("packs", format!("there is no folder `{place}`"));
            Err(refusal.hint("--packs names a folder in which packs lie, each in a folder of its own"))
        }
        None => Ok(()),
    }
}

/// The page of a run, written and shown.
fn opened(options: &Run, common: &Common, io: &mut Io<'_>) -> Result<u8, Diagnostic> {
    let name = open::page(options, common, io)?;
    let code = deliver(run_command::run(options, common, io)?, Some(&name), io)?;
    open::show(&name, io)?;
    Ok(code)
}

/// What went wrong is said.
fn spoken(done: Result<u8, Diagnostic>, io: &mut Io<'_>) -> u8 {
    match done {
        Ok(code) => code,
        Err(diagnostic) => {
            io.error(&diagnostic.to_string());
            NOT_DONE
        }
    }
}

/// The folder that a run is to go to.
fn folder(common: &Common, io: &Io<'_>) -> Option<String> {
    let name = common.out.as_ref().filter(|name| !name.is_empty())?;
    disk::is_folder(&io.directory.join(name), name).then(|| name.clone())
}

/// To the screen, or to a new file.
fn deliver(output: Output, out: Option<&str>, io: &mut Io<'_>) -> Result<u8, Diagnostic> {
    match out {
        None => io.print(&output.text),
        Some("") => {
            return Err(Refusal::new("file", "the name after --out is empty").into());
        }
        Some(name) => {
            if let Some((also, _)) = &output.also {
                disk::refuse_taken(&io.directory.join(Path::new(also)), also)?;
            }
            disk::write_new(&io.directory.join(Path::new(name)), name, &output.text)?;
            io.print(&format!("written to {name}\n"));
            if let Some((also, text)) = &output.also {
                disk::write_new(&io.directory.join(Path::new(also)), also, text)?;
                io.print(&format!("answers written to {also}\n"));
            }
        }
    }
    if let Some(why) = output.why {
        io.error(&why.to_string());
    }
    Ok(output.code)
}

/// Whether a command's result can be a page.
const fn is_page(command: &Command) -> bool {
    matches!(command, Command::Run(_) | Command::Lesson(_) | Command::Sheet { .. })
}
