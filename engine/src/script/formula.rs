//! A formula with its numbers put in, printed from the syntax tree.

use super::{coordinates, run, value, wording};
use crate::outcome::{Opened, Phrase};
use crate::quantity::{Quantity, units};
use crate::tape;
use rhai::{ASTFlags, Array, Dynamic, EvalContext, Expr, FnCallExpr, ImmutableString, Map, Position, Stmt, StmtBlock};

/// The longest formula that is printed.
const LENGTH: usize = 2_000;

/// The expression with the value of each name in it. What has no short value (a structure, a material) keeps its name; a
/// unit that is written out stays the unit written; a call of a script's own function shows what it was given, and is
/// opened beside the formula.
pub(crate) fn substituted(
    context: &mut EvalContext<'_, '_, '_, '_, '_, '_>,
    expression: &Expr,
) -> (Phrase, Vec<Opened>) {
    let before = run::with(|run| Ok(run.written.len())).unwrap_or(0);
    let mut printer = Printer::new(context, 0);
    let phrase = printer.whole(expression);
    let opened = printer.opened;
    // The marks were for this formula alone.
    let _ = run::with(|run| {
        run.written.truncate(before);
        Ok(())
    });
    (phrase, opened)
}

/// Prints formulas.
pub(super) struct Printer<'s, 'a, 'b, 'd, 'e, 'f, 'g> {
    pub(super) context: &'s mut EvalContext<'a, 'b, 'd, 'e, 'f, 'g>,
    /// The functions called, each with its own lines.
    pub(super) opened: Vec<Opened>,
    /// The function whose line this is.
    pub(super) within: Option<ImmutableString>,
    /// How many functions are open around this formula, and how many lines were shown in it.
    pub(super) depth: usize,
    pub(super) lines: usize,
}

/// How tightly a sign binds; 0 for what is no sign.
fn binding(sign: &str) -> u8 {
    match sign {
        "<" | "<=" | ">" | ">=" | "==" | "!=" => COMPARISON,
        "+" | "-" => SUM,
        "*" | "/" | "%" => PRODUCT,
        "**" => POWER,
        _ => 0,
    }
}

const OR: u8 = 1;
const AND: u8 = 2;
const COMPARISON: u8 = 3;
const SUM: u8 = 4;
const PRODUCT: u8 = 5;
const POWER: u8 = 6;
/// Around the base of a power: there a unit and a sign need brackets too.
const BASE: u8 = 7;

fn bracketed(text: String, when: bool) -> String {
    if when { format!("({text})") } else { text }
}

impl<'s, 'a, 'b, 'd, 'e, 'f, 'g> Printer<'s, 'a, 'b, 'd, 'e, 'f, 'g> {
    pub(super) fn new(context: &'s mut EvalContext<'a, 'b, 'd, 'e, 'f, 'g>, depth: usize) -> Self {
        Self {
            context,
            opened: Vec::new(),
            within: None,
            depth,
            lines: 0,
        }
    }

    /// A formula that stands on a line of its own.
    pub(super) fn whole(&mut self, expression: &Expr) -> Phrase {
        let text = match expression {
            // The formula's own call: its result is that of the line.
            Expr::FnCall(call, _) if binding(&call.name) == 0 => {
                let text = self.call_in_words(call);
                self.open_call(call);
                text
            }
            other => self.print(other, 0),
        };
        if text.len() > LENGTH {
            return Phrase::words("(too long to print)");
        }
        wording::phrase(&text)
    }

