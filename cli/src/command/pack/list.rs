//! `pack list`: the packs that are here, and where.

use crate::arguments::Common;
use crate::command::dispatch::Output;
use crate::listing::Listing;
use crate::packs::{Origin, State};
use crate::screen::Io;

/// Lists all packs.
pub(super) fn run(common: &Common, io: &Io<'_>) -> Output {
    let packs = io.desk().packs();
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
