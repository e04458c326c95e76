//! Names that nothing is called by, and statements where none can stand: found on the syntax tree, before a script runs.
//!
//! Rhai's own strict mode does not know that our statements give variables, so the tree is walked here with the scopes
//! that a run will have. A function sees its parameters, the constants, and the script's inputs and assumptions; a
//! closure sees what it captures, which the parser has made parameters of it.

use super::calls::Calls;
use super::grammar::{Keyword, Role, Statement};
use super::native::Functions;
use super::place::kept;
use super::source::Script;
use crate::diagnostic::{Diagnostic, Refusal, nearest};
use rhai::{
    AST, ASTFlags, ASTNode, BinaryExpr, CustomExpr, Expr, FlowControl, FnCallExpr, Module, Position, ScriptFuncDef,
    Stmt, StmtBlock,
};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Unknown names and misplaced statements: functions first, then the statements, each in the order of the text.
pub(crate) fn look(tree: &AST, script: &Script, functions: &Functions) -> Vec<Diagnostic> {
    let mut everywhere: BTreeSet<String> = script.input_names().map(str::to_owned).collect();
    everywhere.insert("PI".to_owned());
    everywhere.extend(tree.statements().iter().filter_map(constant));
    let aliases = tree.statements().iter().filter_map(alias).collect();
    let mut look = Look {
        script,
        calls: Calls::new(tree, functions),
        everywhere,
        aliases,
        scopes: vec![Vec::new()],
        given: BTreeMap::new(),
        stands: Stands::TopLevel,
        found: RefCell::default(),
    };
    look.functions(tree);
    look.scopes = vec![vec!["PI".to_owned().into()]];
    look.stands = Stands::TopLevel;
    tree.statements().iter().for_each(|statement| look.statement(statement));
    look.found.into_inner()
}

fn constant(statement: &Stmt) -> Option<String> {
    match statement {
        Stmt::Var(parts, flags, _) if flags.contains(ASTFlags::CONSTANT) => Some(parts.0.name.to_string()),
        _ => None,
    }
}

fn alias(statement: &Stmt) -> Option<String> {
    match statement {
        Stmt::Import(parts, _) => Some(parts.1.name.to_string()),
        _ => None,
    }
}

/// Where a statement stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stands {
    TopLevel,
    /// In a block: an `if`, a loop, braces.
    Block,
    Function,
    Closure,
}

/// A name that is known where the walk stands.
struct Known {
    name: String,
    /// Whether it is a number whatever the script does.
    number: bool,
}

impl From<String> for Known {
    fn from(name: String) -> Self {
        Self { name, number: false }
    }
}

struct Look<'a> {
    script: &'a Script,
    calls: Calls,
    /// Names that are seen in functions too.
    everywhere: BTreeSet<String>,
    aliases: BTreeSet<String>,
    scopes: Vec<Vec<Known>>,
    /// Names that statements at the top level gave, and their line.
    given: BTreeMap<String, usize>,
    stands: Stands,
    found: RefCell<Vec<Diagnostic>>,
}

