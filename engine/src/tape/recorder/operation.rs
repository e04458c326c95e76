//! Operations: done, and put on the tape where they are not there yet.

use super::super::cost;
use super::super::fault::{Fault, raise};
use super::super::graph::Graph;
use super::super::number::{Home, Number};
use super::super::once::{Key, unchanged};
use super::super::op::Op;
use super::super::stop::charge;
use super::aside::is_aside;
use super::stack::{Foreign, Kind, Recorder, STACK, level_of, slot_at};

/// More slots than this is an error: about a hundred times the largest shipped script.
const MOST_SLOTS: usize = 4_000_000;

/// Does an operation with one result.
pub(in crate::tape) fn record_one(op: Op, arguments: &[Number]) -> Number {
    let mut result = [Number::ZERO];
    record(op, arguments, &mut result);
    result[0]
}

/// Does an operation and fills its results.
pub(in crate::tape) fn record(op: Op, arguments: &[Number], results: &mut [Number]) {
    STACK.with_borrow_mut(|stack| match level_of(stack, arguments) {
        Ok(level) => record_at(stack, level, op, arguments, results),
        Err(Foreign) => {
            raise(Fault::Foreign);
            results.fill(Number::ZERO);
        }
    });
}

fn record_at(stack: &mut [Recorder], level: Option<usize>, op: Op, arguments: &[Number], results: &mut [Number]) {
    if charge(cost::of_recording(&op, arguments.len())) {
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
