//! The checks that a search has come upon, on all the ways through the scripts that it took.

use super::problem::{Request, inputs};
use crate::outcome::{CheckKind, Outcome};
use crate::study::elsewhere::Met;
use crate::study::lanes::{CheckKey, TestLane, Watched, tests};
use crate::tape::{Slot, Tape, inputs_behind, moving};
use std::collections::BTreeSet;

/// Checks and requirements of the runs that count, in the order in which they were met. A search goes by those that
/// depend on what is adjusted: whose sides move with it on some way, or that are on one way and not on another, or are
/// another there.
pub(super) struct Known {
    request: Request,
    checks: Vec<KnownCheck>,
    /// How many ways were met.
    ways: usize,
    /// Which inputs lead to one way rather than another.
    deciding: Vec<bool>,
    /// Checks that only samples lead to, and that do not count or do not depend on what is adjusted.
    passed_over: BTreeSet<CheckKey>,
}

struct KnownCheck {
    key: CheckKey,
    /// Where it was met first.
    test: TestLane,
    size: f64,
    /// Which inputs its sides depend on.
    behind: Vec<bool>,
    /// On how many ways it is there.
    ways: usize,
    /// What it comes to where its sides do not move.
    fixed: Option<u64>,
    leads: bool,
    /// Whether the way that was met first lacks it.
    beside: bool,
}

impl Known {
    pub(super) fn new(request: &Request) -> Self {
        Self {
            request: request.clone(),
            checks: Vec::new(),
            ways: 0,
            deciding: Vec::new(),
            passed_over: BTreeSet::new(),
        }
    }

    /// Takes the checks of a way; gives each by its number.
    pub(super) fn meet(&mut self, tape: &Tape, outcomes: &[Outcome]) -> Vec<(usize, TestLane)> {
        let moves = moving(tape, &inputs(&self.request));
        let kinds = outcomes
            .iter()
            .flat_map(|outcome| outcome.checks.iter().map(|check| check.kind));
        let mut met = Vec::new();
        for ((key, test), kind) in tests(outcomes.iter()).into_iter().zip(kinds) {
            if !self.counts(&key, kind) {
                continue;
            }
            let number = self.number(&key, &test, tape);
            let moved = test.moves(&moves) || self.request.also.contains(&key);
            let fixed = (!moved).then(|| comes_to(&test, tape));
            let check = &mut self.checks[number];
            check.leads |= moved || (check.ways > 0 && check.fixed != fixed);
            check.fixed = fixed;
            check.ways += 1;
            met.push((number, test));
        }
        self.ways += 1;
        for check in &mut self.checks {
            check.leads |= check.ways < self.ways;
        }
        if self.request.robust {
            let sides = tape.guards.iter().flat_map(|guard| [guard.left, guard.right]);
            join(&mut self.deciding, &inputs_behind(tape, &sides.collect::<Vec<_>>()));
        }
        met
    }

    /// Takes a check that only samples lead to, where it depends on what is adjusted. `nominal` is the way beside which
    /// they were drawn.
    pub(super) fn meet_beside(&mut self, met: &Met, nominal: &Tape) {
        let leads = self.checks.iter().any(|check| check.leads && check.key == met.key);
        if leads || self.passed_over.contains(&met.key) {
            return;
        }
        if self.counts(&met.key, met.check.kind) && met.depends_on(&inputs(&self.request), nominal) {
            let number = self.number(&met.key, &met.test, &met.ground.tape);
            self.checks[number].leads = true;
        } else {
            self.passed_over.insert(met.key.clone());
        }
    }

    fn counts(&self, key: &CheckKey, kind: CheckKind) -> bool {
        kind != CheckKind::Prefer && !self.request.left_out.contains(&key.0)
    }

    fn number(&mut self, key: &CheckKey, test: &TestLane, tape: &Tape) -> usize {
        let known = self.checks.iter().position(|check| check.key == *key);
        let number = known.unwrap_or(self.checks.len());
        if known.is_none() {
            self.checks.push(KnownCheck {
                key: key.clone(),
                test: test.clone(),
                size: test.size(&tape.nominal),
                behind: Vec::new(),
                ways: 0,
                fixed: None,
                leads: false,
                beside: self.ways > 0,
            });
        }
        if self.request.robust {
            let sides: Vec<Slot> = test.sides().into_iter().filter_map(Watched::slot).collect();
            join(&mut self.checks[number].behind, &inputs_behind(tape, &sides));
        }
        number
    }

    /// The checks that the search goes by, by number.
    pub(super) fn leading(&self) -> Vec<usize> {
        let numbered = self.checks.iter().enumerate();
        numbered
            .filter(|(_, check)| check.leads)
            .map(|(number, _)| number)
            .collect()
    }

    pub(super) fn leads(&self, number: usize) -> bool {
        self.checks.get(number).is_some_and(|check| check.leads)
    }

    /// How many of those it goes by stand on other ways than the first alone.
    pub(super) fn beside(&self) -> usize {
        self.checks.iter().filter(|check| check.leads && check.beside).count()
    }

    /// What a check's margin is measured by.
    pub(super) fn size(&self, number: usize) -> f64 {
        self.checks.get(number).map_or(1.0, |check| check.size)
    }

    pub(super) fn key(&self, number: usize) -> Option<&CheckKey> {
        self.checks.get(number).map(|check| &check.key)
    }

    /// The checks that the search goes by, each where it was met first.
    pub(super) fn tests(&self) -> Vec<(CheckKey, TestLane)> {
        let leading = self.checks.iter().filter(|check| check.leads);
        leading.map(|check| (check.key.clone(), check.test.clone())).collect()
    }

    /// Which inputs they depend on, and which lead to one way rather than another. Of a robust search only.
    pub(super) fn behind(&self) -> Vec<bool> {
        let mut behind = self.deciding.clone();
        for check in self.checks.iter().filter(|check| check.leads) {
            join(&mut behind, &check.behind);
        }
        behind
    }
}

/// A number for what a check that does not move comes to.
fn comes_to(test: &TestLane, tape: &Tape) -> u64 {
    let margin = test.margin(&tape.nominal);
    margin
        .unwrap_or_else(|| f64::from(u8::from(test.holds(&tape.nominal))))
        .to_bits()
}

fn join(all: &mut Vec<bool>, more: &[bool]) {
    if all.len() < more.len() {
        all.resize(more.len(), false);
    }
    for (all, more) in all.iter_mut().zip(more) {
        *all |= more;
    }
}
