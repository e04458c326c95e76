//! What an unstable structure can do, in words.
//!
//! Plain numbers only: this speaks of the values now run and decides nothing but the wording.

use super::assembly::Unknowns;
use super::body::Bodies;
use super::freedom::FREEDOMS;
use super::model::Structure;
use crate::diagnostic::Refusal;
use crate::kernel;

/// Motions below this share of the largest are rounding.
const SMALL: f64 = 1e-6;

type Plain = [f64; 3];

/// How one node takes part.
#[derive(Clone, Copy)]
struct Motion {
    node: usize,
    point: Plain,
    /// Displacement.
    shift: Plain,
    /// Rotation times the size of the structure: comparable with a displacement.
    turn: Plain,
}

/// The refusal of a structure that can move as the null vector of its stiffness says.
pub(super) fn refusal(structure: &Structure, bodies: &Bodies, unknowns: &Unknowns, null_vector: &[f64]) -> Refusal {
    let size = size(structure);
    let motions = moving(motions(structure, bodies, unknowns, null_vector, size));
    let Some(first) = motions.first() else {
        return Refusal::new("unstable", "the structure is not held: part of it can move freely");
    };
    let joined = |node: usize| {
        structure
            .members
            .items()
            .iter()
            .any(|member| member.ends.contains(&node))
    };
    let armed = |node: usize| structure.arms.items().iter().any(|ends| ends.contains(&node));
    let subject = subject(structure, &motions);
    if motions.len() == 1 && !joined(first.node) && !armed(first.node) {
        let message = format!("{subject} is joined to no member");
        return Refusal::new("unstable", message).hint("hold it in all six directions, or leave it out");
    }
    match as_one_body(&motions, size) {
        Some(Way::Slide(direction)) => {
            let (words, axis) = direction_words(structure, &motions, direction, false);
            let message = format!("{subject} can slide along {words}: nothing holds it");
            said(structure, message, first.node, axis.map(|axis| ["x", "y", "z"][axis]))
        }
        Some(Way::Turn(direction)) => {
            let (words, axis) = direction_words(structure, &motions, direction, true);
            let message = format!("{subject} can turn about {words}: nothing holds it");
            said(
                structure,
                message,
                first.node,
                axis.map(|axis| ["rx", "ry", "rz"][axis]),
            )
        }
        None => deforming(structure, &motions, &subject),
    }
}

enum Way {
    Slide(Plain),
    Turn(Plain),
}

fn said(structure: &Structure, message: String, node: usize, direction: Option<&str>) -> Refusal {
    let node = structure.nodes.name(node);
    let hint = match direction {
        Some(direction) => format!("support({node:?}, [{direction:?}]) would hold it"),
        None => "add a support or a member, or take back a release".to_owned(),
    };
    Refusal::new("unstable", message).hint(hint)
}

/// A mechanism: says where its largest motion goes.
fn deforming(structure: &Structure, motions: &[Motion], subject: &str) -> Refusal {
    let mut largest = motions[0];
    for motion in motions {
        if measure(motion) > measure(&largest) {
            largest = *motion;
        }
    }
    let slides = norm(largest.shift) >= norm(largest.turn);
    let direction = if slides { largest.shift } else { largest.turn };
    let (words, _) = direction_words(structure, &[largest], direction, !slides);
    let verb = if slides { "moves along" } else { "turns about" };
    let name = structure.nodes.name(largest.node);
    let message = format!("{subject} can move without bending anything: node {name:?} {verb} {words}");
    Refusal::new("unstable", message).hint("add a support or a member, or take back a release")
}

/// The largest extent of the structure, or 1 where it has none.
fn size(structure: &Structure) -> f64 {
    let points = || structure.nodes.items().iter().map(|node| plain(node.point));
    let mut largest = 0.0;
    for axis in 0..3 {
        let low = points().fold(f64::INFINITY, |low, point| kernel::min(low, point[axis]));
        let high = points().fold(f64::NEG_INFINITY, |high, point| kernel::max(high, point[axis]));
        largest = kernel::max(largest, high - low);
    }
    if largest > 0.0 { largest } else { 1.0 }
}

