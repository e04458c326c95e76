//! How the statements that Crankline adds to the language are written: which clauses, in any order.

use rhai::{Dynamic, ImmutableString, LexError, ParseError, Position};
use std::collections::VecDeque;

/// A statement's keyword.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Keyword {
    Input,
    Assume,
    Step,
    Check,
    Prefer,
    Require,
    Heading,
    Note,
    Caution,
    Show,
}

/// What an expression of a statement is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    Name,
    Key,
    Value,
    From,
    To,
    OneOf,
    Unit,
    Positive,
    Negative,
    Label,
    How,
    Per,
}

impl Keyword {
    /// All keywords, in the order in which they are explained.
    pub(crate) const ALL: [Self; 10] = [
        Self::Input,
        Self::Assume,
        Self::Step,
        Self::Check,
        Self::Prefer,
        Self::Require,
        Self::Heading,
        Self::Note,
        Self::Caution,
        Self::Show,
    ];

    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Input => "input",
            Self::Assume => "assume",
            Self::Step => "step",
            Self::Check => "check",
            Self::Prefer => "prefer",
            Self::Require => "require",
            Self::Heading => "heading",
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Show => "show",
        }
    }

    pub(crate) fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|keyword| keyword.word() == word)
    }

    /// Whether it gives the script a variable.
    pub(crate) const fn declares(self) -> bool {
        matches!(self, Self::Input | Self::Assume | Self::Step)
    }

    const fn clauses(self) -> &'static [Clause] {
        match self {
            Self::Input | Self::Assume => &[
                Clause::Range,
                Clause::OneOf,
                Clause::As,
                Clause::Signs,
                Clause::Label,
                Clause::How,
                Clause::Per,
            ],
            Self::Step => &[Clause::As, Clause::Signs, Clause::Label, Clause::Per],
            Self::Check | Self::Prefer | Self::Require => &[Clause::Range, Clause::Label, Clause::Per],
            Self::Show => &[Clause::Label],
            Self::Heading | Self::Note | Self::Caution => &[],
        }
    }
}

/// A clause that may follow a statement's value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Clause {
    Range,
    OneOf,
    As,
    Signs,
    Label,
    How,
    Per,
}

impl Clause {
    const fn opening(self) -> &'static str {
        match self {
            Self::Range => "from",
            Self::OneOf => "one_of",
            Self::As => "as",
            Self::Signs => "signs",
            Self::Label => ":",
            Self::How => "how",
            Self::Per => "per",
        }
    }

    const fn symbols(self) -> &'static [(&'static str, Option<Role>)] {
        match self {
            Self::Range => &[
                ("from", None),
                ("$expr$", Some(Role::From)),
                ("to", None),
                ("$expr$", Some(Role::To)),
            ],
            Self::OneOf => &[("one_of", None), ("$expr$", Some(Role::OneOf))],
            Self::As => &[("as", None), ("$expr$", Some(Role::Unit))],
            Self::Signs => &[
                ("signs", None),
                ("(", None),
                ("$string$", Some(Role::Positive)),
                (",", None),
                ("$string$", Some(Role::Negative)),
                (")", None),
            ],
            Self::Label => &[(":", None), ("$expr$", Some(Role::Label))],
            Self::How => &[("how", None), ("$expr$", Some(Role::How))],
            Self::Per => &[("per", None), ("$expr$", Some(Role::Per))],
        }
    }
}

/// What the parser knows of the statement that it is in.
#[derive(Clone, Debug)]
pub(crate) struct Statement {
    pub(crate) keyword: Keyword,
    /// The role of each expression, in order.
    pub(crate) roles: Vec<Role>,
    queue: VecDeque<&'static str>,
    seen: Vec<&'static str>,
    named: bool,
}

impl Statement {
    fn new(keyword: Keyword) -> Self {
        let mut statement = Self {
            keyword,
            roles: Vec::new(),
            queue: VecDeque::new(),
            seen: Vec::new(),
            named: false,
        };
        if keyword.declares() {
            statement.expect(&[("$ident$", Some(Role::Name))]);
        } else {
            statement.named = true;
            statement.expect(&[("$expr$", Some(Role::Value))]);
        }
        statement
    }

    fn expect(&mut self, symbols: &[(&'static str, Option<Role>)]) {
        for (symbol, role) in symbols {
            self.queue.push_back(symbol);
            self.roles.extend(role);
        }
    }

    /// The next symbol to read; `None` where the statement ends.
    fn next(&mut self, ahead: &str) -> Result<Option<&'static str>, String> {
        if let Some(symbol) = self.queue.pop_front() {
            return Ok(Some(symbol));
        }
        if !self.named {
            self.named = true;
            if ahead == "[" && self.keyword == Keyword::Step {
                self.expect(&[("[", None), ("$expr$", Some(Role::Key)), ("]", None)]);
            }
            self.expect(&[("=", None), ("$expr$", Some(Role::Value))]);
            return Ok(self.queue.pop_front());
        }
        let clause = self.keyword.clauses().iter().find(|clause| clause.opening() == ahead);
        match clause {
            Some(clause) if self.seen.contains(&clause.opening()) => {
                Err(format!("this {} has `{}` twice", self.keyword.word(), clause.opening()))
            }
            Some(clause) => {
                self.seen.push(clause.opening());
                self.expect(clause.symbols());
                Ok(self.queue.pop_front())
            }
            None if matches!(ahead, ";" | "}" | ")" | "," | "]" | "{EOF}" | "") => Ok(None),
            None => Err(self.unexpected(ahead)),
        }
    }

    fn unexpected(&self, ahead: &str) -> String {
        let word = self.keyword.word();
        let clauses: Vec<&str> = self.keyword.clauses().iter().map(|clause| clause.opening()).collect();
        if clauses.is_empty() {
            return format!("a {word} ends after its text: write `;` before `{ahead}`");
        }
        format!(
            "`{ahead}` cannot follow here: after a {word} may come {} or `;`",
            clauses.join(" ")
        )
    }
}

/// Reads one symbol of a statement; the parser's state is the [`Statement`] so far.
pub(crate) fn parse(keyword: Keyword, ahead: &str, state: &mut Dynamic) -> Result<Option<ImmutableString>, ParseError> {
    if !state.is::<Statement>() {
        *state = Dynamic::from(Statement::new(keyword));
    }
    let Some(mut statement) = state.write_lock::<Statement>() else {
        return Ok(None);
    };
    statement
        .next(ahead)
        .map(|symbol| symbol.map(Into::into))
        .map_err(|message| LexError::ImproperSymbol(ahead.to_owned(), message).into_err(Position::NONE))
}
