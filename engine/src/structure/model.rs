//! A structure as it is built: nodes, members, rigid arms, and what holds them.

use super::axes::Axes;
use super::freedom::{FREEDOMS, NAMES, freedom};
use super::loading::LoadCase;
use super::property::{MaterialProps, SectionProps};
use super::register::Register;
use super::strip::release_is_possible;
use super::vector::{self, Vector};
use crate::diagnostic::Refusal;
use crate::tape::{self, Number, Relation};

const MOST_NODES: usize = 2000;
const MOST_MEMBERS: usize = 2000;
const MOST_CASES: usize = 100;
/// Two nodes nearer than this, in metres, are one place.
const SHORTEST: f64 = 1e-6;

/// A frame of straight members in space. SI units; vehicle axes.
#[derive(Clone, Debug)]
pub struct Structure {
    pub(super) nodes: Register<Node>,
    pub(super) members: Register<Member>,
    pub(super) arms: Register<[usize; 2]>,
    pub(super) cases: Register<LoadCase>,
    pub(super) shear: bool,
}

/// A point where members meet, and what is fastened to it. Directions are the vehicle's.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) point: Vector,
    pub(super) held: [bool; FREEDOMS],
    pub(super) moved: [Number; FREEDOMS],
    pub(super) springs: [Option<Number>; FREEDOMS],
    pub(super) mass: Option<Number>,
}

/// A straight member between two nodes.
#[derive(Clone, Debug)]
pub(super) struct Member {
    pub(super) ends: [usize; 2],
    pub(super) section: SectionProps,
    pub(super) material: MaterialProps,
    pub(super) axes: Axes,
    /// The freedoms, in the member's axes, that each end does not hand on to its node.
    pub(super) released: [[bool; FREEDOMS]; 2],
}

impl Default for Structure {
    fn default() -> Self {
        Self::new()
    }
}

