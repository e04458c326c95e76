//! The recorder open on this thread.
//!
//! A run opens one recorder; tracing a closure opens another on top of it. An operation is recorded where its innermost
//! argument lives: what does not depend on a closure's argument stays outside the closure. Numbers carry the serial of
//! their recorder, so that one left over from another run is a fault and not a wrong number.

use super::fault::{Fault, raise};
use super::graph::{Body, Graph, Guard, Reached, Relation, Slot, Tape};
use super::lookup::Lookup;
use super::number::{Home, Number};
use super::once::{Key, Once, unchanged};
use super::op::Op;
use super::stop::charge;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

/// More slots than this is an error: about a hundred times the largest shipped script.
const MOST_SLOTS: usize = 4_000_000;

struct Recorder {
    serial: u32,
    graph: Graph,
    /// Constants that stand on it already, by their bits.
    constants: Lookup<u64>,
    /// Operations that stand on it already.
    once: Once,
    kind: Kind,
}

enum Kind {
    /// A run: numbers have values.
    Run {
        inputs: Vec<Slot>,
        guards: Vec<Guard>,
        values: Vec<f64>,
    },
    /// A closure being traced: numbers are symbols.
    Closure {
        argument: Slot,
        captures: BTreeMap<Slot, Slot>,
        order: Vec<(Slot, Slot)>,
    },
}

thread_local! {
    static STACK: RefCell<Vec<Recorder>> = const { RefCell::new(Vec::new()) };
    static SERIAL: Cell<u32> = const { Cell::new(1) };
    static ASIDE: Cell<bool> = const { Cell::new(false) };
}

/// Calculates beside the tape: what is done in here leaves no node and no guard. A result that stands on the tape already
/// is taken from there; any other depends on nothing. For showing only.
pub(crate) fn aside<T>(work: impl FnOnce() -> T) -> T {
    let before = ASIDE.replace(true);
    let result = work();
    ASIDE.set(before);
    result
}

/// Whether something is calculated beside the tape.
pub(crate) fn is_aside() -> bool {
    ASIDE.get()
}

impl Recorder {
    /// The number that stands in one of its slots.
    fn number(&self, slot: Slot) -> Number {
        let value = match &self.kind {
            Kind::Run { values, .. } => values.get(slot as usize).copied(),
            Kind::Closure { .. } => None,
        };
        Number {
            value: value.unwrap_or(f64::NAN),
            home: Home::Slot {
                recorder: self.serial,
                slot,
            },
        }
    }
}

/// A run being recorded; closes its recorder when it goes.
#[derive(Debug)]
pub struct Recording {
    serial: u32,
}

impl Recording {
    /// Opens a recorder on this thread. Recordings opened later must be closed earlier.
    #[must_use]
    pub fn open() -> Self {
        let kind = Kind::Run {
            inputs: Vec::new(),
            guards: Vec::new(),
            values: Vec::new(),
        };
        Self { serial: open(kind) }
    }

    /// A new input with this value.
    #[must_use]
    pub fn input(&self, value: f64) -> Number {
        STACK.with_borrow_mut(|stack| {
            let Some(recorder) = stack.iter_mut().find(|recorder| recorder.serial == self.serial) else {
                raise(Fault::Foreign);
                return Number::constant(value);
            };
            let Kind::Run { inputs, values, .. } = &mut recorder.kind else {
                raise(Fault::Foreign);
                return Number::constant(value);
            };
            let slot = recorder
                .graph
                .push(Op::Input(u32::try_from(inputs.len()).unwrap_or(u32::MAX)), &[], 1);
            inputs.push(slot);
            values.push(value);
            Number {
                value,
                home: Home::Slot {
                    recorder: self.serial,
                    slot,
                },
            }
        })
    }

    /// How far it is recorded.
    #[must_use]
    pub fn reached(&self) -> Reached {
        STACK.with_borrow(|stack| {
            let found = stack.iter().find(|recorder| recorder.serial == self.serial);
            match found {
                Some(Recorder {
                    graph,
                    kind: Kind::Run { guards, .. },
                    ..
                }) => Reached {
                    nodes: graph.nodes().len(),
                    guards: guards.len(),
                },
                _ => Reached::default(),
            }
        })
    }

