//! Closures: traced once, and put on the tape as a body.

use super::super::fault::{Fault, raise};
use super::super::graph::{Body, Graph, Slot};
use super::super::number::{Home, Number};
use super::super::op::Op;
use super::aside::is_aside;
use super::stack::{Kind, Recorder, STACK, level_of, open, slot_at};
use std::collections::BTreeMap;

/// Traces a closure: gives its graph and the outside numbers that it captured, as slots of the recorder outside.
pub(in crate::tape) fn trace<E>(closure: impl FnOnce(Number) -> Result<Number, E>) -> Result<Body, E> {
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
pub(in crate::tape) fn record_body(op: impl FnOnce(u32) -> Op, own: &[Number], body: Body) -> Number {
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
