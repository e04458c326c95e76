//! `pack look`: what is in a sealed pack. Nothing in it is run, nothing is written.

use super::content::{Script, outlines, scripts, stated, stated_json, title, uses};
use super::public_key;
use super::told::Told;
use crate::arguments::{Common, Format, LookAtPack};
use crate::listing::pretty;
use crate::packs::SealedPack;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal, nearest, shown};
use crankline_engine::report::{AID, plain, short_digest};
use serde_json::{Value, json};

const NOTHING_DONE: &str = "Every file is the one that was sealed. Nothing was run, and nothing was added.";

/// Looks at a sealed pack, or at the text of one of its scripts.
pub(super) fn run(options: &LookAtPack, common: &Common, io: &Io<'_>) -> Result<String, Diagnostic> {
    let desk = io.desk();
    let by = public_key(&desk, options.by.as_deref())?;
    let pack = SealedPack::read(&desk.directory, &options.file)?;
    pack.expect(by.as_ref())?;
    let scripts = scripts(&pack.pack())?;
    if let Some(name) = &options.script {
        return Ok(shown_text(named(name, &scripts, &options.file)?, common.format));
    }
    Ok(match common.format {
        Format::Json => pretty(&as_json(&pack, &scripts)),
        Format::Markdown => told(&pack, &scripts, true).markdown(),
        Format::Text | Format::Csv | Format::Html => told(&pack, &scripts, false).text(),
    })
}

/// The script of a name, with that of its pack or without.
fn named<'a>(name: &str, scripts: &'a [Script], file: &str) -> Result<&'a Script, Refusal> {
    let own = |script: &'a Script| script.name.split_once('/').map_or("", |(_, own)| own);
    let found = scripts.iter().find(|script| script.name == name || own(script) == name);
    found.ok_or_else(|| {
        let asked = name.rsplit('/').next().unwrap_or(name);
        let hint = match nearest(asked, scripts.iter().map(own)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("crankline pack look {file} names all that are in it"),
        };
        Refusal::new("look", format!("there is no script `{name}` in `{file}`")).hint(hint)
    })
}

/// A script's text; a line that people read has its number.
fn shown_text(script: &Script, format: Format) -> String {
    let Script { name, sha256, text, .. } = script;
    match format {
        Format::Json => pretty(&json!({"format": 1, "name": name, "sha256": sha256, "text": text})),
        Format::Markdown => {
            // A fence is longer than any in the text.
            let runs = text.split(|letter: char| letter != '`').map(str::len);
            let fence = "`".repeat(runs.max().unwrap_or(0).max(2) + 1);
            let end = if text.ends_with('\n') { "" } else { "\n" };
            let text = shown(text);
            format!(
                "# {}\n\n*{AID}*\n\nSHA-256 {sha256}\n\n{fence}rhai\n{text}{end}{fence}\n",
                plain(name)
            )
        }
        Format::Text | Format::Csv | Format::Html => {
            let width = text.lines().count().to_string().len();
            let lines = text.lines().enumerate().map(|(nth, line)| {
                let line = format!("{:>width$}  {}", nth + 1, shown(line));
                format!("{}\n", line.trim_end())
            });
            let lines: String = lines.collect();
            format!("{name}, SHA-256 {sha256}\n{AID}\n\n{lines}")
        }
    }
}

/// What is told of a pack, each with the word that stands beside it; digests in whole or short.
fn told(pack: &SealedPack, scripts: &[Script], in_whole: bool) -> Told {
    let manifest = &pack.sealed.manifest;
    let mut rows = vec![
        ("LICENCE", pack.sealed.seal.licence.clone()),
        ("AUTHOR", manifest.author.as_deref().unwrap_or("not named").to_owned()),
        ("SIGNED", signed(pack)),
        ("USES", uses(manifest)),
    ];
    for file in &pack.sealed.seal.files {
        let digest = if in_whole {
            &file.sha256
        } else {
            short_digest(&file.sha256)
        };
        rows.push(("FILE", format!("{}, {} bytes, SHA-256 {digest}", file.name, file.bytes)));
    }
    for (script, outline) in scripts.iter().zip(outlines(scripts)) {
        rows.push(("SCRIPT", script.line()));
        rows.push(("", script.purpose.clone()));
        rows.extend(stated(outline.as_ref()));
    }
    for adapted in &manifest.adapted {
        let (name, from) = (&manifest.name, &adapted.from);
        let adapted = format!("{name}/{} from {from}, version {}", adapted.script, adapted.version);
        rows.push(("ADAPTED", adapted));
    }
    Told {
        title: title(manifest),
        rows,
        closing: Some(NOTHING_DONE),
    }
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

fn as_json(pack: &SealedPack, scripts: &[Script]) -> Value {
    let manifest = &pack.sealed.manifest;
    let files = pack.sealed.seal.files.iter();
    let files = files.map(|file| json!({"name": file.name, "bytes": file.bytes, "sha256": file.sha256}));
    let scripts = scripts.iter().zip(outlines(scripts)).map(|(script, outline)| {
        let mut value = script.json();
        if let Some(object) = value.as_object_mut() {
            let unread = outline.as_ref().and_then(|outline| outline.unread.as_ref());
            object.insert(
                "unread".to_owned(),
                json!(unread.map(|unread| unread.refusal.message())),
            );
            object.insert("statements".to_owned(), stated_json(outline.as_ref()));
        }
        value
    });
    let adapted = manifest.adapted.iter().map(|adapted| {
        json!({"script": adapted.script, "from": adapted.from, "version": adapted.version, "sha256": adapted.sha256})
    });
    json!({
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
    })
}
