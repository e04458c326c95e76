//! A formula as a line of text that can be read aloud: names in words, powers raised, roots in words.

use super::expression::{BASE, Expression, PRODUCT, SUM, Sign, words};

/// The formula on one line.
pub(in crate::report::lesson) fn letters(formula: &Expression) -> String {
    write(formula, 0)
}

pub(super) fn bracketed(text: String, when: bool) -> String {
    if when { format!("({text})") } else { text }
}

pub(super) fn write(formula: &Expression, around: u8) -> String {
    match formula {
        Expression::Number { text, negative, unit } => bracketed(
            plain_number(text),
            (*negative && around > SUM) || (*unit && around == BASE),
        ),
        Expression::Words(text) => text.clone(),
        Expression::Name(name) if name == "PI" => "π".to_owned(),
        Expression::Name(name) => bracketed(words(name), around == BASE && name.contains('_')),
        Expression::Member(owner, member) => {
            bracketed(format!("{} of {}", words(member), write(owner, BASE)), around == BASE)
        }
        Expression::Item(owner, key) => format!("{}[{}]", write(owner, BASE), write(key, 0)),
        Expression::Call {
            owner, name, arguments, ..
        } => call(owner.as_deref(), name, arguments, around),
        Expression::Minus(operand) => bracketed(format!("-{}", write(operand, PRODUCT)), around >= SUM),
        Expression::Not(operand) => format!("not {}", write(operand, BASE)),
        Expression::Two(sign, left, right) => two(*sign, left, right, around),
        Expression::List(items) => format!("[{}]", list(items)),
        Expression::Coordinates(items) => format!("({})", list(items)),
        Expression::Fields(fields) => {
            let fields: Vec<String> = fields
                .iter()
                .map(|(key, value)| format!("{}: {}", words(key), write(value, 0)))
                .collect();
            format!("({})", fields.join(", "))
        }
        Expression::Choice(asked, then, otherwise) => bracketed(
            format!(
                "{} if {}, else {}",
                write(then, 0),
                write(asked, 0),
                write(otherwise, 0)
            ),
            around > 0,
        ),
        Expression::Closure(arguments, gives) => bracketed(
            format!("{} for each {}", write(gives, 0), arguments.join(", ")),
            around > 0,
        ),
        Expression::Gives(call, value) => format!("({} = {})", write(call, 0), write(value, 0)),
    }
}

fn list(items: &[Expression]) -> String {
    items.iter().map(|item| write(item, 0)).collect::<Vec<_>>().join(", ")
}

/// Signs of one kind go from left to right.
fn two(sign: Sign, left: &Expression, right: &Expression, around: u8) -> String {
    let own = sign.binding();
    if sign == Sign::Power {
        let base = write(left, BASE);
        return match raised(right) {
            Some(power) => format!("{base}{power}"),
            None => format!("{base}^({})", write(right, 0)),
        };
    }
    let text = format!("{} {} {}", write(left, own), sign.written(), write(right, own + 1));
    // A left side of the same kind needs no brackets, a right side does: `a - (b - c)`.
    bracketed(text, own < around)
}

/// A whole power, raised.
pub(super) fn raised(power: &Expression) -> Option<String> {
    let (sign, number) = match power {
        Expression::Number { text, unit: false, .. } => ("", text),
        Expression::Minus(operand) => match operand.as_ref() {
            Expression::Number { text, unit: false, .. } => ("⁻", text),
            _ => return None,
        },
        _ => return None,
    };
    let number = plain_number(number);
    let digits: Option<String> = number
        .chars()
        .map(|digit| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit.to_digit(10)? as usize))
        .collect();
    digits.map(|digits| format!("{sign}{digits}"))
}

/// `2.0` is 2.
pub(super) fn plain_number(text: &str) -> String {
    text.strip_suffix(".0").unwrap_or(text).to_owned()
}

