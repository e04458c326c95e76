//! A formula laid out for a page: fractions, roots and powers as a class writes them on a board.
//!
//! A browser breaks no line within a `math` element, so a long formula is several of them, broken at its outermost signs
//! and between what a function is given. To a screen reader the whole is one: its line of text.

use super::expression::{BASE, Expression, PRODUCT, SUM, Sign, words};
use super::letters::{letters, plain_number, under_root};
use maud::{Markup, html};

/// What is no longer than this in letters stays in one piece.
const PIECE: usize = 26;
/// A fraction longer than this above or below does not fit a line.
const FRACTION: usize = 64;

/// The formula, with an `=` before it where it stands behind a name.
pub(in crate::report::lesson) fn laid_out(formula: &Expression) -> Markup {
    let mut pieces = Vec::new();
    broken(formula, 0, &mut pieces);
    html! {
        span.formula role="math" aria-label=(letters(formula)) {
            @for piece in pieces {
                math aria-hidden="true" { mrow { (piece) } }
                " "
            }
        }
    }
}

fn length(formula: &Expression) -> usize {
    letters(formula).chars().count()
}

/// The pieces of a formula.
fn broken(formula: &Expression, around: u8, into: &mut Vec<Markup>) {
    if length(formula) <= PIECE {
        into.push(lay(formula, around));
        return;
    }
    match formula {
        Expression::Two(sign, left, right) if !matches!(sign, Sign::Power) => {
            let own = sign.binding();
            if *sign == Sign::Over && fits(left) && fits(right) {
                into.push(lay(formula, around));
                return;
            }
            let brackets = own < around;
            let from = into.len();
            broken(left, own, into);
            let at = into.len();
            broken(right, own + 1, into);
            before(into, at, &html! { mo { (with_minus(sign.written())) } });
            if brackets {
                enclose(into, from, "(", ")");
            }
        }
        Expression::Call {
            owner: None,
            name,
            arguments,
        } if under_root(name, arguments).is_none() && !matches!(name.as_str(), "exp" | "abs" | "norm") => {
            let from = into.len();
            let several = match arguments.as_slice() {
                [Expression::List(items)] => items,
                several => several,
            };
            listed(several, into);
            enclose(into, from, "(", ")");
            before(into, from, &function(name));
        }
        Expression::Coordinates(items) => {
            let from = into.len();
            listed(items, into);
            enclose(into, from, "(", ")");
        }
        other => into.push(lay(other, around)),
    }
}

fn fits(formula: &Expression) -> bool {
    length(formula) <= FRACTION
}

fn listed(items: &[Expression], into: &mut Vec<Markup>) {
    for (number, item) in items.iter().enumerate() {
        broken(item, 0, into);
        if number + 1 < items.len()
            && let Some(last) = into.last_mut()
        {
            *last = html! { (last) mo { "," } };
        }
    }
}

fn before(pieces: &mut [Markup], at: usize, what: &Markup) {
    if let Some(first) = pieces.get_mut(at) {
        *first = html! { (what) (first) };
    }
}

fn enclose(pieces: &mut [Markup], from: usize, open: &str, close: &str) {
    before(pieces, from, &html! { mo stretchy="false" { (open) } });
    if pieces.len() > from
        && let Some(last) = pieces.last_mut()
    {
        *last = html! { (last) mo stretchy="false" { (close) } };
    }
}

fn brackets(inner: &Markup, when: bool) -> Markup {
    html! {
        @if when { mrow { mo { "(" } (inner) mo { ")" } } } @else { (inner) }
    }
}

/// One piece. `around` is how tightly the sign around it binds.
fn lay(formula: &Expression, around: u8) -> Markup {
    match formula {
        Expression::Number { text, negative, unit } => {
            let number = html! { mn { (with_minus(&plain_number(text))) } };
            brackets(&number, (*negative && around > SUM) || (*unit && around == BASE))
        }
        Expression::Words(text) => html! { mtext { (text) } },
        Expression::Name(name) if name == "PI" => html! { mi { "π" } },
        Expression::Name(name) => html! { mi { (words(name)) } },
        Expression::Member(owner, member) => html! { msub { (lay(owner, BASE)) mi { (words(member)) } } },
        Expression::Item(owner, key) => html! { msub { (lay(owner, BASE)) mrow { (lay(key, 0)) } } },
        Expression::Call {
            owner, name, arguments, ..
        } => call(owner.as_deref(), name, arguments),
        Expression::Minus(operand) => brackets(
            &html! { mrow { mo form="prefix" { "−" } (lay(operand, PRODUCT)) } },
            around >= SUM,
        ),
        Expression::Not(operand) => html! { mrow { mtext { "not " } (lay(operand, BASE)) } },
        Expression::Two(sign, left, right) => two(*sign, left, right, around),
        Expression::List(items) => html! { mrow { mo { "[" } (row(items)) mo { "]" } } },
        Expression::Coordinates(items) => html! { mrow { mo { "(" } (row(items)) mo { ")" } } },
        Expression::Fields(fields) => html! {
            mrow {
                @for (number, (key, value)) in fields.iter().enumerate() {
                    @if number > 0 { mo { "," } }
                    mtext { (words(key)) ": " } (lay(value, 0))
                }
            }
        },
        Expression::Choice(asked, then, otherwise) => chosen(&lay(then, 0), &lay(asked, 0), &lay(otherwise, 0)),
        Expression::Closure(arguments, gives) => html! {
            mrow { (lay(gives, 0)) mtext { " for each " (arguments.join(", ")) } }
        },
        Expression::Gives(call, value) => html! {
            mrow { mo { "(" } (lay(call, 0)) mo { "=" } (lay(value, 0)) mo { ")" } }
        },
    }
}

