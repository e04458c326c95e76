//! An order of elimination that keeps the envelope narrow.

use super::Pattern;
use std::collections::VecDeque;

/// Reverse Cuthill–McKee: the unknowns in the order of their elimination.
///
/// Each connected part is walked breadth first from an end of it, neighbours by rising degree, then by number; the
/// whole order is reversed. The end is found as A. George and J. W. Liu do ("An implementation of a pseudoperipheral
/// node finder", ACM TOMS 5(3), 1979). Ties go to the lower number, so the order depends on the pattern alone.
pub(super) fn reverse_cuthill_mckee(pattern: &Pattern) -> Vec<usize> {
    let neighbours = neighbours(pattern);
    let mut order = Vec::with_capacity(pattern.size());
    let mut placed = vec![false; pattern.size()];
    for unknown in 0..pattern.size() {
        if !placed[unknown] {
            let part = walk(&neighbours, end_of_part(&neighbours, unknown)).order;
            part.iter().for_each(|&member| placed[member] = true);
            order.extend(part);
        }
    }
    order.reverse();
    order
}

/// For each unknown those it shares an entry with, by rising degree, then by number.
fn neighbours(pattern: &Pattern) -> Vec<Vec<usize>> {
    let mut neighbours = vec![Vec::new(); pattern.size()];
    for &(i, j) in pattern.entries() {
        if i != j {
            neighbours[i].push(j);
            neighbours[j].push(i);
        }
    }
    for list in &mut neighbours {
        list.sort_unstable();
        list.dedup();
    }
    let degrees: Vec<usize> = neighbours.iter().map(Vec::len).collect();
    for list in &mut neighbours {
        list.sort_by_key(|&other| (degrees[other], other));
    }
    neighbours
}

/// A breadth-first walk: the order, and how many steps away the last ones are.
struct Walk {
    order: Vec<usize>,
    depth: usize,
    /// Those reached last, in order.
    last: Vec<usize>,
}

fn walk(neighbours: &[Vec<usize>], start: usize) -> Walk {
    let mut distance = vec![usize::MAX; neighbours.len()];
    distance[start] = 0;
    let mut queue = VecDeque::from([start]);
    let mut order = Vec::new();
    while let Some(unknown) = queue.pop_front() {
        order.push(unknown);
        for &other in &neighbours[unknown] {
            if distance[other] == usize::MAX {
                distance[other] = distance[unknown] + 1;
                queue.push_back(other);
            }
        }
    }
    let depth = order.last().map_or(0, |&unknown| distance[unknown]);
    let last = order
        .iter()
        .copied()
        .filter(|&unknown| distance[unknown] == depth)
        .collect();
    Walk { order, depth, last }
}

/// An unknown from which the walk through its part is long: steps to the far end until it grows no longer.
fn end_of_part(neighbours: &[Vec<usize>], start: usize) -> usize {
    let mut end = start;
    let mut from_end = walk(neighbours, end);
    loop {
        let candidate = from_end
            .last
            .iter()
            .copied()
            .min_by_key(|&unknown| (neighbours[unknown].len(), unknown));
        let Some(candidate) = candidate else { return end };
        let from_candidate = walk(neighbours, candidate);
        if from_candidate.depth <= from_end.depth {
            return end;
        }
        (end, from_end) = (candidate, from_candidate);
    }
}
