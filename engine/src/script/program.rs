//! Scripts read and run.

use super::bind;
use super::execute::add_statements;
use super::held::Held;
use super::limits;
use super::module::{Imported, Resolver, Unreadable};
use super::native::Functions;
use super::place::{Texts, of_run};
use super::reader::Reader;
use super::run::{self, Bindings, GivenValue, Run, Sample};
use super::source::Script;
use super::weight::weigh;
use super::wording;
use super::worked::Worked;
use crate::diagnostic::{Diagnostic, Refusal, SourceText, refuse_hidden, refuse_lines};
use crate::outcome::{CheckKind, Outcome};
use crate::quantity::text::shown;
use crate::source::Sources;
use crate::tape::{Recording, take_fault};
use rhai::packages::Package;
use rhai::{AST, Dynamic, Engine, EvalAltResult, EvalContext, OptimizationLevel, Position, Scope};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

/// The language with its functions: reads scripts and runs them.
pub struct Library {
    engine: Engine,
    reader: Reader,
    resolver: Resolver,
    /// How many times the usual work a run may do.
    times: u64,
    worked: Option<Rc<Worked>>,
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

/// A script as far as it went.
pub struct Looked {
    /// What it yielded before it ended.
    pub outcome: Outcome,
    /// What ended it before its time.
    pub refused: Option<Diagnostic>,
}

impl Library {
    /// The language, with scripts coming in through one door.
    #[must_use]
    pub fn new(sources: Rc<dyn Sources>) -> Self {
        let mut functions = Functions::default();
        bind::all(&mut functions);
        Self::with_functions(sources, functions)
    }

    /// The language with functions of a host program beside its own: `add` is given the list to add them to.
    ///
    /// ```
    /// use crankline_engine::diagnostic::SourceText;
    /// use crankline_engine::quantity::{Dimension, Quantity};
    /// use crankline_engine::script::{Bindings, Library, argument};
    /// use crankline_engine::source::NoSources;
    /// use crankline_engine::tape::{self, Recording};
    /// use std::rc::Rc;
    ///
    /// let library = Library::with_host_functions(Rc::new(NoSources), |functions| {
    ///     functions.concept("our shop");
    ///     functions.add("diagonal(a, b)", "The diagonal of a rectangle. Two lengths; a length.", |a| {
    ///         let width = argument::number(&a[0], Dimension::LENGTH, "the width")?;
    ///         let height = argument::number(&a[1], Dimension::LENGTH, "the height")?;
    ///         Ok(argument::result(Quantity::of(tape::norm(&[width, height]), Dimension::LENGTH)))
    ///     });
    /// });
    /// let script = "input a = 3.inch; step d = diagonal(a, 4.inch) as inch;";
    /// let text = SourceText { name: "frame.rhai".into(), text: script.into() };
    /// let program = library.compile(text)?;
    /// let recording = Rc::new(Recording::open());
    /// let finished = library.run(&program, Bindings::new(), &recording, 0, None)?;
    /// assert_eq!(finished.outcome.steps[0].name, "d");
    /// # Ok::<(), crankline_engine::diagnostic::Diagnostic>(())
    /// ```
    #[must_use]
    pub fn with_host_functions(sources: Rc<dyn Sources>, add: impl FnOnce(&mut Functions)) -> Self {
        let mut functions = Functions::default();
        bind::all(&mut functions);
        add(&mut functions);
        Self::with_functions(sources, functions)
    }

    fn with_functions(sources: Rc<dyn Sources>, functions: Functions) -> Self {
        let (imported, unreadable) = (Imported::default(), Unreadable::default());
        let mut engine = Engine::new_raw();
        rhai::packages::BasicIteratorPackage::new().register_into_engine(&mut engine);
        limits::set(&mut engine);
        engine.on_progress(|_| stopped(crate::tape::is_spent()));
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
        resolve_names(&mut engine);
        let reader = Reader::new(&mut engine, functions);
        let resolver = Resolver {
            sources,
            reader: reader.clone(),
            imported,
            unreadable,
        };
        engine.set_module_resolver(resolver.clone());
        let worked = Worked::read(&engine, &reader);
        Self {
            engine,
            reader,
            resolver,
            worked,
            times: 1,
        }
    }