    /// The tape recorded so far.
    #[must_use]
    pub fn tape(&self) -> Tape {
        STACK.with_borrow(|stack| {
            let found = stack.iter().find(|recorder| recorder.serial == self.serial);
            match found {
                Some(Recorder {
                    graph,
                    kind: Kind::Run { inputs, guards, values },
                    ..
                }) => Tape {
                    graph: graph.clone(),
                    inputs: inputs.clone(),
                    guards: guards.clone(),
                    nominal: values.clone(),
                },
                _ => Tape::default(),
            }
        })
    }
}

impl Drop for Recording {
    fn drop(&mut self) {
        STACK.with_borrow_mut(|stack| {
            if let Some(at) = stack.iter().position(|recorder| recorder.serial == self.serial) {
                stack.truncate(at);
            }
        });
    }
}

fn open(kind: Kind) -> u32 {
    let serial = SERIAL.get();
    SERIAL.set(serial.wrapping_add(1).max(1));
    STACK.with_borrow_mut(|stack| {
        stack.push(Recorder {
            serial,
            graph: Graph::default(),
            constants: Lookup::default(),
            once: Once::default(),
            kind,
        });
    });
    serial
}

/// Does an operation with one result.
pub(super) fn record_one(op: Op, arguments: &[Number]) -> Number {
    let mut result = [Number::ZERO];
    record(op, arguments, &mut result);
    result[0]
}

/// Does an operation and fills its results.
pub(super) fn record(op: Op, arguments: &[Number], results: &mut [Number]) {
    STACK.with_borrow_mut(|stack| match level_of(stack, arguments) {
        Ok(level) => record_at(stack, level, op, arguments, results),
        Err(Foreign) => {
            raise(Fault::Foreign);
            results.fill(Number::ZERO);
        }
    });
}

struct Foreign;

/// The innermost recorder that an argument belongs to; `None` where all are constants.
fn level_of(stack: &[Recorder], arguments: &[Number]) -> Result<Option<usize>, Foreign> {
    let bottom = bottom_of(stack);
    let mut level = None;
    for argument in arguments {
        if let Home::Slot { recorder, .. } = argument.home {
            let found = stack.iter().rposition(|open| open.serial == recorder).ok_or(Foreign)?;
            if found < bottom {
                return Err(Foreign);
            }
            level = level.max(Some(found));
        }
    }
    Ok(level)
}

/// The run that is recorded now: the last one opened.
fn bottom_of(stack: &[Recorder]) -> usize {
    stack
        .iter()
        .rposition(|open| matches!(open.kind, Kind::Run { .. }))
        .unwrap_or(0)
}

fn record_at(stack: &mut [Recorder], level: Option<usize>, op: Op, arguments: &[Number], results: &mut [Number]) {
    if charge(super::cost::of_recording(&op, arguments.len())) {
        raise(Fault::Spent);
        results.fill(Number::ZERO);
        return;
    }
    let Some(level) = level else {
        evaluate_constant(&op, stack.last().map(|open| &open.graph), arguments, results);
        return;
    };
    let symbolic = matches!(stack[level].kind, Kind::Closure { .. });
    if let Some(argument) = unchanged(&op, arguments) {
        results.fill(argument);
        return;
    }
    if is_aside() && !symbolic {
        match known(&stack[level], &op, arguments) {
            Some(number) => results.fill(number),
            None => evaluate_constant(&op, Some(&stack[level].graph), arguments, results),
        }
        return;
    }
    let mut slots = Few::of(arguments.len(), 0);
    for (slot, argument) in slots.all().iter_mut().zip(arguments) {
        *slot = slot_at(stack, level, *argument);
    }
    let slots = slots.all();
    let key = Key::of(&op, slots);
    if let Some(slot) = stack[level].once.find(key) {
        results.fill(stack[level].number(slot));
        return;
    }
    let mut values = Few::of(results.len(), if symbolic { f64::NAN } else { 0.0 });
    let values = values.all();
    let worked = symbolic || evaluate(&op, Some(&stack[level].graph), arguments, values);
    let recorder = &mut stack[level];
    if recorder.graph.slots() + results.len() > MOST_SLOTS {
        raise(Fault::TooLong);
        results.fill(Number::ZERO);
        return;
    }
    let first = recorder
        .graph
        .push(op, slots, u32::try_from(results.len()).unwrap_or(u32::MAX));
    // One that has no value must fail again where it is asked for again.
    recorder.once.keep(key.filter(|_| worked), first);
    if let Kind::Run { values: kept, .. } = &mut recorder.kind {
        kept.extend_from_slice(values);
    }
    for ((result, value), slot) in results.iter_mut().zip(values).zip(first..) {
        *result = Number {
            value: *value,
            home: Home::Slot {
                recorder: recorder.serial,
                slot,
            },
        };
    }
}

