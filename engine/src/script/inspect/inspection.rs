//! What is found in a script without readings.

use super::super::program::Library;
use super::attempt::attempt;
use super::branches::{Decision, decisions, unreached};
use super::graph::Graph;
use super::{fixed, idle, namesake, rates, undescribed};
use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText};
use crate::outcome::Outcome;
use std::collections::BTreeMap;

/// Something that is wrong, or that a reviewer would ask about.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Whether the script does not run because of it.
    pub is_fault: bool,
    /// What, where, and what would be right.
    pub diagnostic: Diagnostic,
    /// Lines in which the same is found again.
    pub again: Vec<usize>,
}

/// A script looked through.
#[derive(Clone, Debug)]
pub struct Inspection {
    /// The script.
    pub text: SourceText,
    /// Faults first, each kind in the order of the text.
    pub findings: Vec<Finding>,
    /// What it yields on its own examples, as far as it runs.
    pub outcome: Outcome,
    /// What readings decide.
    pub decisions: Vec<Decision>,
    /// Steps and checks that no run has reached.
    pub unreached: Vec<Place>,
    /// Statements that were not tried, because they use what went wrong.
    pub untried: Vec<Place>,
}

impl Finding {
    /// How many of them are faults, and how many doubts.
    #[must_use]
    pub fn counts(findings: &[Self]) -> (usize, usize) {
        let faults = findings.iter().filter(|finding| finding.is_fault).count();
        (faults, findings.len() - faults)
    }

    /// The script does not run.
    #[must_use]
    pub fn fault(diagnostic: Diagnostic) -> Self {
        Self {
            is_fault: true,
            diagnostic,
            again: Vec::new(),
        }
    }

    /// It runs, and a reviewer would ask.
    #[must_use]
    pub fn doubt(diagnostic: Diagnostic) -> Self {
        Self {
            is_fault: false,
            ..Self::fault(diagnostic)
        }
    }

    pub(super) fn at(refusal: Refusal, place: Option<Place>) -> Self {
        Self::doubt(match place {
            Some(place) => Diagnostic::at(refusal, place),
            None => Diagnostic::nowhere(refusal),
        })
    }

    fn line(&self) -> usize {
        self.diagnostic.places.first().map_or(0, |place| place.line)
    }
}

impl Library {
    /// Looks a script through without readings: everything that would go wrong, and what a reviewer would ask. It is run
    /// on its own examples; `more` are what it yielded for other values, worked examples for instance.
    #[must_use]
    pub fn inspect(&self, text: SourceText, more: &[Outcome]) -> Inspection {
        let (script, mut faults) = self.read_through(text);
        let graph = Graph::of(&script);
        let tried = attempt(self, &script, &graph, &faults);
        faults.extend(tried.faults);
        let mut findings: Vec<Finding> = faults.into_iter().map(Finding::fault).collect();
        undescribed::look(&script, &mut findings);
        idle::look(&script, &graph, &mut findings);
        namesake::look(&script, self.functions(), &mut findings);
        fixed::unturned(&script, &graph, &mut findings);
        let outcomes = || std::iter::once(&tried.outcome).chain(more);
        let mut places = Vec::new();
        for outcome in outcomes() {
            fixed::exact(outcome, &mut findings);
            places.extend(outcome.plain_rates.iter().cloned());
        }
        rates::look(&script, &places, &mut findings);
        let untried = tried.left_out.iter().filter_map(|number| graph.statements.get(*number));
        Inspection {
            findings: sorted(findings),
            decisions: decisions(&script),
            unreached: unreached(&script, outcomes()),
            untried: untried
                .filter_map(|statement| script.place_at(statement.words.start))
                .collect(),
            text: (*script.text).clone(),
            outcome: tried.outcome,
        }
    }
}

impl Inspection {
    /// Adds what was found otherwise; what is known already is not told twice.
    pub fn add(&mut self, findings: Vec<Finding>) {
        let known = std::mem::take(&mut self.findings);
        self.findings = sorted(known.into_iter().chain(findings).collect());
    }

    /// How many faults and doubts there are.
    #[must_use]
    pub fn counts(&self) -> (usize, usize) {
        Finding::counts(&self.findings)
    }
}

/// Faults first, in the order of the text; the same in several places is told once.
fn sorted(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.sort_by_key(|finding| (!finding.is_fault, finding.line()));
    let mut told: Vec<Finding> = Vec::new();
    // Those told already, by their words: a long script may have thousands.
    let mut known: BTreeMap<(bool, String), Vec<usize>> = BTreeMap::new();
    for finding in findings {
        let line = finding.line();
        let key = (finding.is_fault, finding.diagnostic.refusal.message().to_owned());
        let alike = known.entry(key).or_default();
        let same = alike
            .iter()
            .find(|at| told[**at].diagnostic.refusal == finding.diagnostic.refusal);
        match same.copied() {
            // The lines come in order.
            Some(at) if told[at].line() == line || told[at].again.last() == Some(&line) => {}
            Some(at) => told[at].again.push(line),
            None => {
                alike.push(told.len());
                told.push(finding);
            }
        }
    }
    told
}