impl Structure {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self {
            nodes: Register::new("node", MOST_NODES),
            members: Register::new("member", MOST_MEMBERS),
            arms: Register::new("rigid arm", MOST_MEMBERS),
            cases: Register::new("load case", MOST_CASES),
            shear: false,
        }
    }

    /// How many nodes, members, rigid arms, load cases and loads it has.
    #[must_use]
    pub fn size(&self) -> usize {
        let (nodes, members) = (self.nodes.items().len(), self.members.items().len());
        let cases: usize = self.cases.items().iter().map(LoadCase::size).sum();
        nodes + members + self.arms.items().len() + cases
    }

    /// A point where members meet, in metres.
    ///
    /// # Errors
    /// A name used already; more than 2000 nodes.
    pub fn node(&mut self, name: &str, point: [Number; 3]) -> Result<(), Refusal> {
        let node = Node {
            point,
            held: [false; FREEDOMS],
            moved: [Number::ZERO; FREEDOMS],
            springs: [None; FREEDOMS],
            mass: None,
        };
        self.nodes.add(name, node)
    }

    /// A straight member from node `a` to node `b`, fastened rigidly at both ends until [`Structure::release`].
    ///
    /// Its axes: x from `a` to `b`; z square to x, as near to `up` as it can be; y = z × x. Without `up` it is the
    /// vehicle's Z, so that bending about y is bending under vertical load; for a member less than one degree from
    /// vertical it is the vehicle's X.
    ///
    /// # Errors
    /// Unknown nodes; the same node twice; a name used already; more than 2000 members. Now and in every replay: ends
    /// less than a micrometre apart; `up` along the member; a property of the section or of the material that is not
    /// positive (the density may be zero; shear areas are looked at only where shear is included).
    pub fn member(
        &mut self,
        name: &str,
        a: &str,
        b: &str,
        section: SectionProps,
        material: MaterialProps,
        up: Option<[Number; 3]>,
    ) -> Result<(), Refusal> {
        let ends = [self.nodes.find(a)?, self.nodes.find(b)?];
        if ends[0] == ends[1] {
            let message = format!("member {name:?} begins and ends at node {a:?}; it needs two");
            return Err(Refusal::new("structure", message));
        }
        check_properties(name, &section, &material)?;
        let [from, to] = ends.map(|end| self.nodes.items()[end].point);
        let run = vector::sub(to, from);
        let length = tape::norm(&run);
        positive(length, SHORTEST, || {
            format!("nodes {a:?} and {b:?} lie at the same place: member {name:?} has no length")
        })?;
        let axes = Axes::new(name, run, length, up)?;
        let member = Member {
            ends,
            section,
            material,
            axes,
            released: [[false; FREEDOMS]; 2],
        };
        self.members.add(name, member)
    }

    /// A rigid arm: the two nodes move as one body. Exact: the freedoms of all but one node of a body are eliminated.
    /// Arms that share a node make one body.
    ///
    /// # Errors
    /// Unknown nodes; the same node twice; a name used already; more than 2000 arms. [`Structure::solve`] refuses a
    /// body that is supported at more than one node or has a member inside.
    pub fn rigid(&mut self, name: &str, a: &str, b: &str) -> Result<(), Refusal> {
        let ends = [self.nodes.find(a)?, self.nodes.find(b)?];
        if ends[0] == ends[1] {
            let message = format!("rigid arm {name:?} begins and ends at node {a:?}; it needs two");
            return Err(Refusal::new("structure", message));
        }
        self.arms.add(name, ends)
    }

    /// Holds a node: `"x"`, `"y"`, `"z"` against moving, `"rx"`, `"ry"`, `"rz"` against turning, in vehicle axes.
    /// Called again it holds more.
    ///
    /// # Errors
    /// An unknown node or direction.
    pub fn support(&mut self, node: &str, directions: &[&str]) -> Result<(), Refusal> {
        let node = self.nodes.change(node)?;
        for direction in directions {
            node.held[freedom(direction)?] = true;
        }
        Ok(())
    }

    /// A spring from a node to the ground: N/m along a direction, N·m/rad about one, in vehicle axes. Springs at the
    /// same place add up.
    ///
    /// # Errors
    /// An unknown node or direction; now and in every replay, a stiffness that is not positive.
    pub fn spring(&mut self, node: &str, direction: &str, stiffness: Number) -> Result<(), Refusal> {
        let name = node;
        let node = self.nodes.change(node)?;
        let at = freedom(direction)?;
        positive(stiffness, 0.0, || {
            format!("the spring at node {name:?} has no stiffness: it must be more than zero")
        })?;
        node.springs[at] = Some(node.springs[at].map_or(stiffness, |before| before + stiffness));
        Ok(())
    }

    /// Lets go of freedoms, in the member's axes, between a member and the node at one of its ends: `["ry", "rz"]` is a
    /// pin that still carries torsion. Called again it lets go of more.
    ///
    /// # Errors
    /// Unknown names; a node at which the member does not end; releases together that leave the member itself loose.
    pub fn release(&mut self, member: &str, node: &str, directions: &[&str]) -> Result<(), Refusal> {
        let node_at = self.nodes.find(node)?;
        let name = member;
        let member = self.members.change(member)?;
        let Some(end) = member.ends.iter().position(|end| *end == node_at) else {
            let [a, b] = member.ends.map(|end| self.nodes.name(end));
            let message = format!("member {name:?} does not end at node {node:?} but at {a:?} and {b:?}");
            return Err(Refusal::new("structure", message));
        };
        let mut released = member.released;
        for direction in directions {
            let at = freedom(direction)?;
            released[end][at] = true;
            if !release_is_possible(&released) {
                let message = format!(
                    "with {direction:?} released at node {node:?} as well, nothing would keep member {name:?} in place"
                );
                return Err(Refusal::new("structure", message).hint("a joint needs to be released at one end only"));
            }
        }
        member.released = released;
        Ok(())
    }

    /// Moves a support by so many metres along a direction, or radians about one, in every load case: a bracket that
    /// does not meet its holes. Called again it moves further.
    ///
    /// # Errors
    /// An unknown node or direction; a direction in which the node is not held.
    pub fn move_support(&mut self, node: &str, direction: &str, displacement: Number) -> Result<(), Refusal> {
        let name = node;
        let node = self.nodes.change(node)?;
        let at = freedom(direction)?;
        if !node.held[at] {
            let message = format!("node {name:?} is not held in {direction:?}; only a support can be moved");
            return Err(
                Refusal::new("structure", message).hint(format!("support({name:?}, [{:?}]) comes first", NAMES[at]))
            );
        }
        node.moved[at] = node.moved[at] + displacement;
        Ok(())
    }

    /// A point mass at a node, kg: it counts in gravity and in frequencies. Called again it adds more.
    ///
    /// # Errors
    /// An unknown node; now and in every replay, a negative mass.
    pub fn mass(&mut self, node: &str, mass: Number) -> Result<(), Refusal> {
        let name = node;
        let node = self.nodes.change(node)?;
        if !tape::require(Number::ZERO, Relation::LessOrEqual, mass) {
            let message = format!("the mass at node {name:?} is negative; it must be zero or more");
            return Err(Refusal::new("structure", message));
        }
        node.mass = Some(node.mass.map_or(mass, |before| before + mass));
        Ok(())
    }

    /// Whether members give way to shear (Timoshenko) or not (Euler-Bernoulli, the default).
    pub fn include_shear(&mut self, shear: bool) {
        self.shear = shear;
    }
}

impl Structure {
    /// The density of a member's material.
    pub(super) fn density(&self, member: usize) -> Result<Number, Refusal> {
        self.members.items()[member].material.density.ok_or_else(|| {
            let name = self.members.name(member);
            Refusal::new(
                "structure",
                format!("the density of the material of member {name:?} is not known"),
            )
            .hint("gravity and frequencies need it")
        })
    }
}

/// Refuses, now and in every replay, a number that is not above `limit`.
pub(super) fn positive(number: Number, limit: f64, message: impl FnOnce() -> String) -> Result<(), Refusal> {
    if tape::require(Number::constant(limit), Relation::Less, number) {
        Ok(())
    } else {
        Err(Refusal::new("structure", message()))
    }
}

fn check_properties(member: &str, section: &SectionProps, material: &MaterialProps) -> Result<(), Refusal> {
    let needed = [
        (section.area, "area"),
        (section.i_y, "second moment about y"),
        (section.i_z, "second moment about z"),
        (section.j, "torsion constant"),
        (section.z_y, "section modulus about y"),
        (section.z_z, "section modulus about z"),
        (section.torsion_modulus, "torsion modulus"),
        (material.e, "Young's modulus"),
        (material.g, "shear modulus"),
    ];
    for (number, what) in needed {
        positive(number, 0.0, || {
            format!("the {what} of member {member:?} must be more than zero")
        })?;
    }
    let Some(density) = material.density else { return Ok(()) };
    if tape::require(Number::ZERO, Relation::LessOrEqual, density) {
        return Ok(());
    }
    let message = format!("the density of member {member:?} must be zero or more");
    Err(Refusal::new("structure", message))
}
