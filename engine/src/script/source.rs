//! A script's text: its words with their places, its statements and how far each reaches.

use super::grammar::Keyword;
use crate::diagnostic::{Place, SourceText};
use rhai::{Position, Token};
use std::sync::Arc;

/// A word of a script.
#[derive(Clone, Debug)]
pub(crate) struct Lexeme {
    /// As it is written; `"` for a text, `0` for a number.
    pub(crate) word: String,
    pub(crate) line: usize,
    pub(crate) column: usize,
    /// Where it starts in the text, in bytes.
    pub(crate) start: usize,
}

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
    pub(crate) value: std::ops::Range<usize>,
}

/// A script's text with its words.
#[derive(Clone, Debug)]
pub(crate) struct Script {
    pub(crate) text: Arc<SourceText>,
    pub(crate) lexemes: Vec<Lexeme>,
    pub(crate) extents: Vec<Extent>,
}

impl Script {
    /// Of a text and its tokens as the parser saw them.
    pub(crate) fn new(text: Arc<SourceText>, tokens: Vec<(Token, Position)>) -> Self {
        let starts = line_starts(&text.text);
        let lexemes: Vec<Lexeme> = tokens
            .into_iter()
            .filter_map(|(token, position)| lexeme(&text.text, &starts, &token, position))
            .collect();
        let extents = extents(&lexemes);
        Self { text, lexemes, extents }
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
        let width = self
            .lexemes
            .iter()
            .find(|lexeme| lexeme.line == line && lexeme.column == column)
            .map_or(1, |lexeme| lexeme.word.chars().count());
        Place {
            source: Arc::clone(&self.text),
            line,
            column,
            width,
        }
    }

    /// The place of a statement: its keyword.
    pub(crate) fn place_of(&self, extent: &Extent) -> Place {
        let keyword = &self.lexemes[extent.at];
        let width = keyword.word.chars().count();
        Place {
            source: Arc::clone(&self.text),
            line: keyword.line,
            column: keyword.column,
            width,
        }
    }

    /// The text with all top-level statements blanked but `import`, `const`, `export` and functions: what a script is
    /// as a module. Places stay.
    pub(crate) fn as_module(&self) -> String {
        let mut text = self.text.text.clone().into_bytes();
        let mut at = 0;
        while let Some(first) = self.lexemes.get(at) {
            let function = matches!(first.word.as_str(), "fn" | "private");
            let end = self.statement_end(at, function);
            if !function && !matches!(first.word.as_str(), "import" | "const" | "export") {
                let stop = self.lexemes.get(end).map_or(text.len(), |lexeme| lexeme.start);
                for byte in text
                    .iter_mut()
                    .take(stop)
                    .skip(first.start)
                    .filter(|byte| **byte != b'\n')
                {
                    *byte = b' ';
                }
            }
            at = end;
        }
        String::from_utf8(text).unwrap_or_default()
    }

    /// The lexeme after a top-level statement: after its `;`, or its closing brace where it is a block.
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
        self.extents.iter().rev().find(|extent| {
            let keyword = &self.lexemes[extent.at];
            (keyword.line, keyword.column) <= here
        })
    }

    /// A run of words as written, on one line, without comments.
    pub(crate) fn written(&self, range: &std::ops::Range<usize>) -> String {
        let Some(first) = self.lexemes.get(range.start) else {
            return String::new();
        };
        let end = self
            .lexemes
            .get(range.end)
            .map_or(self.text.text.len(), |lexeme| lexeme.start);
        let slice = self.text.text.get(first.start..end).unwrap_or("");
        let lines = slice.lines().map(|line| line.split("//").next().unwrap_or(""));
        lines.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ")
    }
}

fn line_starts(text: &str) -> Vec<usize> {
    std::iter::once(0)
        .chain(text.match_indices('\n').map(|(at, _)| at + 1))
        .collect()
}

fn lexeme(text: &str, starts: &[usize], token: &Token, position: Position) -> Option<Lexeme> {
    let line = position.line()?;
    let column = position.position().unwrap_or(1);
    let line_start = *starts.get(line - 1)?;
    let in_line = text
        .get(line_start..)?
        .char_indices()
        .nth(column.saturating_sub(1))
        .map_or(0, |(at, _)| at);
    let word = match token {
        Token::EOF => return None,
        Token::Identifier(name) | Token::Reserved(name) | Token::Custom(name) => name.to_string(),
        Token::StringConstant(_) | Token::InterpolatedString(_) | Token::CharConstant(_) => "\"".to_owned(),
        Token::IntegerConstant(_) | Token::FloatConstant(_) => "0".to_owned(),
        other if other.is_literal() => other.literal_syntax().to_owned(),
        _ => "?".to_owned(),
    };
    Some(Lexeme {
        word,
        line,
        column,
        start: line_start + in_line,
    })
}

/// Words that end a statement's value where no bracket is open.
const CLAUSES: [&str; 9] = ["from", "to", "one_of", "as", "signs", ":", "how", "per", ";"];

fn extents(lexemes: &[Lexeme]) -> Vec<Extent> {
    let mut found = Vec::new();
    let mut depth: usize = 0;
    for (at, lexeme) in lexemes.iter().enumerate() {
        match lexeme.word.as_str() {
            "{" | "#{" => depth += 1,
            "}" => depth = depth.saturating_sub(1),
            word => {
                let after_dot = at > 0 && lexemes[at - 1].word == ".";
                if let (Some(keyword), false) = (Keyword::of(word), after_dot) {
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
    let length = lexemes[start.min(lexemes.len())..]
        .iter()
        .position(|lexeme| {
            match lexeme.word.as_str() {
                "(" | "[" | "{" | "#{" => open += 1,
                ")" | "]" | "}" if open == 0 => return true,
                ")" | "]" | "}" => open -= 1,
                word => return open == 0 && CLAUSES.contains(&word),
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
