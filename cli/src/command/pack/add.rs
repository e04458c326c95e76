//! `pack add`: a sealed pack takes its place among one's own, once its worked examples prove it on this machine.

use super::standing::{Replaced, Standing, standing};
use super::{lines, public_key};
use crate::arguments::AddPack;
use crate::command::dispatch::Output;
use crate::exit::NOT_DONE;
use crate::packs::{Place, SealedPack, Trial};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::PublicKey;
use std::path::Path;

type Result<T> = std::result::Result<T, Diagnostic>;

/// Adds a pack, whole or not at all.
pub(super) fn run(options: &AddPack, io: &Io<'_>) -> Result<Output> {
    let desk = io.desk();
    let by = public_key(&desk, options.by.as_deref())?;
    let pack = SealedPack::read(&desk.directory, &options.file)?;
    pack.expect(by.as_ref())?;
    Place::put_right(desk.place()?)?;
    let manifest = &pack.sealed.manifest;
    let same = |place: &str| {
        let (name, version) = (&manifest.name, &manifest.version);
        Output::from(format!(
            "{place} is {name} {version} as it is in {}: nothing to do\n",
            options.file
        ))
    };
    if let Standing::Same(place) = standing(&pack, (&desk, &desk.packs()), options)? {
        return Ok(same(&place));
    }
    let candidate = pack.pack();
    let trial = Trial::of(&candidate, &desk.with_candidate(candidate.clone()))?;
    if !(trial.failing.is_empty() && trial.unproven.is_empty()) {
        return Ok(refused(&manifest.name, &trial));
    }
    let place = Place::open(desk.place()?)?;
    // Once more, now that nobody else writes there.
    let replaced = match standing(&pack, (&desk, &desk.packs_unlocked()), options)? {
        Standing::New => None,
        Standing::Same(place) => return Ok(same(&place)),
        Standing::Replaces(replaced) => Some(replaced),
    };
    let files = pack
        .sealed
        .files
        .iter()
        .map(|file| (file.name.clone(), file.bytes.clone()));
    // What has its folder's name and is not the pack that makes room stays.
    place.put(&manifest.name, &files.collect::<Vec<_>>(), replaced.is_some())?;
    Ok(told(&pack, &place.folder(&manifest.name), &trial, replaced).into())
}

/// A pack that does not prove itself is not believed.
fn refused(name: &str, trial: &Trial) -> Output {
    let why = match trial.failing.is_empty() {
        true => "nothing proves that it calculates what it says",
        false => "its worked examples do not come out here",
    };
    let refusal = Refusal::new("add", format!("the pack `{name}` is not added: {why}"));
    let ask = "ask whoever sealed it for worked examples that say what comes out";
    let ask = trial.failing.is_empty().then(|| ask.to_owned());
    Output {
        text: [lines("FAILS", &trial.failing), lines("UNPROVEN", &trial.unproven)].concat(),
        code: NOT_DONE,
        also: None,
        why: Some(refusal.maybe_hint(ask).maybe_hint(trial.effort()).into()),
    }
}

fn told(pack: &SealedPack, folder: &Path, trial: &Trial, replaced: Option<Replaced>) -> String {
    let manifest = &pack.sealed.manifest;
    let signed = pack.signer.as_ref().map(PublicKey::name);
    let signed = signed.map_or_else(|| "not signed".to_owned(), |key| format!("signed with the key {key}"));
    let mut text = format!(
        "added to {}: {} {}, {signed}\n{} worked examples come out here\n",
        folder.display(),
        manifest.name,
        manifest.version,
        trial.cases
    );
    for line in replaced.into_iter().flat_map(|replaced| replaced.words) {
        text.push_str(&format!("{line}\n"));
    }
    // Rules for sealing may grow stricter over the years: what an older one let through is told and no more.
    let mut lacking = trial.lacking.clone();
    if manifest.licence.as_deref().unwrap_or_default().trim().is_empty() {
        lacking.push(format!(
            "{}: nobody has said on which terms others may use it",
            manifest.name
        ));
    }
    text.push_str(&lines("LACKS", &lacking));
    text
}
