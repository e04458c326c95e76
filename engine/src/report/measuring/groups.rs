//! Readings in the order of work: what is measured, what is decided, what is taken as, each under its headings.

use super::super::written;
use crate::figure::Shown;
use crate::job::{State, Wanted};
use crate::outcome::Phrase;
use crate::quantity::text::System;

/// All that a sheet for measuring is made of.
#[derive(Clone, Debug)]
pub struct Measuring<'a> {
    /// The job's title, or the scripts' names.
    pub title: String,
    /// What it is: a paragraph.
    pub about: String,
    /// The readings, in the order of the runs and of their scripts.
    pub wanted: &'a [Wanted],
    /// The cautions of all scripts, each once.
    pub cautions: &'a [Phrase],
    /// What the scripts sketch, each script once.
    pub sketches: &'a [Shown],
    /// The reader's units.
    pub system: System,
    /// Whether it is a job's: then some of it may be there.
    pub in_job: bool,
}

/// The three kinds of readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// With an instrument, or from a sheet.
    Measured,
    /// By somebody, or off a plate.
    Decided,
    /// By the script, unless somebody says otherwise.
    TakenAs,
}

/// Readings of a kind.
pub(super) struct Group<'a> {
    pub(super) kind: Kind,
    pub(super) parts: Vec<Part<'a>>,
}

/// Those under one heading, each with its number on the sheet.
pub(super) struct Part<'a> {
    pub(super) heading: String,
    pub(super) readings: Vec<(usize, &'a Wanted)>,
}

impl Kind {
    const ALL: [Self; 3] = [Self::Measured, Self::Decided, Self::TakenAs];

    pub(super) fn of(wanted: &Wanted) -> Self {
        if wanted.input.assumed {
            Self::TakenAs
        } else if wanted.is_decided() {
            Self::Decided
        } else {
            Self::Measured
        }
    }

    pub(super) const fn title(self) -> &'static str {
        match self {
            Self::Measured => "To measure, or to look up",
            Self::Decided => "Decided, or read off a plate",
            Self::TakenAs => "Taken as, unless you write another",
        }
    }

    /// As JSON has it.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Decided => "chosen",
            Self::TakenAs => "assumed",
        }
    }
}

impl<'a> Measuring<'a> {
    /// The groups that have anything in them, numbered through.
    pub(super) fn groups(&self) -> Vec<Group<'a>> {
        let mut groups = Vec::new();
        for kind in Kind::ALL {
            let mut parts: Vec<Part<'a>> = Vec::new();
            for wanted in self.wanted.iter().filter(|wanted| Kind::of(wanted) == kind) {
                let heading = self.heading(wanted);
                match parts.iter_mut().find(|part| part.heading == heading) {
                    Some(part) => part.readings.push((0, wanted)),
                    None => parts.push(Part {
                        heading,
                        readings: vec![(0, wanted)],
                    }),
                }
            }
            groups.push(Group { kind, parts });
        }
        // In the order in which they are printed.
        let mut number = 0;
        let printed = groups.iter_mut().flat_map(|group| &mut group.parts);
        for (place, _) in printed.flat_map(|part| &mut part.readings) {
            number += 1;
            *place = number;
        }
        groups.retain(|group| !group.parts.is_empty());
        groups
    }

    /// The heading that a reading stands under: in a job with the name of the run.
    pub(super) fn heading(&self, wanted: &Wanted) -> String {
        let own = wanted.input.heading.as_ref();
        let own = own.map(|heading| written::phrase(heading, self.system));
        let run = wanted.uses.first().map_or("", |first| first.run.as_str());
        match own {
            Some(own) if run.is_empty() => own,
            Some(own) => format!("{run}: {own}"),
            None => run.to_owned(),
        }
    }

    /// The name of a reading as somebody types it: `as found: gearbox_plan` of one that a run has for itself.
    pub(super) fn name_of(&self, wanted: &Wanted) -> String {
        match &wanted.run {
            Some(run) if self.in_job => format!("{run}: {}", wanted.name),
            _ => wanted.name.clone(),
        }
    }

    /// How many readings are asked for, and how many of them nobody has given.
    pub(super) fn counts(&self) -> (usize, usize) {
        let asked = self.wanted.iter().filter(|wanted| !wanted.input.assumed);
        let missing = self.wanted.iter().filter(|wanted| wanted.state == State::Missing);
        (asked.count(), missing.count())
    }
}
