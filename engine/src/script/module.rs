//! Scripts taken as modules, through the one door: their functions and constants, not their statements.

use super::reader::Reader;
use super::source::Script;
use super::{limits, run, value};
use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText, nearest};
use crate::source::Sources;
use rhai::{
    AST, ASTNode, Dynamic, Engine, EvalAltResult, Expr, FnAccess, ImmutableString, Module, ModuleResolver, Position,
    Scope, ScriptFuncDef, Shared, Stmt,
};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Takes scripts as modules.
#[derive(Clone)]
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
    /// Reads what a script imports at its top, and what that imports, before anything runs: what is wrong in a function of
    /// an imported script is told with the place there. Calls of imported functions are looked up. Found is what cannot be
    /// read in an imported script, and calls of what it does not have.
    pub(crate) fn look_ahead(&self, engine: &Engine, script: &Script, tree: &AST) -> Vec<Diagnostic> {
        self.look_into(engine, script, tree, &mut vec![script.text.name.clone()])
    }

    fn look_into(&self, engine: &Engine, script: &Script, tree: &AST, above: &mut Vec<String>) -> Vec<Diagnostic> {
        let (mut modules, mut found) = (BTreeMap::new(), Vec::new());
        for statement in tree.statements() {
            let Stmt::Import(parts, _) = statement else { continue };
            let Expr::StringConstant(path, position) = &parts.0 else {
                continue;
            };
            // What is not there, or imports itself, is told where the import is reached.
            let Some(text) = self.sources.import(&script.text.name, path) else {
                continue;
            };
            let name = text.name.clone();
            if above.contains(&name) || above.len() > limits::MODULES {
                continue;
            }
            let module = match self.tree(engine, text) {
                Ok(module) => module,
                Err(error) => {
                    found.push(from(error, script.place(*position)));
                    continue;
                }
            };
            let own = self.imported.borrow().get(&name).map(|(own, _)| Rc::clone(own));
            if let Some(own) = own {
                above.push(name);
                let looked = self.look_into(engine, &own, &module, above);
                above.pop();
                found.extend(looked.into_iter().map(|error| from(error, script.place(*position))));
            }
            modules.insert(parts.1.name.to_string(), module);
        }
        found.extend(calls_into(&modules, script, tree));
        found
    }

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

/// The same error, with the place of the import that led there.
fn from(mut error: Diagnostic, import: Place) -> Diagnostic {
    error.places.push(import);
    error
}

/// Looks up the calls of imported functions.
fn calls_into(modules: &BTreeMap<String, Rc<AST>>, script: &Script, tree: &AST) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    tree.walk(&mut |path: &[ASTNode<'_>]| {
        let Some(ASTNode::Expr(Expr::FnCall(call, position)) | ASTNode::Stmt(Stmt::FnCall(call, position))) =
            path.last()
        else {
            return true;
        };
        let [alias] = &call.namespace.path[..] else { return true };
        let Some(module) = modules.get(alias.name.as_str()) else {
            return true;
        };
        if let Err(refusal) = has_function(module, &alias.name, &call.name, call.args.len()) {
            found.push(Diagnostic::at(refusal, script.place(*position)));
        }
        true
    });
    found
}

fn has_function(module: &AST, alias: &str, name: &str, count: usize) -> Result<(), Refusal> {
    let open = |function: &&Shared<ScriptFuncDef>| function.access == FnAccess::Public && !function.name.contains('$');
    let functions: Vec<_> = module.iter_fn_def().filter(open).collect();
    let own: Vec<_> = functions.iter().filter(|function| function.name == name).collect();
    if own.iter().any(|function| function.params.len() == count) {
        return Ok(());
    }
    let missing = format!("the imported script has no function `{alias}::{name}`");
    let Some(function) = own.first() else {
        let near = nearest(name, functions.iter().map(|function| function.name.as_str()));
        let near = near.map(|near| format!("did you mean `{alias}::{near}`?"));
        return Err(Refusal::new("unknown name", missing).maybe_hint(near));
    };
    let parameters: Vec<&str> = function.params.iter().map(ImmutableString::as_str).collect();
    let refusal = Refusal::new("arguments", format!("{missing} with this many arguments"));
    Err(refusal.hint(format!("{alias}::{name}({})", parameters.join(", "))))
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
