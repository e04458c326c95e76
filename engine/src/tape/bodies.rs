//! Closures traced once: their roots, maxima and integrals as single operations.
//!
//! Derivatives: for a root the implicit function theorem, for a maximum the envelope theorem, for an integral the
//! derivative of the fixed rule that computes it.

use super::graph::{Body, Graph};
use super::number::Number;
use super::op::{Op, Stop};
use super::recorder::{record_body, trace};
use crate::kernel;

/// The x between `low` and `high` at which the closure is zero; it must change sign between them.
///
/// # Errors
/// Those of the closure while it is traced. That there is no root is a fault.
pub fn root<E>(low: Number, high: Number, f: impl FnOnce(Number) -> Result<Number, E>) -> Result<Number, E> {
    let body = trace(f)?;
    Ok(record_body(Op::Root, &[low, high], body))
}

/// The largest value of the closure between `low` and `high`, both included.
///
/// # Errors
/// Those of the closure while it is traced.
pub fn maximum<E>(low: Number, high: Number, f: impl FnOnce(Number) -> Result<Number, E>) -> Result<Number, E> {
    let body = trace(f)?;
    Ok(record_body(Op::Maximum, &[low, high], body))
}

/// The smallest value of the closure between `low` and `high`, both included.
///
/// # Errors
/// Those of the closure while it is traced.
pub fn minimum<E>(low: Number, high: Number, f: impl FnOnce(Number) -> Result<Number, E>) -> Result<Number, E> {
    let body = trace(|x| f(x).map(|value| -value))?;
    Ok(-record_body(Op::Maximum, &[low, high], body))
}

/// The integral of the closure from `low` to `high`.
///
/// # Errors
/// Those of the closure while it is traced. That it does not settle, over a pole, is a fault.
pub fn integrate<E>(low: Number, high: Number, f: impl FnOnce(Number) -> Result<Number, E>) -> Result<Number, E> {
    let body = trace(f)?;
    Ok(record_body(Op::Integrate, &[low, high], body))
}

/// A closure ready to be evaluated at many points.
struct Closure<'a> {
    body: &'a Body,
    values: Vec<f64>,
    scratch: Scratch,
}

impl<'a> Closure<'a> {
    /// `arguments` are the two ends and then what was captured.
    fn new(graph: &'a Graph, body: u32, arguments: &[f64]) -> Self {
        let body = &graph.bodies()[body as usize];
        let mut values = vec![0.0; body.graph.slots()];
        for ((_, slot), value) in body.captures.iter().zip(&arguments[2..]) {
            values[*slot as usize] = *value;
        }
        Self {
            body,
            values,
            scratch: Scratch::default(),
        }
    }

    fn at(&mut self, x: f64) -> Result<f64, Stop> {
        self.values[self.body.argument as usize] = x;
        run(&self.body.graph, &mut self.values, &mut self.scratch)?;
        Ok(self.values[self.body.result as usize])
    }

    /// Where the result evaluated last is a sum or a difference, the size of what was added.
    fn terms(&self) -> f64 {
        let graph = &self.body.graph;
        let last = graph
            .nodes()
            .iter()
            .rev()
            .find(|node| node.first_slot == self.body.result);
        match last.filter(|node| matches!(node.op, Op::Add | Op::Sub)) {
            Some(node) => {
                let slots = graph.arguments_of(node).iter();
                slots.fold(0.0, |most, slot| kernel::max(most, self.values[*slot as usize].abs()))
            }
            None => 0.0,
        }
    }

    /// Derivatives at the point evaluated last: with respect to the argument, and to each capture.
    fn gradient(&self) -> (f64, Vec<f64>) {
        let mut bar = vec![0.0; self.values.len()];
        bar[self.body.result as usize] = 1.0;
        super::derivative::sweep_back(&self.body.graph, &self.values, &mut bar);
        let captures = self.body.captures.iter().map(|(_, slot)| bar[*slot as usize]).collect();
        (bar[self.body.argument as usize], captures)
    }
}

/// Buffers for the arguments of one operation.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    pub(super) arguments: Vec<f64>,
}

