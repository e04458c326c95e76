//! From a formula's text to what it is made of.

use super::expression::{Expression, Sign};
use super::lexeme::{Lexeme, lexemes};
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::units;

/// A formula deeper than this is shown as it is written.
const DEPTH: usize = 64;

/// Of a formula as a script writes it; nothing where it holds what no formula holds.
pub(in crate::report::lesson) fn of_script(text: &str) -> Option<Expression> {
    let mut found = Vec::new();
    lexemes(text, &mut found)?;
    parse(&found)
}

/// Of a formula with its numbers put in, each as `written` has it.
pub(in crate::report::lesson) fn of_phrase(phrase: &Phrase, written: &dyn Fn(&Amount) -> String) -> Option<Expression> {
    let mut found = Vec::new();
    for piece in &phrase.pieces {
        match piece {
            Piece::Words(words) => lexemes(words, &mut found)?,
            Piece::Amount(amount) => {
                let text = written(amount);
                let negative = text.starts_with('-');
                let unit = !amount.dimension.is_none();
                found.push(Lexeme::PutIn(text, negative, unit));
            }
        }
    }
    parse(&found)
}

fn parse(lexemes: &[Lexeme]) -> Option<Expression> {
    let mut parser = Parser {
        lexemes,
        at: 0,
        depth: 0,
    };
    let first = parser.two_sides(0)?;
    let whole = parser.between(first)?;
    (parser.at == lexemes.len()).then_some(whole)
}

struct Parser<'a> {
    lexemes: &'a [Lexeme],
    at: usize,
    depth: usize,
}

