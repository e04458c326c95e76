//! Derivatives of a tape, forward and reverse.

use super::graph::{Graph, Slot, Tape};

/// How every slot changes with one input.
#[derive(Debug)]
pub struct Forward {
    dots: Vec<f64>,
}

impl Forward {
    /// One pass along the tape, at the slots' `values`, for the input with this number.
    #[must_use]
    pub fn of(tape: &Tape, values: &[f64], input: usize) -> Self {
        let graph = &tape.graph;
        let mut dots = vec![0.0; graph.slots()];
        let Some(seed) = tape.inputs.get(input) else {
            return Self { dots };
        };
        dots[*seed as usize] = 1.0;
        let mut buffers = [Vec::new(), Vec::new(), Vec::new()];
        for node in graph.nodes().iter().filter(|node| !node.op.is_leaf()) {
            let arguments = graph.arguments_of(node);
            if arguments.iter().all(|slot| dots[*slot as usize] == 0.0) {
                continue;
            }
            let [a, a_dot, out_dot] = &mut buffers;
            gather(values, arguments, a);
            gather(&dots, arguments, a_dot);
            out_dot.clear();
            out_dot.resize(node.slot_count as usize, 0.0);
            node.op.push_forward(graph, a, &values[node.slots()], a_dot, out_dot);
            dots[node.slots()].copy_from_slice(out_dot);
        }
        Self { dots }
    }

    /// The derivative of a slot.
    #[must_use]
    pub fn slot(&self, slot: Slot) -> f64 {
        self.dots.get(slot as usize).copied().unwrap_or(0.0)
    }
}

/// How one result changes with every slot.
#[derive(Debug)]
pub struct Reverse {
    bars: Vec<f64>,
}

impl Reverse {
    /// One pass back along the tape, at the slots' `values`, from a weighted sum of slots.
    #[must_use]
    pub fn of(tape: &Tape, values: &[f64], weights: &[(Slot, f64)]) -> Self {
        let mut bars = vec![0.0; tape.graph.slots()];
        for (slot, weight) in weights {
            bars[*slot as usize] += weight;
        }
        sweep_back(&tape.graph, values, &mut bars);
        Self { bars }
    }

    /// The derivative with respect to a slot.
    #[must_use]
    pub fn slot(&self, slot: Slot) -> f64 {
        self.bars.get(slot as usize).copied().unwrap_or(0.0)
    }
}

/// Takes the weights in `bars` back to the leaves.
pub(super) fn sweep_back(graph: &Graph, values: &[f64], bars: &mut [f64]) {
    let mut a = Vec::new();
    let mut a_bar = Vec::new();
    for node in graph.nodes().iter().rev().filter(|node| !node.op.is_leaf()) {
        let out_bar = &bars[node.slots()];
        if out_bar.iter().all(|bar| *bar == 0.0) {
            continue;
        }
        let arguments = graph.arguments_of(node);
        gather(values, arguments, &mut a);
        a_bar.clear();
        a_bar.resize(arguments.len(), 0.0);
        node.op.pull_back(graph, &a, &values[node.slots()], out_bar, &mut a_bar);
        for (slot, bar) in arguments.iter().zip(&a_bar) {
            bars[*slot as usize] += bar;
        }
    }
}

fn gather(from: &[f64], slots: &[Slot], to: &mut Vec<f64>) {
    to.clear();
    to.extend(slots.iter().map(|slot| from[*slot as usize]));
}
