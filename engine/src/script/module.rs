//! Scripts taken as modules, through the one door: their functions and constants, not their statements.

use super::reader::Reader;
use super::source::Script;
use super::{run, value};
use crate::diagnostic::{Diagnostic, Refusal, SourceText};
use crate::source::Sources;
use rhai::{AST, Dynamic, Engine, EvalAltResult, Module, ModuleResolver, Position, Scope, Shared};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Takes scripts as modules.
pub(crate) struct Resolver {
    pub(crate) sources: Rc<dyn Sources>,
    pub(crate) reader: Reader,
    pub(crate) imported: Imported,
    pub(crate) unreadable: Unreadable,
}

/// The scripts that have been imported, by name, each with its tree as a module.
pub(crate) type Imported = Rc<RefCell<BTreeMap<String, (Rc<Script>, Rc<AST>)>>>;

/// Scripts that could not be read, for messages that point into their text.
pub(crate) type Unreadable = Rc<RefCell<BTreeMap<String, Rc<Script>>>>;

thread_local! {
    static RESOLVING: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
}

impl ModuleResolver for Resolver {
    fn resolve(
        &self,
        engine: &Engine,
        source: Option<&str>,
        path: &str,
        position: Position,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        let not_found = || EvalAltResult::ErrorModuleNotFound(path.to_owned(), position);
        let text = self.sources.import(source.unwrap_or(""), path).ok_or_else(not_found)?;
        if run::with(|run| Ok(run.script.text.name == text.name)).unwrap_or(false)
            || RESOLVING.with_borrow(|names| names.contains(&text.name))
        {
            let message = format!("`{path}` imports itself in a circle");
            let refusal = Refusal::new("import", message).hint("move what both need into a third script");
            return Err(EvalAltResult::ErrorRuntime(Dynamic::from(refusal), position).into());
        }
        RESOLVING.with_borrow_mut(|names| names.push(text.name.clone()));
        let module = self.module(engine, text, position);
        RESOLVING.with_borrow_mut(|names| names.pop());
        module
    }
}

impl Resolver {
    fn module(
        &self,
        engine: &Engine,
        text: SourceText,
        position: Position,
    ) -> Result<Shared<Module>, Box<EvalAltResult>> {
        let name = text.name.clone();
        let inside = |error| EvalAltResult::ErrorInModule(name.clone(), error, position);
        let tree = self.tree(engine, text).map_err(|error| inside(thrown(&error)))?;
        // Evaluated anew in each run: a constant may hold a text that belongs to the run.
        let module = Module::eval_ast_as_new(Scope::new(), &tree, engine).map_err(inside)?;
        Ok(module.into())
    }

    /// The script's tree, read once as long as its text stays the same.
    fn tree(&self, engine: &Engine, text: SourceText) -> Result<Rc<AST>, Diagnostic> {
        let known = self.imported.borrow().get(&text.name).cloned();
        if let Some((script, tree)) = known.filter(|(script, _)| *script.text == text) {
            remember(&script);
            return Ok(tree);
        }
        let (script, read) = self.reader.read(engine, text);
        if let Err(error) = read {
            // The message points into its text.
            self.unreadable.borrow_mut().insert(script.text.name.clone(), script);
            return Err(error);
        }
        let tree = Rc::new(self.reader.as_module(engine, &script)?);
        let kept = (Rc::clone(&script), Rc::clone(&tree));
        self.imported.borrow_mut().insert(script.text.name.clone(), kept);
        remember(&script);
        Ok(tree)
    }
}

/// The run knows the scripts that it imports.
fn remember(script: &Rc<Script>) {
    let _ = run::with(|run| {
        run.imported.insert(script.text.name.clone(), Rc::clone(script));
        Ok(())
    });
}

/// A message with its place, as the language carries it.
fn thrown(error: &Diagnostic) -> Box<EvalAltResult> {
    let coordinate = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
    let position = error.places.first().map_or(Position::NONE, |place| {
        Position::new(coordinate(place.line).max(1), coordinate(place.column))
    });
    let mut thrown = value::thrown(error.refusal.clone());
    thrown.set_position(position);
    thrown
}
