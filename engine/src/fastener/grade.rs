//! A bolt grade.

use super::thread::{Form, Thread};
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};

/// The strengths that a standard promises for bolts of a grade, which may depend on the size.
///
/// Asked without a thread it answers for its first sizes, which [`BoltGrade::sizes`] names; larger bolts of some inch
/// grades are weaker, so a calculation that knows its thread asks with it.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltGrade {
    pub(super) name: String,
    pub(super) form: Form,
    pub(super) source: String,
    pub(super) first: Strengths,
    pub(super) larger: Vec<Strengths>,
}

/// Strengths for the sizes above one diameter up to another. SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strengths {
    pub(super) above: f64,
    pub(super) to: f64,
    pub(super) proof: f64,
    pub(super) yields: f64,
    pub(super) ultimate: f64,
}

impl BoltGrade {
    /// Its designation: "ISO 898-1 10.9".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where its strengths come from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }

    /// The largest size for which the strengths without a thread hold.
    #[must_use]
    pub fn sizes(&self) -> Quantity {
        Quantity::constant(self.first.to, Dimension::LENGTH)
    }

    /// Proof strength of its first sizes: the stress without lasting stretch that every bolt must bear.
    #[must_use]
    pub fn proof(&self) -> Quantity {
        stress(self.first.proof)
    }

    /// Yield (or 0.2 % proof) strength of its first sizes.
    #[must_use]
    pub fn yield_strength(&self) -> Quantity {
        stress(self.first.yields)
    }

    /// Tensile strength of its first sizes.
    #[must_use]
    pub fn ultimate_strength(&self) -> Quantity {
        stress(self.first.ultimate)
    }

    /// Proof strength of a bolt with this thread.
    ///
    /// # Errors
    /// A thread that the standard does not cover.
    pub fn proof_for(&self, thread: &Thread) -> Result<Quantity, Refusal> {
        Ok(self.of(thread)?.proof())
    }

    /// The grade as it is for this thread: [`BoltGrade::proof`] and the rest then hold for it.
    ///
    /// # Errors
    /// A thread of the other system, or larger than the standard covers.
    pub fn of(&self, thread: &Thread) -> Result<Self, Refusal> {
        if thread.form != self.form {
            let (name, form) = (thread.name(), thread.form.words());
            let message = format!("{} is a grade for {}, {name} is {form}", self.name, self.form.words());
            return Err(Refusal::new("thread", message));
        }
        let covers = |range: &&Strengths| range.above < thread.major && thread.major <= range.to;
        let found = [&self.first].into_iter().chain(&self.larger).find(covers);
        let first = *found.ok_or_else(|| {
            let message = format!("{} says nothing about bolts as large as {}", self.name, thread.name());
            Refusal::new("thread", message)
        })?;
        Ok(Self {
            first,
            larger: Vec::new(),
            ..self.clone()
        })
    }
}

fn stress(pascal: f64) -> Quantity {
    Quantity::constant(pascal, Dimension::PRESSURE)
}
