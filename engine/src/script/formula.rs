//! A formula with its numbers put in, printed from the syntax tree.

use super::{coordinates, value, wording};
use crate::outcome::Phrase;
use crate::quantity::Quantity;
use rhai::{Dynamic, EvalContext, Expr, FnCallExpr};

/// The longest formula that is printed.
const LENGTH: usize = 2_000;

/// The expression with the value of each name in it. What has no short value (a list, a material) keeps its name.
pub(crate) fn substituted(context: &mut EvalContext<'_, '_, '_, '_, '_, '_>, expression: &Expr) -> Phrase {
    let mut printer = Printer { context };
    let text = printer.print(expression, 0);
    if text.len() > LENGTH {
        return Phrase::words("(too long to print)");
    }
    wording::phrase(&text)
}

struct Printer<'s, 'a, 'b, 'd, 'e, 'f, 'g> {
    context: &'s mut EvalContext<'a, 'b, 'd, 'e, 'f, 'g>,
}

/// How tightly a sign binds; 0 for what is no sign.
fn binding(sign: &str) -> u8 {
    match sign {
        "<" | "<=" | ">" | ">=" | "==" | "!=" => 1,
        "+" | "-" => 2,
        "*" | "/" | "%" => 3,
        "**" => 4,
        _ => 0,
    }
}

impl Printer<'_, '_, '_, '_, '_, '_, '_> {
    fn print(&mut self, expression: &Expr, around: u8) -> String {
        match expression {
            Expr::IntegerConstant(number, _) => number.to_string(),
            Expr::FloatConstant(number, _) => number.to_string(),
            Expr::BoolConstant(truth, _) => if *truth { "yes" } else { "no" }.to_owned(),
            Expr::StringConstant(text, _) => format!("\"{text}\""),
            Expr::Variable(..) | Expr::Dot(..) | Expr::Index(..) => self.named(expression),
            Expr::FnCall(call, _) => self.call(call, around),
            Expr::Array(items, _) => format!("[{}]", self.list(items)),
            Expr::And(sides, _) => self.joined(sides, " and "),
            Expr::Or(sides, _) => self.joined(sides, " or "),
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

    fn joined(&mut self, sides: &[Expr], with: &str) -> String {
        sides
            .iter()
            .map(|side| self.print(side, 1))
            .collect::<Vec<_>>()
            .join(with)
    }

    fn call(&mut self, call: &FnCallExpr, around: u8) -> String {
        let own = binding(&call.name);
        match (&call.args[..], own) {
            ([left, right], 1..) => {
                let left = self.print(left, if &*call.name == "**" { own + 1 } else { own });
                let right = self.print(right, own + 1);
                let sign = match &*call.name {
                    "*" => " × ",
                    "/" => " / ",
                    "**" => "^",
                    "+" => " + ",
                    "-" => " - ",
                    other => return format!("{left} {other} {right}"),
                };
                let text = format!("{left}{sign}{right}");
                if own < around { format!("({text})") } else { text }
            }
            ([only], 2) => {
                let text = format!("{}{}", call.name, self.print(only, 3));
                if around > 2 { format!("({text})") } else { text }
            }
            (arguments, _) => format!("{}({})", call.name, self.list(arguments)),
        }
    }

    /// A name, a property or an item: its value where that is one quantity, else the formula's own words.
    fn named(&mut self, expression: &Expr) -> String {
        if let Expr::Dot(sides, ..) = expression
            && let Expr::MethodCall(call, _) = &sides.rhs
        {
            let object = self.words(&sides.lhs);
            return format!("{object}.{}({})", call.name, self.list(&call.args));
        }
        if has_call(expression) {
            return self.words(expression);
        }
        match self.context.eval_expression_tree(&expression.into()) {
            Ok(found) => shown(&found.flatten()).unwrap_or_else(|| self.words(expression)),
            Err(_) => self.words(expression),
        }
    }

    fn words(&mut self, expression: &Expr) -> String {
        match expression {
            Expr::Variable(name, ..) => name.1.to_string(),
            Expr::Property(name, _) => name.2.to_string(),
            Expr::Dot(sides, ..) => format!("{}.{}", self.words(&sides.lhs), self.words(&sides.rhs)),
            Expr::Index(sides, ..) => {
                let key = self.print(&sides.rhs, 0);
                format!("{}[{key}]", self.words(&sides.lhs))
            }
            Expr::MethodCall(call, _) => format!("{}({})", call.name, self.list(&call.args)),
            other => self.print(other, 9),
        }
    }
}

/// Evaluating a call again could cost much; a property or an item is only looked up.
fn has_call(expression: &Expr) -> bool {
    match expression {
        Expr::FnCall(..) | Expr::MethodCall(..) => true,
        Expr::Dot(sides, ..) | Expr::Index(sides, ..) => has_call(&sides.lhs) || has_call(&sides.rhs),
        _ => false,
    }
}

fn shown(found: &Dynamic) -> Option<String> {
    if found.read_lock::<Quantity>().is_some() || coordinates::of(found).is_some() {
        return wording::worded(found).ok();
    }
    value::plain_number(found).map(|number| number.to_string())
}