    /// Stops a run as soon as `stop` says so; it is asked every few hundred operations. The engine has no clock.
    pub fn stop_when(&mut self, stop: impl Fn() -> bool + 'static) {
        let stop: Rc<dyn Fn() -> bool> = Rc::new(stop);
        crate::tape::stop_when(Rc::clone(&stop));
        self.engine
            .on_progress(move |operations| stopped(crate::tape::is_spent() || operations % 256 == 0 && stop()));
    }

    /// Lets a run do so many times the work that it may do otherwise: for whoever runs a script, never for the script.
    pub fn allow(&mut self, times: u32) {
        self.times = u64::from(times.max(1));
        self.engine
            .set_max_operations(limits::OPERATIONS.saturating_mul(self.times));
    }

    /// The functions of the language.
    #[must_use]
    pub fn functions(&self) -> &Functions {
        &self.reader.functions
    }

    /// Reads a script.
    ///
    /// # Errors
    /// What cannot be read in it or in a script that it imports, with its place.
    pub fn compile(&self, text: SourceText) -> Result<Program, Diagnostic> {
        let (script, tree) = self.reader.read(&self.engine, text);
        let tree = tree?;
        match self
            .resolver
            .look_ahead(&self.engine, &script, &tree)
            .into_iter()
            .next()
        {
            Some(error) => Err(error),
            None => Ok(Program { script, tree }),
        }
    }

    /// A script by itself, whatever it imports, and what cannot be read in it or would go wrong.
    pub(super) fn read_alone(&self, text: SourceText) -> (Rc<Script>, Option<Diagnostic>) {
        let (script, tree) = self.reader.read(&self.engine, text);
        (script, tree.err())
    }

    /// A script with all that is wrong with it, and with those that it imports, as far as it is seen before it runs.
    pub(super) fn read_through(&self, text: SourceText) -> (Rc<Script>, Vec<Diagnostic>) {
        let (script, mut found, tree) = self.reader.inspect(&self.engine, text);
        if let Some(tree) = tree {
            found.extend(self.resolver.look_ahead(&self.engine, &script, &tree));
        }
        (script, found)
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
        sample: Option<Sample>,
    ) -> Result<Finished, Diagnostic> {
        bindings.values().try_for_each(|given| refuse_unfit(&given.what))?;
        let mut run = Run::new(Rc::clone(&program.script), Rc::clone(recording), bindings);
        run.opened = opened;
        run.sample = sample;
        let (ended, refused) = self.went(program, run);
        if let Some(error) = refused {
            return Err(error);
        }
        let Some(mut run) = ended else {
            return Err(Refusal::new("no run", "the run was lost").into());
        };
        let results = run.held();
        run.outcome.ended = run.recording.reached();
        Ok(Finished {
            outcome: run.outcome,
            results,
            opened: run.opened,
        })
    }

    /// What a script asks for, with the values that it is given: runs it as far as it goes. What it refuses may be no
    /// matter here: readings that do not fit the examples beside them are a job half measured.
    ///
    /// # Errors
    /// A value that is no text of a reading.
    pub fn look(&self, program: &Program, bindings: Bindings) -> Result<Looked, Diagnostic> {
        bindings.values().try_for_each(|given| refuse_unfit(&given.what))?;
        let run = Run::new(Rc::clone(&program.script), Rc::new(Recording::open()), bindings);
        let (ended, refused) = self.went(program, run);
        let outcome = ended.map(|run| run.outcome).unwrap_or_default();
        Ok(Looked { outcome, refused })
    }

