//! `describe` of a pack: whose it is, what became of it since it was sealed, what is in it.

use super::content::{Script, scripts, title, uses};
use super::list::state_as_json;
use super::told::Told;
use crate::arguments::Format;
use crate::listing::pretty;
use crate::packs::{Collection, FoundPack, Generation, State, generations};
use crankline_engine::diagnostic::Diagnostic;
use serde_json::{Value, json};

/// Describes a pack.
///
/// # Errors
/// A file in it that is no text.
pub(crate) fn about(pack: &FoundPack, packs: &Collection, format: Format) -> Result<String, Diagnostic> {
    let scripts = scripts(pack)?;
    let lineages = lineages(pack, packs)?;
    Ok(match format {
        Format::Json => pretty(&as_json(pack, &scripts, &lineages)),
        Format::Markdown => told(pack, &scripts, &lineages).markdown(),
        Format::Text | Format::Csv | Format::Html => told(pack, &scripts, &lineages).text(),
    })
}

/// A pack in a line, for whoever reads of one of its scripts: `shop 0.1.0, licence MIT, as sealed, not signed`.
pub(crate) fn in_a_line(pack: &FoundPack) -> String {
    let manifest = &pack.manifest;
    let licence = match &manifest.licence {
        Some(licence) => format!("licence {licence}"),
        None => "no licence named".to_owned(),
    };
    format!("{} {}, {licence}, {}", manifest.name, manifest.version, state(pack))
}

/// The same as plain data.
pub(crate) fn as_data(pack: &FoundPack) -> Value {
    let manifest = &pack.manifest;
    let mut data = json!({
        "name": manifest.name,
        "version": manifest.version,
        "title": manifest.title,
        "place": pack.place(),
        "licence": manifest.licence,
        "author": manifest.author,
        "uses": manifest.uses.iter().map(|used| used.name.as_str()).collect::<Vec<_>>(),
    });
    if let (Some(data), Value::Object(state)) = (data.as_object_mut(), state_as_json(pack)) {
        data.extend(state);
    }
    data
}

/// The generations of a script as plain data, its parent first.
pub(crate) fn lineage_json(generations: &[Generation]) -> Value {
    let generation = |Generation { ancestor, became }: &Generation| {
        json!({
            "script": ancestor.from,
            "pack_version": ancestor.version,
            "sha256": ancestor.sha256,
            "licence": ancestor.licence,
            "author": ancestor.author,
            "now": became,
        })
    };
    json!(generations.iter().map(generation).collect::<Vec<_>>())
}

/// A script that was copied from another one, with its generations.
type Lineage = (String, Vec<Generation>);

fn lineages(pack: &FoundPack, packs: &Collection) -> Result<Vec<Lineage>, Diagnostic> {
    let adapted = pack.manifest.adapted.iter();
    let of = |script: String| -> Result<_, Diagnostic> { Ok((script.clone(), generations(&script, packs)?)) };
    adapted
        .map(|adapted| of(format!("{}/{}", pack.name(), adapted.script)))
        .collect()
}

fn state(pack: &FoundPack) -> String {
    match State::of(pack) {
        Ok(state) => state.told(&pack.origin),
        Err(error) => error.refusal.message().to_owned(),
    }
}

fn told(pack: &FoundPack, scripts: &[Script], lineages: &[Lineage]) -> Told {
    let manifest = &pack.manifest;
    let mut rows = vec![
        ("PLACE", pack.place()),
        ("LICENCE", manifest.licence.as_deref().unwrap_or("not named").to_owned()),
        ("AUTHOR", manifest.author.as_deref().unwrap_or("not named").to_owned()),
        ("STATE", state(pack)),
        ("USES", uses(manifest)),
    ];
    for script in scripts {
        rows.push(("SCRIPT", script.line()));
        rows.push(("", script.purpose.clone()));
    }
    for (script, generations) in lineages {
        for (nth, generation) in generations.iter().enumerate() {
            let (word, child) = match nth {
                0 => ("ADAPTED", format!("{script} ")),
                _ => ("", "that one ".to_owned()),
            };
            rows.push((word, format!("{child}{}", generation.words())));
        }
    }
    Told {
        title: title(manifest),
        rows,
        closing: None,
    }
}

fn as_json(pack: &FoundPack, scripts: &[Script], lineages: &[Lineage]) -> Value {
    let mut value = as_data(pack);
    if let Some(object) = value.as_object_mut() {
        let scripts = scripts.iter().map(Script::json).collect::<Vec<_>>();
        let adapted = lineages
            .iter()
            .map(|(script, generations)| json!({"script": script, "from": lineage_json(generations)}));
        object.insert("format".to_owned(), json!(1));
        object.insert("scripts".to_owned(), json!(scripts));
        object.insert("adapted".to_owned(), json!(adapted.collect::<Vec<_>>()));
    }
    value
}