impl Look<'_> {
    fn error(&self, refusal: Refusal, position: Position) {
        self.found.borrow_mut().push(match position.is_none() {
            true => Diagnostic::nowhere(refusal),
            false => Diagnostic::at(refusal, self.script.place(position)),
        });
    }

    /// Bodies of functions and closures, in the order of the text.
    fn functions(&mut self, tree: &AST) {
        let mut all: Vec<_> = tree.iter_fn_def().map(Rc::clone).collect();
        all.sort_by_key(|function| {
            let start = function.body.start_position();
            (start.line(), start.position())
        });
        for function in all {
            let closure = function.name.starts_with("anon$");
            self.stands = if closure { Stands::Closure } else { Stands::Function };
            let parameters: Vec<String> = function.params.iter().map(ToString::to_string).collect();
            // Among a closure's parameters stands what it captures, `PI` too.
            for parameter in parameters.iter().filter(|name| !closure || *name != "PI") {
                self.free_to_use(parameter, function.body.start_position());
            }
            self.scopes = vec![parameters.into_iter().map(Known::from).collect()];
            for statement in body(&function) {
                self.statement(&statement);
            }
        }
    }

    fn sees(&self, name: &str) -> bool {
        let local = self.scopes.iter().flatten().any(|known| known.name == name);
        local || matches!(self.stands, Stands::Function | Stands::Closure) && self.everywhere.contains(name)
    }

    fn declare(&mut self, name: &str, number: bool) {
        let (name, number) = (name.to_owned(), number && !self.script.is_reassigned(name));
        if let Some(scope) = self.scopes.last_mut() {
            scope.push(Known { name, number });
        }
    }

    /// Whether a value is a number whatever the script does. The language would take `n[0]` for the first bit of n.
    fn is_number(&self, expression: &Expr) -> bool {
        match expression {
            Expr::IntegerConstant(..) | Expr::FloatConstant(..) => true,
            Expr::Variable(name, ..) => {
                let mut known = self.scopes.iter().flatten().rev();
                known
                    .find(|known| known.name == name.1.as_str())
                    .is_some_and(|known| known.number)
            }
            Expr::FnCall(call, _) if call.op_token.is_some() => {
                matches!(call.name.as_str(), "+" | "-" | "*" | "/" | "%" | "**")
                    && call.args.iter().all(|argument| self.is_number(argument))
            }
            Expr::FnCall(call, _) => matches!(call.name.as_str(), "len" | "whole"),
            _ => false,
        }
    }

    fn has_items(&self, base: &Expr) {
        if !self.is_number(base) {
            return;
        }
        let what = match base {
            Expr::Variable(name, ..) => format!("`{}` is a number, it has no items", name.1),
            _ => "this is a number, it has no items".to_owned(),
        };
        self.error(Refusal::new("type", what), base.start_position())
    }

    /// A word that opens a clause of a statement cannot be a name: the statement would end before it.
    fn free_to_use(&self, name: &str, position: Position) {
        if CLAUSE_WORDS.contains(&name) || name == "PI" {
            self.error(kept(name), position);
        }
    }

    fn block(&mut self, block: &StmtBlock) {
        self.blocked(|look| block.statements().iter().for_each(|inner| look.statement(inner)))
    }

    fn blocked(&mut self, inside: impl FnOnce(&mut Self)) {
        let before = self.stands;
        if before == Stands::TopLevel {
            self.stands = Stands::Block;
        }
        self.scopes.push(Vec::new());
        inside(self);
        self.scopes.pop();
        self.stands = before;
    }

    fn statement(&mut self, statement: &Stmt) {
        match statement {
            Stmt::Expr(expression) => match &**expression {
                Expr::Custom(custom, position) => self.ours(custom, *position),
                other => self.expression(other),
            },
            Stmt::FnCall(call, position) => self.call(call, 0, *position),
            Stmt::Var(parts, _, _) => {
                self.expression(&parts.1);
                self.free_to_use(&parts.0.name, parts.0.pos);
                self.not_given(&parts.0.name, parts.0.pos);
                let number = self.is_number(&parts.1);
                self.declare(&parts.0.name, number);
            }
            Stmt::Assignment(parts) => self.both(&parts.1),
            Stmt::Block(block) => self.block(block),
            Stmt::If(flow, _) | Stmt::While(flow, _) | Stmt::Do(flow, _, _) => self.flow(flow),
            Stmt::For(parts, _) => self.each(parts),
            Stmt::Return(_, _, position) if matches!(self.stands, Stands::TopLevel | Stands::Block) => {
                let refusal = Refusal::new(
                    "syntax",
                    "a script runs to its last line: this would leave out what follows",
                );
                self.error(refusal.hint("put what may be left out inside an `if`"), *position)
            }
            Stmt::BreakLoop(Some(value), _, _) | Stmt::Return(Some(value), _, _) => self.expression(value),
            Stmt::Import(parts, _) => {
                self.aliases.insert(parts.1.name.to_string());
                self.expression(&parts.0)
            }
            _ => {}
        }
    }

    fn flow(&mut self, flow: &FlowControl) {
        self.expression(&flow.expr);
        self.block(&flow.body);
        self.block(&flow.branch)
    }

    fn each(&mut self, parts: &(rhai::Ident, Option<rhai::Ident>, FlowControl)) {
        let (item, counter, flow) = parts;
        self.expression(&flow.expr);
        let counts =
            matches!(&flow.expr, Expr::FnCall(call, _) if matches!(call.name.as_str(), ".." | "..=" | "range"));
        self.blocked(|look| {
            let names = std::iter::once((item, counts)).chain(counter.iter().map(|counter| (counter, true)));
            for (name, number) in names {
                look.free_to_use(&name.name, name.pos);
                look.declare(&name.name, number);
            }
            look.block(&flow.body)
        })
    }

    /// A statement of ours where a statement may stand.
    fn ours(&mut self, custom: &CustomExpr, position: Position) {
        let Some(statement) = Statement::of(&custom.state) else {
            return custom.inputs.iter().for_each(|input| self.expression(input));
        };
        let word = statement.keyword.word();
        let input = matches!(statement.keyword, Keyword::Input | Keyword::Assume);
        if self.stands == Stands::Closure {
            let refusal = Refusal::new("closure", format!("a {word} cannot stand in a closure"))
                .hint("put it after the root, the maximum or the integral")
                .hint("for each item of a list: for item in list { … }");
            return self.error(refusal, position);
        }
        if input && self.stands != Stands::TopLevel {
            return self.error(super::execute::not_at_top(word), position);
        }
        self.one_comparison(&statement, custom);
        let inputs = || statement.roles.iter().zip(&custom.inputs);
        for (role, input) in inputs() {
            if !matches!(role, Role::Name | Role::Unit) {
                self.expression(input);
            }
        }
        let keyed = statement.roles.contains(&Role::Key);
        let name = inputs().find(|(role, _)| **role == Role::Name).map(|(_, name)| name);
        if let Some((name, at)) = name.and_then(|name| Some((variable(name)?, name.position()))) {
            self.free_to_use(&name, at);
            if !keyed {
                self.give(&name, at);
                let value = inputs().find(|(role, _)| **role == Role::Value).map(|(_, value)| value);
                let number = value.is_some_and(|value| self.is_number(value));
                self.declare(&name, number);
            }
        }
    }

    /// A check has one margin: that of one comparison.
    fn one_comparison(&self, statement: &Statement, custom: &CustomExpr) {
        let word = statement.keyword.word();
        let judged = matches!(statement.keyword, Keyword::Check | Keyword::Prefer | Keyword::Require);
        let value = custom.inputs.first().filter(|_| judged);
        let (sides, position, hint) = match value {
            Some(Expr::And(sides, at)) => (sides, at, format!("two checks: {word} A; {word} B;")),
            Some(Expr::Or(sides, at)) => (sides, at, "compare with the min or the max of the limits".to_owned()),
            _ => return,
        };
        if !sides.iter().any(is_comparison) {
            return;
        }
        let refusal = Refusal::new(
            "check",
            format!("a {word} has one comparison, so that it has one margin"),
        );
        self.error(refusal.hint(hint), *position)
    }

    /// Two statements at the top level cannot give one name.
    fn give(&mut self, name: &str, position: Position) {
        self.not_given(name, position);
        if self.stands == Stands::TopLevel {
            self.given.insert(name.to_owned(), position.line().unwrap_or(0));
        }
    }

    fn not_given(&self, name: &str, position: Position) {
        match self.given.get(name) {
            Some(line) if self.stands == Stands::TopLevel => {
                let message = format!("`{name}` has been given before in this script, in line {line}");
                self.error(
                    Refusal::new("duplicate", message).hint("give each its own name"),
                    position,
                )
            }
            _ => {}
        }
    }

    fn both(&mut self, sides: &BinaryExpr) {
        self.expression(&sides.lhs);
        self.expression(&sides.rhs)
    }

    fn expression(&mut self, expression: &Expr) {
        match expression {
            Expr::Variable(name, _, position) => self.variable(&name.1, &name.2, *position),
            Expr::InterpolatedString(items, _) | Expr::Array(items, _) => {
                items.iter().for_each(|item| self.expression(item))
            }
            Expr::Map(fields, _) => fields.0.iter().for_each(|(_, field)| self.expression(field)),
            Expr::And(sides, _) | Expr::Or(sides, _) | Expr::Coalesce(sides, _) => {
                sides.iter().for_each(|side| self.expression(side))
            }
            Expr::FnCall(call, position) => self.call(call, 0, *position),
            Expr::FloatConstant(number, position) if !number.is_finite() => {
                self.error(Refusal::new("not finite", "this number is too large"), *position)
            }
            Expr::ThisPtr(position) => self.error(kept("this"), *position),
            Expr::Stmt(block) => self.block(block),
            Expr::Dot(sides, flags, _) | Expr::Index(sides, flags, _) => {
                self.expression(&sides.lhs);
                if matches!(expression, Expr::Index(..)) {
                    self.has_items(&sides.lhs);
                }
                self.chain(&sides.rhs, *flags, matches!(expression, Expr::Index(..)))
            }
            Expr::Custom(custom, position) => self.inside(custom, *position),
            _ => {}
        }
    }

    /// What follows a point or stands in square brackets. Chains lean right: `a[0].x` is `Index(a, Dot(0, x))`.
    fn chain(&mut self, link: &Expr, flags: ASTFlags, index: bool) {
        if let Expr::Dot(sides, inner, _) | Expr::Index(sides, inner, _) = link
            && !flags.contains(ASTFlags::BREAK)
        {
            self.link(&sides.lhs, index);
            return self.chain(&sides.rhs, *inner, matches!(link, Expr::Index(..)));
        }
        self.link(link, index)
    }

    fn link(&mut self, link: &Expr, index: bool) {
        match link {
            Expr::MethodCall(call, position) => self.call(call, 1, *position),
            Expr::Property(..) => {}
            other if index => self.expression(other),
            Expr::Dot(..) | Expr::Index(..) => self.chain(link, ASTFlags::empty(), false),
            other => self.expression(other),
        }
    }

    /// A statement of ours, or `plus_minus` before a value, where an expression stands.
    fn inside(&mut self, custom: &CustomExpr, position: Position) {
        let Some(keyword) = Statement::of(&custom.state).map(|found| found.keyword) else {
            return custom.inputs.iter().for_each(|input| self.expression(input));
        };
        let word = keyword.word();
        let refusal = Refusal::new("statement", format!("a {word} is a statement of its own, not a value"));
        let hint = if keyword.declares() {
            format!("{word} NAME = …; on a line of its own, then use NAME")
        } else {
            format!("{word} …; on a line of its own")
        };
        self.error(refusal.hint(hint), position)
    }

    fn variable(&self, name: &str, path: &rhai::Namespace, position: Position) {
        if let Some(first) = path.path.first() {
            return self.alias(&first.name, first.pos);
        }
        if self.sees(name) {
            return;
        }
        let message = format!("nothing is called `{name}` here");
        let refusal = Refusal::new("unknown name", message);
        if self.calls.has(name) {
            return self.error(
                refusal.hint(format!("a function is called with brackets: {name}(…)")),
                position,
            );
        }
        let own = self
            .script
            .extent_at(position)
            .and_then(|extent| extent.name.as_deref());
        if own == Some(name) && self.stands != Stands::Closure {
            return self.error(
                refusal.hint(format!(
                    "`{name}` is what this line gives: what it is made of needs a name of its own"
                )),
                position,
            );
        }
        let local = self.scopes.iter().flatten().map(|known| known.name.as_str());
        let everywhere = self.everywhere.iter().map(String::as_str);
        let seen = everywhere.filter(|_| matches!(self.stands, Stands::Function | Stands::Closure));
        let near = nearest(name, local.chain(seen)).map(|near| format!("did you mean `{near}`?"));
        let later = self.later(name).filter(|_| near.is_none());
        self.error(refusal.maybe_hint(near).maybe_hint(later), position)
    }

    /// A name that the script gives elsewhere.
    fn later(&self, name: &str) -> Option<String> {
        let extent = self
            .script
            .extents
            .iter()
            .find(|extent| extent.name.as_deref() == Some(name))?;
        let line = self.script.lexemes.get(extent.at)?.line;
        let word = extent.keyword.word();
        Some(match self.stands {
            Stands::Function | Stands::Closure => {
                format!("a function does not see the {word} of line {line}: give it as an argument")
            }
            _ if extent.depth > 0 => format!("the {word} of line {line} is known inside its braces only"),
            _ => format!("the {word} of line {line} comes later: move it up"),
        })
    }

    fn alias(&self, name: &str, position: Position) {
        if self.aliases.contains(name) {
            return;
        }
        let near = nearest(name, self.aliases.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?"));
        let hint = near.unwrap_or_else(|| format!("import \"…\" as {name}; at the top"));
        let message = format!("no imported script is called `{name}` here");
        self.error(Refusal::new("unknown name", message).hint(hint), position)
    }

    fn call(&mut self, call: &FnCallExpr, object: usize, position: Position) {
        if let Some(first) = call.namespace.path.first() {
            self.alias(&first.name, first.pos);
        } else if call.op_token.is_none()
            && !OPERATORS.contains(&call.name.as_str())
            && let Err(refusal) = self.calls.check(&call.name, call.args.len(), object)
        {
            return self.error(refusal, position);
        }
        if is_order(&call.name) && call.args.iter().any(is_comparison) {
            let refusal = Refusal::new("comparison", "one comparison cannot be compared further")
                .hint("two comparisons: a < b && b < c")
                .hint("in a check: check b from a to c");
            return self.error(refusal, position);
        }
        call.args.iter().for_each(|argument| self.expression(argument))
    }
}