    fn print(&mut self, expression: &Expr, around: u8) -> String {
        match expression {
            Expr::IntegerConstant(number, _) => bracketed(number.to_string(), *number < 0 && around > SUM),
            Expr::FloatConstant(number, _) => bracketed(number.to_string(), **number < 0.0 && around > SUM),
            Expr::BoolConstant(truth, _) => if *truth { "yes" } else { "no" }.to_owned(),
            Expr::StringConstant(text, _) => format!("\"{text}\""),
            Expr::Variable(..) | Expr::Dot(..) | Expr::Index(..) => self.named(expression, around),
            Expr::FnCall(call, _) => self.call(call, around),
            Expr::Array(items, _) => format!("[{}]", self.items(items)),
            Expr::Map(fields, _) => self.fields(&fields.0),
            Expr::And(sides, _) => bracketed(self.joined(sides, " and ", AND), around > AND),
            Expr::Stmt(block) => self.taken(block, around).unwrap_or_else(|| "…".to_owned()),
            Expr::Or(sides, _) => bracketed(self.joined(sides, " or ", OR), around > OR),
            _ => "…".to_owned(),
        }
    }

    fn list(&mut self, items: &[Expr]) -> String {
        items
            .iter()
            .map(|item| self.print(item, 0))
            .collect::<Vec<_>>()
            .join(", ")
    }

    /// The items of a list that is written out; of a long one the first, and how many there are.
    fn items(&mut self, items: &[Expr]) -> String {
        let first: Vec<String> = items
            .iter()
            .take(first_of(items.len()))
            .map(|item| self.print(item, 0))
            .collect();
        counted(first, items.len())
    }

    /// A map that is written out: `(current: 22 A, ambient: 60 °C)`.
    fn fields<K: AsRef<str>>(&mut self, fields: &[(K, Expr)]) -> String {
        let fields: Vec<String> = fields
            .iter()
            .map(|(key, value)| format!("{}: {}", key.as_ref(), self.print(value, 0)))
            .collect();
        format!("({})", fields.join(", "))
    }

    fn joined(&mut self, sides: &[Expr], with: &str, own: u8) -> String {
        let sides: Vec<String> = sides.iter().map(|side| self.print(side, own + 1)).collect();
        sides.join(with)
    }

    fn call(&mut self, call: &FnCallExpr, around: u8) -> String {
        let own = binding(&call.name);
        match (&call.args[..], own) {
            ([left, right], 1..) => {
                // Signs of one kind go from left to right, powers stand in brackets on either side.
                let left = self.print(left, if own == POWER { BASE } else { own });
                let right = self.print(right, own + 1);
                let sign = match &*call.name {
                    "*" => " × ".to_owned(),
                    "**" => "^".to_owned(),
                    other => format!(" {other} "),
                };
                bracketed(format!("{left}{sign}{right}"), own < around)
            }
            ([only], SUM) => {
                // `-x^2` can be read in two ways.
                let signs = matches!(only, Expr::FnCall(inner, _) if binding(&inner.name) > 0 && inner.args.len() == 2);
                let operand = bracketed(self.print(only, if signs { 0 } else { PRODUCT }), signs);
                bracketed(format!("{}{operand}", call.name), around >= SUM)
            }
            ([only], _) if call.name == "!" => bracketed(format!("not {}", self.print(only, COMPARISON)), around > AND),
            _ if PLAIN.contains(&&*call.name) && call.namespace.path.is_empty() => self.call_in_words(call),
            _ => {
                let call_again = Expr::FnCall(call.clone().into(), Position::NONE);
                let of_a_script = self.is_of_a_script(call);
                // Its words and its value stand in brackets of their own.
                let Some(found) = self.worked_out(&call_again, if of_a_script { 0 } else { around }) else {
                    return self.call_in_words(call);
                };
                let in_words = of_a_script.then(|| self.call_in_words(call));
                self.open_call(call);
                in_words.map_or(found.clone(), |words| format!("({words} = {found})"))
            }
        }
    }

    /// A call with its arguments in numbers. Of one list its items stand in the call's own brackets: `sum(14 A, 9 A)`.
    fn call_in_words(&mut self, call: &FnCallExpr) -> String {
        let arguments = self.list(&call.args);
        let items = arguments.strip_prefix('[').and_then(|rest| rest.strip_suffix(']'));
        let items = items.filter(|_| call.args.len() == 1 && PLAIN.contains(&&*call.name));
        format!("{}{}({})", path(call), call.name, items.unwrap_or(&arguments))
    }

