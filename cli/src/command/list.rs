//! `list`: scripts in all packs.

use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crankline_scripts::{packs, script, script_names};

/// Scripts whose name or purpose holds the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common) -> String {
    let mut rows = Vec::new();
    let names = script_names();
    for pack in packs() {
        let heading = format!("{}  {}", pack.name, pack.title);
        let own = names.iter().filter(|name| name.starts_with(&format!("{}/", pack.name)));
        for name in own {
            let purpose = script(name).map(|script| purpose(&script.text)).unwrap_or_default();
            if matches(pattern, &[name, &purpose]) {
                rows.push((heading.clone(), vec![name.clone(), purpose]));
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
fn purpose(text: &str) -> String {
    let lines = text.lines().map(str::trim).skip_while(|line| line.is_empty());
    let lines: Vec<&str> = lines
        .map_while(|line| line.strip_prefix("//!"))
        .map(str::trim)
        .collect();
    let first: Vec<&str> = lines.into_iter().take_while(|line| !line.is_empty()).collect();
    let paragraph = first.join(" ");
    match paragraph.split_once(". ") {
        Some((sentence, _)) => format!("{sentence}."),
        None => paragraph,
    }
}
