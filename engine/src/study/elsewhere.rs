//! Checks that the readings as they are do not lead to, but others within their ± do: those of another branch.

use super::first_order::FirstOrder;
use super::gather::moved;
use super::interval::{Interval, interval};
use super::judge::JudgedCheck;
use super::lanes::{CheckKey, Key, TestLane, amounts, tests};
use crate::outcome::{Amount, Check, Outcome, Test, Value};
use crate::tape::{Guard, Slot, Tape, moving};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A check of another way, judged.
#[derive(Clone, Debug)]
pub struct ElsewhereCheck {
    /// What identifies it.
    pub key: CheckKey,
    /// The check. Its numbers are the middle ones of the samples that lead to it; those that move have slots that the
    /// tape does not have, for [`super::Judged::sides`] alone.
    pub check: Check,
    /// What became of it.
    pub judged: JudgedCheck,
    pub(crate) met: Arc<Met>,
}

/// A check of another way, where it was first met.
#[derive(Debug)]
pub(crate) struct Met {
    pub(crate) key: CheckKey,
    pub(crate) test: TestLane,
    pub(crate) check: Check,
    pub(crate) ground: Arc<Ground>,
}

impl Met {
    /// The check with the numbers of the sample that met it first; none of them stands on the nominal tape.
    pub(crate) fn check_without_slots(&self) -> Check {
        let mut check = self.check.clone();
        let outcome = self.ground.outcomes.get(self.key.0);
        for amount in sides(&mut check.test) {
            if let (Some(slot), Some(outcome)) = (amount.slot.take(), outcome) {
                lend(amount, slot, outcome);
            }
        }
        check
    }

    /// Whether it depends on one of these inputs: by what it compares, or by a comparison through which its way is
    /// another than the nominal one, from where they part.
    pub(crate) fn depends_on(&self, inputs: &[usize], nominal: &Tape) -> bool {
        let tape = &self.ground.tape;
        let moves = moving(tape, inputs);
        let same = |(here, there): &(&Guard, &Guard)| {
            (here.left, here.right, here.outcome) == (there.left, there.right, there.outcome)
        };
        let together = tape.guards.iter().zip(&nominal.guards).take_while(same).count();
        let mut sides = tape
            .guards
            .iter()
            .skip(together)
            .flat_map(|guard| [guard.left, guard.right]);
        self.test.moves(&moves) || sides.any(|slot| moves.get(slot as usize) == Some(&true))
    }
}

/// A sample's run.
#[derive(Debug)]
pub(crate) struct Ground {
    pub(crate) tape: Tape,
    pub(crate) outcomes: Vec<Outcome>,
}

/// How a way differs from the nominal one.
#[derive(Default)]
pub(crate) struct Apart {
    /// Checks that it has besides.
    checks: Vec<(TestLane, Arc<Met>)>,
    /// Steps and their numbers that it lacks.
    lacks: Vec<Key>,
}

/// Compares ways with the nominal one.
pub(crate) struct Comparing {
    steps: BTreeSet<Key>,
    checks: BTreeSet<CheckKey>,
    met: BTreeMap<CheckKey, Arc<Met>>,
}

impl Comparing {
    pub(crate) fn new(nominal: &[Outcome]) -> Self {
        let checks = tests(nominal.iter()).into_iter().map(|(key, _)| key);
        Self {
            steps: steps(nominal),
            checks: checks.collect(),
            met: BTreeMap::new(),
        }
    }

    pub(crate) fn apart(&mut self, tape: &Tape, outcomes: &[Outcome]) -> Apart {
        let here = steps(outcomes);
        let mut apart = Apart {
            checks: Vec::new(),
            lacks: self.steps.difference(&here).cloned().collect(),
        };
        let mut ground = None;
        let checks = outcomes.iter().flat_map(|outcome| &outcome.checks);
        for ((key, test), check) in tests(outcomes.iter()).into_iter().zip(checks) {
            if self.checks.contains(&key) {
                continue;
            }
            let met = self.met.entry(key.clone()).or_insert_with(|| {
                let ground = ground.get_or_insert_with(|| {
                    Arc::new(Ground {
                        tape: tape.clone(),
                        outcomes: outcomes.to_vec(),
                    })
                });
                Arc::new(Met {
                    key,
                    test: test.clone(),
                    check: check.clone(),
                    ground: Arc::clone(ground),
                })
            });
            apart.checks.push((test, Arc::clone(met)));
        }
        apart
    }
}

impl Apart {
    /// The numbers that its checks compare.
    pub(crate) fn slots(&self) -> impl Iterator<Item = Slot> {
        let sides = self.checks.iter().flat_map(|(test, _)| test.sides());
        sides.filter_map(super::lanes::Watched::slot)
    }
}

