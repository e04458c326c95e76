//! A script's text: its words with their places, its statements and how far each reaches.

use super::assigned::assigned;
use super::grammar::Keyword;
pub(crate) use super::lexeme::Lexeme;
use super::lexeme::lexemes;
use crate::diagnostic::{Place, SourceText, on_one_line};
use rhai::{Position, Token};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

/// Where a statement of ours stands.
#[derive(Clone, Debug)]
pub(crate) struct Extent {
    pub(crate) keyword: Keyword,
    /// Which lexeme is the keyword.
    pub(crate) at: usize,
    /// How many braces are open around it.
    pub(crate) depth: usize,
    /// Its name, where it has one.
    pub(crate) name: Option<String>,
    /// The lexemes of its value.
    pub(crate) value: Range<usize>,
}

/// A script's text with its words.
#[derive(Clone, Debug)]
pub(crate) struct Script {
    pub(crate) text: Arc<SourceText>,
    pub(crate) lexemes: Vec<Lexeme>,
    pub(crate) extents: Vec<Extent>,
    /// Its functions, each with the words of its body.
    functions: Vec<(String, Range<usize>)>,
    /// Names that an item is put into under square brackets, each with the first word that does so.
    filled: BTreeMap<String, usize>,
    /// Names that get another value.
    reassigned: BTreeSet<String>,
    /// Names that stand somewhere by themselves: the language copies what they hold.
    copied: BTreeSet<String>,
}

impl Script {
    /// Of a text and its tokens as the parser saw them.
    pub(crate) fn new(text: Arc<SourceText>, tokens: Vec<(Token, Position)>) -> Self {
        let lexemes = lexemes(&text.text, tokens);
        let extents = extents(&lexemes);
        let functions = functions(&lexemes);
        let (filled, reassigned) = assigned(&lexemes);
        let copied = copied(&lexemes);
        Self {
            text,
            lexemes,
            extents,
            functions,
            filled,
            reassigned,
            copied,
        }
    }

    /// The description: the `//!` lines at the top.
    pub(crate) fn description(&self) -> String {
        let lines = self
            .text
            .text
            .lines()
            .map(str::trim)
            .take_while(|line| line.is_empty() || line.starts_with("//"));
        let lines: Vec<&str> = lines
            .filter_map(|line| line.strip_prefix("//!"))
            .map(str::trim)
            .collect();
        lines.join("\n")
    }

    /// Names of its inputs and assumptions.
    pub(crate) fn input_names(&self) -> impl Iterator<Item = &str> {
        self.extents
            .iter()
            .filter(|extent| matches!(extent.keyword, Keyword::Input | Keyword::Assume))
            .filter_map(|extent| extent.name.as_deref())
    }

    /// The place of a position: as wide as the word that stands there.
    pub(crate) fn place(&self, position: Position) -> Place {
        let line = position.line().unwrap_or(1);
        let column = position.position().unwrap_or(1);
        let found = self.lexemes.binary_search_by_key(&(line, column), Lexeme::stands);
        let width = found.ok().and_then(|at| self.lexemes.get(at));
        Place {
            source: Arc::clone(&self.text),
            line,
            column,
            width: width.map_or(1, |lexeme| lexeme.width(&self.text.text)),
        }
    }

    /// The place of a word.
    pub(crate) fn place_at(&self, at: usize) -> Option<Place> {
        let lexeme = self.lexemes.get(at)?;
        Some(Place {
            source: Arc::clone(&self.text),
            line: lexeme.line,
            column: lexeme.column,
            width: lexeme.width(&self.text.text),
        })
    }

