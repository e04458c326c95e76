//! `adapt`: a copy of a script in a pack of one's own, with its worked examples, and a note of where it came from.

use crate::disk;
use crate::packs::{Collection, FoundPack, Origin, Place};
use crate::screen::Io;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::{Diagnostic, Refusal, nearest};
use crankline_engine::pack::{
    Adapted, MANIFEST, SEAL, imported_packs, is_pack_name, is_script_name, new_manifest, with_adapted,
};
use std::path::Path;

type Result<T> = std::result::Result<T, Diagnostic>;

/// The pack that is made where somebody has none.
const FIRST_PACK: &str = "shop";

/// Copies a script.
pub(crate) fn run(script: &str, new_name: &str, io: &Io<'_>) -> Result<String> {
    if has_extension(script, "rhai") {
        let refusal = Refusal::new("adapt", format!("`{script}` is a file: a script of a pack is adapted"));
        return Err(refusal.hint("a file is copied as any other").into());
    }
    let desk = io.desk();
    Place::put_right(desk.place()?)?;
    let packs = desk.packs();
    let (parent, text) = packs.script(script)?;
    let own = script.rsplit('/').next().unwrap_or(script);
    let cases = parent.cases(own)?;
    let (pack, name) = target(new_name, &packs, desk.place()?)?;
    let adapted = Adapted::of(&name, (&parent.manifest, own, &text.text));
    let used = parent.manifest.uses.iter().map(|used| used.name.as_str());
    let uses = imported_packs(&text.text, used.chain([parent.name()]));
    let files = Copied {
        script: text.text.clone(),
        cases: cases.map(|cases| cases.text),
    };
    let place = Place::open(desk.place()?)?;
    // Looked up again under the lock: somebody may have been quicker.
    let (new, folder) = match desk.packs_unlocked().find(&pack)? {
        Some(found) => {
            add(&place, found, &adapted, &files, &uses)?;
            ("", found.place())
        }
        None => {
            desk.refuse_clash(&pack)?;
            let manifest = with_adapted(&new_manifest(&pack), &adapted, &uses)?;
            place.put(&pack, &files.whole(&name, manifest), false)?;
            (", in a new pack,", place.folder(&pack).display().to_string())
        }
    };
    Ok(format!(
        "{pack}/{name}{new} is a copy of {script} {}, to be changed in {folder}\n  crankline prove {pack}/{name}\n  \
         crankline pack compare {pack}\n",
        adapted.version
    ))
}

/// What is copied.
struct Copied {
    script: String,
    cases: Option<String>,
}

impl Copied {
    /// All files of a pack that has nothing else.
    fn whole(&self, name: &str, manifest: String) -> Vec<(String, Vec<u8>)> {
        let cases = self
            .cases
            .iter()
            .map(|cases| (format!("{name}.cases.toml"), cases.clone()));
        let files = [
            (MANIFEST.to_owned(), manifest),
            (format!("{name}.rhai"), self.script.clone()),
        ];
        let files = files.into_iter().chain(cases);
        files.map(|(name, text)| (name, text.into_bytes())).collect()
    }
}

/// Adds the copy to a pack that is there. The script comes last: until then the rest says nothing to anybody.
fn add(place: &Place, pack: &FoundPack, adapted: &Adapted, files: &Copied, uses: &[&str]) -> Result<()> {
    let name = &adapted.script;
    let folder = place.folder(pack.name());
    if !matches!(&pack.origin, Origin::Folder(found) if *found == folder) {
        let message = format!("the pack `{}` is {}, and is not written to", pack.name(), pack.place());
        return Err(Refusal::new("adapt", message)
            .hint("name a pack of your own: shop/my-shaft")
            .into());
    }
    if pack.file(SEAL)?.is_some() {
        let message = format!("the pack `{}` came as a sealed file, and is not changed", pack.name());
        return Err(Refusal::new("adapt", message)
            .hint("name a pack of your own: shop/my-shaft")
            .into());
    }
    if pack.scripts().contains(name) {
        let message = format!("there is a script `{}/{name}` already", pack.name());
        return Err(Refusal::new("adapt", message).hint("give the copy another name").into());
    }
    let before = pack.manifest.source.text.clone();
    if let Some(cases) = &files.cases {
        let file = format!("{name}.cases.toml");
        let known = pack.file(&file)?;
        if known.as_ref().is_none_or(|known| known.text != *cases) {
            disk::write_new(&folder.join(&file), &file, cases)?;
        }
    }
    let manifest = with_adapted(&before, adapted, uses)?;
    disk::replace(&folder.join(MANIFEST), MANIFEST, &before, &manifest)?;
    let file = format!("{name}.rhai");
    disk::write_new(&folder.join(&file), &file, &files.script)?;
    Ok(())
}

/// The pack and the name of the copy.
fn target(new_name: &str, packs: &Collection, place: &Path) -> Result<(String, String)> {
    let (pack, name) = match new_name.split_once('/') {
        Some((pack, name)) => (pack.to_owned(), name),
        None => (own_pack(packs, place)?, new_name),
    };
    if !is_pack_name(&pack) {
        let message = format!("`{pack}` is no name of a pack: small letters, digits and - only, a letter first");
        return Err(Refusal::new("name", message).into());
    }
    if !is_script_name(name) {
        let message = format!("`{name}` is no name of a script: letters, digits, - and _ only");
        return Err(Refusal::new("name", message).into());
    }
    if packs.find(&pack)?.is_none() {
        refuse_near(&pack, name, packs, place)?;
    }
    Ok((pack, name.to_owned()))
}

/// A pack whose name is nearly that of one that is there was probably meant to be that one.
fn refuse_near(pack: &str, name: &str, packs: &Collection, place: &Path) -> Result<()> {
    let own = own_packs(packs, place)?;
    let Some(near) = nearest(pack, own.iter().copied()) else {
        return Ok(());
    };
    let refusal = Refusal::new("adapt", format!("there is no pack `{pack}`"));
    Err(refusal
        .hint(format!("did you mean `{near}/{name}`?"))
        .hint(format!("where a new pack is meant: crankline pack new {pack} first"))
        .into())
}

/// The only pack of one's own, or the first.
fn own_pack(packs: &Collection, place: &Path) -> Result<String> {
    let own = own_packs(packs, place)?;
    match own.as_slice() {
        [] => Ok(FIRST_PACK.to_owned()),
        [only] => Ok((*only).to_owned()),
        several => {
            let message = format!("you have several packs: {}", several.join(", "));
            let refusal = Refusal::new("adapt", message);
            Err(refusal.hint(format!("say which: {}/NEW_NAME", several[0])).into())
        }
    }
}

/// Names of the packs that somebody writes in a place.
fn own_packs<'a>(packs: &'a Collection, place: &Path) -> Result<Vec<&'a str>> {
    let mut own = Vec::new();
    for pack in packs.packs() {
        let is_here = pack.folder().is_some_and(|folder| folder.parent() == Some(place));
        if is_here && pack.file(SEAL)?.is_none() {
            own.push(pack.name());
        }
    }
    Ok(own)
}
