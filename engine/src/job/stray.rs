//! Names that no run takes: kept where they are of their own, refused where they are probably a slip.

use super::job::Reading;
use super::plan::{Planning, Ready, Used, whole_of};
use crate::diagnostic::{Diagnostic, Refusal, is_slip, nearest};
use std::collections::BTreeSet;

type Result<T> = std::result::Result<T, Diagnostic>;

impl Planning<'_, '_> {
    /// Refuses overrides of what no run takes.
    pub(super) fn look_at_overrides(&self, runs: &[Ready<'_>], used: &BTreeSet<Used>) -> Result<()> {
        let stray = self
            .overrides
            .iter()
            .find(|(name, _)| !used.contains(&Used::Override((*name).clone())));
        let Some((name, given)) = stray else { return Ok(()) };
        let holders: Vec<&str> = with_input(runs, name).map(|ready| ready.run.name.as_str()).collect();
        let refusal = match holders.first() {
            Some(run) => Refusal::new(
                "unknown name",
                format!("no run takes `{name}` from a reading: run `{run}` has its own value for it"),
            )
            .hint(format!("\"{run}: {name}\"")),
            None => {
                let addresses = addresses(runs);
                let readings = self.job.readings.iter().map(|reading| reading.name.as_str());
                let near = nearest(name, addresses.iter().map(String::as_str).chain(readings));
                let near = near.map(|near| format!("did you mean `{near}`?"));
                let known = || Some(format!("there is `{}`", addresses.join("`, `")));
                // A script run by itself is a run without a name.
                let alone = matches!(runs, [only] if only.run.name.is_empty());
                let who = if alone { "the script has no" } else { "no run has an" };
                Refusal::new("unknown name", format!("{who} input `{name}`"))
                    .maybe_hint(near.or_else(|| known().filter(|_| !addresses.is_empty())))
            }
        };
        Err(Diagnostic {
            refusal,
            places: given
                .places
                .first()
                .map(|(_, place)| place.clone())
                .into_iter()
                .collect(),
        })
    }

    /// Refuses options that set a name which no run takes but for a slip.
    pub(super) fn look_at_options(&self, runs: &[Ready<'_>]) -> Result<()> {
        let addresses = addresses(runs);
        for setting in self.job.options.iter().flat_map(|option| &option.set) {
            let is_reading = self.job.reading(&setting.name, None).is_some();
            let known = |name: &str| addresses.iter().any(|address| address == name);
            let is_part = whole_of(&setting.name).is_some_and(known);
            if is_reading || is_part || known(&setting.name) {
                continue;
            }
            // An option may be written down before the script that would try it; a slip is told all the same.
            if let Some(near) = meant(&setting.name, addresses.iter().map(String::as_str)) {
                let refusal = Refusal::new("unknown name", format!("no run has an input `{}`", setting.name))
                    .hint(format!("did you mean `{near}`?"));
                return Err(Diagnostic::at(refusal, setting.place.clone()));
            }
        }
        Ok(())
    }

    /// The readings that no run uses; one with a name close to a known one is an error.
    pub(super) fn unused(&self, runs: &[Ready<'_>], used: &BTreeSet<Used>) -> Result<Vec<Reading>> {
        let mut kept = Vec::new();
        for reading in self.job.in_force() {
            if used.contains(&Used::Reading(reading.run.clone(), reading.name.clone())) {
                continue;
            }
            let listeners = runs
                .iter()
                .filter(|ready| reading.run.as_ref().is_none_or(|run| *run == ready.run.name));
            let mut known: Vec<&str> = listeners.flat_map(|ready| ready.program.input_names()).collect();
            known.retain(|known| *known != reading.name);
            if let Some(near) = meant(&reading.name, known.into_iter()) {
                let refusal = Refusal::new("unknown name", format!("no run has an input `{}`", reading.name))
                    .hint(format!("did you mean `{near}`?"))
                    .hint("a reading kept for itself needs a name that is less like a known one");
                return Err(Diagnostic::at(refusal, reading.place.clone()));
            }
            kept.push(reading.clone());
        }
        Ok(kept)
    }
}

/// The known name that somebody probably meant by an unknown one. Names that differ in their numbers only are a series
/// (`joint_1`, `joint_2`), and no slip.
fn meant<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let letters = |name: &str| name.chars().filter(|c| !c.is_numeric()).collect::<String>();
    let own = letters(name);
    nearest(name, known.filter(|known| letters(known) != own)).filter(|known| is_slip(name, known))
}

fn with_input<'a>(runs: &'a [Ready<'a>], name: &'a str) -> impl Iterator<Item = &'a Ready<'a>> {
    runs.iter()
        .filter(move |ready| ready.program.input_names().any(|input| input == name))
}

/// All names that a value may be set for.
fn addresses(runs: &[Ready<'_>]) -> Vec<String> {
    let mut found = Vec::new();
    for ready in runs {
        for input in ready.program.input_names() {
            found.push(input.to_owned());
            if !ready.run.name.is_empty() {
                found.push(format!("{}: {input}", ready.run.name));
            }
        }
    }
    found
}