impl<'a> Parser<'a> {
    fn next(&mut self) -> Option<&'a Lexeme> {
        let next = self.lexemes.get(self.at)?;
        self.at += 1;
        Some(next)
    }

    fn is(&self, sign: &str) -> bool {
        matches!(self.lexemes.get(self.at), Some(Lexeme::Sign(found)) if *found == sign)
    }

    fn take(&mut self, sign: &str) -> bool {
        let is = self.is(sign);
        self.at += usize::from(is);
        is
    }

    fn expect(&mut self, sign: &str) -> Option<()> {
        self.take(sign).then_some(())
    }

    fn sign(&self) -> Option<Sign> {
        let word = match self.lexemes.get(self.at)? {
            Lexeme::Sign(sign) => sign,
            Lexeme::Name(name) => name.as_str(),
            _ => return None,
        };
        Some(match word {
            "||" | "or" => Sign::Or,
            "&&" | "and" => Sign::And,
            "<" => Sign::Less,
            "<=" => Sign::AtMost,
            ">" => Sign::More,
            ">=" => Sign::AtLeast,
            "==" => Sign::Same,
            "!=" => Sign::Different,
            "in" => Sign::In,
            "+" => Sign::Plus,
            "-" => Sign::Minus,
            "*" | "×" => Sign::Times,
            "/" => Sign::Over,
            "%" => Sign::Remainder,
            "**" | "^" => Sign::Power,
            _ => return None,
        })
    }

    /// Signs that bind more tightly than `least`, from left to right.
    fn two_sides(&mut self, least: u8) -> Option<Expression> {
        self.depth += 1;
        if self.depth > DEPTH {
            return None;
        }
        let mut left = self.signed()?;
        while let Some(sign) = self.sign().filter(|sign| sign.binding() > least) {
            self.at += 1;
            let right = self.two_sides(sign.binding())?;
            left = Expression::Two(sign, Box::new(left), Box::new(right));
        }
        self.depth -= 1;
        Some(left)
    }

    /// What a check has between two limits, both included: `angle from 1.deg to 3.deg`.
    fn between(&mut self, value: Expression) -> Option<Expression> {
        if !self.word("from") {
            return Some(value);
        }
        let low = self.two_sides(0)?;
        if !self.word("to") {
            return None;
        }
        let high = self.two_sides(0)?;
        let at_most = |a, b| Expression::Two(Sign::AtMost, Box::new(a), Box::new(b));
        Some(at_most(at_most(low, value), high))
    }

    fn word(&mut self, wanted: &str) -> bool {
        let is = matches!(self.lexemes.get(self.at), Some(Lexeme::Name(name)) if name == wanted);
        self.at += usize::from(is);
        is
    }

    fn signed(&mut self) -> Option<Expression> {
        if self.take("-") {
            let operand = self.two_sides(Sign::Times.binding())?;
            return Some(Expression::Minus(Box::new(operand)));
        }
        if self.take("+") {
            return self.signed();
        }
        let not = matches!(self.lexemes.get(self.at), Some(Lexeme::Name(name)) if name == "not");
        if not || self.is("!") {
            self.at += 1;
            return Some(Expression::Not(Box::new(self.two_sides(Sign::Same.binding())?)));
        }
        let first = self.first()?;
        self.links(first)
    }

    fn first(&mut self) -> Option<Expression> {
        match self.next()? {
            Lexeme::Number(text) => Some(Expression::number(text)),
            Lexeme::PutIn(text, negative, unit) => Some(Expression::Number {
                text: text.clone(),
                negative: *negative,
                unit: *unit,
            }),
            Lexeme::Quoted(text) => Some(Expression::Words(text.clone())),
            Lexeme::Name(name) if name == "if" => self.choice(),
            Lexeme::Name(name) if self.is("(") => self.call(None, name),
            Lexeme::Name(name) if matches!(name.as_str(), "true" | "yes") => Some(Expression::Words("yes".to_owned())),
            Lexeme::Name(name) if matches!(name.as_str(), "false" | "no") => Some(Expression::Words("no".to_owned())),
            Lexeme::Name(name) => Some(Expression::Name(name.clone())),
            Lexeme::Sign("π") => Some(Expression::Name("PI".to_owned())),
            Lexeme::Sign("(") => self.brackets(),
            Lexeme::Sign("[") => Some(Expression::List(self.items("]")?)),
            Lexeme::Sign("#{") => self.fields("}"),
            Lexeme::Sign("|") => self.closure(),
            Lexeme::Sign("||") => Some(Expression::Closure(Vec::new(), Box::new(self.two_sides(0)?))),
            Lexeme::Sign(_) => None,
        }
    }

    /// `(a + b)`, `(x, y, z)`, `(re: 1, im: 2)`, `(strength(0.19°) = 0.0000112)`.
    fn brackets(&mut self) -> Option<Expression> {
        let keyed = matches!(
            (self.lexemes.get(self.at), self.lexemes.get(self.at + 1)),
            (Some(Lexeme::Name(_)), Some(Lexeme::Sign(":")))
        );
        if keyed {
            return self.fields(")");
        }
        let first = self.two_sides(0)?;
        if self.take("=") {
            let value = self.two_sides(0)?;
            self.expect(")")?;
            return Some(Expression::Gives(Box::new(first), Box::new(value)));
        }
        if self.take(",") {
            let mut items = vec![first];
            items.extend(self.items(")")?);
            return Some(Expression::Coordinates(items));
        }
        self.expect(")")?;
        Some(first)
    }

    fn items(&mut self, end: &str) -> Option<Vec<Expression>> {
        let mut items = Vec::new();
        while !self.take(end) {
            items.push(self.two_sides(0)?);
            if !self.take(",") {
                self.expect(end)?;
                break;
            }
        }
        Some(items)
    }

    fn fields(&mut self, end: &str) -> Option<Expression> {
        let mut fields = Vec::new();
        while !self.take(end) {
            let Lexeme::Name(key) = self.next()? else { return None };
            self.expect(":")?;
            fields.push((key.clone(), self.two_sides(0)?));
            if !self.take(",") {
                self.expect(end)?;
                break;
            }
        }
        Some(Expression::Fields(fields))
    }

    fn call(&mut self, owner: Option<Box<Expression>>, name: &str) -> Option<Expression> {
        self.expect("(")?;
        Some(Expression::Call {
            owner,
            name: name.to_owned(),
            arguments: self.items(")")?,
        })
    }

    fn closure(&mut self) -> Option<Expression> {
        let mut arguments = Vec::new();
        while !self.take("|") {
            let Lexeme::Name(argument) = self.next()? else {
                return None;
            };
            arguments.push(argument.clone());
            self.take(",");
        }
        Some(Expression::Closure(arguments, Box::new(self.two_sides(0)?)))
    }

    /// `if a { b } else { c }`
    fn choice(&mut self) -> Option<Expression> {
        let asked = self.two_sides(0)?;
        self.expect("{")?;
        let then = self.two_sides(0)?;
        self.expect("}")?;
        let Lexeme::Name(word) = self.next()? else { return None };
        if word != "else" {
            return None;
        }
        let otherwise = if matches!(self.lexemes.get(self.at), Some(Lexeme::Name(word)) if word == "if") {
            self.at += 1;
            self.choice()?
        } else {
            self.expect("{")?;
            let otherwise = self.two_sides(0)?;
            self.expect("}")?;
            otherwise
        };
        Some(Expression::Choice(Box::new(asked), Box::new(then), Box::new(otherwise)))
    }

    /// What follows a point or stands in square brackets.
    fn links(&mut self, mut owner: Expression) -> Option<Expression> {
        loop {
            if self.take("[") {
                let key = self.two_sides(0)?;
                self.expect("]")?;
                owner = Expression::Item(Box::new(owner), Box::new(key));
            } else if self.take(".") {
                let Lexeme::Name(name) = self.next()? else { return None };
                owner = if self.is("(") {
                    self.call(Some(Box::new(owner)), name)?
                } else {
                    property(owner, name)
                };
            } else {
                return Some(owner);
            }
        }
    }
}

/// A property; of a number that is written out its unit: `1.rad`, `(1/8).inch`.
fn property(owner: Expression, name: &str) -> Expression {
    let unit = units::find(name);
    match (owner, unit) {
        (
            Expression::Number {
                text,
                negative,
                unit: false,
            },
            Some(unit),
        ) => Expression::Number {
            text: with_unit(&text, unit.symbol),
            negative,
            unit: true,
        },
        (Expression::Two(Sign::Over, a, b), Some(unit)) => match (*a, *b) {
            (Expression::Number { text: a, negative, .. }, Expression::Number { text: b, .. }) => Expression::Number {
                text: with_unit(&format!("{a}/{b}"), unit.symbol),
                negative,
                unit: true,
            },
            (a, b) => {
                let owner = Expression::Two(Sign::Over, Box::new(a), Box::new(b));
                Expression::Member(Box::new(owner), name.to_owned())
            }
        },
        (owner, _) => Expression::Member(Box::new(owner), name.to_owned()),
    }
}

fn with_unit(number: &str, symbol: &str) -> String {
    let number = number.strip_suffix(".0").unwrap_or(number);
    match symbol {
        "°" => format!("{number}°"),
        symbol => format!("{number} {symbol}"),
    }
}