fn is_order(sign: &str) -> bool {
    matches!(sign, "<" | "<=" | ">" | ">=")
}

fn is_comparison(expression: &Expr) -> bool {
    match expression {
        Expr::FnCall(call, _) => is_order(&call.name) || matches!(call.name.as_str(), "==" | "!="),
        Expr::And(sides, _) | Expr::Or(sides, _) => sides.iter().any(is_comparison),
        _ => false,
    }
}

/// Words that open a clause, besides those that the language keeps anyway.
const CLAUSE_WORDS: [&str; 7] = ["from", "to", "one_of", "signs", "how", "per", "as"];

/// Signs of ours that are words: to the tree they are calls.
const OPERATORS: [&str; 2] = ["plus_minus", "std_dev"];

fn variable(expression: &Expr) -> Option<String> {
    match expression {
        Expr::Variable(name, ..) => Some(name.1.to_string()),
        _ => None,
    }
}

/// The statements of a function's body: the tree gives them away while it is walked.
pub(super) fn body(function: &Rc<ScriptFuncDef>) -> Vec<Stmt> {
    let mut alone = Module::new();
    alone.set_script_fn(Rc::clone(function));
    let mut statements = Vec::new();
    AST::new([], alone).walk(&mut |path: &[ASTNode<'_>]| {
        if let [ASTNode::Stmt(statement)] = path {
            statements.push((*statement).clone());
        }
        true
    });
    statements
}