    /// Where a comment starts that the text does not end. Behind the last word stand only comments.
    pub(crate) fn unclosed_comment(&self) -> Option<Place> {
        let text = &self.text.text;
        let from = self.lexemes.last().map_or(0, |last| last.start + last.word.len());
        let mut rest = from;
        // A text's end is not known from its first character: what follows its last quotation mark is behind it.
        if self.lexemes.last().is_some_and(|last| last.word == "\"") {
            let quoted = text.get(from..)?;
            rest += quoted.rfind(['"', '`', '\'']).map_or(0, |at| at + 1);
        }
        let start = rest + unclosed(text.get(rest..)?)?;
        let line_start = text.get(..start)?.rfind('\n').map_or(0, |at| at + 1);
        Some(Place {
            source: Arc::clone(&self.text),
            line: text.get(..start)?.matches('\n').count() + 1,
            column: text.get(line_start..start)?.chars().count() + 1,
            width: 2,
        })
    }

    /// The place of a statement: its keyword.
    pub(crate) fn place_of(&self, extent: &Extent) -> Option<Place> {
        self.place_at(extent.at)
    }

    /// The last word of the script.
    pub(crate) fn end(&self) -> Option<Place> {
        self.place_at(self.lexemes.len().checked_sub(1)?)
    }

    /// The word before a position.
    pub(crate) fn before(&self, position: Position) -> Option<(usize, Place)> {
        let here = (position.line()?, position.position().unwrap_or(1));
        let after = self.lexemes.partition_point(|lexeme| lexeme.stands() < here);
        let at = after.checked_sub(1)?;
        Some((at, self.place_at(at)?))
    }

    /// Names that an item is put into under square brackets.
    pub(crate) fn filled(&self) -> impl Iterator<Item = &str> {
        self.filled.keys().map(String::as_str)
    }

    /// Whether a name gets another value somewhere.
    pub(crate) fn is_reassigned(&self, name: &str) -> bool {
        self.reassigned.contains(name)
    }

    /// Whether the language copies somewhere what a name holds, and not only looks into it.
    pub(crate) fn is_copied(&self, name: &str) -> bool {
        self.copied.contains(name)
    }

    /// Where a name gets its first item under square brackets, if it gets any.
    pub(crate) fn filled_at(&self, name: &str) -> Option<Place> {
        self.place_at(*self.filled.get(name)?)
    }

    /// The function that a word stands in.
    pub(crate) fn function_at(&self, at: usize) -> Option<&str> {
        let found = self.functions.iter().find(|(_, body)| body.contains(&at));
        found.map(|(name, _)| name.as_str())
    }

    /// The lines of the function whose body's brace stands at a position, each what it works out: without `let` and the
    /// name.
    pub(crate) fn lines_of(&self, brace: Position) -> Option<Vec<String>> {
        let here = (brace.line()?, brace.position()?);
        let stands = |at: usize| self.lexemes.get(at).map(Lexeme::stands);
        let (_, body) = self
            .functions
            .iter()
            .find(|(_, body)| stands(body.start) == Some(here))?;
        let mut lines = Vec::new();
        let mut at = body.start + 1;
        while at < body.end {
            let end = self.statement_end(at, false).min(body.end);
            let semicolon = self.lexemes.get(end - 1).is_some_and(|last| last.word == ";");
            lines.push(self.written(&self.worked_out(at..end - usize::from(semicolon))));
            at = end;
        }
        Some(lines)
    }

    /// What stands behind `let NAME =`, or all of it.
    fn worked_out(&self, line: Range<usize>) -> Range<usize> {
        let word = |at: usize| self.lexemes.get(at).map(|lexeme| lexeme.word.as_str());
        if matches!(word(line.start), Some("let" | "const")) && word(line.start + 2) == Some("=") {
            return line.start + 3..line.end;
        }
        line
    }

    /// The text with all top-level statements blanked but `import`, `const`, `export` and functions: what a script is
    /// as a module. Places stay.
    pub(crate) fn as_module(&self) -> String {
        let first = |words: &Range<usize>| self.lexemes.get(words.start).map_or("", |first| first.word.as_str());
        let goes = |words: &Range<usize>| !matches!(first(words), "fn" | "private" | "import" | "const" | "export");
        self.blanked(self.statements().filter(goes))
    }

