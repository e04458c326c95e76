//! `pack compare`: what changed against the parents of a pack's scripts, or against an older version: lines of the scripts,
//! and what their worked examples give.

use super::compared::{ComparedCase, ComparedScript, Which, as_json, as_markdown, as_text};
use crate::arguments::{Common, ComparePacks, Format};
use crate::command::dispatch::Output;
use crate::command::{Ran, differences, ran_case};
use crate::exit::{DONE, FAILED, NOT_DONE};
use crate::listing::pretty;
use crate::packs::{Desk, FoundPack, SealedPack, no_pack};
use crate::screen::Io;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::{Case, Yielded, changed_lines, moved, read_cases, sha256};
use crankline_engine::report::short_digest;

type Result<T> = std::result::Result<T, Diagnostic>;

/// A side: a pack, and a desk that sees it.
struct Side {
    pack: FoundPack,
    desk: Desk,
    /// The file or the folder that it lies in.
    place: String,
}

impl Side {
    /// A pack by its name, or a sealed one in a file.
    fn of(name: &str, desk: &Desk) -> Result<Self> {
        if has_extension(name, "zip") {
            let pack = SealedPack::read(&desk.directory, name)?.pack();
            let desk = desk.with_candidate(pack.clone());
            let place = name.to_owned();
            return Ok(Self { pack, desk, place });
        }
        let packs = desk.packs();
        let found = packs.find(name)?.cloned();
        let pack = found.ok_or_else(|| no_pack(&packs, "pack", name))?;
        Ok(Self {
            place: pack.place(),
            desk: desk.clone(),
            pack,
        })
    }

    fn names(&self) -> Vec<String> {
        self.pack.scripts()
    }

    /// Which script that is, exactly.
    fn which(&self, own: &str) -> Result<Which> {
        Ok(Which {
            script: format!("{}/{own}", self.pack.name()),
            version: self.pack.manifest.version.clone(),
            place: self.place.clone(),
            sha256: sha256(self.text(own)?.as_bytes()),
        })
    }

    fn text(&self, own: &str) -> Result<String> {
        Ok(self.pack.script(own)?.map(|text| text.text).unwrap_or_default())
    }

    fn cases(&self, own: &str) -> Result<Vec<Case>> {
        Ok(self.pack.cases(own)?.map(read_cases).transpose()?.unwrap_or_default())
    }
}

/// Compares a pack.
pub(super) fn run(options: &ComparePacks, common: &Common, io: &Io<'_>) -> Result<Output> {
    let desk = io.desk();
    let after = Side::of(&options.pack, &desk)?;
    let scripts = match &options.with {
        Some(with) => against(&Side::of(with, &desk)?, &after)?,
        None => against_parents(&after, &desk)?,
    };
    let has = |what: fn(&ComparedScript) -> bool| scripts.iter().any(what);
    Ok(Output {
        code: match () {
            () if has(ComparedScript::is_undone) => NOT_DONE,
            () if has(ComparedScript::got_worse) => FAILED,
            () => DONE,
        },
        text: match common.format {
            Format::Json => pretty(&as_json(&scripts)),
            Format::Markdown => as_markdown(&scripts),
            Format::Text | Format::Csv | Format::Html => as_text(&scripts),
        },
        also: None,
        why: None,
    })
}

/// Every script beside the one of its name in another pack, or in another version of it.
fn against(before: &Side, after: &Side) -> Result<Vec<ComparedScript>> {
    let (old, new) = (before.names(), after.names());
    let mut found = Vec::new();
    for own in &new {
        if old.contains(own) {
            found.push(pair((before, own), (after, own))?);
        } else {
            found.push(ComparedScript {
                now: Some(after.which(own)?),
                ..ComparedScript::of(format!("{}/{own}", after.pack.name()))
            });
        }
    }
    for own in old.iter().filter(|own| !new.contains(own)) {
        found.push(ComparedScript {
            before: Some(before.which(own)?),
            ..ComparedScript::of(format!("{}/{own}", before.pack.name()))
        });
    }
    Ok(found)
}

