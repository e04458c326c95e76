//! `pack list`: the packs that are here, and where.

use crate::arguments::{Common, Format};
use crate::command::dispatch::Output;
use crate::listing::{Listing, pretty};
use crate::packs::{BrokenPack, FoundPack, Origin, State};
use crate::screen::Io;
use crankline_engine::pack::{SEAL, sha256};
use serde_json::{Value, json};

/// Lists all packs.
pub(super) fn run(common: &Common, io: &Io<'_>) -> Output {
    let packs = io.desk().packs();
    if common.format == Format::Json {
        let broken = packs.broken().iter().map(broken_as_json);
        let rows = packs.packs().into_iter().map(as_json).chain(broken).collect();
        return Output::beside(pretty(&Value::Array(rows)), packs.trouble());
    }
    let mut rows = Vec::new();
    for pack in packs.packs() {
        let (group, place) = match &pack.origin {
            Origin::Shipped | Origin::Sealed => ("shipped", String::new()),
            Origin::Folder(folder) => ("on the disk", folder.display().to_string()),
        };
        let scripts = match pack.scripts().len() {
            1 => "1 script".to_owned(),
            count => format!("{count} scripts"),
        };
        let title = pack.manifest.title.clone().unwrap_or_default();
        let state = match State::of(pack) {
            Ok(state) => state.words(),
            Err(error) => error.refusal.message().to_owned(),
        };
        let version = pack.manifest.version.clone();
        let cells = [pack.name().to_owned(), version, scripts, title, place, state];
        rows.push((group.to_owned(), cells.to_vec()));
    }
    for broken in packs.broken() {
        let message = format!("cannot be used: {}", broken.error.refusal.message());
        let cells = [broken.name.as_str(), "", "", "", &broken.place, &message].map(str::to_owned);
        rows.push(("on the disk".to_owned(), cells.to_vec()));
    }
    // Those on the disk first, each group by name.
    rows.sort_by_key(|(group, _)| group == "shipped");
    let listing = Listing {
        columns: &["pack", "version", "scripts", "title", "place", "seal"],
        rows,
        none: "there are no packs".to_owned(),
    };
    Output::beside(listing.write(common.format), packs.trouble())
}

fn as_json(pack: &FoundPack) -> Value {
    let place = match &pack.origin {
        Origin::Folder(folder) => Some(folder.display().to_string()),
        Origin::Shipped | Origin::Sealed => None,
    };
    let mut row = json!({
        "pack": pack.name(),
        "version": pack.manifest.version,
        "scripts": pack.scripts().len(),
        "title": pack.manifest.title,
        "licence": pack.manifest.licence,
        "place": place,
    });
    if let (Some(row), Value::Object(state)) = (row.as_object_mut(), state_as_json(pack)) {
        row.extend(state);
    }
    row
}

/// What lies where a pack would, and is none.
fn broken_as_json(broken: &BrokenPack) -> Value {
    let message = broken.error.refusal.message();
    json!({"pack": broken.name, "place": broken.place, "state": "broken", "difference": message})
}

/// What became of a pack since it was sealed: `state`, `difference`, `signed_with`, and the SHA-256 of its seal.
pub(super) fn state_as_json(pack: &FoundPack) -> Value {
    let seal = pack.file(SEAL).ok().flatten().map(|seal| sha256(seal.text.as_bytes()));
    let (state, difference, signer) = match State::of(pack) {
        Ok(state) => {
            let difference = match &state {
                State::Changed(difference) => Some(difference.clone()),
                State::Own | State::AsSealed(_) => None,
            };
            (state.word(&pack.origin), difference, state.signed_with())
        }
        Err(error) => ("unreadable", Some(error.refusal.message().to_owned()), None),
    };
    json!({"state": state, "difference": difference, "signed_with": signer, "seal_sha256": seal})
}
