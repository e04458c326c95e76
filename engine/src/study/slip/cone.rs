//! The part of a tape between what a step takes and its result, worked out again with a change.

use crate::quantity::Dimension;
use crate::tape::{Node, Op, Slot, Tape};
use std::collections::{BTreeMap, BTreeSet};

/// The operations between known numbers and a result.
pub(super) struct Cone<'a> {
    tape: &'a Tape,
    result: Slot,
    /// Nodes that the result depends on, in the order of the tape, each with how far from the result it stands.
    nodes: BTreeMap<usize, usize>,
}

/// The node that fills each slot.
pub(super) fn makers(tape: &Tape) -> Vec<usize> {
    let mut makers = vec![0; tape.graph.slots()];
    for (number, node) in tape.graph.nodes().iter().enumerate() {
        makers[node.slots()].fill(number);
    }
    makers
}

impl<'a> Cone<'a> {
    /// Behind a result, as far as the slots that are `known`.
    pub(super) fn of(tape: &'a Tape, makers: &[usize], result: Slot, known: &dyn Fn(Slot) -> bool) -> Self {
        let mut nodes = BTreeMap::new();
        let mut ring: BTreeSet<usize> = makers.get(result as usize).copied().into_iter().collect();
        let mut distance = 0;
        while !ring.is_empty() {
            let mut next = BTreeSet::new();
            for number in ring {
                if nodes.contains_key(&number) {
                    continue;
                }
                nodes.insert(number, distance);
                let Some(node) = tape.graph.nodes().get(number) else {
                    continue;
                };
                let behind = tape.graph.arguments_of(node).iter().filter(|slot| !known(**slot));
                next.extend(behind.filter_map(|slot| makers.get(*slot as usize).copied()));
            }
            ring = next;
            distance += 1;
        }
        Self { tape, result, nodes }
    }

    /// Its operations, those nearest to the result first.
    pub(super) fn nearest_first(&self) -> Vec<(usize, &'a Node)> {
        let mut all: Vec<(usize, usize)> = self.nodes.iter().map(|(node, distance)| (*distance, *node)).collect();
        all.sort_unstable();
        let nodes = self.tape.graph.nodes();
        let found = all
            .into_iter()
            .filter_map(|(_, number)| Some((number, nodes.get(number)?)));
        found.collect()
    }

    /// What an operation works on.
    pub(super) fn arguments(&self, node: &Node) -> Vec<(Slot, f64)> {
        let slots = self.tape.graph.arguments_of(node).iter();
        slots.map(|slot| (*slot, self.value(*slot))).collect()
    }

    pub(super) fn value(&self, slot: Slot) -> f64 {
        self.tape.nominal.get(slot as usize).copied().unwrap_or(f64::NAN)
    }

    /// The number that a slot holds whatever is read.
    pub(super) fn constant(&self, makers: &[usize], slot: Slot) -> Option<f64> {
        let node = self.tape.graph.nodes().get(*makers.get(slot as usize)?)?;
        match node.op {
            Op::Constant(value) => Some(value),
            _ => None,
        }
    }

    /// The result where some operations give something else: `change` is asked with a node's number and what it is given
    /// (the changed numbers, where something before it was changed). Nothing where it has no finite value.
    pub(super) fn with(&self, change: &dyn Fn(usize, &[f64]) -> Option<f64>) -> Option<f64> {
        let graph = &self.tape.graph;
        let mut changed: BTreeMap<Slot, f64> = BTreeMap::new();
        let (mut given, mut out) = (Vec::new(), Vec::new());
        for number in self.nodes.keys() {
            let Some(node) = graph.nodes().get(*number) else {
                continue;
            };
            let slots = graph.arguments_of(node);
            given.clear();
            given.extend(
                slots
                    .iter()
                    .map(|slot| changed.get(slot).copied().unwrap_or_else(|| self.value(*slot))),
            );
            if let Some(value) = change(*number, &given) {
                changed.insert(node.first_slot, value);
                continue;
            }
            if !slots.iter().any(|slot| changed.contains_key(slot)) {
                continue;
            }
            out.clear();
            out.resize(node.slot_count as usize, 0.0);
            node.op.value(graph, &given, &mut out).ok()?;
            if !out.iter().all(|value| value.is_finite()) {
                return None;
            }
            changed.extend((node.first_slot..).zip(out.iter().copied()));
        }
        changed.get(&self.result).copied().filter(|value| value.is_finite())
    }

    /// What the numbers measure, as far as that can be told from those that are known: the tape has no dimensions.
    pub(super) fn dimensions(
        &self,
        makers: &[usize],
        known: &dyn Fn(Slot) -> Option<Dimension>,
    ) -> BTreeMap<Slot, Dimension> {
        let mut found: BTreeMap<Slot, Dimension> = BTreeMap::new();
        for number in self.nodes.keys() {
            let Some(node) = self.tape.graph.nodes().get(*number) else {
                continue;
            };
            let slots = self.tape.graph.arguments_of(node);
            let given: Vec<Option<Dimension>> = slots
                .iter()
                .map(|slot| {
                    let plain = self.constant(makers, *slot).filter(|value| is_plain(*value));
                    known(*slot)
                        .or_else(|| found.get(slot).copied())
                        .or_else(|| plain.map(|_| Dimension::NONE))
                })
                .collect();
            if let Some(dimension) = known(node.first_slot).or_else(|| dimension(&node.op, &given)) {
                found.extend(
                    node.slots()
                        .filter_map(|slot| Some((Slot::try_from(slot).ok()?, dimension))),
                );
            }
        }
        found
    }
}

/// A number that is taken for a plain one: 2, 0.5. Others may be so many metres.
fn is_plain(value: f64) -> bool {
    let quarters = 4.0 * value;
    quarters.abs() <= 256.0 && quarters % 1.0 == 0.0
}

fn dimension(op: &Op, given: &[Option<Dimension>]) -> Option<Dimension> {
    let first = given.first().copied().flatten();
    let any = || given.iter().flatten().next().copied();
    match op {
        Op::Add | Op::Sub | Op::Min | Op::Max | Op::Norm | Op::Sort => any(),
        Op::Neg | Op::Abs => first,
        Op::Mul => first?.product(given.get(1).copied().flatten()?),
        Op::Div => first?.quotient(given.get(1).copied().flatten()?),
        Op::Sqrt => first?.power(1, 2),
        Op::Cbrt => first?.power(1, 3),
        Op::Sin | Op::Cos | Op::Exp | Op::Ln | Op::Floor => Some(Dimension::NONE),
        Op::Asin | Op::Acos | Op::Atan2 => Some(Dimension::ANGLE),
        _ => None,
    }
}
