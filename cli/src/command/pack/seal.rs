//! `pack seal`: one file to give to others.

use super::{lines, made, read_text};
use crate::arguments::{Common, SealPack};
use crate::command::dispatch::Output;
use crate::disk;
use crate::exit::NOT_DONE;
use crate::packs::{Collection, Desk, FoundPack, SealedPack, State, Trial, no_pack};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::{
    MANIFEST, PackFile, SEAL, SIGNATURE, Seal, SecretKey, is_file_of_pack, order_of_versions, pack_up, why_no_file,
};
use std::cmp::Ordering;

type Result<T> = std::result::Result<T, Diagnostic>;

/// Seals a pack, once all of its worked examples come out and nothing is lacking.
pub(super) fn run(options: &SealPack, common: &Common, io: &Io<'_>) -> Result<Output> {
    let named = made(options.file.as_deref(), common)?;
    let desk = io.desk();
    let packs = desk.packs();
    let pack = found(&options.name, &desk, &packs)?;
    let key = options
        .key
        .as_deref()
        .map(|file| SecretKey::read(&read_text(&desk, file)?));
    let key = key.transpose()?;
    let (seal, files) = sealed(pack)?;
    refuse_altered(pack)?;
    refuse_missing(pack, &packs)?;
    let trial = Trial::of(pack, &desk)?;
    if !(trial.failing.is_empty() && trial.unproven.is_empty() && trial.lacking.is_empty()) {
        let message = format!("the pack `{}` is not sealed: others could not rely on it", pack.name());
        let text = [
            ("FAILS", &trial.failing),
            ("UNPROVEN", &trial.unproven),
            ("LACKS", &trial.lacking),
        ];
        return Ok(Output {
            text: text.map(|(word, found)| lines(word, found)).concat(),
            code: NOT_DONE,
            also: None,
            why: Some(Refusal::new("seal", message).maybe_hint(trial.effort()).into()),
        });
    }
    let bytes = pack_up(&with_seal(&seal, files, key.as_ref()))?;
    // What others cannot read is not given to them.
    SealedPack::of(&bytes)?;
    let usual = format!("{}-{}.zip", seal.name, seal.version);
    let file = named.unwrap_or(&usual);
    disk::write_new_bytes(&desk.directory.join(file), file, &bytes)?;
    Ok(told(&seal, pack, &trial, key.as_ref(), file).into())
}

/// The pack of a name.
fn found<'a>(name: &str, desk: &Desk, packs: &'a Collection) -> Result<&'a FoundPack> {
    if name.contains(['/', '\\']) || name.starts_with('.') {
        return Err(no_name(name, desk).into());
    }
    Ok(packs.find(name)?.ok_or_else(|| no_pack(packs, "pack", name))?)
}

/// A folder, where the name of a pack is wanted; which one, if a pack lies in it.
fn no_name(given: &str, desk: &Desk) -> Refusal {
    let refusal = Refusal::new(
        "pack",
        format!("`{given}` is no name of a pack, and a pack is sealed by its name"),
    );
    let folder = desk.directory.join(given).components().collect::<std::path::PathBuf>();
    let Ok(pack) = FoundPack::in_folder(&folder, MANIFEST.to_owned()) else {
        return refusal.hint("crankline pack list shows all");
    };
    let seen = desk
        .packs()
        .packs()
        .into_iter()
        .any(|known| known.name() == pack.name());
    let place = folder.parent().filter(|_| !seen);
    let place = place.map(|place| format!(" --packs {}", place.display()));
    refusal.hint(format!(
        "crankline pack seal {}{}",
        pack.name(),
        place.unwrap_or_default()
    ))
}

/// The seal of a pack, and the files under it.
fn sealed(pack: &FoundPack) -> Result<(Seal, Vec<PackFile>)> {
    let mut files = pack.files()?;
    files.retain(|file| file.name != SEAL && file.name != SIGNATURE);
    if let Some(odd) = files.iter().find(|file| !file.name.is_ascii()) {
        let message = format!("`{}` has letters that not every machine writes alike", odd.name);
        return Err(Refusal::new("seal", message)
            .hint("name it with a to z, digits, - and _")
            .into());
    }
    Ok((Seal::of(&pack.manifest, &files)?, files))
}

/// Refuses a pack that was added and altered and still passes for what was sealed.
fn refuse_altered(pack: &FoundPack) -> Result<()> {
    let (State::Changed(difference), Some(text)) = (State::of(pack)?, pack.file(SEAL)?) else {
        return Ok(());
    };
    let (name, version) = (pack.name(), &pack.manifest.version);
    let is_another = Seal::read(text).is_ok_and(|seal| {
        let later = order_of_versions(version, &seal.version).map(Ordering::is_gt);
        seal.name != name || later.unwrap_or(seal.version != *version)
    });
    if is_another {
        return Ok(());
    }
    let message = format!("the pack `{name}` {version} was sealed by others and changed since: {difference}");
    let refusal = Refusal::new("seal", message);
    Err(refusal
        .hint("give it another name or a higher version in its pack.toml first")
        .hint(format!(
            "crankline adapt {name}/SCRIPT YOURS/SCRIPT copies one and notes where it came from"
        ))
        .into())
}

/// Refuses a pack that uses one which is not here: nobody could say that its scripts run.
fn refuse_missing(pack: &FoundPack, packs: &Collection) -> Result<()> {
    let Some((used, message)) = packs.missing(&pack.manifest)? else {
        return Ok(());
    };
    let refusal = Refusal::new("seal", message).hint("add that one first, or take it out of `uses`");
    Err(Diagnostic::at(refusal, used.place.clone()))
}

fn with_seal(seal: &Seal, mut files: Vec<PackFile>, key: Option<&SecretKey>) -> Vec<PackFile> {
    let text = seal.text();
    let signature = key.map(|key| (SIGNATURE, key.signature(&text)));
    for (name, text) in [(SEAL, text)].into_iter().chain(signature) {
        files.push(PackFile {
            name: name.to_owned(),
            bytes: text.into_bytes(),
        });
    }
    files
}

fn told(seal: &Seal, pack: &FoundPack, trial: &Trial, key: Option<&SecretKey>, file: &str) -> String {
    let signed = match key {
        Some(key) => format!("signed with the key {}", key.public().name()),
        None => "not signed".to_owned(),
    };
    let mut text = format!(
        "written to {file}: {} {}, {} files, {signed}\n{} worked examples come out here; licence: {}\n",
        seal.name,
        seal.version,
        seal.files.len(),
        trial.cases,
        seal.licence
    );
    for adapted in &pack.manifest.adapted {
        let (script, parent) = (&adapted.script, adapted.parent());
        for from in std::iter::once(&parent).chain(&adapted.before) {
            text.push_str(&format!(
                "{script} comes from {} {}; {}\n",
                from.from,
                from.version,
                from.terms()
            ));
        }
    }
    for left in left_out(pack) {
        text.push_str(&format!("left out: {left}, {}\n", why_no_file(&left)));
    }
    text
}

/// What lies in the folder and is not sealed.
fn left_out(pack: &FoundPack) -> Vec<String> {
    let Some(folder) = pack.folder() else {
        return Vec::new();
    };
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names
        .filter(|name| !is_file_of_pack(name) && !name.starts_with('.'))
        .collect();
    names.sort();
    names
}
