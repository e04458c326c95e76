//! The statements at the top level of a script, functions among them: what each gives and what it mentions.

use super::super::grammar::Keyword;
use super::super::source::Script;
use std::collections::BTreeSet;
use std::ops::Range;

/// The statements of a script by number, in the order of the text.
pub(super) struct Graph {
    pub(super) statements: Vec<Statement>,
}

/// A statement at the top level.
pub(super) struct Statement {
    /// Its words.
    pub(super) words: Range<usize>,
    /// Names that it gives, or may give another value.
    pub(super) gives: BTreeSet<String>,
    /// Names that stand in it.
    pub(super) mentions: BTreeSet<String>,
}

impl Graph {
    pub(super) fn of(script: &Script) -> Self {
        let ranges: Vec<Range<usize>> = script.statements().collect();
        // What a block or a call may change was given by a `let`.
        let declared: BTreeSet<String> = ranges.iter().filter_map(|words| declared(script, words)).collect();
        let statement = |words: Range<usize>| {
            let mentions = mentions(script, &words);
            let gives = match given(script, &words) {
                Some(name) => BTreeSet::from([name]),
                None if starts_with_keyword(script, &words) => BTreeSet::new(),
                None => mentions.intersection(&declared).cloned().collect(),
            };
            Statement { words, gives, mentions }
        };
        Self {
            statements: ranges.into_iter().map(statement).collect(),
        }
    }

    /// The statement that a word stands in.
    pub(super) fn at(&self, word: usize) -> Option<usize> {
        self.statements
            .iter()
            .position(|statement| statement.words.contains(&word))
    }

    /// These statements, and all that use what they give.
    pub(super) fn with_users(&self, mut wanted: BTreeSet<usize>) -> BTreeSet<usize> {
        let gives = |number: &usize| self.statements.get(*number).map(|statement| &statement.gives);
        let mut names: BTreeSet<&String> = wanted.iter().filter_map(gives).flatten().collect();
        loop {
            let before = wanted.len();
            for (number, statement) in self.statements.iter().enumerate() {
                if statement.mentions.iter().any(|name| names.contains(name)) && wanted.insert(number) {
                    names.extend(&statement.gives);
                }
            }
            if wanted.len() == before {
                return wanted;
            }
        }
    }
}

pub(super) fn word(script: &Script, at: usize) -> &str {
    script.lexemes.get(at).map_or("", |lexeme| lexeme.word.as_str())
}

/// The words of a range, each with how many brackets are open round it; a bracket itself stands outside. Below zero: the
/// range has come out of the brackets that it began in.
pub(super) fn nested(script: &Script, words: Range<usize>) -> impl Iterator<Item = (usize, isize)> {
    words.scan(0_isize, |open, at| {
        let outside = match word(script, at) {
            "(" | "[" | "{" | "#{" => {
                *open += 1;
                *open - 1
            }
            ")" | "]" | "}" => {
                *open -= 1;
                *open
            }
            _ => *open,
        };
        Some((at, outside))
    })
}

/// Whether a word names something: no sign, no number, no text, no property after a point, no key of a map.
pub(super) fn is_name(script: &Script, at: usize) -> bool {
    let first = word(script, at).chars().next();
    let before = at.checked_sub(1).map_or("", |before| word(script, before));
    let is_key = word(script, at + 1) == ":" && matches!(before, "#{" | ",");
    first.is_some_and(|first| first.is_alphabetic() || first == '_') && !matches!(before, "." | "?.") && !is_key
}

fn starts_with_keyword(script: &Script, words: &Range<usize>) -> bool {
    Keyword::of(word(script, words.start)).is_some()
}

/// The name that a statement gives: `let a`, `const a`, `input a`, `step a`, `fn a`, `import … as a`.
fn given(script: &Script, words: &Range<usize>) -> Option<String> {
    let first = word(script, words.start);
    let at = match first {
        "private" | "export" if matches!(word(script, words.start + 1), "fn" | "let" | "const") => words.start + 2,
        "let" | "const" | "fn" => words.start + 1,
        "import" => {
            let mut inside = words.clone();
            inside.find(|at| word(script, *at) == "as")? + 1
        }
        // A repeated step has its key behind its name, and gives no name.
        _ if Keyword::of(first).is_some_and(Keyword::declares) && word(script, words.start + 2) != "[" => {
            words.start + 1
        }
        _ => return None,
    };
    Some(word(script, at).to_owned())
}

fn declared(script: &Script, words: &Range<usize>) -> Option<String> {
    given(script, words).filter(|_| word(script, words.start) == "let")
}

/// The names in a statement but the one that it gives.
fn mentions(script: &Script, words: &Range<usize>) -> BTreeSet<String> {
    let given = given(script, words);
    let names = words.clone().filter(|at| is_name(script, *at));
    let names = names.map(|at| word(script, at).to_owned());
    names.filter(|name| given.as_ref() != Some(name)).collect()
}
