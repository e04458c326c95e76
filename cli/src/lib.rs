//! The command line: reads arguments and files, runs scripts, writes what the engine reports.
//!
//! | file | what it is |
//! |---|---|
//! | `arguments.rs` | commands and options |
//! | `words.rs` | words that people try for what a command does |
//! | `command/` | one file a command |
//! | `shelf.rs` | where scripts are found: packs and files |
//! | `packs/` | packs on the disk |
//! | `work.rs` | a job or a script by itself, run and judged |
//! | `inquiry.rs` | what a target asks to be measured |
//! | `deadline.rs` | the clock that stops a script |
//! | `listing.rs` | lists in text, Markdown and JSON |
//! | `disk.rs` | files read, and written whole or not at all |
//! | `part.rs` | what is being written, beside its place |
//! | `watch.rs` | files that a run reads, and whether they changed |
//! | `screen.rs` | where output goes, and its colours |
//!
//! All that is calculated is calculated by the engine.

mod arguments;
mod command;
mod deadline;
mod disk;
mod exit;
mod inquiry;
mod listing;
mod packs;
mod part;
mod screen;
mod shelf;
mod watch;
mod words;
mod work;

pub use exit::{DONE, FAILED, NOT_DONE};
pub use screen::Io;

use arguments::{Arguments, Command, Format};
use clap::parser::ValueSource;
use clap::{CommandFactory, FromArgMatches};

/// Deeply nested scripts want a deep stack: the limits of the language, not this, end them.
const STACK: usize = 64 * 1024 * 1024;

/// Runs the program on its arguments, the program's own name first, and gives its exit code: 0 all checks hold, 1 one
/// does not, 2 it could not be done.
pub fn run(arguments: impl Iterator<Item = String>, io: &mut Io<'_>) -> u8 {
    let arguments = match parsed(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return refused(&words::with_commands(error), io),
    };
    io.no_color |= arguments.common.no_color;
    let places = arguments.common.packs.iter();
    io.asked_packs = places.map(|place| io.directory.join(place)).collect();
    io.effort = arguments.common.effort.unwrap_or(io.effort).max(1);
    std::thread::scope(|scope| {
        let io = &mut *io;
        let worker = std::thread::Builder::new().stack_size(STACK);
        let work = move || command::run(&arguments, io);
        let worker = worker
            .spawn_scoped(scope, work)
            .map(std::thread::ScopedJoinHandle::join);
        match worker {
            Ok(Ok(code)) => code,
            // A panic has spoken for itself on the error stream.
            Ok(Err(_)) | Err(_) => NOT_DONE,
        }
    })
}

/// A lesson, and what is to be opened, is a page unless somebody asks for something else; everything else is text.
fn parsed(arguments: impl Iterator<Item = String>) -> Result<Arguments, clap::Error> {
    let matches = Arguments::command().try_get_matches_from(arguments)?;
    let of_command = matches
        .subcommand()
        .and_then(|(_, matches)| matches.value_source("format"));
    let mut arguments = Arguments::from_arg_matches(&matches)?;
    let is_asked_for = of_command == Some(ValueSource::CommandLine);
    let shows_a_page = match &arguments.command {
        Command::Lesson(_) => true,
        Command::Run(options) => options.open,
        _ => false,
    };
    if shows_a_page && !is_asked_for {
        arguments.common.format = Format::Html;
    }
    Ok(arguments)
}

/// Help and the version are asked for; everything else is an error of the caller.
fn refused(error: &clap::Error, io: &mut Io<'_>) -> u8 {
    let text = error.render().to_string();
    if error.use_stderr() {
        io.error(&text);
        NOT_DONE
    } else {
        io.print(&text);
        DONE
    }
}