/// On a board a minus is as wide as a plus.
fn with_minus(text: &str) -> String {
    text.replacen('-', "−", usize::from(text.starts_with('-')))
}

fn chosen(then: &Markup, asked: &Markup, otherwise: &Markup) -> Markup {
    html! { mrow { (then) mtext { " if " } (asked) mtext { ", else " } (otherwise) } }
}

fn row(items: &[Expression]) -> Markup {
    html! {
        @for (number, item) in items.iter().enumerate() {
            @if number > 0 { mo separator="true" { "," } }
            (lay(item, 0))
        }
    }
}

fn two(sign: Sign, left: &Expression, right: &Expression, around: u8) -> Markup {
    let own = sign.binding();
    match sign {
        Sign::Power => html! { msup { mrow { (base(left)) } mrow { (lay(right, 0)) } } },
        Sign::Over if fits(left) && fits(right) => html! { mfrac { mrow { (lay(left, 0)) } mrow { (lay(right, 0)) } } },
        _ => {
            let text = html! { mrow { (lay(left, own)) mo { (with_minus(sign.written())) } (lay(right, own + 1)) } };
            brackets(&text, own < around)
        }
    }
}

/// What a power is taken of: words and fractions get brackets, so that nobody squares the last word alone.
fn base(formula: &Expression) -> Markup {
    let several = match formula {
        Expression::Name(name) => words(name).contains(' '),
        Expression::Member(..) | Expression::Two(Sign::Power | Sign::Over, ..) | Expression::Item(..) => true,
        _ => false,
    };
    brackets(&lay(formula, if several { 0 } else { BASE }), several)
}

fn function(name: &str) -> Markup {
    html! { mi mathvariant="normal" { (in_short(name)) } mo { "\u{2061}" } }
}

fn in_short(name: &str) -> String {
    match name {
        "max" => "largest of".to_owned(),
        "min" => "smallest of".to_owned(),
        "sum" => "sum of".to_owned(),
        "mean" => "mean of".to_owned(),
        other => words(other),
    }
}

fn call(owner: Option<&Expression>, name: &str, arguments: &[Expression]) -> Markup {
    let Some(owner) = owner else {
        return plain_call(name, arguments);
    };
    html! {
        mrow {
            msub { (lay(owner, BASE)) mi { (words(name)) } }
            @if !arguments.is_empty() { mo { "(" } (row(arguments)) mo { ")" } }
        }
    }
}

fn plain_call(name: &str, arguments: &[Expression]) -> Markup {
    if let Some((which, under)) = under_root(name, arguments) {
        return match which {
            2 => html! { msqrt { mrow { (lay(&under, 0)) } } },
            which => html! { mroot { mrow { (lay(&under, 0)) } mn { (which) } } },
        };
    }
    match (name, arguments) {
        ("abs" | "norm", [only]) => html! { mrow { mo { "|" } (lay(only, 0)) mo { "|" } } },
        ("exp", [only]) => html! { msup { mi { "e" } mrow { (lay(only, 0)) } } },
        ("value_in", [what, Expression::Words(unit)]) => {
            html! { mrow { (lay(what, PRODUCT)) mtext { " in " (unit.trim_matches('"')) } } }
        }
        ("if_less", [a, b, then, otherwise]) => {
            let asked = html! { mrow { (lay(a, SUM)) mo { "<" } (lay(b, SUM)) } };
            chosen(&lay(then, 0), &asked, &lay(otherwise, 0))
        }
        ("max" | "min" | "sum" | "mean", [Expression::List(items)]) => {
            html! { mrow { (function(name)) mo { "(" } (row(items)) mo { ")" } } }
        }
        _ => html! { mrow { (function(name)) mo { "(" } (row(arguments)) mo { ")" } } },
    }
}
