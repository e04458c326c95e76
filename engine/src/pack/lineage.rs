//! Where scripts came from, written into a manifest that somebody else wrote: all else in it stays as it is.

use super::manifest::Adapted;
use crate::diagnostic::Refusal;
use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, value};

/// A manifest's text in which a script is said to come from another one, and the packs that it takes scripts from are
/// among those that the pack uses.
///
/// # Errors
/// Where `adapted` or `uses` is something else already.
pub fn with_adapted(manifest: &str, adapted: &Adapted, uses: &[&str]) -> Result<String, Refusal> {
    let unreadable = |what: &str| Refusal::new("pack", format!("pack.toml cannot be added to: {what}"));
    let mut document: DocumentMut = manifest.parse().map_err(|_| unreadable("it is no TOML"))?;
    if !uses.is_empty() {
        let item = document.entry("uses").or_insert_with(|| value(Array::new()));
        let known = item.as_array_mut().ok_or_else(|| unreadable("`uses` is no list"))?;
        for used in uses {
            if !known.iter().any(|known| known.as_str() == Some(*used)) {
                known.push(*used);
            }
        }
    }
    let item = document
        .entry("adapted")
        .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let tables = item
        .as_array_of_tables_mut()
        .ok_or_else(|| unreadable("`adapted` is not written as [[adapted]]"))?;
    tables.retain(|table| table.get("script").and_then(Item::as_str) != Some(adapted.script.as_str()));
    let mut table = Table::new();
    for (key, text) in [
        ("script", &adapted.script),
        ("from", &adapted.from),
        ("version", &adapted.version),
        ("sha256", &adapted.sha256),
    ] {
        table.insert(key, value(text.as_str()));
    }
    tables.push(table);
    Ok(document.to_string())
}

/// Packs of these that a script's text imports from.
#[must_use]
pub fn imported_packs<'a>(text: &str, packs: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    packs
        .filter(|pack| text.contains(&format!("import \"{pack}/")))
        .collect()
}
