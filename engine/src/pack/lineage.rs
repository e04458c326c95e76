//! Where scripts came from: written into a manifest that somebody else wrote, in which all else stays as it is; and in
//! words.

use super::digest::sha256;
use super::manifest::{Adapted, Ancestor, MOST_ANCESTORS, Manifest};
use crate::diagnostic::Refusal;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, value};

impl Adapted {
    /// Of a copy of a script: `text` in the pack of this manifest, from which it brings its own ancestors.
    #[must_use]
    pub fn of(script: &str, (manifest, own, text): (&Manifest, &str, &str)) -> Self {
        let known = manifest.adapted.iter().find(|adapted| adapted.script == own);
        let before = known.into_iter().flat_map(|known| {
            let parent = known.parent();
            std::iter::once(parent).chain(known.before.iter().cloned())
        });
        Self {
            script: script.to_owned(),
            from: format!("{}/{own}", manifest.name),
            version: manifest.version.clone(),
            sha256: sha256(text.as_bytes()),
            licence: manifest.licence.clone(),
            author: manifest.author.clone(),
            before: before.take(MOST_ANCESTORS).collect(),
        }
    }

    /// What it was copied from.
    #[must_use]
    pub fn parent(&self) -> Ancestor {
        Ancestor {
            from: self.from.clone(),
            version: self.version.clone(),
            sha256: self.sha256.clone(),
            licence: self.licence.clone(),
            author: self.author.clone(),
        }
    }
}

impl Ancestor {
    /// On which terms, and whose: `licence: MIT, author: R.`
    #[must_use]
    pub fn terms(&self) -> String {
        let licence = self.licence.as_deref().unwrap_or("not named");
        let author = self.author.as_deref().unwrap_or("not named");
        format!("licence: {licence}, author: {author}")
    }
}

/// A script as it is here today.
#[derive(Clone, Debug)]
pub struct Today {
    /// The version of its pack.
    pub version: String,
    /// The SHA-256 of its text, in hexadecimal digits.
    pub sha256: String,
}

impl Ancestor {
    /// What became of it, after its version then: `, which is the same still`; `None` where it is not here.
    #[must_use]
    pub fn became(&self, today: Option<&Today>) -> String {
        match today {
            None => "which is not here".to_owned(),
            Some(today) if today.sha256 == self.sha256 => "which is the same still".to_owned(),
            Some(today) if today.version == self.version => {
                format!(
                    "but the digest noted does not match version {} as it is here",
                    today.version
                )
            }
            Some(today) => format!("which is another now, in version {}", today.version),
        }
    }
}

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
    table.insert("script", value(adapted.script.as_str()));
    for (key, text) in entries(&adapted.parent()) {
        table.insert(key, value(text));
    }
    if !adapted.before.is_empty() {
        let before = adapted.before.iter().map(|ancestor| {
            let entries = entries(ancestor).into_iter();
            entries.collect::<InlineTable>()
        });
        let mut list: Array = before.collect();
        // A line each.
        for ancestor in list.iter_mut() {
            ancestor.decor_mut().set_prefix("\n    ");
        }
        list.set_trailing_comma(true);
        list.set_trailing("\n");
        table.insert("before", value(list));
    }
    tables.push(table);
    Ok(document.to_string())
}

fn entries(ancestor: &Ancestor) -> Vec<(&'static str, &str)> {
    let needed = [
        ("from", Some(&ancestor.from)),
        ("version", Some(&ancestor.version)),
        ("sha256", Some(&ancestor.sha256)),
        ("licence", ancestor.licence.as_ref()),
        ("author", ancestor.author.as_ref()),
    ];
    let entries = needed.into_iter();
    entries.filter_map(|(key, text)| Some((key, text?.as_str()))).collect()
}

/// Packs of these that a script's text imports from.
#[must_use]
pub fn imported_packs<'a>(text: &str, packs: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    packs
        .filter(|pack| text.contains(&format!("import \"{pack}/")))
        .collect()
}
