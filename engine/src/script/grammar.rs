//! How the statements that Crankline adds to the language are written: which clauses, in any order.

use crate::diagnostic::nearest;
use rhai::{Dynamic, ImmutableString, LexError, ParseError, ParseErrorType, Position};
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
    queue: VecDeque<String>,
    seen: Vec<String>,
    named: bool,
}

/// Rhai keeps the state of a statement in its tree, and takes a hash of the tree of a closure: a type of our own has no
/// hash there and would panic, so the state is kept as a text, a line for each part.
impl Statement {
    /// The statement that a state of the tree stands for; `None` where it is none of ours.
    pub(crate) fn of(state: &Dynamic) -> Option<Self> {
        let text = state.read_lock::<ImmutableString>()?;
        let mut parts = text.split('\n');
        let keyword = Keyword::of(parts.next()?)?;
        let roles = parts.next()?.chars().filter_map(Role::of).collect();
        let mut words = || parts.next().unwrap_or("").split_whitespace().map(str::to_owned);
        let (named, seen, queue) = (words().next().is_some(), words().collect(), words().collect());
        Some(Self {
            keyword,
            roles,
            queue,
            seen,
            named,
        })
    }

    fn state(&self) -> Dynamic {
        let roles: String = self.roles.iter().map(|role| role.letter()).collect();
        let queue = self.queue.iter().map(String::as_str).collect::<Vec<_>>().join(" ");
        let named = if self.named { "named" } else { "" };
        let parts = [self.keyword.word(), &roles, named, &self.seen.join(" "), &queue];
        Dynamic::from(parts.join("\n"))
    }
}

impl Role {
    const ALL: [Self; 12] = [
        Self::Name,
        Self::Key,
        Self::Value,
        Self::From,
        Self::To,
        Self::OneOf,
        Self::Unit,
        Self::Positive,
        Self::Negative,
        Self::Label,
        Self::How,
        Self::Per,
    ];

    const fn letter(self) -> char {
        match self {
            Self::Name => 'n',
            Self::Key => 'k',
            Self::Value => 'v',
            Self::From => 'f',
            Self::To => 't',
            Self::OneOf => 'o',
            Self::Unit => 'u',
            Self::Positive => '+',
            Self::Negative => '-',
            Self::Label => 'l',
            Self::How => 'h',
            Self::Per => 'p',
        }
    }

    fn of(letter: char) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.letter() == letter)
    }
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
            self.queue.push_back((*symbol).to_owned());
            self.roles.extend(role);
        }
    }

    /// The next symbol to read; `None` where the statement ends.
    fn next(&mut self, ahead: &str) -> Result<Option<String>, ParseErrorType> {
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
            Some(clause) if self.seen.iter().any(|seen| seen == clause.opening()) => {
                let message = format!("this {} has `{}` twice", self.keyword.word(), clause.opening());
                Err(LexError::ImproperSymbol(ahead.to_owned(), message).into())
            }
            Some(clause) => {
                self.seen.push(clause.opening().to_owned());
                self.expect(clause.symbols());
                Ok(self.queue.pop_front())
            }
            // What the words themselves stumble over is a sentence, and told by whoever reads them next.
            None if ahead.contains(' ') => Ok(None),
            None if matches!(ahead, ";" | "}" | ")" | "," | "]" | "{EOF}" | "") => Ok(None),
            None => Err(self.unexpected(ahead)),
        }
    }

    fn unexpected(&self, ahead: &str) -> ParseErrorType {
        if Keyword::of(ahead).is_some() || STARTS.contains(&ahead) {
            return ParseErrorType::MissingToken(";".to_owned(), String::new());
        }
        let word = format!("`{}`", self.keyword.word());
        let clauses: Vec<&str> = self.keyword.clauses().iter().map(|clause| clause.opening()).collect();
        let message = if clauses.is_empty() {
            format!("`{ahead}` cannot follow here: {word} ends after its value, with `;`")
        } else {
            let meant = nearest(ahead, clauses.iter().copied().filter(|clause| clause.len() > 1));
            let meant = meant.map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
            let clauses = clauses
                .iter()
                .map(|clause| format!("`{clause}`"))
                .collect::<Vec<_>>()
                .join(", ");
            format!("`{ahead}` cannot follow here{meant}: after the value of {word} may come {clauses} or `;`")
        };
        LexError::ImproperSymbol(ahead.to_owned(), message).into()
    }
}

/// Words that start a statement: where one follows, a `;` was forgotten.
const STARTS: [&str; 12] = [
    "let", "const", "if", "for", "while", "loop", "do", "fn", "import", "export", "return", "private",
];

/// Reads one symbol of a statement; the parser's state is the [`Statement`] so far.
pub(crate) fn parse(keyword: Keyword, ahead: &str, state: &mut Dynamic) -> Result<Option<ImmutableString>, ParseError> {
    let mut statement = Statement::of(state).unwrap_or_else(|| Statement::new(keyword));
    let next = statement.next(ahead);
    *state = statement.state();
    match next {
        Ok(symbol) => Ok(symbol.map(Into::into)),
        Err(kind) => Err(ParseError(Box::new(kind), Position::NONE)),
    }
}
