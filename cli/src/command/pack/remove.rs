//! `pack remove`: takes away a pack that was added. What somebody wrote here is not taken away.

use crate::packs::{Collection, FoundPack, Place, State, no_pack};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use std::path::Path;

/// Takes a pack away.
pub(super) fn run(name: &str, io: &Io<'_>) -> Result<String, Diagnostic> {
    let desk = io.desk();
    let path = desk.place()?;
    Place::put_right(path)?;
    // An unknown name makes no folder.
    found(name, &desk.packs(), path)?;
    let place = Place::open(path)?;
    let packs = desk.packs_unlocked();
    let pack = found(name, &packs, path)?;
    let kept = match State::of(pack)? {
        State::AsSealed(_) => pack
            .stranger()
            .map(|stranger| format!("has `{stranger}` in its folder, which is none of its files and would be lost")),
        State::Own => Some("is your own, and would be lost".to_owned()),
        State::Changed(difference) => Some(format!("was changed since it was added: {difference}")),
    };
    if let Some(kept) = kept {
        let refusal = Refusal::new("remove", format!("the pack `{name}` {kept}"));
        return Err(refusal
            .hint(format!("move the folder away by hand: {}", pack.place()))
            .into());
    }
    let folder = pack.folder().and_then(Path::file_name).unwrap_or_default();
    place.remove(&folder.to_string_lossy())?;
    let removed = format!("removed from {}: {name} {}\n", path.display(), pack.manifest.version);
    Ok([removed, missed(name, &packs)].concat())
}

/// The pack of a name in the place, whatever else has that name elsewhere.
fn found<'a>(name: &str, packs: &'a Collection, path: &Path) -> Result<&'a FoundPack, Diagnostic> {
    if let Some(pack) = packs.in_place(name, path)? {
        return Ok(pack);
    }
    let Some(pack) = packs.find(name)? else {
        return Err(no_pack(packs, "remove", name).into());
    };
    let message = format!(
        "the pack `{name}` is {}: only what lies in {} is removed",
        pack.place(),
        path.display()
    );
    let there = pack.folder().and_then(Path::parent);
    let there = there.map(|there| format!("crankline pack remove {name} --packs {}", there.display()));
    Err(Refusal::new("remove", message).maybe_hint(there).into())
}

/// Which packs use one that is gone, of which there is no other.
fn missed(name: &str, packs: &Collection) -> String {
    let packs = packs.packs();
    let is_used = |pack: &&&FoundPack| pack.manifest.uses.iter().any(|used| used.name == name);
    let users: Vec<&str> = packs.iter().filter(is_used).map(|pack| pack.name()).collect();
    if users.is_empty() || packs.iter().filter(|pack| pack.name() == name).count() > 1 {
        return String::new();
    }
    format!(
        "missed by {}: what they take from it does not run until it is here again\n",
        users.join(", ")
    )
}
