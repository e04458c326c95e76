//! Where an outcome's numbers stand on a tape.

use crate::outcome::{Amount, Check, Comparison, Outcome, Test, Value};
use crate::quantity::Dimension;
use crate::tape::Slot;
use std::collections::BTreeMap;

/// Which number of which run: the step's name and, in a vector, a list or a map, the way to the item.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key {
    /// The run's number.
    pub run: usize,
    /// The step's name.
    pub step: String,
    /// Keys of the items, outermost first.
    pub items: Vec<String>,
}

/// A number in a replay.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Lane {
    Slot(Slot),
    Fixed(f64),
}

impl Lane {
    pub(crate) fn of(amount: &Amount) -> Self {
        amount.slot.map_or(Self::Fixed(amount.si), Self::Slot)
    }

    pub(crate) fn value(self, values: &[f64]) -> f64 {
        match self {
            Self::Slot(slot) => values.get(slot as usize).copied().unwrap_or(f64::NAN),
            Self::Fixed(value) => value,
        }
    }

    pub(crate) fn slot(self) -> Option<Slot> {
        match self {
            Self::Slot(slot) => Some(slot),
            Self::Fixed(_) => None,
        }
    }
}

/// A watched number.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Watched {
    pub(crate) lane: Lane,
    pub(crate) dimension: Dimension,
}

impl Watched {
    pub(crate) fn of(amount: &Amount) -> Self {
        Self {
            lane: Lane::of(amount),
            dimension: amount.dimension,
        }
    }

    pub(crate) fn value(self, values: &[f64]) -> f64 {
        self.lane.value(values)
    }

    pub(crate) fn slot(self) -> Option<Slot> {
        self.lane.slot()
    }
}

/// What is compared in a check, in a replay.
#[derive(Clone, Debug)]
pub(crate) enum TestLane {
    Sides {
        left: Watched,
        comparison: Comparison,
        right: Watched,
    },
    Between {
        value: Watched,
        low: Watched,
        high: Watched,
    },
    /// Part of the path: the same in every replay of it.
    Settled(bool),
}

impl TestLane {
    pub(crate) fn of(test: &Test) -> Self {
        match test {
            Test::Sides {
                left: Value::Amount(left),
                comparison,
                right: Value::Amount(right),
            } => Self::Sides {
                left: Watched::of(left),
                comparison: *comparison,
                right: Watched::of(right),
            },
            Test::Sides {
                left,
                comparison,
                right,
            } => Self::Settled((left == right) == (*comparison == Comparison::Same)),
            Test::Between { value, low, high } => Self::Between {
                value: Watched::of(value),
                low: Watched::of(low),
                high: Watched::of(high),
            },
            Test::Truth(truth) => Self::Settled(*truth),
        }
    }

    pub(crate) fn holds(&self, values: &[f64]) -> bool {
        match self {
            Self::Sides {
                left,
                comparison,
                right,
            } => comparison.holds(left.value(values), right.value(values)),
            Self::Between { value, low, high } => {
                (low.value(values)..=high.value(values)).contains(&value.value(values))
            }
            Self::Settled(holds) => *holds,
        }
    }

    /// How far it is from turning, positive where it holds; a check of yes or no has none.
    pub(crate) fn margin(&self, values: &[f64]) -> Option<f64> {
        match self {
            Self::Sides {
                left,
                comparison,
                right,
            } => {
                let (left, right) = (left.value(values), right.value(values));
                Some(match comparison {
                    Comparison::Less | Comparison::AtMost => right - left,
                    Comparison::More | Comparison::AtLeast => left - right,
                    Comparison::Same => -(left - right).abs(),
                    Comparison::Different => (left - right).abs(),
                })
            }
            Self::Between { value, low, high } => {
                let value = value.value(values);
                Some(crate::kernel::min(
                    value - low.value(values),
                    high.value(values) - value,
                ))
            }
            Self::Settled(_) => None,
        }
    }