fn motions(structure: &Structure, bodies: &Bodies, unknowns: &Unknowns, null_vector: &[f64], size: f64) -> Vec<Motion> {
    let nodes = structure.nodes.items();
    let mut all = vec![0.0; FREEDOMS * nodes.len()];
    for (freedom, value) in unknowns.freedoms().iter().zip(null_vector) {
        all[*freedom] = *value;
    }
    let motion = |(node, it): (usize, &super::model::Node)| {
        let seat = bodies.seat(node);
        let leading = &all[FREEDOMS * seat.leader..FREEDOMS * (seat.leader + 1)];
        let (shift, turn) = (
            [leading[0], leading[1], leading[2]],
            [leading[3], leading[4], leading[5]],
        );
        let arm = seat.arm.map_or([0.0; 3], plain);
        Motion {
            node,
            point: plain(it.point),
            shift: add(shift, cross(turn, arm)),
            turn: turn.map(|component| component * size),
        }
    };
    nodes.iter().enumerate().map(motion).collect()
}

/// Those that take part.
fn moving(motions: Vec<Motion>) -> Vec<Motion> {
    let largest = motions
        .iter()
        .fold(0.0, |most, motion| kernel::max(most, measure(motion)));
    motions
        .into_iter()
        .filter(|motion| measure(motion) > SMALL * largest)
        .collect()
}

fn measure(motion: &Motion) -> f64 {
    kernel::max(norm(motion.shift), norm(motion.turn))
}

/// "the whole structure", `node "b"`, `nodes "b", "c"`.
fn subject(structure: &Structure, motions: &[Motion]) -> String {
    let nodes = structure.nodes.items().len();
    if motions.len() == nodes && nodes > 1 {
        return "the whole structure".to_owned();
    }
    let names: Vec<String> = motions
        .iter()
        .take(3)
        .map(|motion| format!("{:?}", structure.nodes.name(motion.node)))
        .collect();
    match motions.len() {
        1 => format!("node {}", names[0]),
        2 | 3 => format!("nodes {} together", names.join(", ")),
        count => format!("nodes {} and {} more together", names.join(", "), count - 3),
    }
}

/// Whether all that move do so as one rigid body, and how.
fn as_one_body(motions: &[Motion], size: f64) -> Option<Way> {
    let first = motions[0];
    let largest = motions
        .iter()
        .fold(0.0, |most, motion| kernel::max(most, measure(motion)));
    for motion in motions {
        let swept = cross(
            first.turn.map(|component| component / size),
            sub(motion.point, first.point),
        );
        let off_shift = norm(sub(sub(motion.shift, first.shift), swept));
        let off_turn = norm(sub(motion.turn, first.turn));
        if off_shift > SMALL * largest || off_turn > SMALL * largest {
            return None;
        }
    }
    let turns = norm(first.turn) > SMALL * largest;
    Some(if turns {
        Way::Turn(first.turn)
    } else {
        Way::Slide(first.shift)
    })
}

/// A direction in words, and which of the vehicle's axes it is. What turns about a member's axis does so for the sake of
/// that member, so then the member is named too.
fn direction_words(
    structure: &Structure,
    motions: &[Motion],
    direction: Plain,
    turns: bool,
) -> (String, Option<usize>) {
    let length = norm(direction);
    let unit = direction.map(|component| component / length);
    let axis = (0..3).find(|axis| is_along(unit, std::array::from_fn(|i| f64::from(u8::from(i == *axis)))));
    let touches = |ends: &[usize; 2]| motions.iter().any(|motion| ends.contains(&motion.node));
    let member = structure
        .members
        .items()
        .iter()
        .position(|member| touches(&member.ends) && is_along(unit, plain(member.axes.x)))
        .map(|member| format!("the axis of member {:?}", structure.members.name(member)));
    let words = match (axis, member) {
        (Some(axis), Some(member)) if turns => format!("{}, {member}", ["x", "y", "z"][axis]),
        (Some(axis), _) => ["x", "y", "z"][axis].to_owned(),
        (None, Some(member)) => member,
        (None, None) => format!("the direction ({:.3}, {:.3}, {:.3})", unit[0], unit[1], unit[2]),
    };
    (words, axis)
}

fn is_along(unit: Plain, axis: Plain) -> bool {
    norm(cross(unit, axis)) < SMALL
}

fn plain(v: super::vector::Vector) -> Plain {
    v.map(|component| component.shown())
}

fn norm(v: Plain) -> f64 {
    kernel::sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])
}

fn add(a: Plain, b: Plain) -> Plain {
    std::array::from_fn(|i| a[i] + b[i])
}

fn sub(a: Plain, b: Plain) -> Plain {
    std::array::from_fn(|i| a[i] - b[i])
}

fn cross(a: Plain, b: Plain) -> Plain {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}