    /// The statements at the top level, functions among them: the words of each.
    pub(crate) fn statements(&self) -> impl Iterator<Item = Range<usize>> {
        let mut at = 0;
        std::iter::from_fn(move || {
            let first = self.lexemes.get(at)?;
            let end = self.statement_end(at, matches!(first.word.as_str(), "fn" | "private"));
            let words = at..end;
            at = end;
            Some(words)
        })
    }

    /// The text with these statements blanked. Places stay.
    pub(crate) fn blanked(&self, statements: impl Iterator<Item = Range<usize>>) -> String {
        let mut text = self.text.text.clone().into_bytes();
        for words in statements {
            let Some(first) = self.lexemes.get(words.start) else {
                continue;
            };
            let stop = self.lexemes.get(words.end).map_or(text.len(), |lexeme| lexeme.start);
            let bytes = text.iter_mut().take(stop).skip(first.start);
            for byte in bytes.filter(|byte| **byte != b'\n') {
                *byte = b' ';
            }
        }
        String::from_utf8(text).unwrap_or_default()
    }

    /// The lexeme after a statement: after its `;`, or its closing brace where it is a block.
    fn statement_end(&self, start: usize, function: bool) -> usize {
        let block = function || matches!(self.lexemes[start].word.as_str(), "if" | "for" | "while" | "loop" | "{");
        let mut open = 0_usize;
        for (offset, lexeme) in self.lexemes[start..].iter().enumerate() {
            match lexeme.word.as_str() {
                "(" | "[" | "{" | "#{" => open += 1,
                ")" | "]" | "}" => {
                    open = open.saturating_sub(1);
                    let next = self.lexemes.get(start + offset + 1).map(|lexeme| lexeme.word.as_str());
                    if open == 0 && block && lexeme.word == "}" && next != Some("else") {
                        return start + offset + 1;
                    }
                }
                ";" if open == 0 => return start + offset + 1,
                _ => {}
            }
        }
        self.lexemes.len()
    }

    /// The statement that a position lies in.
    pub(crate) fn extent_at(&self, position: Position) -> Option<&Extent> {
        let here = (position.line()?, position.position().unwrap_or(1));
        let stands = |extent: &Extent| self.lexemes.get(extent.at).map(Lexeme::stands);
        let after = self.extents.partition_point(|extent| stands(extent) <= Some(here));
        self.extents.get(after.checked_sub(1)?)
    }

    /// A run of words as written, on one line, without comments.
    pub(crate) fn written(&self, range: &Range<usize>) -> String {
        let mut written = String::new();
        let mut end = None;
        for lexeme in self.lexemes.get(range.clone()).unwrap_or(&[]) {
            let gap = end.and_then(|end| self.text.text.get(end..lexeme.start)).unwrap_or("");
            let comment = gap.contains("//") || gap.contains("/*");
            if !comment {
                written.push_str(gap.trim());
            }
            if comment || gap.contains(char::is_whitespace) {
                written.push(' ');
            }
            let word = self.text.text.get(lexeme.start..lexeme.end).unwrap_or("");
            written.push_str(&on_one_line(word));
            end = Some(lexeme.end);
        }
        // The quote that ends a text with something put in is no word of its own.
        let after = self
            .lexemes
            .get(range.end)
            .map_or(self.text.text.len(), |next| next.start);
        let rest = end.and_then(|end| self.text.text.get(end..after)).unwrap_or("");
        if rest.starts_with('`') {
            written.push('`');
        }
        written
    }
}

/// Words that no `.` or `[` follows, and that are neither given a value nor called there.
fn copied(lexemes: &[Lexeme]) -> BTreeSet<String> {
    let word = |at: usize| lexemes.get(at).map_or("", |lexeme| lexeme.word.as_str());
    let alone = (0..lexemes.len()).filter(|at| {
        let before = at.checked_sub(1).map_or("", word);
        let declared = matches!(
            before,
            "." | "?." | "let" | "const" | "fn" | "step" | "input" | "assume" | "for" | "|"
        );
        !declared && !matches!(word(at + 1), "." | "?." | "[" | "(" | "=" | "+=" | ":" | "::")
    });
    alone.map(|at| word(at).to_owned()).collect()
}