    /// The slots that the margin is made of, each with its sign, at these values.
    pub(crate) fn margin_slots(&self, values: &[f64]) -> Vec<(Slot, f64)> {
        let signed = |side: &Watched, sign: f64| side.slot().map(|slot| (slot, sign));
        let pairs = match self {
            Self::Sides {
                left,
                comparison,
                right,
            } => {
                let sign = match comparison {
                    Comparison::Less | Comparison::AtMost => -1.0,
                    Comparison::More | Comparison::AtLeast => 1.0,
                    Comparison::Same => {
                        if left.value(values) < right.value(values) {
                            1.0
                        } else {
                            -1.0
                        }
                    }
                    Comparison::Different => {
                        if left.value(values) < right.value(values) {
                            -1.0
                        } else {
                            1.0
                        }
                    }
                };
                vec![signed(left, sign), signed(right, -sign)]
            }
            Self::Between { value, low, high } => {
                let at = value.value(values);
                if at - low.value(values) < high.value(values) - at {
                    vec![signed(value, 1.0), signed(low, -1.0)]
                } else {
                    vec![signed(high, 1.0), signed(value, -1.0)]
                }
            }
            Self::Settled(_) => Vec::new(),
        };
        pairs.into_iter().flatten().collect()
    }

    /// How large what it is compared with is: the limit's size, or, where that is nothing, the larger side's; 1 where all
    /// is nothing. The right side is the limit, unless it alone moves.
    pub(crate) fn size(&self, values: &[f64]) -> f64 {
        let sizes = match self {
            Self::Sides { left, right, .. } if left.slot().is_none() && right.slot().is_some() => [left, right],
            Self::Sides { left, right, .. } => [right, left],
            Self::Between { value, low, high } => {
                let at = value.value(values);
                let near_low = at - low.value(values) < high.value(values) - at;
                if near_low { [low, high] } else { [high, low] }
            }
            Self::Settled(_) => return 1.0,
        };
        let sizes = sizes.map(|side| side.value(values).abs());
        sizes
            .into_iter()
            .find(|size| *size > 0.0 && size.is_finite())
            .unwrap_or(1.0)
    }

    /// Whether one of its numbers is among the slots that move.
    pub(crate) fn moves(&self, moving: &[bool]) -> bool {
        let mut slots = self.sides().into_iter().filter_map(Watched::slot);
        slots.any(|slot| moving.get(slot as usize) == Some(&true))
    }

    /// The same with its numbers elsewhere.
    pub(crate) fn elsewhere(&self, place: &dyn Fn(Lane) -> Lane) -> Self {
        let watched = |watched: &Watched| Watched {
            lane: place(watched.lane),
            ..*watched
        };
        match self {
            Self::Sides {
                left,
                comparison,
                right,
            } => Self::Sides {
                left: watched(left),
                comparison: *comparison,
                right: watched(right),
            },
            Self::Between { value, low, high } => Self::Between {
                value: watched(value),
                low: watched(low),
                high: watched(high),
            },
            Self::Settled(holds) => Self::Settled(*holds),
        }
    }

    /// The numbers that it compares.
    pub(crate) fn sides(&self) -> Vec<Watched> {
        match self {
            Self::Sides { left, right, .. } => vec![*left, *right],
            Self::Between { value, low, high } => vec![*value, *low, *high],
            Self::Settled(_) => Vec::new(),
        }
    }
}

/// All numbers of the steps, in order.
pub(crate) fn amounts<'a>(outcomes: impl Iterator<Item = &'a Outcome>) -> Vec<(Key, Watched)> {
    let mut found = Vec::new();
    for (run, outcome) in outcomes.enumerate() {
        for step in &outcome.steps {
            let key = Key {
                run,
                step: step.name.clone(),
                items: Vec::new(),
            };
            collect(&key, &step.value, &mut found);
        }
    }
    found
}

fn collect(key: &Key, value: &Value, found: &mut Vec<(Key, Watched)>) {
    match value {
        Value::Amount(amount) => {
            found.push((key.clone(), Watched::of(amount)));
        }
        Value::Items(items) => {
            for (name, item) in items {
                let mut inner = key.clone();
                inner.items.push(name.clone());
                collect(&inner, item, found);
            }
        }
        _ => {}
    }
}

/// What identifies a check on every path: its run, its formula, and which of that formula it is.
pub type CheckKey = (usize, String, usize);

/// All checks, in order.
pub(crate) fn tests<'a>(outcomes: impl Iterator<Item = &'a Outcome>) -> Vec<(CheckKey, TestLane)> {
    let mut found: Vec<(CheckKey, TestLane)> = Vec::new();
    for (run, outcome) in outcomes.enumerate() {
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        for Check { formula, test, .. } in &outcome.checks {
            let nth = seen.entry(formula).or_insert(0);
            found.push(((run, formula.clone(), *nth), TestLane::of(test)));
            *nth += 1;
        }
    }
    found
}
