//! `pack look`: what is in a sealed pack. Nothing in it is run, nothing is written.

use super::public_key;
use crate::arguments::{Common, Format, LookAtPack};
use crate::listing::{in_margin, pretty};
use crate::packs::SealedPack;
use crate::screen::Io;
use crate::shelf::{first_paragraph, purpose};
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::pack::read_cases;
use crankline_engine::report::{AID, plain};
use serde_json::{Value, json};

/// Where words beside a margin begin.
const COLUMN: usize = 12;
const NOTHING_DONE: &str = "Every file is the one that was sealed. Nothing was run, and nothing was added.";

/// Looks at a sealed pack.
pub(super) fn run(options: &LookAtPack, common: &Common, io: &Io<'_>) -> Result<String, Diagnostic> {
    let desk = io.desk();
    let by = public_key(&desk, options.by.as_deref())?;
    let pack = SealedPack::read(&desk.directory, &options.file)?;
    pack.expect(by.as_ref())?;
    Ok(match common.format {
        Format::Json => pretty(&as_json(&pack)?),
        Format::Markdown => as_markdown(&pack)?,
        Format::Text | Format::Csv | Format::Html => as_text(&pack)?,
    })
}

/// A script in the pack: its name, what it is for, how many worked examples it has.
struct Script {
    name: String,
    purpose: String,
    cases: usize,
}

fn scripts(pack: &SealedPack) -> Result<Vec<Script>, Diagnostic> {
    let found = pack.pack();
    let mut scripts = Vec::new();
    for own in found.scripts() {
        let text = found.script(&own)?.map(|script| script.text).unwrap_or_default();
        let cases = found.cases(&own)?.map(read_cases).transpose()?.unwrap_or_default();
        scripts.push(Script {
            name: format!("{}/{own}", found.name()),
            purpose: first_paragraph(&purpose(&text)),
            cases: cases.len(),
        });
    }
    Ok(scripts)
}

/// What is told of a pack, each with the word that stands beside it.
fn told(pack: &SealedPack) -> Result<Vec<(&'static str, String)>, Diagnostic> {
    let manifest = &pack.sealed.manifest;
    let uses: Vec<&str> = manifest.uses.iter().map(|used| used.name.as_str()).collect();
    let uses = if uses.is_empty() {
        "no other pack".to_owned()
    } else {
        uses.join(", ")
    };
    let mut told = vec![
        ("LICENCE", pack.sealed.seal.licence.clone()),
        ("AUTHOR", manifest.author.as_deref().unwrap_or("not named").to_owned()),
        ("SIGNED", signed(pack)),
        ("USES", uses),
    ];
    for file in &pack.sealed.seal.files {
        told.push(("FILE", format!("{}, {} bytes", file.name, file.bytes)));
    }
    for script in scripts(pack)? {
        let examples = match script.cases {
            1 => "1 worked example".to_owned(),
            count => format!("{count} worked examples"),
        };
        told.push(("SCRIPT", format!("{}, {examples}", script.name)));
        told.push(("", script.purpose));
    }
    for adapted in &manifest.adapted {
        let (name, from) = (&manifest.name, &adapted.from);
        let adapted = format!("{name}/{} from {from}, version {}", adapted.script, adapted.version);
        told.push(("ADAPTED", adapted));
    }
    Ok(told)
}

fn title(pack: &SealedPack) -> String {
    let manifest = &pack.sealed.manifest;
    let title = manifest.title.as_deref().map(|title| format!(": {title}"));
    format!("{} {}{}", manifest.name, manifest.version, title.unwrap_or_default())
}

fn as_text(pack: &SealedPack) -> Result<String, Diagnostic> {
    let told = told(pack)?;
    let lines = told.iter().map(|(word, words)| in_margin(COLUMN, word, words));
    Ok(format!(
        "{}\n{AID}\n\n{}\n{NOTHING_DONE}\n",
        title(pack),
        lines.collect::<String>()
    ))
}

fn as_markdown(pack: &SealedPack) -> Result<String, Diagnostic> {
    let told = told(pack)?;
    let lines = told.iter().map(|(word, words)| match *word {
        "" => format!("  {}\n", plain(words)),
        word => format!("- **{word}** {}\n", plain(words)),
    });
    let (title, lines) = (plain(&title(pack)), lines.collect::<String>());
    Ok(format!("# {title}\n\n*{AID}*\n\n{lines}\n{NOTHING_DONE}\n"))
}

fn signed(pack: &SealedPack) -> String {
    match &pack.signer {
        Some(key) => format!(
            "with the key {}: ask whoever gave it to you whether that is theirs",
            key.name()
        ),
        None => "by nobody: anybody could have made it".to_owned(),
    }
}

fn as_json(pack: &SealedPack) -> Result<Value, Diagnostic> {
    let manifest = &pack.sealed.manifest;
    let files = pack.sealed.seal.files.iter();
    let files = files.map(|file| json!({"name": file.name, "bytes": file.bytes, "sha256": file.sha256}));
    let scripts = scripts(pack)?;
    let scripts = scripts
        .iter()
        .map(|script| json!({"name": script.name, "purpose": script.purpose, "cases": script.cases}));
    let adapted = manifest.adapted.iter().map(|adapted| {
        json!({"script": adapted.script, "from": adapted.from, "version": adapted.version, "sha256": adapted.sha256})
    });
    Ok(json!({
        "name": manifest.name,
        "version": manifest.version,
        "title": manifest.title,
        "author": manifest.author,
        "licence": pack.sealed.seal.licence,
        "uses": manifest.uses.iter().map(|used| used.name.as_str()).collect::<Vec<_>>(),
        "signed_with": pack.signer.as_ref().map(crankline_engine::pack::PublicKey::name),
        "files": files.collect::<Vec<_>>(),
        "scripts": scripts.collect::<Vec<_>>(),
        "adapted": adapted.collect::<Vec<_>>(),
    }))
}