/// The roots that a class reads as one, and what stands under them.
pub(super) fn root<'a>(name: &str, arguments: &'a [Expression]) -> Option<(u8, &'a Expression)> {
    let [under] = arguments else { return None };
    match name {
        "sqrt" => match under {
            Expression::Call { name, arguments, .. } if name == "sqrt" => match arguments.as_slice() {
                [inner] => Some((4, inner)),
                _ => None,
            },
            _ => Some((2, under)),
        },
        "cbrt" => Some((3, under)),
        _ => None,
    }
}

/// The sum of squares under `hypot`.
pub(super) fn squares(arguments: &[Expression]) -> Option<Expression> {
    let squared = |side: &Expression| {
        let two = Expression::number("2");
        Expression::Two(Sign::Power, Box::new(side.clone()), Box::new(two))
    };
    let mut squares = arguments.iter().map(squared);
    let first = squares.next()?;
    Some(squares.fold(first, |sum, square| {
        Expression::Two(Sign::Plus, Box::new(sum), Box::new(square))
    }))
}

/// What stands under a root, whichever function makes it: of `hypot` the squares.
pub(super) fn under_root(name: &str, arguments: &[Expression]) -> Option<(u8, Expression)> {
    let hypot = |arguments: &[Expression]| squares(arguments).filter(|_| arguments.len() == 2);
    if name == "hypot" {
        return hypot(arguments).map(|under| (2, under));
    }
    let (which, under) = root(name, arguments)?;
    // A root of `hypot` is the fourth root of the squares.
    if let (
        2,
        Expression::Call {
            name,
            arguments,
            owner: None,
        },
    ) = (which, under)
        && name == "hypot"
        && let Some(squares) = hypot(arguments)
    {
        return Some((4, squares));
    }
    Some((which, under.clone()))
}

const fn root_in_words(which: u8) -> &'static str {
    match which {
        4 => "fourth root",
        3 => "cube root",
        _ => "root",
    }
}

fn call(owner: Option<&Expression>, name: &str, arguments: &[Expression], around: u8) -> String {
    if owner.is_none() {
        if let Some((which, under)) = under_root(name, arguments) {
            return format!("{} of ({})", root_in_words(which), write(&under, 0));
        }
        if let Some(text) = known(name, arguments, around) {
            return text;
        }
    }
    let given = if arguments.is_empty() {
        String::new()
    } else {
        format!("({})", list(arguments))
    };
    match owner {
        Some(owner) => format!("{} of {}{given}", words(name), write(owner, BASE)),
        None => format!("{}({})", words(name), list(arguments)),
    }
}

/// Functions that a class has shorter words for.
fn known(name: &str, arguments: &[Expression], around: u8) -> Option<String> {
    Some(match (name, arguments) {
        ("abs", [only]) => format!("|{}|", write(only, 0)),
        ("norm", [only]) => format!("length of ({})", write(only, 0)),
        ("max", several) => format!("largest of ({})", items(several)),
        ("min", several) => format!("smallest of ({})", items(several)),
        ("sum", several) => format!("sum of ({})", items(several)),
        ("mean", several) => format!("mean of ({})", items(several)),
        ("exp", [only]) => format!("e^({})", write(only, 0)),
        ("value_in", [what, Expression::Words(unit)]) => bracketed(
            format!("{} in {}", write(what, PRODUCT), unit.trim_matches('"')),
            around > SUM,
        ),
        ("if_less", [a, b, then, otherwise]) => bracketed(
            format!(
                "{} if {} < {}, else {}",
                write(then, 0),
                write(a, SUM),
                write(b, SUM),
                write(otherwise, 0)
            ),
            around > 0,
        ),
        _ => return None,
    })
}

/// What a function of several things or of one list is given.
pub(super) fn items(arguments: &[Expression]) -> String {
    match arguments {
        [Expression::List(items)] => list(items),
        several => list(several),
    }
}
