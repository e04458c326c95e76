//! How arguments are taken.

use crate::diagnostic::Refusal;
use crate::quantity::Dimension;
use crate::script::bind::geometry;
use crate::script::value;
use crate::structure::Structure;
use crate::tape::Number;
use rhai::{Array, Dynamic};
use std::cell::RefCell;
use std::rc::Rc;

type Result<T> = std::result::Result<T, Refusal>;

/// A structure as scripts hold it: all names for it are the same one.
#[derive(Clone, Debug)]
pub(super) struct Built(Rc<RefCell<Structure>>);

impl Built {
    pub(super) fn new(structure: Structure) -> Self {
        Self(Rc::new(RefCell::new(structure)))
    }

    /// Reads the structure.
    pub(super) fn with<T>(&self, work: impl FnOnce(&Structure) -> Result<T>) -> Result<T> {
        let structure = self.0.try_borrow().map_err(|_| in_use())?;
        work(&structure)
    }

    /// Changes the structure.
    fn change(&self, work: impl FnOnce(&mut Structure) -> Result<()>) -> Result<()> {
        let mut structure = self.0.try_borrow_mut().map_err(|_| in_use())?;
        work(&mut structure)
    }
}

fn in_use() -> Refusal {
    Refusal::new("structure", "this structure is being worked on")
}

/// The structure that a method belongs to.
pub(super) fn built(value: &Dynamic) -> Result<Built> {
    value::typed(value, "this", "a structure, structure()")
}

/// Changes the structure that a method belongs to, and gives it back, so that calls may follow one another.
pub(super) fn change(a: &[Dynamic], work: impl FnOnce(&mut Structure) -> Result<()>) -> Result<Dynamic> {
    built(&a[0])?.change(work)?;
    Ok(a[0].clone())
}

/// The name of a node, a member, a load case.
pub(super) fn name(value: &Dynamic, of: &str) -> Result<String> {
    value::name(value, &format!("the name of {of}"))
}

/// Names, as a list or one alone.
pub(super) fn names(value: &Dynamic, what: &str) -> Result<Vec<String>> {
    if value.is_string() {
        return Ok(vec![value::text(value, what)?]);
    }
    let list: Array = value::typed(value, what, "a list of texts, [\"a\", \"b\"]")?;
    list.iter().map(|item| value::text(item, what)).collect()
}

/// A vector of a dimension, its numbers in SI units.
pub(super) fn vector(value: &Dynamic, dimension: Dimension, what: &str) -> Result<[Number; 3]> {
    let vector = geometry::vector(value, what)?;
    vector
        .expect(dimension, what)
        .map_err(|refusal| match vector.dimension().is_none() {
            true => refusal.hint("every part needs its unit, a zero too: vector(0.N, 0.N, -900.N)"),
            false => refusal,
        })
}

/// Texts as the structure takes them.
pub(super) fn borrowed(names: &[String]) -> Vec<&str> {
    names.iter().map(String::as_str).collect()
}