    /// A run as far as it went, and what ended it before its time.
    fn went(&self, program: &Program, mut run: Run) -> (Option<Run>, Option<Diagnostic>) {
        run.worked.clone_from(&self.worked);
        crate::tape::go_on();
        crate::tape::budget(Some(limits::WORK.saturating_mul(self.times)));
        run::begin(run);
        let _ = take_fault();
        let mut scope = Scope::new();
        scope.push_constant("PI", std::f64::consts::PI);
        let result = self.engine.run_ast_with_scope(&mut scope, &program.tree);
        let result = result.and_then(|()| {
            let mut filled = program.script.filled();
            filled.try_for_each(|name| no_key_of_a_quantity(&scope, name, None))
        });
        let mut ended = run::end();
        if let Some(run) = &mut ended {
            let imported = run.imported.values();
            run.outcome.imports = imported.map(|script| Arc::clone(&script.text)).collect();
        }
        let refused = result.err().map(|error| {
            let read = self.resolver.imported.borrow();
            let unread = self.resolver.unreadable.borrow();
            let others = unread.values().chain(read.values().map(|(script, _)| script));
            let texts = Texts {
                main: &program.script,
                others: others.map(Rc::clone).collect(),
            };
            let names: Vec<String> = scope.iter_raw().map(|(name, _, _)| name.to_owned()).collect();
            let mut diagnostic = of_run(&error, &texts, &self.reader.functions, &names);
            if let Some(run) = &ended {
                diagnostic.refusal = unmet(&run.outcome, diagnostic.refusal);
            }
            match ended.as_mut().and_then(|run| run.blamed.take()) {
                // The script is right to refuse it: what is wrong stands where the value was written.
                Some(place) => Diagnostic::at(diagnostic.refusal, place),
                None => diagnostic,
            }
        });
        crate::tape::budget(None);
        (ended, refused)
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

/// What a run hears that has to stop.
fn stopped(stop: bool) -> Option<Dynamic> {
    stop.then(|| Dynamic::from("stopped".to_owned()))
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

/// Where a requirement above does not hold with the readings as they are, that is why the rest cannot be calculated.
fn unmet(outcome: &Outcome, refusal: Refusal) -> Refusal {
    let requires = outcome.checks.iter().filter(|check| check.kind == CheckKind::Require);
    let broken = requires.filter(|check| check.test.holds_as_read() == Some(false));
    broken.fold(refusal, |refusal, check| {
        let words = check
            .label
            .as_ref()
            .map(|label| label.in_words(|amount| shown(amount.si, amount.dimension, amount.scale)));
        refusal.hint(format!(
            "what must hold first does not: {}",
            words.unwrap_or_else(|| check.formula.clone())
        ))
    })
}

/// A function sees, besides its own names, its script's constants, and those of the script that runs its readings.
fn resolve_names(engine: &mut Engine) {
    #[allow(deprecated, reason = "marked volatile, not deprecated; the minor version is pinned")]
    engine.on_var(|name, _index, context: EvalContext<'_, '_, '_, '_, '_, '_>| {
        let source = context.source();
        no_key_of_a_quantity(context.scope(), name, source)?;
        if let Some(value) = context.scope().get(name) {
            let counts = |items| run::with(|run| Ok(run.may_copy(source, name, items))).unwrap_or(true);
            weigh(value, counts).map_err(super::value::thrown)?;
        }
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
        let found = run::with(|run| {
            let own = source.is_none_or(|source| source == run.script.text.name);
            Ok(run.readings.get(name).filter(|_| own).cloned())
        });
        Ok(found.unwrap_or(None))
    });
}

/// The language puts an item under whatever key it is given, and asks nobody. So what a name holds is looked at when it
/// is used next.
fn no_key_of_a_quantity(scope: &Scope<'_>, name: &str, source: Option<&str>) -> Result<(), Box<EvalAltResult>> {
    let place = run::with(|run| Ok(run.script_of(source).filled_at(name))).unwrap_or(None);
    let (Some(place), Some(value)) = (place, scope.get(name)) else {
        return Ok(());
    };
    wording::keys(value).map_err(|refusal| {
        let coordinate = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
        let mut error = super::value::thrown(refusal);
        error.set_position(Position::new(coordinate(place.line).max(1), coordinate(place.column)));
        error
    })
}

/// A reading's text cannot hold what marks a quantity in a text, nor what a screen acts on, and stands on one line.
fn refuse_unfit(given: &GivenValue) -> Result<(), Refusal> {
    match given {
        GivenValue::Text(text) if wording::is_marked(text) => {
            let message = "a reading holds a character that Unicode keeps for private use";
            Err(Refusal::new("text", message))
        }
        GivenValue::Text(text) => refuse_hidden(text, "a reading").and_then(|()| refuse_lines(text, "a reading")),
        GivenValue::List(items) => items.iter().try_for_each(refuse_unfit),
        GivenValue::Fields(fields) => fields.iter().try_for_each(|(name, field)| {
            refuse_hidden(name, "the name of a reading")?;
            refuse_lines(name, "the name of a reading")?;
            refuse_unfit(field)
        }),
        _ => Ok(()),
    }
}
