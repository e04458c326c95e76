//! What a formula is made of.

/// A formula.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::report::lesson) enum Expression {
    /// A number as it is written, with its unit where it has one.
    Number {
        /// `2.0`, `0.08 mm`, `3.4° tail down`
        text: String,
        /// Whether a sign stands before it.
        negative: bool,
        /// Whether a unit stands behind it.
        unit: bool,
    },
    /// What stands as it is: `yes`, a text in quotation marks.
    Words(String),
    /// A name: `shaft_length`.
    Name(String),
    /// A property of something: `shaft.side`.
    Member(Box<Expression>, String),
    /// An item: `loads[0]`.
    Item(Box<Expression>, Box<Expression>),
    /// A function of arguments: `cardan::strength(front)`; a method has its owner.
    Call {
        /// What stands before the point.
        owner: Option<Box<Expression>>,
        /// Its name with the way to it.
        name: String,
        /// What it is given.
        arguments: Vec<Expression>,
    },
    /// A sign before something.
    Minus(Box<Expression>),
    /// `!a`
    Not(Box<Expression>),
    /// Two sides.
    Two(Sign, Box<Expression>, Box<Expression>),
    /// A list in square brackets.
    List(Vec<Expression>),
    /// Coordinates in brackets.
    Coordinates(Vec<Expression>),
    /// Values, each with its key.
    Fields(Vec<(String, Expression)>),
    /// One or the other.
    Choice(Box<Expression>, Box<Expression>, Box<Expression>),
    /// A closure: its arguments and what it gives.
    Closure(Vec<String>, Box<Expression>),
    /// A call with what it gives: `strength(0.19°) = 0.0000112`.
    Gives(Box<Expression>, Box<Expression>),
}

/// The sign between two sides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::report::lesson) enum Sign {
    Or,
    And,
    Less,
    AtMost,
    More,
    AtLeast,
    Same,
    Different,
    In,
    Plus,
    Minus,
    Times,
    Over,
    Remainder,
    Power,
}

impl Sign {
    /// How tightly it binds.
    pub(super) const fn binding(self) -> u8 {
        match self {
            Self::Or => 1,
            Self::And => 2,
            Self::Less | Self::AtMost | Self::More | Self::AtLeast | Self::Same | Self::Different | Self::In => 3,
            Self::Plus | Self::Minus => SUM,
            Self::Times | Self::Over | Self::Remainder => PRODUCT,
            Self::Power => POWER,
        }
    }

    /// As people write it.
    pub(super) const fn written(self) -> &'static str {
        match self {
            Self::Or => "or",
            Self::And => "and",
            Self::Less => "<",
            Self::AtMost => "≤",
            Self::More => ">",
            Self::AtLeast => "≥",
            Self::Same => "=",
            Self::Different => "≠",
            Self::In => "is one of",
            Self::Plus => "+",
            Self::Minus => "-",
            Self::Times => "×",
            Self::Over => "/",
            Self::Remainder => "remainder by",
            Self::Power => "^",
        }
    }
}

pub(super) const SUM: u8 = 4;
pub(super) const PRODUCT: u8 = 5;
pub(super) const POWER: u8 = 6;
/// Around the base of a power.
pub(super) const BASE: u8 = 7;

impl Expression {
    /// A plain number.
    pub(super) fn number(text: &str) -> Self {
        Self::Number {
            text: text.to_owned(),
            negative: text.starts_with(['-', '−']),
            unit: false,
        }
    }

    /// Calls `each` with every name that the formula asks for, in order, and the properties after it.
    pub(in crate::report::lesson) fn names(&self, each: &mut dyn FnMut(&str, &[&str])) {
        self.walk(&mut Vec::new(), each);
    }

    fn walk<'a>(&'a self, members: &mut Vec<&'a str>, each: &mut dyn FnMut(&str, &[&str])) {
        match self {
            Self::Name(name) => {
                let outward: Vec<&str> = members.iter().rev().copied().collect();
                each(name, &outward);
            }
            Self::Member(owner, member) => {
                members.push(member);
                owner.walk(members, each);
                members.pop();
            }
            other => other
                .parts()
                .into_iter()
                .for_each(|part| part.walk(&mut Vec::new(), each)),
        }
    }

    /// The formulas in it.
    fn parts(&self) -> Vec<&Self> {
        match self {
            Self::Number { .. } | Self::Words(_) | Self::Name(_) => Vec::new(),
            Self::Member(one, _) | Self::Minus(one) | Self::Not(one) | Self::Closure(_, one) => vec![one],
            Self::Item(a, b) | Self::Two(_, a, b) | Self::Gives(a, b) => vec![a, b],
            Self::Choice(a, b, c) => vec![a, b, c],
            Self::Call { owner, arguments, .. } => owner.as_deref().into_iter().chain(arguments).collect(),
            Self::List(items) | Self::Coordinates(items) => items.iter().collect(),
            Self::Fields(fields) => fields.iter().map(|(_, value)| value).collect(),
        }
    }

    /// How often something is in it.
    pub(in crate::report::lesson) fn count(&self, is: &dyn Fn(&Self) -> bool) -> usize {
        let within: usize = self.parts().into_iter().map(|part| part.count(is)).sum();
        within + usize::from(is(self))
    }
}

/// A name in words: `shaft_length` is `shaft length`.
pub(super) fn words(name: &str) -> String {
    name.rsplit("::").next().unwrap_or(name).replace('_', " ")
}

/// What a pupil sees to be done.
impl Expression {
    pub(in crate::report::lesson) fn is_power(&self) -> bool {
        matches!(self, Self::Two(Sign::Power, ..))
    }

    pub(in crate::report::lesson) fn is_sum(&self) -> bool {
        matches!(self, Self::Two(Sign::Plus | Sign::Minus, ..))
    }

    /// A factor or a divisor of 2 or ½.
    pub(in crate::report::lesson) fn is_two(&self) -> bool {
        let is = |side: &Self| matches!(side, Self::Number { text, unit: false, .. } if matches!(text.as_str(), "2" | "2.0" | "0.5"));
        match self {
            Self::Two(Sign::Times, a, b) => is(a) || is(b),
            Self::Two(Sign::Over, _, b) => is(b),
            _ => false,
        }
    }
}
