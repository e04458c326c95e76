//! `pack remove`: takes away a pack that was added. What somebody wrote here is not taken away.

use crate::packs::{Origin, Place, State, no_pack};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};

/// Takes a pack away.
pub(super) fn run(name: &str, io: &Io<'_>) -> Result<String, Diagnostic> {
    let desk = io.desk();
    let path = desk.place()?;
    Place::put_right(path)?;
    // An unknown name makes no folder.
    if desk.packs().find(name)?.is_none() {
        return Err(no_pack(&desk.packs(), "remove", name).into());
    }
    let place = Place::open(path)?;
    let packs = desk.packs_unlocked();
    let pack = packs.find(name)?.ok_or_else(|| no_pack(&packs, "remove", name))?;
    let folder = place.folder(name);
    if !matches!(&pack.origin, Origin::Folder(found) if *found == folder) {
        let message = format!(
            "the pack `{name}` is {}: only what lies in {} is removed",
            pack.place(),
            path.display()
        );
        return Err(Refusal::new("remove", message).into());
    }
    let kept = match State::of(pack)? {
        State::AsSealed(_) => None,
        State::Own => Some("is your own, and would be lost".to_owned()),
        State::Changed(difference) => Some(format!("was changed since it was added: {difference}")),
    };
    if let Some(kept) = kept {
        let refusal = Refusal::new("remove", format!("the pack `{name}` {kept}"));
        return Err(refusal
            .hint(format!("move the folder away by hand: {}", folder.display()))
            .into());
    }
    let version = pack.manifest.version.clone();
    place.remove(name)?;
    Ok(format!("removed from {}: {name} {version}\n", path.display()))
}
