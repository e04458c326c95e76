//! `--open`: the page of a run in a file, and shown.

use crate::arguments::{Common, Format, Run};
use crate::disk;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use std::path::Path;

/// How many names are tried for a file that nobody has named.
const TRIES: u32 = 1000;

/// The file for the page of a run that is to be shown: the one after `--out`, or a new one among the temporary files.
pub(crate) fn page(options: &Run, common: &Common, io: &Io<'_>) -> Result<String, Diagnostic> {
    if common.format != Format::Html {
        let refusal = Refusal::new("open", "--open shows a page, and a page is html");
        return Err(refusal.hint("leave --format out").into());
    }
    if let Some(name) = &common.out {
        if disk::is_folder(&io.directory.join(name), name) {
            let refusal = Refusal::new("open", format!("`{name}` is a folder, and --open shows one page"));
            return Err(refusal.hint("name a file after --out, or leave --out out").into());
        }
        return Ok(name.clone());
    }
    let stem = Path::new(&options.on.target).file_stem().unwrap_or_default();
    let stem: String = stem
        .to_string_lossy()
        .chars()
        .filter(|c| c.is_ascii_alphanumeric() || *c == '-')
        .collect();
    let own = std::process::id();
    let mut names = (1..TRIES).map(|nth| io.temporary.join(format!("crankline-{stem}-{own}-{nth}.html")));
    let free = names.find(|path| path.symlink_metadata().is_err());
    free.map(|path| path.display().to_string()).ok_or_else(|| {
        let message = format!("`{}` holds too many pages of this program", io.temporary.display());
        Refusal::new("open", message).hint("name a file after --out").into()
    })
}

/// Shows a page that has been written.
pub(crate) fn show(name: &str, io: &Io<'_>) -> Result<(), Diagnostic> {
    (io.open)(&io.directory.join(name)).map_err(|error| {
        let message = format!("nothing here shows pages: {}", disk::wording(&error));
        Refusal::new("open", message)
            .hint(format!("open {name} in a browser"))
            .into()
    })
}
