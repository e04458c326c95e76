//! Scripts read and run.

use super::bind;
use super::execute::add_statements;
use super::limits;
use super::native::Functions;
use super::place::{Texts, of_parse, of_run};
use super::run::{self, Bindings, Held, Run};
use super::source::Script;
use super::traps;
use crate::diagnostic::{Diagnostic, Refusal, SourceText};
use crate::outcome::Outcome;
use crate::source::Sources;
use crate::tape::{Recording, take_fault};
use rhai::packages::Package;
use rhai::{
    AST, Dynamic, Engine, EvalAltResult, EvalContext, Module, ModuleResolver, OptimizationLevel, ParseError, Position,
    Scope, Shared, Token,
};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

/// The language with its functions: reads scripts and runs them.
pub struct Library {
    engine: Engine,
    functions: Functions,
    tokens: Tokens,
    imported: Rc<RefCell<BTreeMap<String, Rc<Script>>>>,
}

/// A script that has been read.
pub struct Program {
    script: Rc<Script>,
    tree: AST,
}

/// What one run leaves behind.
pub struct Finished {
    /// What it yielded.
    pub outcome: Outcome,
    /// Values of its steps and inputs, for links to later runs.
    pub results: BTreeMap<String, Held>,
    /// How many inputs of the tape have been opened in all.
    pub opened: usize,
}

type Tokens = Rc<RefCell<Vec<(Token, Position)>>>;

impl Library {
    /// The language, with scripts coming in through one door.
    #[must_use]
    pub fn new(sources: Rc<dyn Sources>) -> Self {
        let mut functions = Functions::default();
        bind::all(&mut functions);
        Self::with_functions(sources, functions)
    }

    /// The language with functions of a host program beside its own: `add` is given the list to add them to.
    #[must_use]
    pub fn with_host_functions(sources: Rc<dyn Sources>, add: impl FnOnce(&mut Functions)) -> Self {
        let mut functions = Functions::default();
        bind::all(&mut functions);
        add(&mut functions);
        Self::with_functions(sources, functions)
    }

    fn with_functions(sources: Rc<dyn Sources>, functions: Functions) -> Self {
        let tokens = Tokens::default();
        let imported = Rc::default();
        let mut engine = Engine::new_raw();
        rhai::packages::BasicIteratorPackage::new().register_into_engine(&mut engine);
        limits::set(&mut engine);
        engine.set_fast_operators(false);
        engine.set_optimization_level(OptimizationLevel::None);
        engine.set_fail_on_invalid_map_property(true);
        for word in ["switch", "try", "catch", "throw", "eval", "print", "debug"] {
            engine.disable_symbol(word);
        }
        // Looser than any sign of arithmetic, tighter than a comparison: `a + b plus_minus c` states the sum.
        for word in ["plus_minus", "std_dev"] {
            let registered = engine.register_custom_operator(word, 135);
            debug_assert!(registered.is_ok(), "both words are free");
        }
        add_prefix(&mut engine);
        add_statements(&mut engine);
        functions.register(&mut engine);
        listen(&mut engine, &tokens);
        resolve_names(&mut engine);
        engine.set_module_resolver(Resolver {
            sources,
            tokens: Rc::clone(&tokens),
            imported: Rc::clone(&imported),
        });
        Self {
            engine,
            functions,
            tokens,
            imported,
        }
    }

    /// Stops a run as soon as `stop` says so; it is asked every few thousand operations. The engine has no clock.
    pub fn stop_when(&mut self, stop: impl Fn() -> bool + 'static) {
        self.engine.on_progress(move |operations| {
            (operations % 4096 == 0 && stop()).then(|| Dynamic::from("stopped".to_owned()))
        });
    }

    /// The functions of the language.
    #[must_use]
    pub fn functions(&self) -> &Functions {
        &self.functions
    }

    /// Reads a script.
    ///
    /// # Errors
    /// What cannot be read, with its place.
    pub fn compile(&self, text: SourceText) -> Result<Program, Diagnostic> {
        let text = Arc::new(text);
        refuse_text(&text)?;
        self.tokens.borrow_mut().clear();
        let parsed = self.engine.compile(&text.text);
        let script = Rc::new(Script::new(Arc::clone(&text), self.tokens.take()));
        traps::look(&script)?;
        let mut tree = parsed.map_err(|error| of_parse(&error, &script))?;
        tree.set_source(text.name.as_str());
        super::names::look(&tree, &script, &self.functions)?;
        Ok(Program { script, tree })
    }

