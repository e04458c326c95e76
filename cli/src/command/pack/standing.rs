//! What a sealed pack would be among those that are here: a new one, the same again, another in place of one of its name.

use crate::arguments::AddPack;
use crate::inquiry::typed;
use crate::packs::{Collection, Desk, FoundPack, SealedPack, State};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::{PackFile, PublicKey, SEAL, Seal, order_of_versions};
use std::cmp::Ordering;

type Result<T> = std::result::Result<T, Diagnostic>;

/// More are counted.
const NAMED: usize = 5;

/// What it would be.
pub(super) enum Standing {
    /// None of its name is here.
    New,
    /// It is here, byte for byte, in this folder.
    Same(String),
    /// Another of its name makes room for it.
    Replaces(Replaced),
}

/// What makes room.
pub(super) struct Replaced {
    /// What is said of it afterwards, a line each.
    pub(super) words: Vec<String>,
}

/// Refuses a pack whose name is taken, or that uses one which is not here.
pub(super) fn standing(pack: &SealedPack, (desk, packs): (&Desk, &Collection), options: &AddPack) -> Result<Standing> {
    let manifest = &pack.sealed.manifest;
    if let Some((_, message)) = packs.missing(manifest)? {
        return Err(Refusal::new("add", message).hint("add that one first").into());
    }
    desk.refuse_clash(&manifest.name)?;
    let Some(known) = packs.find(&manifest.name)? else {
        return Ok(Standing::New);
    };
    let place = desk.place()?.join(&manifest.name);
    if known.folder() != Some(&place) {
        let message = format!("there is a pack `{}` already: {}", manifest.name, known.place());
        return Err(Refusal::new("add", message).into());
    }
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
        State::AsSealed(_) if is_same(pack, known)? => Ok(Standing::Same(place.display().to_string())),
        State::AsSealed(Some(before)) if pack.signer.as_ref() != Some(&before) => Err(other_hand(pack, &before).into()),
        State::AsSealed(before) => {
            if let Some(stranger) = known.stranger().filter(|_| options.replace) {
                let message = format!(
                    "there is `{stranger}` in the folder of the pack `{}`, which is none of its files and would be lost",
                    manifest.name
                );
                return Err(Refusal::new("add", message).hint("move it away first").into());
            }
            let changes = changes(pack, known)?;
            if options.replace {
                Ok(Standing::Replaces(replaced(pack, known, before.as_ref(), &changes)))
            } else {
                Err(is_here(pack, known, &options.file, &changes).into())
            }
        }
    }
}

/// Whether it is what is here, byte for byte.
fn is_same(pack: &SealedPack, known: &FoundPack) -> Result<bool> {
    let sorted = |mut files: Vec<PackFile>| {
        files.sort_by(|a, b| a.name.cmp(&b.name));
        files
    };
    Ok(sorted(known.files()?) == sorted(pack.sealed.files.clone()))
}

/// Which files are others.
fn changes(pack: &SealedPack, known: &FoundPack) -> Result<Vec<String>> {
    match known.file(SEAL)? {
        Some(seal) => Ok(pack.sealed.seal.changes_since(&Seal::read(seal)?)),
        None => Ok(Vec::new()),
    }
}

/// The one that is here was signed, and this one was not, or by somebody else.
fn other_hand(pack: &SealedPack, before: &PublicKey) -> Refusal {
    let this = match &pack.signer {
        Some(key) => format!("this one with the key {}", key.name()),
        None => "this one is not signed".to_owned(),
    };
    let name = &pack.sealed.manifest.name;
    let message = format!(
        "the pack `{name}` that is here is signed with the key {}, {this}",
        before.name()
    );
    Refusal::new("signature", message)
        .hint("if you trust it all the same, take the old one away first: crankline pack remove")
}

/// One of its name is here, and nobody has said that it is to make room.
fn is_here(pack: &SealedPack, known: &FoundPack, file: &str, changes: &[String]) -> Refusal {
    let manifest = &pack.sealed.manifest;
    let (name, version) = (&manifest.name, &known.manifest.version);
    let message = if *version == manifest.version {
        format!(
            "the pack `{name}` is here already, in version {version} too, and with other contents: {}",
            several(changes)
        )
    } else {
        format!("the pack `{name}` is here already, in version {version}")
    };
    Refusal::new("add", message)
        .hint(format!(
            "crankline pack compare {} {name} shows what it changes",
            typed(file)
        ))
        .hint(format!("--replace puts version {} in its place", manifest.version))
}

/// What is said of the one that made room.
fn replaced(pack: &SealedPack, known: &FoundPack, before: Option<&PublicKey>, changes: &[String]) -> Replaced {
    let (new, old) = (&pack.sealed.manifest.version, &known.manifest.version);
    let mut words = vec![match order_of_versions(new, old) {
        _ if new == old => format!("in place of other contents of the same version: {}", several(changes)),
        Some(Ordering::Less) => format!("in place of {old}, which is the newer one"),
        _ => format!("in place of {old}"),
    }];
    if let (None, Some(_)) = (before, &pack.signer) {
        words.push("that one was not signed".to_owned());
    }
    let scripts = pack.pack().scripts();
    let gone = known.scripts().into_iter().filter(|own| !scripts.contains(own));
    let gone: Vec<String> = gone.map(|own| format!("{}/{own}", known.name())).collect();
    if !gone.is_empty() {
        words.push(format!("no longer in it: {}", several(&gone)));
    }
    Replaced { words }
}

/// The first of several, and how many more there are.
fn several(words: &[String]) -> String {
    let named: Vec<&str> = words.iter().take(NAMED).map(String::as_str).collect();
    match words.len().saturating_sub(NAMED) {
        0 if named.is_empty() => "its seal or its signature".to_owned(),
        0 => named.join(", "),
        more => format!("{} and {more} more", named.join(", ")),
    }
}