/// The functions with the words of their bodies.
fn functions(lexemes: &[Lexeme]) -> Vec<(String, Range<usize>)> {
    let mut found = Vec::new();
    for (at, _) in lexemes.iter().enumerate().filter(|(_, lexeme)| lexeme.word == "fn") {
        let Some(name) = lexemes.get(at + 1) else { continue };
        let Some(offset) = lexemes[at..].iter().position(|lexeme| lexeme.word == "{") else {
            continue;
        };
        let start = at + offset;
        let mut open = 0_usize;
        let length = lexemes[start..].iter().position(|lexeme| {
            match lexeme.word.as_str() {
                "{" | "#{" => open += 1,
                "}" => open = open.saturating_sub(1),
                _ => {}
            }
            open == 0
        });
        found.push((
            name.word.clone(),
            start..start + length.unwrap_or(lexemes.len() - start),
        ));
    }
    found
}

/// Words that end a statement's value where no bracket is open.
const CLAUSES: [&str; 9] = ["from", "to", "one_of", "as", "signs", ":", "how", "per", ";"];

/// Whether a word, where no bracket is open, ends what stands before it: it opens a clause, or ends the statement.
pub(crate) fn opens_clause(lexemes: &[Lexeme], at: usize) -> bool {
    let word = |at: usize| lexemes.get(at).map_or("", |lexeme| lexeme.word.as_str());
    CLAUSES.contains(&word(at)) && !(at > 0 && word(at - 1) == ".")
}

fn extents(lexemes: &[Lexeme]) -> Vec<Extent> {
    let mut found = Vec::new();
    let mut depth: usize = 0;
    for (at, lexeme) in lexemes.iter().enumerate() {
        match lexeme.word.as_str() {
            "{" | "#{" => depth += 1,
            "}" => depth = depth.saturating_sub(1),
            word => {
                let before = at.checked_sub(1).map(|before| lexemes[before].word.as_str());
                let starts = matches!(before, None | Some(";" | "{" | "}"));
                if let (Some(keyword), true) = (Keyword::of(word), starts) {
                    found.push(extent(lexemes, keyword, at, depth));
                }
            }
        }
    }
    found
}

fn extent(lexemes: &[Lexeme], keyword: Keyword, at: usize, depth: usize) -> Extent {
    let mut start = at + 1;
    let mut name = None;
    if keyword.declares() {
        name = lexemes.get(at + 1).map(|lexeme| lexeme.word.clone());
        start = lexemes[at..]
            .iter()
            .position(|lexeme| lexeme.word == "=")
            .map_or(start, |offset| at + offset + 1);
    }
    let mut open = 0_usize;
    let start = start.min(lexemes.len());
    // The limits of a check belong to what it says.
    let judges = matches!(keyword, Keyword::Check | Keyword::Prefer | Keyword::Require);
    let length = lexemes[start..]
        .iter()
        .enumerate()
        .position(|(offset, lexeme)| {
            match lexeme.word.as_str() {
                "(" | "[" | "{" | "#{" => open += 1,
                ")" | "]" | "}" if open == 0 => return true,
                ")" | "]" | "}" => open -= 1,
                "from" | "to" if judges => return false,
                _ => return open == 0 && opens_clause(lexemes, start + offset),
            }
            false
        })
        .unwrap_or(lexemes.len().saturating_sub(start));
    Extent {
        keyword,
        at,
        depth,
        name,
        value: start..start + length,
    }
}

/// In a text of comments: where one starts that does not end. Comments nest.
fn unclosed(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut at, mut open, mut start) = (0, 0_usize, 0);
    while at + 1 < bytes.len() {
        match (&bytes[at..at + 2], open) {
            (b"//", 0) => at += text.get(at..)?.find('\n')?,
            (b"/*", _) => {
                if open == 0 {
                    start = at;
                }
                open += 1;
                at += 2;
            }
            (b"*/", 1..) => {
                open -= 1;
                at += 2;
            }
            _ => at += 1,
        }
    }
    (open > 0).then_some(start)
}
