//! `run --follow`: runs again whenever a file changes that the run has read. What is wrong in a file is shown, and waited
//! on.

use super::dispatch::Output;
use super::{open, run as run_command};
use crate::arguments::{Common, Format, Run};
use crate::disk;
use crate::exit::NOT_DONE;
use crate::screen::Io;
use crate::watch::{self, Watched};
use crankline_engine::diagnostic::{Diagnostic, Refusal};

/// Empties a terminal and goes to its top.
const CLEAR: &str = "\u{1b}[2J\u{1b}[3J\u{1b}[H";
/// How often a file is waited for that changes at every look.
const MOST_WAITS: usize = 20;

/// The file that the results go to, and what this run has written into it.
struct File {
    name: String,
    written: Option<String>,
    shown: bool,
}

/// Follows a target until it is ended; the code is that of the last run.
pub(crate) fn run(options: &Run, common: &Common, io: &mut Io<'_>) -> u8 {
    match follow(options, common, io) {
        Ok(code) => code,
        Err(error) => {
            io.error(&error.to_string());
            NOT_DONE
        }
    }
}

fn follow(options: &Run, common: &Common, io: &mut Io<'_>) -> Result<u8, Diagnostic> {
    let mut file = file(options, common, io)?;
    let mut is_first = true;
    loop {
        watch::begin();
        let done = run_command::run(options, common, io);
        let mut watched = watch::end();
        if io.is_terminal {
            io.print(CLEAR);
        } else if !is_first {
            io.print("\n");
        }
        is_first = false;
        let code = match done {
            Ok(output) => deliver(output, file.as_mut(), options.open, io)?,
            Err(error) => {
                io.error(&error.to_string());
                NOT_DONE
            }
        };
        let files = match watched.files() {
            1 => "1 file".to_owned(),
            many => format!("{many} files"),
        };
        io.error(&format!("Waiting for a change in {files}; Ctrl-C ends it.\n"));
        if !changed(&mut watched, io) {
            return Ok(code);
        }
    }
}

/// Where results go; a page needs a file.
fn file(options: &Run, common: &Common, io: &Io<'_>) -> Result<Option<File>, Diagnostic> {
    let name = match &common.out {
        _ if options.open => open::page(options, common, io)?,
        Some(name) if name.is_empty() => return Err(Refusal::new("file", "the name after --out is empty").into()),
        Some(name) if disk::is_folder(&io.directory.join(name), name) => {
            let refusal = Refusal::new(
                "follow",
                format!("`{name}` is a folder, and --follow writes one file anew"),
            );
            return Err(refusal.hint("name a file after --out").into());
        }
        Some(name) => name.clone(),
        None if common.format == Format::Html => {
            let refusal = Refusal::new("follow", "a page that is written anew needs a file");
            return Err(refusal.hint("--out page.html, or --open").into());
        }
        None => return Ok(None),
    };
    disk::refuse_taken(&io.directory.join(&name), &name)?;
    Ok(Some(File {
        name,
        written: None,
        shown: false,
    }))
}

fn deliver(output: Output, file: Option<&mut File>, opens: bool, io: &mut Io<'_>) -> Result<u8, Diagnostic> {
    match file {
        None => io.print(&output.text),
        Some(file) => {
            file.write(&output.text, io)?;
            io.print(&format!("written to {}\n", file.name));
            if opens && !file.shown {
                file.shown = true;
                if let Err(error) = open::show(&file.name, io) {
                    io.error(&error.to_string());
                }
            }
        }
    }
    if let Some(why) = output.why {
        io.error(&why.to_string());
    }
    Ok(output.code)
}

impl File {
    /// Writes it, or writes it anew where it holds still what was written before: another's file stays as it is.
    fn write(&mut self, text: &str, io: &Io<'_>) -> Result<(), Refusal> {
        let path = io.directory.join(&self.name);
        match self.written.as_ref().filter(|_| path.symlink_metadata().is_ok()) {
            Some(before) => disk::replace_page(&path, &self.name, before, text)?,
            None => disk::write_new(&path, &self.name, text)?,
        }
        self.written = Some(text.to_owned());
        Ok(())
    }
}

/// Waits until something is another and stays so for a moment: an editor may be writing still. `false` where the watch
/// ends.
fn changed(watched: &mut Watched, io: &mut Io<'_>) -> bool {
    loop {
        if !(io.wait)() {
            return false;
        }
        if watched.changed() {
            let mut waits = 0..MOST_WAITS;
            while waits.next().is_some() && (io.wait)() && watched.changed() {}
            return true;
        }
    }
}
