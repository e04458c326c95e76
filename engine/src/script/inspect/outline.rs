//! A script's statements as they are written, for whoever wants to know what is in it before anything of it is run.

use super::super::grammar::Keyword;
use super::super::program::Library;
use super::super::source::{Extent, Script, opens_clause};
use super::graph::{nested, word};
use crate::diagnostic::{Diagnostic, SourceText};

/// A longer formula or text is cut: it is there in full in the script.
const LONGEST: usize = 400;

/// What is written in a script.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    /// Its statements, in the order of the text; none where it cannot be read.
    pub statements: Vec<Stated>,
    /// Why it cannot be read, where it cannot.
    pub unread: Option<Diagnostic>,
}

/// A statement as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    /// Its keyword: `check`.
    pub keyword: &'static str,
    /// The line in which it stands, from 1.
    pub line: usize,
    /// Its name, where it has one.
    pub name: Option<String>,
    /// Its value: a formula, a limit.
    pub value: String,
    /// What follows the value: the word that opens a clause, and what stands behind it.
    pub clauses: Vec<(String, String)>,
}

impl Stated {
    /// What stands behind a word that opens a clause: `:` for the label, `per` for the source.
    #[must_use]
    pub fn clause(&self, opening: &str) -> Option<&str> {
        let found = self.clauses.iter().find(|(word, _)| word == opening);
        found.map(|(_, text)| text.as_str())
    }
}

impl Library {
    /// What is written in a script. It is read, nothing in it is run, and nothing that it imports is looked for.
    #[must_use]
    pub fn outline(&self, text: SourceText) -> Outline {
        let (script, unread) = self.read_alone(text);
        // Of what cannot be read nobody knows where a statement ends.
        let extents = if unread.is_some() {
            &[]
        } else {
            script.extents.as_slice()
        };
        Outline {
            statements: extents.iter().map(|extent| stated(&script, extent)).collect(),
            unread,
        }
    }
}

fn stated(script: &Script, extent: &Extent) -> Stated {
    Stated {
        keyword: extent.keyword.word(),
        line: script.place_of(extent).map_or(0, |place| place.line),
        name: extent.name.clone().filter(|_| extent.keyword.declares()),
        value: shortened(script.written(&extent.value)),
        clauses: clauses(script, extent),
    }
}

/// The clauses behind a statement's value, each up to the next.
fn clauses(script: &Script, extent: &Extent) -> Vec<(String, String)> {
    let judges = matches!(extent.keyword, Keyword::Check | Keyword::Prefer | Keyword::Require);
    let mut starts = Vec::new();
    let mut end = script.lexemes.len();
    for (at, open) in nested(script, extent.value.end..script.lexemes.len()) {
        if open < 0 || open == 0 && word(script, at) == ";" {
            end = at;
            break;
        }
        let is_limit = judges && matches!(word(script, at), "from" | "to");
        if open == 0 && !is_limit && opens_clause(&script.lexemes, at) {
            starts.push(at);
        }
    }
    let ends = starts.iter().skip(1).copied().chain([end]);
    let clause = |(start, end): (&usize, usize)| {
        let text = script.written(&(start + 1..end));
        (word(script, *start).to_owned(), shortened(unquoted(text)))
    };
    starts.iter().zip(ends).map(clause).collect()
}

/// A text without its quotes; anything else as it is written.
fn unquoted(written: String) -> String {
    let inside = written.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
    match inside {
        Some(inside) if !inside.contains('"') => inside.to_owned(),
        _ => written,
    }
}

fn shortened(written: String) -> String {
    match written.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{}…", written.get(..at).unwrap_or("")),
        None => written,
    }
}