    /// Whether a script has the function: of its own or in a module.
    fn is_of_a_script(&self, call: &FnCallExpr) -> bool {
        !call.namespace.path.is_empty()
            || self
                .context
                .iter_namespaces()
                .any(|module| module.get_script_fn(&*call.name, call.args.len()).is_some())
    }

    /// A value worked out beside the tape.
    pub(super) fn aside(&mut self, expression: &Expr) -> Option<Dynamic> {
        let found = tape::aside(|| self.context.eval_expression_tree(&expression.into()));
        let fault = tape::take_fault();
        found.ok().filter(|_| fault.is_none()).map(Dynamic::flatten)
    }

    /// The same in words; nothing where it has no short ones.
    fn worked_out(&mut self, expression: &Expr, around: u8) -> Option<String> {
        let found = self.aside(expression)?;
        tape::aside(|| shown(&found, around))
    }

    /// The side of an `if` that is taken.
    fn taken(&mut self, block: &StmtBlock, around: u8) -> Option<String> {
        match block.statements() {
            [Stmt::Expr(only)] => Some(self.print(only, around)),
            [Stmt::If(choice, _)] => {
                let side = if self.aside(&choice.expr)?.as_bool().ok()? {
                    &choice.body
                } else {
                    &choice.branch
                };
                self.taken(side, around)
            }
            _ => None,
        }
    }

    /// A name, a property or an item: its value where that is one quantity, else the formula's own words.
    fn named(&mut self, expression: &Expr, around: u8) -> String {
        if matches!(expression, Expr::Variable(name, ..) if &*name.1 == "PI") {
            return "π".to_owned();
        }
        if let Some(unit) = written_out(expression)
            && let Some(text) = self.in_unit(expression, unit, around)
        {
            return text;
        }
        self.open_link(expression);
        self.worked_out(expression, around)
            .unwrap_or_else(|| self.words(expression))
    }

    /// A quantity that is written out, in the unit written: one radian is no 57.3 of a calculator's degrees.
    fn in_unit(&mut self, expression: &Expr, unit: &str, around: u8) -> Option<String> {
        let found = self.aside(expression)?;
        let quantity = *found.read_lock::<Quantity>()?;
        let text = wording::written_as(quantity, unit).ok()?;
        let negative = quantity.number().shown() < 0.0 && around > SUM;
        Some(bracketed(text, negative || around == BASE))
    }

    pub(super) fn words(&mut self, expression: &Expr) -> String {
        match expression {
            Expr::Variable(name, ..) => name.1.to_string(),
            Expr::Dot(sides, flags, _) | Expr::Index(sides, flags, _) => {
                let owner = self.words(&sides.lhs);
                self.chain(owner, &sides.rhs, *flags, matches!(expression, Expr::Index(..)))
            }
            other => self.print(other, BASE),
        }
    }

    /// What follows a point or stands in square brackets. Chains lean right: `a[0].x` is `Index(a, Dot(0, x))`.
    fn chain(&mut self, owner: String, link: &Expr, flags: ASTFlags, index: bool) -> String {
        if let Expr::Dot(sides, inner, _) | Expr::Index(sides, inner, _) = link
            && !flags.contains(ASTFlags::BREAK)
        {
            let owner = self.link(&owner, &sides.lhs, index);
            return self.chain(owner, &sides.rhs, *inner, matches!(link, Expr::Index(..)));
        }
        self.link(&owner, link, index)
    }

    fn link(&mut self, owner: &str, link: &Expr, index: bool) -> String {
        match link {
            key if index => format!("{owner}[{}]", self.print(key, 0)),
            Expr::Property(name, _) => format!("{owner}.{}", name.2),
            Expr::MethodCall(call, _) => format!("{owner}.{}({})", call.name, self.list(&call.args)),
            other => format!("{owner}.{}", self.print(other, BASE)),
        }
    }
}

/// `cardan::` before a function of an imported script.
fn path(call: &FnCallExpr) -> String {
    call.namespace
        .path
        .iter()
        .map(|part| format!("{}::", part.name))
        .collect()
}