    /// Runs a script on what it is given, recording into `recording`; `opened` inputs of it are taken already. Where
    /// there is a `sample`, it replaces the readings' values, in the order of the tape's inputs.
    ///
    /// # Errors
    /// What went wrong, with its place.
    pub fn run(
        &self,
        program: &Program,
        bindings: Bindings,
        recording: &Rc<Recording>,
        opened: usize,
        sample: Option<Vec<f64>>,
    ) -> Result<Finished, Diagnostic> {
        let mut run = Run::new(Rc::clone(&program.script), Rc::clone(recording), bindings);
        run.opened = opened;
        run.sample = sample;
        run.imported.clone_from(&self.imported.borrow());
        run::begin(run);
        let _ = take_fault();
        let mut scope = Scope::new();
        scope.push_constant("PI", std::f64::consts::PI);
        let result = self.engine.run_ast_with_scope(&mut scope, &program.tree);
        let ended = run::end();
        if let Err(error) = result {
            let texts = Texts {
                main: &program.script,
                others: self.imported.borrow().values().map(Rc::clone).collect(),
            };
            let names: Vec<String> = scope.iter_raw().map(|(name, _, _)| name.to_owned()).collect();
            let diagnostic = of_run(&error, &texts, &self.functions, &names);
            return Err(match ended.and_then(|run| run.blamed) {
                // The script is right to refuse it: what is wrong stands where the value was written.
                Some(place) => Diagnostic::at(diagnostic.refusal, place),
                None => diagnostic,
            });
        }
        let Some(mut run) = ended else {
            return Err(Refusal::new("no run", "the run was lost").into());
        };
        let results = run.held();
        Ok(Finished {
            outcome: run.outcome,
            results,
            opened: run.opened,
        })
    }
}

impl Program {
    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.script.text.name
    }

    /// What it is for: the `//!` lines at its top.
    #[must_use]
    pub fn description(&self) -> String {
        self.script.description()
    }

    /// Its text.
    #[must_use]
    pub fn text(&self) -> &SourceText {
        &self.script.text
    }

    /// Names of its inputs and assumptions, known without running it.
    pub fn input_names(&self) -> impl Iterator<Item = &str> {
        self.script.input_names()
    }
}

/// `readings([…], plus_minus y)`: the word before its value only.
fn add_prefix(engine: &mut Engine) {
    for word in ["plus_minus", "std_dev"] {
        engine.register_custom_syntax_with_state_raw(
            word,
            |symbols, _, _| Ok((symbols.len() < 2).then(|| "$expr$".into())),
            false,
            move |context, inputs, _| match inputs.first() {
                Some(width) => context.eval_expression_tree(width),
                None => Ok(Dynamic::UNIT),
            },
        );
    }
}

/// Keeps every token with its place, for messages and formulas.
fn listen(engine: &mut Engine, tokens: &Tokens) {
    let tokens = Rc::clone(tokens);
    #[allow(deprecated, reason = "marked volatile, not deprecated; the minor version is pinned")]
    engine.on_parse_token(move |token, position, _| {
        tokens.borrow_mut().push((token.clone(), position));
        token
    });
}

/// A function sees, besides its own names, its script's constants, and those of the script that runs its readings.
fn resolve_names(engine: &mut Engine) {
    #[allow(deprecated, reason = "marked volatile, not deprecated; the minor version is pinned")]
    engine.on_var(|name, _index, context: EvalContext<'_, '_, '_, '_, '_, '_>| {
        if context.call_level() == 0 || context.scope().contains(name) {
            return Ok(None);
        }
        if name == "PI" {
            return Ok(Some(Dynamic::from(std::f64::consts::PI)));
        }
        let constants = context.global_runtime_state().constants.as_ref();
        if let Some(constant) = constants.and_then(|constants| constants.borrow().get(name).cloned()) {
            return Ok(Some(constant));
        }
        let source = context.source().map(str::to_owned);
        let found = run::with(|run| {
            let own = source.as_deref().is_none_or(|source| source == run.script.text.name);
            Ok(run.readings.get(name).filter(|_| own).cloned())
        });
        Ok(found.unwrap_or(None))
    });
}

fn refuse_text(text: &Arc<SourceText>) -> Result<(), Diagnostic> {
    if text.text.len() > limits::SOURCE {
        let message = format!("the script is longer than {} bytes", limits::SOURCE);
        return Err(Refusal::new("limit", message).into());
    }
    if super::wording::is_marked(&text.text) {
        let message = "the script holds a character that Unicode keeps for private use (U+E000 or U+E001)";
        return Err(Refusal::new("text", message).into());
    }
    Ok(())
}

/// Takes scripts as modules, through the one door.
struct Resolver {
    sources: Rc<dyn Sources>,
    tokens: Tokens,
    imported: Rc<RefCell<BTreeMap<String, Rc<Script>>>>,
}

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
        let from = source.unwrap_or("");
        let text = self.sources.import(from, path).ok_or_else(not_found)?;
        if RESOLVING.with_borrow(|names| names.contains(&text.name)) {
            let message = format!("`{path}` imports itself in a circle");
            return Err(super::value::thrown(Refusal::new("import", message)));
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
        let text = Arc::new(text);
        let outer = self.tokens.take();
        let first = engine.compile(&text.text);
        let script = Rc::new(Script::new(Arc::clone(&text), self.tokens.take()));
        let parsed = first.and_then(|_| engine.compile(script.as_module()));
        self.tokens.replace(outer);
        self.imported.borrow_mut().insert(text.name.clone(), Rc::clone(&script));
        let _ = run::with(|run| {
            run.imported.insert(text.name.clone(), Rc::clone(&script));
            Ok(())
        });
        let mut tree = parsed.map_err(|ParseError(kind, at)| {
            let inner = EvalAltResult::ErrorParsing(*kind, at);
            EvalAltResult::ErrorInModule(text.name.clone(), inner.into(), position)
        })?;
        tree.set_source(text.name.as_str());
        let module = Module::eval_ast_as_new(Scope::new(), &tree, engine)
            .map_err(|error| EvalAltResult::ErrorInModule(text.name.clone(), error, position))?;
        Ok(module.into())
    }
}