/// As many as an operation mostly has, at hand; more of them elsewhere.
struct Few<T> {
    few: [T; 4],
    many: Vec<T>,
    count: usize,
}

impl<T: Copy> Few<T> {
    fn of(count: usize, value: T) -> Self {
        let many = if count > 4 { vec![value; count] } else { Vec::new() };
        Self {
            few: [value; 4],
            many,
            count,
        }
    }

    fn all(&mut self) -> &mut [T] {
        if self.count > 4 {
            &mut self.many
        } else {
            &mut self.few[..self.count]
        }
    }
}

/// The result of an operation where it stands on a run already: what is done again to be shown follows a replay too.
fn known(recorder: &Recorder, op: &Op, arguments: &[Number]) -> Option<Number> {
    let slot = |argument: &Number| match argument.home {
        Home::Constant => recorder.constants.get(&argument.value.to_bits()),
        Home::Slot { recorder: serial, slot } => (serial == recorder.serial).then_some(slot),
    };
    let mut slots = Few::of(arguments.len(), 0);
    for (place, argument) in slots.all().iter_mut().zip(arguments) {
        *place = slot(argument)?;
    }
    recorder
        .once
        .find(Key::of(op, slots.all()))
        .map(|slot| recorder.number(slot))
}

/// Fills the results with numbers that depend on nothing; zeros, and a fault, where the operation has no value.
fn evaluate_constant(op: &Op, graph: Option<&Graph>, arguments: &[Number], results: &mut [Number]) {
    let mut values = Few::of(results.len(), 0.0);
    let values = values.all();
    evaluate(op, graph, arguments, values);
    for (result, value) in results.iter_mut().zip(values) {
        *result = Number::constant(*value);
    }
}

/// The value of an operation on known numbers, and whether it has one; zeros, and a fault, where it has none.
fn evaluate(op: &Op, graph: Option<&Graph>, arguments: &[Number], values: &mut [f64]) -> bool {
    let mut given = Few::of(arguments.len(), 0.0);
    let given = given.all();
    for (given, argument) in given.iter_mut().zip(arguments) {
        *given = argument.value;
    }
    let none = Graph::default();
    let fault = match op.value(graph.unwrap_or(&none), given, values) {
        Ok(()) if values.iter().all(|value| value.is_finite()) => return true,
        Ok(()) => Fault::NotFinite {
            operation: op.name(),
            given: given.to_vec(),
        },
        Err(stop) => Fault::Stopped(stop),
    };
    raise(fault);
    values.fill(0.0);
    false
}

/// The slot in which a recorder sees a number: its own, a constant, or a capture from outside.
fn slot_at(stack: &mut [Recorder], level: usize, number: Number) -> Slot {
    match number.home {
        Home::Constant => constant_at(&mut stack[level], number.value),
        Home::Slot { recorder, slot } if recorder == stack[level].serial => slot,
        Home::Slot { .. } => {
            let outside = slot_at(stack, level - 1, number);
            capture(&mut stack[level], outside)
        }
    }
}

fn constant_at(recorder: &mut Recorder, value: f64) -> Slot {
    let Recorder {
        graph, constants, kind, ..
    } = recorder;
    if let Some(slot) = constants.get(&value.to_bits()) {
        return slot;
    }
    if let Kind::Run { values, .. } = kind {
        values.push(value);
    }
    let slot = graph.push(Op::Constant(value), &[], 1);
    constants.insert(value.to_bits(), slot);
    slot
}