/// The unit of a quantity that is written out: `1.rad`, `(1/8).inch`. Standard gravity is a number to calculate with.
fn written_out(expression: &Expr) -> Option<&str> {
    let Expr::Dot(sides, flags, _) = expression else {
        return None;
    };
    let Expr::Property(unit, _) = &sides.rhs else {
        return None;
    };
    let unit = units::find(&unit.2)?.name;
    let known = unit != "gee" && !flags.contains(ASTFlags::NEGATED) && is_number(&sides.lhs);
    known.then_some(unit)
}

/// Whether an expression is made of written numbers alone.
fn is_number(expression: &Expr) -> bool {
    match expression {
        Expr::IntegerConstant(..) | Expr::FloatConstant(..) => true,
        Expr::FnCall(call, _) => binding(&call.name) > 0 && call.args.iter().all(is_number),
        _ => false,
    }
}

/// A value short enough for a formula, with no sign around it.
pub(super) fn short(found: &Dynamic) -> Option<String> {
    shown(found, 0)
}

/// A value short enough for a formula. A negative one gets brackets behind a sign, one with a unit under a power.
fn shown(found: &Dynamic, around: u8) -> Option<String> {
    if let Some(quantity) = found.read_lock::<Quantity>() {
        let negative = quantity.number().shown() < 0.0 && around > SUM;
        let unit = !quantity.dimension().is_none() && around == BASE;
        return wording::worded(found)
            .ok()
            .map(|text| bracketed(text, negative || unit));
    }
    if coordinates::of(found).is_some() {
        return wording::worded(found).ok();
    }
    if let Some(text) = found.read_lock::<ImmutableString>() {
        return (text.chars().count() <= SHORT).then(|| format!("\"{}\"", text.as_str()));
    }
    if let Some(list) = found.read_lock::<Array>() {
        let first: Option<Vec<String>> = list
            .iter()
            .take(first_of(list.len()))
            .map(|item| shown(item, 0))
            .collect();
        return first.map(|first| format!("[{}]", counted(first, list.len())));
    }
    if let Some(map) = found.read_lock::<Map>() {
        let few = map.len() <= FIELDS && !map.values().any(|item| item.is::<Map>() || item.is::<Array>());
        let fields = map
            .iter()
            .map(|(key, item)| Some(format!("{key}: {}", shown(item, 0)?)));
        let fields: Option<Vec<String>> = few.then(|| fields.collect()).flatten();
        return fields.map(|fields| format!("({})", fields.join(", ")));
    }
    if let Ok(truth) = found.as_bool() {
        return Some(if truth { "yes" } else { "no" }.to_owned());
    }
    value::plain_number(found).map(|number| bracketed(number.to_string(), number < 0.0 && around > SUM))
}

/// How many items of a list are printed.
fn first_of(count: usize) -> usize {
    if count <= ITEMS { count } else { FIRST }
}

/// The items printed, and how many there are where not all are.
fn counted(mut first: Vec<String>, count: usize) -> String {
    if first.len() < count {
        first.push(format!("… {count} in all"));
    }
    first.join(", ")
}

/// Functions that a pocket calculator has, or a pencil: they stay in the formula, with their arguments in numbers.
const PLAIN: [&str; 31] = [
    "abs",
    "acos",
    "asin",
    "atan",
    "atan2",
    "cbrt",
    "ceil",
    "clamp",
    "cos",
    "cosh",
    "cross",
    "dot",
    "exp",
    "floor",
    "hypot",
    "if_less",
    "interpolate",
    "ln",
    "log10",
    "max",
    "mean",
    "min",
    "norm",
    "round",
    "sign",
    "sin",
    "sinh",
    "sqrt",
    "sum",
    "tan",
    "tanh",
];

/// A list of so many items is printed whole.
const ITEMS: usize = 12;
/// Of a longer one so many.
const FIRST: usize = 4;
/// A map of so many fields is printed.
const FIELDS: usize = 6;

/// The longest text that is put into a formula.
const SHORT: usize = 40;
