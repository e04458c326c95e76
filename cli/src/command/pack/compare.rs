//! `pack compare`: what changed against the parents of a pack's scripts, or against an older version: lines of the scripts,
//! and what their worked examples give.

use super::compared::{ComparedCase, ComparedScript, as_json, as_markdown, as_text};
use super::seal::with_candidate;
use crate::arguments::{Common, ComparePacks, Format};
use crate::command::dispatch::Output;
use crate::command::{Ran, differences, ran_case};
use crate::exit::{DONE, FAILED};
use crate::listing::pretty;
use crate::packs::{Desk, FoundPack, SealedPack};
use crate::screen::Io;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::{Case, Yielded, changed_lines, moved, read_cases, sha256};

type Result<T> = std::result::Result<T, Diagnostic>;

/// A side: a pack, and a desk that sees it.
struct Side {
    pack: FoundPack,
    desk: Desk,
}

impl Side {
    /// A pack by its name, or a sealed one in a file.
    fn of(name: &str, desk: &Desk) -> Result<Self> {
        if has_extension(name, "zip") {
            let pack = SealedPack::read(&desk.directory, name)?.pack();
            let desk = with_candidate(desk, pack.clone());
            return Ok(Self { pack, desk });
        }
        let packs = desk.packs();
        let found = packs.find(name)?.cloned();
        let pack = found.ok_or_else(|| {
            let refusal = Refusal::new("pack", format!("there is no pack `{name}`"));
            refusal.hint("crankline pack list shows all; a sealed one ends in .zip")
        })?;
        Ok(Self {
            pack,
            desk: desk.clone(),
        })
    }

    fn names(&self) -> Vec<String> {
        self.pack.scripts()
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
    let got_worse = scripts.iter().any(ComparedScript::got_worse);
    Ok(Output {
        code: if got_worse { FAILED } else { DONE },
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
    let version = |side: &Side| format!("{} {}", side.pack.name(), side.pack.manifest.version);
    let mut found = Vec::new();
    for own in &new {
        let name = format!("{}/{own}", after.pack.name());
        if old.contains(own) {
            found.push(pair(&name, (before, own), (after, own), &version(before))?);
        } else {
            found.push(ComparedScript::of(name, format!("not in {}", version(before))));
        }
    }
    for own in old.iter().filter(|own| !new.contains(own)) {
        let name = format!("{}/{own}", before.pack.name());
        found.push(ComparedScript::of(name, format!("in {} alone", version(before))));
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
            found.push(ComparedScript::of(name, format!("{} is not here", adapted.from)));
            continue;
        }
        let before = Side::of(pack, desk)?;
        let since = if sha256(before.text(own)?.as_bytes()) == adapted.sha256 {
            format!(
                "{} {}, from which it was copied",
                adapted.from, before.pack.manifest.version
            )
        } else {
            format!(
                "{} {}, which is another now than in version {}, from which it was copied",
                adapted.from, before.pack.manifest.version, adapted.version
            )
        };
        found.push(pair(&name, (&before, own), (after, &adapted.script), &since)?);
    }
    Ok(found)
}

/// A script beside another one: lines, and the worked examples of both.
fn pair(name: &str, old: (&Side, &str), new: (&Side, &str), before: &str) -> Result<ComparedScript> {
    let (mut cases, old_cases) = (new.0.cases(new.1)?, old.0.cases(old.1)?);
    let has = |cases: &[Case], title: &str| cases.iter().any(|known| known.title == title);
    for case in &old_cases {
        if !has(&cases, &case.title) {
            cases.push(case.clone());
        }
    }
    let mut compared = ComparedScript::of(name.to_owned(), format!("before: {before}"));
    compared.lines = changed_lines(&old.0.text(old.1)?, &new.0.text(new.1)?);
    let whole = |side: &Side, own: &str| format!("{}/{own}", side.pack.name());
    let (old_name, new_name) = (whole(old.0, old.1), whole(new.0, new.1));
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
