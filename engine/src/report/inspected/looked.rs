//! All that is written of scripts looked through.

use crate::quantity::text::System;
use crate::report::Identity;
use crate::script::{Finding, Inspection};

/// Scripts looked through, and whatever they belong to.
#[derive(Clone, Debug)]
pub struct Looked {
    /// What was asked for: a script, a job, a pack.
    pub title: String,
    /// What is found in the job or the pack itself.
    pub findings: Vec<Finding>,
    /// Its scripts.
    pub scripts: Vec<LookedScript>,
    /// The reader's units.
    pub system: System,
}

/// A script looked through.
#[derive(Clone, Debug)]
pub struct LookedScript {
    /// Which one exactly.
    pub script: Identity,
    /// What was found.
    pub inspection: Inspection,
    /// How many worked examples it has.
    pub cases: usize,
}

impl Looked {
    /// How many faults and doubts there are in all.
    #[must_use]
    pub fn counts(&self) -> (usize, usize) {
        let own = Finding::counts(&self.findings);
        let each = self.scripts.iter().map(|script| script.inspection.counts());
        each.fold(own, |all, one| (all.0 + one.0, all.1 + one.1))
    }
}
