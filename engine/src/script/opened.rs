//! A function's own lines, as one call of it went: what stands below a formula that calls it.
//!
//! A reader can do `cardan::harmonic(a, b, c)` again only if he sees what is inside. A function that is straight-line
//! (names, then a value) is opened: its lines are worked out once more beside the tape, each printed as a step's formula
//! is. One with a loop or a statement of ours in it is not. What the engine's own functions do is written in the language
//! too ([`super::worked`]) and opened in the same way. An opening that comes to another value than the call did is dropped:
//! nothing is shown that did not happen.

use super::formula::{Printer, short};
use super::{coordinates, names, run, value, wording};
use crate::outcome::{Line, Opened, Phrase};
use crate::quantity::Quantity;
use crate::tape;
use rhai::{ASTFlags, Dynamic, EvalContext, Expr, FnCallExpr, Map, Module, Position, ScriptFuncDef, Shared, Stmt};

/// Functions within functions are opened so deep.
const DEPTH: usize = 4;
/// So many lines are opened below one formula.
const LINES: usize = 80;

/// A function whose lines can be shown.
struct Found {
    function: Shared<ScriptFuncDef>,
    /// Name of the text that it stands in.
    source: Option<String>,
    /// The module that it stands in, whose functions it may call.
    module: Option<Shared<Module>>,
}

impl Printer<'_, '_, '_, '_, '_, '_, '_> {
    /// Opens a call of a script's own function, or of one of the engine's that is written in the language too.
    pub(super) fn open_call(&mut self, call: &FnCallExpr) {
        let Some(found) = self.function(call).or_else(|| written_out(&call.name, call.args.len())) else {
            return;
        };
        let whole = Expr::FnCall(call.clone().into(), Position::NONE);
        self.open(&found, &call.name, &call.args, &whole);
    }

    /// Opens a property or a method of one of the engine's things: `tube.Z`, `wire.resistance_per_length(t)`.
    pub(super) fn open_link(&mut self, expression: &Expr) {
        let Expr::Dot(sides, flags, _) = expression else { return };
        let (name, arguments): (&str, &[Expr]) = match &sides.rhs {
            Expr::Property(name, _) => (&name.2, &[]),
            Expr::MethodCall(call, _) => (&call.name, &call.args),
            _ => return,
        };
        if flags.contains(ASTFlags::NEGATED) || !matches!(sides.lhs, Expr::Variable(..)) {
            return;
        }
        let Some(kind) = self.aside(&sides.lhs).as_ref().and_then(value::kind) else {
            return;
        };
        let Some(found) = written_out(&format!("{kind}_{name}"), arguments.len() + 1) else {
            return;
        };
        let mut all = vec![sides.lhs.clone()];
        all.extend(arguments.iter().cloned());
        let words = self.words(expression);
        let words = words.split('(').next().unwrap_or(&words);
        self.open(&found, words, &all, expression);
    }

    fn open(&mut self, found: &Found, name: &str, arguments: &[Expr], whole: &Expr) {
        // What the engine's own functions ask themselves for is a table's value, or what is tried.
        let itself = self.within.as_ref() == Some(&found.function.name);
        if itself || self.depth >= DEPTH || self.lines >= LINES {
            return;
        }
        let body = names::body(&found.function);
        let Some(given) = arguments
            .iter()
            .map(|argument| self.aside(argument))
            .collect::<Option<Vec<_>>>()
        else {
            return;
        };
        let parameters: Vec<String> = found.function.params.iter().map(ToString::to_string).collect();
        let written = run::with(|run| {
            Ok(run
                .script_of(found.source.as_deref())
                .lines_of(found.function.body.start_position())
                .unwrap_or_default())
        })
        .unwrap_or_default();
        if written.len() != body.len() {
            return;
        }
        let given: Vec<(String, Dynamic)> = parameters.into_iter().zip(given).collect();
        let Some((lines, result)) = self.body(found, &body, &given, written) else {
            return;
        };
        let happened = self.aside(whole);
        if !happened.is_some_and(|happened| same(&happened, &result)) {
            return;
        }
        let given = given.iter().map(|(name, value)| (name.clone(), on_paper(value, None)));
        let given = given.filter(|(_, value)| !value.pieces.is_empty()).collect();
        let opened = Opened {
            function: name.to_owned(),
            given,
            lines,
        };
        if !self.opened.contains(&opened) {
            self.lines += opened.lines.len();
            self.opened.push(opened);
        }
    }

    /// The function's lines with what its last one gives; nothing where it is not straight-line.
    fn body(
        &mut self,
        found: &Found,
        body: &[Stmt],
        given: &[(String, Dynamic)],
        written: Vec<String>,
    ) -> Option<(Vec<Line>, Dynamic)> {
        let depth = self.depth + 1;
        let mut frame = self.context.new_frame().rewind_scope(true).up_call_level();
        if let Some(source) = &found.source {
            frame = frame.with_source(source.as_str());
        }
        if let Some(module) = &found.module {
            frame = frame.with_new_caching_layer().with_namespace(Shared::clone(module));
        }
        for (name, value) in given {
            frame.scope_mut().push_constant_dynamic(name.clone(), value.clone());
        }
        let mut lines = Vec::new();
        let mut statements = body.iter().zip(written).peekable();
        while let Some((statement, formula)) = statements.next() {
            let last = statements.peek().is_none();
            let (name, expression) = match statement {
                Stmt::Var(parts, ..) if !last => (Some(parts.0.name.to_string()), parts.1.clone()),
                other if last => (None, Printer::new(&mut frame, depth).gives(other)?),
                _ => return None,
            };
            let mut inner = Printer::new(&mut frame, depth);
            inner.within = Some(found.function.name.clone());
            let substituted = inner.whole(&expression);
            let opened = std::mem::take(&mut inner.opened);
            let value = inner.aside(&expression)?;
            lines.push(Line {
                name: name.clone(),
                formula,
                substituted,
                // What has no value on paper (a material, a section) is passed over.
                value: on_paper(&value, Some(&expression)),
                opened,
            });
            match name {
                Some(name) => {
                    frame.scope_mut().push_constant_dynamic(name, value);
                }
                None => return Some((lines, value)),
            }
        }
        None
    }

    /// The expression that a function's last statement gives: of an `if` that of the side taken.
    fn gives(&mut self, statement: &Stmt) -> Option<Expr> {
        match statement {
            Stmt::Expr(only) => Some((**only).clone()),
            Stmt::FnCall(call, position) => Some(Expr::FnCall(call.clone(), *position)),
            Stmt::If(choice, _) => {
                let side = if self.aside(&choice.expr)?.as_bool().ok()? {
                    &choice.body
                } else {
                    &choice.branch
                };
                match side.statements() {
                    [only] => self.gives(only),
                    _ => None,
                }
            }
            _ => None,
        }
    }

    /// A script's function: of its own or of a module.
    fn function(&self, call: &FnCallExpr) -> Option<Found> {
        let count = call.args.len();
        match call.namespace.path.as_slice() {
            [] => {
                let mut modules = self.context.iter_namespaces();
                let function = modules.find_map(|module| module.get_script_fn(&*call.name, count).cloned())?;
                Some(Found {
                    function,
                    source: self.context.source().map(str::to_owned),
                    module: None,
                })
            }
            [alias] => {
                let module = module(self.context, &alias.name)?;
                let function = module.get_script_fn(&*call.name, count).cloned()?;
                Some(Found {
                    function,
                    source: module.id().map(str::to_owned),
                    module: Some(module),
                })
            }
            _ => None,
        }
    }
}

