//! `list`: scripts in all packs.

use super::dispatch::Output;
use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crate::packs::Origin;
use crate::screen::Io;
use crate::shelf::{first_paragraph, purpose};

/// Scripts whose name or purpose holds the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common, io: &Io<'_>) -> Output {
    let packs = io.desk().packs();
    let mut rows = Vec::new();
    for pack in packs.packs() {
        let place = match &pack.origin {
            Origin::Shipped | Origin::Sealed => String::new(),
            Origin::Folder(folder) => format!("  ({})", folder.display()),
        };
        let title = pack.manifest.title.as_deref().unwrap_or_default();
        let heading = format!("{}  {title}{place}", pack.name());
        for own in pack.scripts() {
            let name = format!("{}/{own}", pack.name());
            let text = pack.script(&own).ok().flatten();
            let about = text.map(|script| sentence(&script.text)).unwrap_or_default();
            if matches(pattern, &[&name, &about]) {
                rows.push((heading.clone(), vec![name, about]));
            }
        }
    }
    let listing = Listing {
        columns: &["script", "purpose"],
        rows,
        none: pattern.map_or_else(
            || "there are no scripts".to_owned(),
            |pattern| format!("no script has `{pattern}` in its name or purpose"),
        ),
    };
    Output::beside(listing.write(common.format), packs.trouble())
}

/// The first sentence of a script's description, read without running it.
fn sentence(text: &str) -> String {
    let paragraph = first_paragraph(&purpose(text));
    match paragraph.split_once(". ") {
        Some((sentence, _)) => format!("{sentence}."),
        None => paragraph,
    }
}
