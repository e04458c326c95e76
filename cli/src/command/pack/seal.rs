//! `pack seal`: one file to give to others.

use super::{lines, read_text};
use crate::arguments::SealPack;
use crate::command::dispatch::Output;
use crate::disk;
use crate::exit::NOT_DONE;
use crate::packs::{Desk, FoundPack, Origin, SealedPack, Trial};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal, nearest};
use crankline_engine::pack::{PackFile, SEAL, SIGNATURE, Seal, SecretKey, is_file_of_pack, pack_up};

type Result<T> = std::result::Result<T, Diagnostic>;

/// Seals a pack, once all of its worked examples come out and nothing is lacking.
pub(super) fn run(options: &SealPack, io: &Io<'_>) -> Result<Output> {
    let desk = io.desk();
    let packs = desk.packs();
    let pack = packs.find(&options.name)?.ok_or_else(|| {
        let known = packs.packs();
        let near = nearest(&options.name, known.iter().map(|pack| pack.name()));
        Refusal::new("pack", format!("there is no pack `{}`", options.name))
            .maybe_hint(near.map(|near| format!("did you mean `{near}`?")))
    })?;
    let key = options
        .key
        .as_deref()
        .map(|file| SecretKey::read(&read_text(&desk, file)?));
    let key = key.transpose()?;
    let (seal, files) = sealed(pack)?;
    let trial = Trial::of(pack, &desk)?;
    if !(trial.failing.is_empty() && trial.lacking.is_empty()) {
        let message = format!("the pack `{}` is not sealed: others could not rely on it", pack.name());
        return Ok(Output {
            text: format!("{}{}", lines("FAILS", &trial.failing), lines("LACKS", &trial.lacking)),
            code: NOT_DONE,
            also: None,
            why: Some(Refusal::new("seal", message).into()),
        });
    }
    let bytes = pack_up(&with_seal(&seal, files, key.as_ref()))?;
    // What others cannot read is not given to them.
    SealedPack::of(&bytes)?;
    let usual = format!("{}-{}.zip", seal.name, seal.version);
    let file = options.file.as_ref().unwrap_or(&usual);
    disk::write_new_bytes(&desk.directory.join(file), file, &bytes)?;
    Ok(told(&seal, pack, &trial, key.as_ref(), file).into())
}

/// The seal of a pack, and the files under it.
fn sealed(pack: &FoundPack) -> Result<(Seal, Vec<PackFile>)> {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || ".-+_".contains(letter);
    let version = &pack.manifest.version;
    if !version.chars().all(plain) || version.starts_with('.') {
        let message = format!("`{version}` is no version that a file can be named by: letters, digits, . - + _ only");
        return Err(Refusal::new("seal", message).into());
    }
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
    for left in left_out(pack) {
        text.push_str(&format!("left out: {left}, which is no file of a pack\n"));
    }
    text
}

/// What lies in the folder and is not sealed.
fn left_out(pack: &FoundPack) -> Vec<String> {
    let Origin::Folder(folder) = &pack.origin else {
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

/// A desk that sees a pack which is not here yet in place of one of its name.
pub(super) fn with_candidate(desk: &Desk, pack: FoundPack) -> Desk {
    desk.with_candidate(pack)
}
