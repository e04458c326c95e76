//! `pack new`: a pack that works as it is and explains itself.

use crate::packs::Place;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::{is_pack_name, new_pack};

/// Writes a new pack.
pub(super) fn run(name: &str, io: &Io<'_>) -> Result<String, Diagnostic> {
    if !is_pack_name(name) {
        let message = format!("`{name}` is no name of a pack: small letters, digits and - only, a letter first");
        return Err(Refusal::new("name", message).into());
    }
    let desk = io.desk();
    desk.place().and_then(Place::put_right)?;
    if let Some(pack) = desk.packs().find(name)? {
        let message = format!("there is a pack `{name}` already: {}", pack.place());
        return Err(Refusal::new("pack", message)
            .hint("give the new one another name")
            .into());
    }
    desk.refuse_clash(name)?;
    let place = Place::open(desk.place()?)?;
    let files = new_pack(name).into_iter().map(|(file, text)| (file, text.into_bytes()));
    place.put(name, &files.collect::<Vec<_>>(), false)?;
    Ok(format!(
        "written to {}: a script with its worked examples, to be changed\n  crankline run {name}/tube-weight\n  \
         crankline prove {name}\n",
        place.folder(name).display()
    ))
}
