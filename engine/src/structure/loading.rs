//! Load cases.

use super::model::Structure;
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::tape::Number;

/// The case that loads belong to where none was opened.
const FIRST_CASE: &str = "loads";
/// More loads than this in one case is an error.
const MOST_LOADS: usize = 20_000;

/// Loads that act together, in vehicle axes, in the order in which they came.
#[derive(Clone, Debug, Default)]
pub(super) struct LoadCase {
    /// Nodes and forces, N.
    pub(super) forces: Vec<(usize, Vector)>,
    /// Nodes and moments, N·m, right-handed.
    pub(super) moments: Vec<(usize, Vector)>,
    /// Members and forces per length, N/m.
    pub(super) distributed: Vec<(usize, Vector)>,
    /// Accelerations, m/s², that pull on all masses.
    pub(super) gravity: Vec<Vector>,
}

impl LoadCase {
    /// How many loads it holds, and itself.
    pub(super) fn size(&self) -> usize {
        1 + self.forces.len() + self.moments.len() + self.distributed.len() + self.gravity.len()
    }
}

impl Structure {
    /// Opens a load case: loads from here on belong to it. Loads before the first one belong to a case "loads".
    ///
    /// # Errors
    /// A name used already; more than 100 cases.
    pub fn load_case(&mut self, name: &str) -> Result<(), Refusal> {
        self.cases.add(name, LoadCase::default())
    }

    /// A force on a node, N.
    ///
    /// # Errors
    /// An unknown node; too many loads.
    pub fn force(&mut self, node: &str, force: [Number; 3]) -> Result<(), Refusal> {
        let node = self.nodes.find(node)?;
        push(&mut self.open_case()?.forces, (node, force))
    }

    /// A moment on a node, N·m, right-handed about each axis.
    ///
    /// # Errors
    /// An unknown node; too many loads.
    pub fn moment(&mut self, node: &str, moment: [Number; 3]) -> Result<(), Refusal> {
        let node = self.nodes.find(node)?;
        push(&mut self.open_case()?.moments, (node, moment))
    }

    /// A force spread evenly along a member, N per metre of its length.
    ///
    /// # Errors
    /// An unknown member; too many loads.
    pub fn distributed(&mut self, member: &str, force_per_length: [Number; 3]) -> Result<(), Refusal> {
        let member = self.members.find(member)?;
        push(&mut self.open_case()?.distributed, (member, force_per_length))
    }

    /// An acceleration that pulls on the members' own mass and on point masses: (0, 0, −9.81 m/s²) is weight.
    ///
    /// # Errors
    /// Too many loads.
    pub fn gravity(&mut self, acceleration: [Number; 3]) -> Result<(), Refusal> {
        push(&mut self.open_case()?.gravity, acceleration)
    }

    fn open_case(&mut self) -> Result<&mut LoadCase, Refusal> {
        if self.cases.items().is_empty() {
            self.load_case(FIRST_CASE)?;
        }
        let none = || Refusal::new("structure", "there is no load case");
        self.cases.last_mut().ok_or_else(none)
    }

    /// The structure with a load case, where it had none: support movements alone are a case too.
    pub(super) fn with_a_case(&self) -> Result<Self, Refusal> {
        let mut structure = self.clone();
        structure.open_case()?;
        Ok(structure)
    }
}

fn push<T>(loads: &mut Vec<T>, load: T) -> Result<(), Refusal> {
    if loads.len() >= MOST_LOADS {
        let message = format!("this load case holds {MOST_LOADS} such loads already; no more fit");
        return Err(Refusal::new("limit", message));
    }
    loads.push(load);
    Ok(())
}