/// Evaluates a graph whose leaves stand in `values`.
pub(super) fn run(graph: &Graph, values: &mut [f64], scratch: &mut Scratch) -> Result<(), Stop> {
    if super::stop::spend(graph.nodes().len() as u64) {
        return Err(Stop::Interrupted);
    }
    for node in graph.nodes() {
        scratch.arguments.clear();
        scratch
            .arguments
            .extend(graph.arguments_of(node).iter().map(|slot| values[*slot as usize]));
        let out = &mut values[node.slots()];
        node.op.value(graph, &scratch.arguments, out)?;
        if !out.iter().all(|value| value.is_finite()) {
            return Err(Stop::NotFinite(node.op.name()));
        }
    }
    Ok(())
}

pub(super) fn solve(graph: &Graph, body: u32, a: &[f64]) -> Result<f64, Stop> {
    let mut closure = Closure::new(graph, body, a);
    kernel::root(|x| closure.at(x), a[0], a[1]).map_err(|error| match error {
        kernel::RootError::NoSignChange { low, high } => Stop::NoSignChange { low, high },
        kernel::RootError::NotFinite { .. } => Stop::NotFinite("root"),
        kernel::RootError::Function(stop) => stop,
    })
}

/// From f(x(c), c) = 0: dx/dc = −(∂f/∂c)/(∂f/∂x). The ends of the interval only say which root is meant.
pub(super) fn solve_partials(graph: &Graph, body: u32, a: &[f64], x: f64, mut one: impl FnMut(usize, f64)) {
    let mut closure = Closure::new(graph, body, a);
    if closure.at(x).is_err() {
        return;
    }
    let (slope, captures) = closure.gradient();
    for (i, partial) in captures.into_iter().enumerate() {
        one(2 + i, -partial / slope);
    }
}

pub(super) fn largest(graph: &Graph, body: u32, a: &[f64]) -> Result<(f64, f64), Stop> {
    let mut closure = Closure::new(graph, body, a);
    kernel::maximum(|x| closure.at(x), a[0], a[1]).map_err(|error| match error {
        kernel::MaximumError::NotFinite { .. } => Stop::NotFinite("maximum"),
        kernel::MaximumError::Function(stop) => stop,
    })
}

/// At a maximum inside, moving x changes nothing (envelope theorem); at an end, x moves with the end.
pub(super) fn largest_partials(graph: &Graph, body: u32, a: &[f64], mut one: impl FnMut(usize, f64)) {
    let Ok((x, _)) = largest(graph, body, a) else { return };
    let mut closure = Closure::new(graph, body, a);
    if closure.at(x).is_err() {
        return;
    }
    let (slope, captures) = closure.gradient();
    if x == a[0] {
        one(0, slope);
    } else if x == a[1] {
        one(1, slope);
    }
    for (i, partial) in captures.into_iter().enumerate() {
        one(2 + i, partial);
    }
}

pub(super) fn total(graph: &Graph, body: u32, a: &[f64]) -> Result<f64, Stop> {
    let mut closure = Closure::new(graph, body, a);
    let mut sum = 0.0;
    let mut settling = kernel::Settling::default();
    for (x, weight) in kernel::quadrature(a[0], a[1]) {
        let value = closure.at(x)?;
        sum += weight * value;
        settling.add(weight, value, closure.terms());
    }
    if settling.is_settled() {
        Ok(sum)
    } else {
        Err(Stop::Unsettled)
    }
}

/// The captures under the same rule; the ends by the fundamental theorem.
pub(super) fn total_partials(graph: &Graph, body: u32, a: &[f64], mut one: impl FnMut(usize, f64)) {
    let mut closure = Closure::new(graph, body, a);
    let mut sums = vec![0.0; a.len() - 2];
    for (x, weight) in kernel::quadrature(a[0], a[1]) {
        if closure.at(x).is_err() {
            return;
        }
        let (_, captures) = closure.gradient();
        for (sum, partial) in sums.iter_mut().zip(captures) {
            *sum += weight * partial;
        }
    }
    for (i, sum) in sums.into_iter().enumerate() {
        one(2 + i, sum);
    }
    let low = closure.at(a[0]);
    let high = closure.at(a[1]);
    if let (Ok(low), Ok(high)) = (low, high) {
        one(0, -low);
        one(1, high);
    }
}