/// All steps, and all numbers in them.
fn steps(outcomes: &[Outcome]) -> BTreeSet<Key> {
    let mut found: BTreeSet<Key> = amounts(outcomes.iter()).into_iter().map(|(key, _)| key).collect();
    for (run, outcome) in outcomes.iter().enumerate() {
        let whole = outcome.steps.iter().map(|step| Key {
            run,
            step: step.name.clone(),
            items: Vec::new(),
        });
        found.extend(whole);
    }
    found
}

/// What the samples say of it, in their order.
#[derive(Default)]
pub(crate) struct Elsewhere {
    /// The checks, as they were met.
    pub(crate) found: Vec<Counted>,
    /// Steps of the nominal way, and in how many samples they are not there.
    pub(crate) lacking: BTreeMap<Key, usize>,
}

/// A check of another way in the samples.
pub(crate) struct Counted {
    pub(crate) met: Arc<Met>,
    /// In how many samples it is there, …
    pub(crate) there: usize,
    /// … and holds.
    pub(crate) holding: usize,
    pub(crate) margins: Vec<f64>,
    sides: Vec<Vec<f64>>,
}

impl Elsewhere {
    /// Takes a sample; `numbers` asks for its numbers to be kept.
    pub(crate) fn take(&mut self, apart: &Apart, values: &[f64], numbers: bool) {
        for key in &apart.lacks {
            *self.lacking.entry(key.clone()).or_insert(0) += 1;
        }
        for (test, met) in &apart.checks {
            let known = self.found.iter().position(|counted| counted.met.key == met.key);
            let place = known.unwrap_or(self.found.len());
            if known.is_none() {
                self.found.push(Counted {
                    met: Arc::clone(met),
                    there: 0,
                    holding: 0,
                    margins: Vec::new(),
                    sides: vec![Vec::new(); met.test.sides().len()],
                });
            }
            let counted = &mut self.found[place];
            counted.there += 1;
            counted.holding += usize::from(test.holds(values));
            if !numbers {
                continue;
            }
            counted.margins.extend(test.margin(values));
            let nominal = &met.ground.tape.nominal;
            let sides = test.sides().into_iter().zip(met.test.sides());
            for (kept, (here, watched)) in counted.sides.iter_mut().zip(sides) {
                kept.extend(moved(here, watched, values, nominal));
            }
        }
    }
}

/// The check as it is shown, and how its sides move. `unused` is a slot that no tape has, counted down.
pub(crate) fn shown(
    counted: &mut Counted,
    first_order: &FirstOrder<'_>,
    unused: &mut Slot,
) -> (Check, BTreeMap<Slot, Interval>) {
    let mut check = counted.met.check.clone();
    let outcome = counted.met.ground.outcomes.get(counted.met.key.0);
    let lanes = counted.met.test.sides();
    let mut moving = BTreeMap::new();
    let sides = sides(&mut check.test).into_iter().zip(lanes).zip(&mut counted.sides);
    for ((amount, watched), samples) in sides {
        if let (Some(slot), Some(outcome)) = (amount.slot, outcome) {
            lend(amount, slot, outcome);
        }
        amount.si = middle(samples).unwrap_or(amount.si);
        if amount.slot.is_some() {
            amount.slot = Some(*unused);
            let found = interval(std::mem::take(samples), first_order.standard(watched.lane));
            moving.extend(found.map(|found| (*unused, found)));
            *unused -= 1;
        }
    }
    (check, moving)
}

/// The middle one.
pub(crate) fn middle(samples: &mut [f64]) -> Option<f64> {
    samples.sort_by(f64::total_cmp);
    let last = samples.len().checked_sub(1)?;
    samples.get(last / 2).copied()
}

/// The numbers that a check compares, in the order of [`TestLane::sides`].
fn sides(test: &mut Test) -> Vec<&mut Amount> {
    match test {
        Test::Sides {
            left: Value::Amount(left),
            right: Value::Amount(right),
            ..
        } => vec![left, right],
        Test::Between { value, low, high } => vec![value, low, high],
        Test::Sides { .. } | Test::Truth(_) => Vec::new(),
    }
}

/// Unit and words of the step or input that a number is.
fn lend(amount: &mut Amount, slot: Slot, outcome: &Outcome) {
    let steps = outcome.steps.iter().map(|step| &step.value);
    let inputs = outcome.inputs.iter().map(|input| &input.value);
    if let Some(found) = steps.chain(inputs).find_map(|value| within(value, slot)) {
        amount.style = amount.style.take().or_else(|| found.style.clone());
        amount.signs = amount.signs.take().or_else(|| found.signs.clone());
    }
}

fn within(value: &Value, slot: Slot) -> Option<&Amount> {
    match value {
        Value::Amount(amount) => (amount.slot == Some(slot)).then_some(amount),
        Value::Items(items) => items.iter().find_map(|(_, item)| within(item, slot)),
        _ => None,
    }
}