fn module(context: &EvalContext<'_, '_, '_, '_, '_, '_>, alias: &str) -> Option<Shared<Module>> {
    let global = context.global_runtime_state();
    global.get_shared_import(global.find_import(alias)?)
}

/// One of the engine's own functions as it is written in the language.
fn written_out(name: &str, count: usize) -> Option<Found> {
    let worked = run::with(|run| Ok(run.worked.clone())).ok()??;
    let function = worked.function(name, count)?;
    Some(Found {
        function,
        source: Some(super::worked::NAME.to_owned()),
        module: None,
    })
}

/// A value as a formula would have it, a map in the order in which it was written; nothing for what cannot be written
/// down: a material, a section.
fn on_paper(value: &Dynamic, expression: Option<&Expr>) -> Phrase {
    // Its numbers are worked out beside the tape as those of the formula are.
    tape::aside(|| written(value, expression))
}

fn written(value: &Dynamic, expression: Option<&Expr>) -> Phrase {
    if let (Some(map), Some(Expr::Map(fields, _))) = (value.read_lock::<Map>(), expression) {
        let fields = fields.0.iter();
        let fields = fields.map(|(name, _)| Some(format!("{}: {}", name.name, short(map.get(name.name.as_str())?)?)));
        let fields: Option<Vec<String>> = fields.collect();
        return fields.map_or_else(Phrase::default, |fields| {
            wording::phrase(&format!("({})", fields.join(", ")))
        });
    }
    short(value).map(|text| wording::phrase(&text)).unwrap_or_default()
}

/// Whether both are the same numbers, but for the order in which they were added.
fn same(a: &Dynamic, b: &Dynamic) -> bool {
    if let (Some(a), Some(b)) = (value::as_quantity(a), value::as_quantity(b)) {
        return like(a, b);
    }
    if let (Some(a), Some(b)) = (coordinates::of(a), coordinates::of(b)) {
        return a.each.into_iter().zip(b.each).all(|(a, b)| like(a, b));
    }
    if let (Some(a), Some(b)) = (a.read_lock::<Map>(), b.read_lock::<Map>()) {
        return a.len() == b.len()
            && a.iter()
                .all(|(key, item)| b.get(key).is_some_and(|other| same(item, other)));
    }
    if let (Some(a), Some(b)) = (a.read_lock::<rhai::Array>(), b.read_lock::<rhai::Array>()) {
        return a.len() == b.len() && a.iter().zip(b.iter()).all(|(a, b)| same(a, b));
    }
    matches!((a.as_bool(), b.as_bool()), (Ok(a), Ok(b)) if a == b)
}

fn like(a: Quantity, b: Quantity) -> bool {
    let (x, y) = (a.number().shown(), b.number().shown());
    a.dimension() == b.dimension() && (x - y).abs() <= 1e-9 * (x.abs() + y.abs()) + 1e-15
}
