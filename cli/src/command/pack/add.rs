//! `pack add`: a sealed pack takes its place among one's own, once its worked examples come out on this machine.

use super::seal::with_candidate;
use super::{lines, public_key};
use crate::arguments::AddPack;
use crate::command::dispatch::Output;
use crate::exit::NOT_DONE;
use crate::packs::{Collection, Desk, Origin, Place, SealedPack, State, Trial};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};

type Result<T> = std::result::Result<T, Diagnostic>;

/// Adds a pack, whole or not at all.
pub(super) fn run(options: &AddPack, io: &Io<'_>) -> Result<Output> {
    let desk = io.desk();
    let by = public_key(&desk, options.by.as_deref())?;
    let pack = SealedPack::read(&desk.directory, &options.file)?;
    pack.expect(by.as_ref())?;
    Place::put_right(desk.place()?)?;
    may_be_added(&pack, (&desk, &desk.packs()), options.replace)?;
    let candidate = pack.pack();
    let trial = Trial::of(&candidate, &with_candidate(&desk, candidate.clone()))?;
    let manifest = &pack.sealed.manifest;
    if !trial.failing.is_empty() {
        let message = format!(
            "the pack `{}` is not added: its worked examples do not come out here",
            manifest.name
        );
        return Ok(Output {
            text: lines("FAILS", &trial.failing),
            code: NOT_DONE,
            also: None,
            why: Some(Refusal::new("add", message).into()),
        });
    }
    let place = Place::open(desk.place()?)?;
    // Once more, now that nobody else writes there.
    may_be_added(&pack, (&desk, &desk.packs_unlocked()), options.replace)?;
    let files = pack
        .sealed
        .files
        .iter()
        .map(|file| (file.name.clone(), file.bytes.clone()));
    place.put(&manifest.name, &files.collect::<Vec<_>>(), options.replace)?;
    let signed = match &pack.signer {
        Some(key) => format!("signed with the key {}", key.name()),
        None => "not signed".to_owned(),
    };
    Ok(format!(
        "added to {}: {} {}, {signed}\n{} worked examples come out here\n",
        place.folder(&manifest.name).display(),
        manifest.name,
        manifest.version,
        trial.cases
    )
    .into())
}

/// Refuses a pack whose name is taken, or that uses one which is not here.
fn may_be_added(pack: &SealedPack, (desk, packs): (&Desk, &Collection), replace: bool) -> Result<()> {
    let manifest = &pack.sealed.manifest;
    for used in &manifest.uses {
        if packs.find(&used.name)?.is_none() {
            let message = format!("the pack `{}` uses `{}`, which is not here", manifest.name, used.name);
            let refusal = Refusal::new("add", message).hint("add that one first");
            return Err(refusal.into());
        }
    }
    let Some(known) = packs.find(&manifest.name)? else {
        return Ok(());
    };
    let place = desk.place()?.join(&manifest.name);
    if !matches!(&known.origin, Origin::Folder(folder) if *folder == place) {
        let message = format!("there is a pack `{}` already: {}", manifest.name, known.place());
        return Err(Refusal::new("add", message).into());
    }
    let version = &known.manifest.version;
    match State::of(known)? {
        State::Own => {
            let message = format!("the pack `{}` in {} is your own", manifest.name, place.display());
            Err(Refusal::new("add", message).hint("rename yours first").into())
        }
        State::Changed(difference) => {
            let message = format!(
                "the pack `{}` was changed since it was added: {difference}",
                manifest.name
            );
            let refusal = Refusal::new("add", message).hint("those changes would be lost: move its folder away first");
            Err(refusal.into())
        }
        State::AsSealed(_) if !replace => {
            let message = format!("the pack `{}` is here already, in version {version}", manifest.name);
            let hint = format!("--replace puts version {} in its place", manifest.version);
            Err(Refusal::new("add", message).hint(hint).into())
        }
        State::AsSealed(Some(before)) if pack.signer.as_ref() != Some(&before) => {
            let message = format!(
                "the pack `{}` that is here is signed with the key {}, this one is not",
                manifest.name,
                before.name()
            );
            let refusal = Refusal::new("signature", message);
            Err(refusal
                .hint("if you trust it all the same, take the old one away first: crankline pack remove")
                .into())
        }
        State::AsSealed(_) => Ok(()),
    }
}