fn capture(recorder: &mut Recorder, outside: Slot) -> Slot {
    let Recorder { graph, kind, .. } = recorder;
    let Kind::Closure { captures, order, .. } = kind else {
        // Only a closure has an outside; a run's numbers are its own.
        raise(Fault::Foreign);
        return 0;
    };
    *captures.entry(outside).or_insert_with(|| {
        let slot = graph.push(Op::Capture(u32::try_from(order.len()).unwrap_or(u32::MAX)), &[], 1);
        order.push((outside, slot));
        slot
    })
}

/// What comparing two numbers through the first door gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decision {
    /// The relation holds, or does not, on the path now run.
    Known(bool),
    /// One of them depends on the argument of a closure being traced.
    Symbolic,
}

/// The first door out: compares two numbers, and keeps the outcome as a guard.
pub(crate) fn decide(left: Number, relation: Relation, right: Number) -> Decision {
    STACK.with_borrow_mut(|stack| {
        let outcome = relation.holds(left.value, right.value);
        match level_of(stack, &[left, right]) {
            Err(Foreign) => raise(Fault::Foreign),
            Ok(None) => {}
            Ok(Some(level)) => {
                if matches!(stack[level].kind, Kind::Closure { .. }) {
                    return Decision::Symbolic;
                }
                if is_aside() {
                    return Decision::Known(outcome);
                }
                let left = slot_at(stack, level, left);
                let right = slot_at(stack, level, right);
                let after = u32::try_from(stack[level].graph.nodes().len()).unwrap_or(u32::MAX);
                if let Kind::Run { guards, .. } = &mut stack[level].kind {
                    guards.push(Guard {
                        left,
                        right,
                        relation,
                        outcome,
                        after,
                    });
                }
            }
        }
        Decision::Known(outcome)
    })
}

/// The second door out: the whole number k with k ≤ q < k + 1; `None` inside a closure that depends on it or where
/// it is too large to count.
pub(crate) fn decide_whole(number: Number) -> Option<i64> {
    let floor = number.value.floor();
    // Beyond 2^53 not every whole number has a float of its own.
    if floor.is_nan() || floor.abs() > 9_007_199_254_740_992.0 {
        return None;
    }
    let low = Number::constant(floor);
    let high = Number::constant(floor + 1.0);
    match (
        decide(low, Relation::LessOrEqual, number),
        decide(number, Relation::Less, high),
    ) {
        (Decision::Known(_), Decision::Known(_)) => {
            #[allow(clippy::cast_possible_truncation, reason = "checked to lie within 2^53")]
            let whole = floor as i64;
            Some(whole)
        }
        _ => None,
    }
}

/// Whether the number depends on the argument of a closure being traced.
pub(crate) fn is_symbolic(number: Number) -> bool {
    STACK.with_borrow(|stack| {
        level_of(stack, &[number])
            .ok()
            .flatten()
            .is_some_and(|level| matches!(stack[level].kind, Kind::Closure { .. }))
    })
}

/// Whether the number depends on nothing, or stands on the tape of the run now recorded or in one of its closures.
pub(crate) fn is_known(number: Number) -> bool {
    STACK.with_borrow(|stack| level_of(stack, &[number]).is_ok())
}

/// Whether a closure is being traced.
pub(crate) fn in_closure() -> bool {
    STACK.with_borrow(|stack| {
        matches!(
            stack.last(),
            Some(Recorder {
                kind: Kind::Closure { .. },
                ..
            })
        )
    })
}

/// The slot of a number on the tape of the run now recorded.
pub(super) fn slot_on_tape(number: Number) -> Option<Slot> {
    let Home::Slot { recorder, slot } = number.home else {
        return None;
    };
    STACK.with_borrow(|stack| {
        let bottom = bottom_of(stack);
        (stack.get(bottom)?.serial == recorder).then_some(slot)
    })
}