/// Every script that was copied from another one beside that.
fn against_parents(after: &Side, desk: &Desk) -> Result<Vec<ComparedScript>> {
    let adapted = &after.pack.manifest.adapted;
    if adapted.is_empty() {
        let message = format!(
            "no script of the pack `{}` was copied from another one",
            after.pack.name()
        );
        let refusal = Refusal::new("pack", message);
        return Err(refusal
            .hint("name what to compare it with: an older version (.zip) or a pack")
            .into());
    }
    let mut found = Vec::new();
    let names = after.names();
    for adapted in adapted.iter().filter(|adapted| names.contains(&adapted.script)) {
        let name = format!("{}/{}", after.pack.name(), adapted.script);
        let (pack, own) = adapted.from.split_once('/').unwrap_or((&adapted.from, ""));
        if desk.packs().script(&adapted.from).is_err() {
            found.push(ComparedScript {
                now: Some(after.which(&adapted.script)?),
                note: Some(format!(
                    "copied from {}, which is not here: nothing to compare it with",
                    adapted.from
                )),
                is_undone: true,
                ..ComparedScript::of(name)
            });
            continue;
        }
        let before = Side::of(pack, desk)?;
        let (from, is) = (&adapted.from, &before.pack.manifest.version);
        let note = match (
            sha256(before.text(own)?.as_bytes()) == adapted.sha256,
            *is == adapted.version,
        ) {
            (true, _) => format!("copied from {from}, which is the same still"),
            (false, false) => format!(
                "copied from {from} as it was in version {}; it is another now",
                adapted.version
            ),
            (false, true) => format!(
                "copied from {from} {is}, it says, but with another text (SHA-256 {}…)",
                short_digest(&adapted.sha256)
            ),
        };
        let note = Some(note);
        found.push(ComparedScript {
            note,
            ..pair((&before, own), (after, &adapted.script))?
        });
    }
    Ok(found)
}

/// A script beside another one: lines, and the worked examples of both.
fn pair(old: (&Side, &str), new: (&Side, &str)) -> Result<ComparedScript> {
    let (mut cases, old_cases) = (new.0.cases(new.1)?, old.0.cases(old.1)?);
    let has = |cases: &[Case], title: &str| cases.iter().any(|known| known.title == title);
    for case in &old_cases {
        if !has(&cases, &case.title) {
            cases.push(case.clone());
        }
    }
    let (before, now) = (old.0.which(old.1)?, new.0.which(new.1)?);
    let (old_name, new_name) = (before.script.clone(), now.script.clone());
    let mut compared = ComparedScript {
        before: Some(before),
        now: Some(now),
        lines: changed_lines(&old.0.text(old.1)?, &new.0.text(new.1)?),
        ..ComparedScript::of(new_name.clone())
    };
    for case in &cases {
        let was = ran_case(&old_name, case, &old.0.desk);
        let is = ran_case(&new_name, case, &new.0.desk);
        let mut of_case = ComparedCase {
            title: case.title.clone(),
            ..ComparedCase::default()
        };
        match (&was, &is) {
            (Ok((was, old)), Ok((is, new))) => {
                let old = |number: usize| old.get(number).copied();
                let new = |number: usize| new.get(number).copied();
                let (was, is) = (
                    Yielded {
                        outcome: was,
                        verdict: &old,
                    },
                    Yielded {
                        outcome: is,
                        verdict: &new,
                    },
                );
                of_case.moved = moved(&was, &is);
            }
            (was, is) => {
                let said = |error: &Diagnostic| error.refusal.message().to_owned();
                (of_case.error_before, of_case.error) = (was.as_ref().err().map(said), is.as_ref().err().map(said));
            }
        }
        // An older example with the same title may have expected something else.
        let expected = old_cases.iter().find(|old| old.title == case.title);
        of_case.broken = broken(case, expected, (&was, &is));
        compared.cases.push(of_case);
    }
    Ok(compared)
}

/// What a worked example expects and the newer script does not give: of its own ones anything, of the older ones what the
/// older script gave.
fn broken(case: &Case, expected_before: Option<&Case>, (was, is): (&Ran, &Ran)) -> Vec<String> {
    let words = |found: Vec<Diagnostic>| found.iter().map(|error| error.refusal.message().to_owned()).collect();
    let own = differences(case, is);
    let came_out = expected_before.is_some_and(|before| differences(before, was).is_empty());
    match expected_before {
        _ if !own.is_empty() => words(own),
        // Set to other values, it is another example.
        Some(before) if came_out && format!("{:?}", before.set) == format!("{:?}", case.set) => {
            words(differences(before, is))
        }
        _ => Vec::new(),
    }
}
