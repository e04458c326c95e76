//! What a replay costs, by the tape alone: counted in simple operations, to the nearest power of ten or so.

use super::graph::{Graph, Node};
use super::op::Op;

/// Operations of one replay.
pub(super) fn of_graph(graph: &Graph) -> u64 {
    graph
        .nodes()
        .iter()
        .fold(0, |sum: u64, node| sum.saturating_add(of_node(graph, node)))
}

/// Operations of one node; how often a solver calls its closure was measured on smooth ones.
pub(super) fn of_node(graph: &Graph, node: &Node) -> u64 {
    let body = |number: u32| {
        graph
            .bodies()
            .get(number as usize)
            .map_or(1, |body| of_graph(&body.graph).max(1))
    };
    let arguments = graph.arguments_of(node).len() as u64;
    match node.op {
        Op::Root(number) => body(number).saturating_mul(20),
        Op::Maximum(number) => body(number).saturating_mul(120),
        Op::Integrate(number) => body(number).saturating_mul(128),
        Op::SolveSymmetric(_) => arguments.saturating_mul(30),
        Op::EigenSymmetric(_) => arguments.saturating_mul(300),
        Op::Gap(_) => 300 + 10 * arguments,
        _ => 1 + arguments / 4,
    }
}

/// What recording an operation takes, measured, in simple operations that are done again; what a closure does counts as it is
/// done.
pub(super) fn of_recording(op: &Op, arguments: usize) -> u64 {
    let arguments = arguments as u64;
    match op {
        Op::SolveSymmetric(_) => arguments.saturating_mul(30),
        Op::EigenSymmetric(_) => arguments.saturating_mul(300),
        Op::Gap(_) => 5_000 + 10 * arguments,
        _ => 40 + arguments,
    }
}
