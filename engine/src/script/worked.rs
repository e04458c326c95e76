//! What the engine's own functions work out, written in the language: shown below a formula that uses one.
//!
//! A function is called `section_area` for `section.area`, by its own name where it is called by that. Nothing is
//! calculated with these; an opening that comes to another value than the engine does is not shown, and a test demands
//! that all of them come to the same.

use super::reader::Reader;
use super::source::Script;
use crate::diagnostic::SourceText;
use rhai::{AST, Engine, ScriptFuncDef, Shared};
use std::rc::Rc;

/// The name of their text.
pub(super) const NAME: &str = "the engine's functions";

const TEXT: &str = include_str!("worked.rhai");

/// The functions, read.
pub(crate) struct Worked {
    pub(super) script: Rc<Script>,
    tree: AST,
}

impl Worked {
    /// Reads them. None where they cannot be read, which a test excludes.
    pub(super) fn read(engine: &Engine, reader: &Reader) -> Option<Rc<Self>> {
        let text = SourceText {
            name: NAME.to_owned(),
            text: TEXT.to_owned(),
        };
        let (script, tree) = reader.read(engine, text);
        let tree = tree.ok()?;
        Some(Rc::new(Self { script, tree }))
    }

    /// The function of this name with so many parameters.
    pub(super) fn function(&self, name: &str, count: usize) -> Option<Shared<ScriptFuncDef>> {
        let mut all = self.tree.iter_fn_def();
        all.find(|function| function.name == name && function.params.len() == count)
            .cloned()
    }
}
