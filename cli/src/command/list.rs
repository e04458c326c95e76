//! `list`: scripts in all packs.

use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crate::shelf::{first_paragraph, purpose};
use crankline_scripts::{packs, script, script_names};

/// Scripts whose name or purpose holds the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common) -> String {
    let mut rows = Vec::new();
    let names = script_names();
    for pack in packs() {
        let heading = format!("{}  {}", pack.name, pack.title);
        let own = names.iter().filter(|name| name.starts_with(&format!("{}/", pack.name)));
        for name in own {
            let about = script(name).map(|script| sentence(&script.text)).unwrap_or_default();
            if matches(pattern, &[name, &about]) {
                rows.push((heading.clone(), vec![name.clone(), about]));
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
    listing.write(common.format)
}

/// The first sentence of a script's description, read without running it.
fn sentence(text: &str) -> String {
    let paragraph = first_paragraph(&purpose(text));
    match paragraph.split_once(". ") {
        Some((sentence, _)) => format!("{sentence}."),
        None => paragraph,
    }
}