/// Refuses unless a relation holds: now where both are known, and in every replay.
/// Gives whether it holds now (a relation between symbols is taken to hold until it is replayed).
pub(crate) fn require(left: Number, relation: Relation, right: Number) -> bool {
    let level = STACK.with_borrow(|stack| level_of(stack, &[left, right]));
    match level {
        Err(Foreign) => raise(Fault::Foreign),
        Ok(None) => return relation.holds(left.value, right.value),
        Ok(Some(level)) => {
            let symbolic = STACK.with_borrow(|stack| matches!(stack[level].kind, Kind::Closure { .. }));
            if !symbolic && !relation.holds(left.value, right.value) {
                return false;
            }
            if symbolic || !is_aside() {
                record(Op::Require(relation), &[left, right], &mut []);
            }
        }
    }
    true
}

/// Traces a closure: gives its graph and the outside numbers that it captured, as slots of the recorder outside.
pub(super) fn trace<E>(closure: impl FnOnce(Number) -> Result<Number, E>) -> Result<Body, E> {
    let serial = open(Kind::Closure {
        argument: 0,
        captures: BTreeMap::new(),
        order: Vec::new(),
    });
    let slot = STACK.with_borrow_mut(|stack| match stack.last_mut() {
        Some(recorder) => recorder.graph.push(Op::Argument, &[], 1),
        None => 0,
    });
    let argument = Number {
        value: f64::NAN,
        home: Home::Slot { recorder: serial, slot },
    };
    let result = closure(argument);
    let close = Closing { serial };
    let result = result?;
    let result = STACK.with_borrow_mut(|stack| {
        let level = stack.len().saturating_sub(1);
        if level_of(stack, &[result]).is_err() {
            raise(Fault::Foreign);
            return 0;
        }
        slot_at(stack, level, result)
    });
    let recorder = STACK.with_borrow_mut(|stack| stack.pop());
    std::mem::forget(close);
    let (graph, argument, captures) = match recorder {
        Some(Recorder {
            graph,
            kind: Kind::Closure { argument, order, .. },
            ..
        }) => (graph, argument, order),
        _ => (Graph::default(), 0, Vec::new()),
    };
    Ok(Body {
        graph,
        argument,
        captures,
        result,
    })
}

/// Pops a closure's recorder when tracing ends early.
struct Closing {
    serial: u32,
}

impl Drop for Closing {
    fn drop(&mut self) {
        STACK.with_borrow_mut(|stack| {
            if let Some(at) = stack.iter().position(|recorder| recorder.serial == self.serial) {
                stack.truncate(at);
            }
        });
    }
}

/// Records an operation on a traced closure, after its own arguments: those it captured from the recorder outside.
pub(super) fn record_body(op: impl FnOnce(u32) -> Op, own: &[Number], body: Body) -> Number {
    STACK.with_borrow_mut(|stack| {
        let Some(level) = stack.len().checked_sub(1) else {
            raise(Fault::Foreign);
            return Number::ZERO;
        };
        let symbolic = matches!(stack[level].kind, Kind::Closure { .. });
        if level_of(stack, own).is_err() {
            raise(Fault::Foreign);
            return Number::ZERO;
        }
        let mut slots: Vec<Slot> = own.iter().map(|number| slot_at(stack, level, *number)).collect();
        slots.extend(body.captures.iter().map(|(outside, _)| *outside));
        let recorder = &mut stack[level];
        let op = op(recorder.graph.push_body(body));
        let mut value = [f64::NAN];
        if let Kind::Run { values, .. } = &mut recorder.kind {
            let given: Vec<f64> = slots.iter().map(|slot| values[*slot as usize]).collect();
            match op.value(&recorder.graph, &given, &mut value) {
                Ok(()) if value[0].is_finite() => {}
                Ok(()) => {
                    raise(Fault::NotFinite {
                        operation: op.name(),
                        given: given[..own.len()].to_vec(),
                    });
                    value = [0.0];
                }
                Err(stop) => {
                    raise(Fault::Stopped(stop));
                    value = [0.0];
                }
            }
            if is_aside() {
                recorder.graph.pop_body();
                return Number::constant(value[0]);
            }
            values.push(value[0]);
        }
        debug_assert!(symbolic == value[0].is_nan());
        let slot = recorder.graph.push(op, &slots, 1);
        Number {
            value: value[0],
            home: Home::Slot {
                recorder: recorder.serial,
                slot,
            },
        }
    })
}
