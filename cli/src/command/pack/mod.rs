//! `pack`: packs of scripts.
//!
//! | file | what it is |
//! |---|---|
//! | `new.rs`, `list.rs` | a new pack; those that are here |
//! | `seal.rs`, `look.rs` | one file to give to others; what is in one |
//! | `content.rs`, `told.rs` | what is in a pack, read and not run; how it is told |
//! | `about.rs` | a pack described |
//! | `add.rs`, `remove.rs` | a sealed pack put among one's own, and taken away |
//! | `standing.rs` | what a sealed pack would be among those that are here |
//! | `compare.rs`, `compared.rs` | what changed, and how it is shown |
//! | `key.rs` | a key to seal with |

mod about;
mod add;
mod compare;
mod compared;
mod content;
mod key;
mod list;
mod look;
mod new;
mod remove;
mod seal;
mod standing;
mod told;

pub(crate) use about::{about, as_data, in_a_line, lineage_json};

use super::dispatch::Output;
use crate::arguments::{Common, Pack};
use crate::disk;
use crate::listing::in_margin;
use crate::packs::Desk;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::PublicKey;

/// Carries out what is asked of packs.
pub(crate) fn run(options: &Pack, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    match options {
        Pack::New { name } => new::run(name, io).map(Output::from),
        Pack::List => Ok(list::run(common, io)),
        Pack::Seal(options) => seal::run(options, common, io),
        Pack::Look(options) => look::run(options, common, io).map(Output::from),
        Pack::Add(options) => add::run(options, io),
        Pack::Remove { name } => remove::run(name, io).map(Output::from),
        Pack::Compare(options) => compare::run(options, common, io),
        Pack::Key { file } => key::run(file.as_deref(), common, io).map(Output::from),
    }
}

/// Lines with a word in the margin of each.
fn lines(word: &str, lines: &[String]) -> String {
    lines.iter().map(|line| in_margin(12, word, line)).collect()
}

/// The file that a command makes, named beside it or after `--out`.
fn made<'a>(file: Option<&'a str>, common: &'a Common) -> Result<Option<&'a str>, Refusal> {
    match (file, common.out.as_deref()) {
        (_, Some("")) => Err(Refusal::new("file", "the name after --out is empty")),
        (Some(file), Some(out)) => {
            let message = format!("two files are named, `{file}` and `{out}`, and one is made");
            Err(Refusal::new("file", message).hint("leave one of them out"))
        }
        (file, out) => Ok(file.or(out)),
    }
}

fn read_text(desk: &Desk, file: &str) -> Result<String, Refusal> {
    disk::read(&desk.directory.join(file), file).map(|text| text.text)
}

/// The key in a file by which a sealer is known.
fn public_key(desk: &Desk, file: Option<&str>) -> Result<Option<PublicKey>, Refusal> {
    file.map(|file| PublicKey::read(&read_text(desk, file)?)).transpose()
}
