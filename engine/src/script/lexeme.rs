//! The words of a script with their places.

use super::wording::is_marked;
use crate::diagnostic::{Refusal, refuse_hidden};
use rhai::{Position, Token};

/// A word of a script.
#[derive(Clone, Debug)]
pub(crate) struct Lexeme {
    /// As it is written; `"` for a text, `0` for a number.
    pub(crate) word: String,
    pub(crate) line: usize,
    pub(crate) column: usize,
    /// Where it starts in the text, in bytes.
    pub(crate) start: usize,
    /// Where it ends.
    pub(crate) end: usize,
    /// Where it is a text that may not stand in a script: why.
    pub(crate) refused: Option<Refusal>,
}

impl Lexeme {
    /// How many characters wide it is, on its first line.
    pub(super) fn width(&self, text: &str) -> usize {
        let written = text.get(self.start..self.end).unwrap_or("");
        written.lines().next().unwrap_or("").chars().count().max(1)
    }

    /// Line and column.
    pub(super) fn stands(&self) -> (usize, usize) {
        (self.line, self.column)
    }
}

/// The words of a text, from its tokens as the parser saw them.
pub(super) fn lexemes(text: &str, tokens: Vec<(Token, Position)>) -> Vec<Lexeme> {
    let starts = line_starts(text);
    let words = tokens.into_iter();
    words
        .filter_map(|(token, position)| lexeme(text, &starts, &token, position))
        .collect()
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
    let start = line_start + in_line;
    let refused = match token {
        Token::StringConstant(text) | Token::InterpolatedString(text) => refusal(text),
        Token::CharConstant(character) => refusal(&character.to_string()),
        _ => None,
    };
    let rest = text.get(start..).unwrap_or("");
    let length = match word.as_str() {
        "\"" => text_length(rest),
        "0" => number_length(rest),
        "?" => name_length(rest),
        word => word.len(),
    };
    Some(Lexeme {
        word,
        line,
        column,
        start,
        end: start + length.min(rest.len()),
        refused,
    })
}

/// Why a text may not stand in a script. The character may be written as an escape, which the text itself does not show.
fn refusal(text: &str) -> Option<Refusal> {
    if is_marked(text) {
        let message = "this text holds a character that Unicode keeps for private use";
        return Some(Refusal::new("text", message));
    }
    refuse_hidden(text, "this text").err()
}

/// How long a text is that starts here, with its quotes; of one with something put in, the piece up to that.
fn text_length(rest: &str) -> usize {
    let raw = rest.chars().take_while(|c| *c == '#').count();
    if raw > 0 {
        let close = format!("\"{}", "#".repeat(raw));
        let found = rest.get(raw + 1..).and_then(|inside| inside.find(&close));
        return found.map_or(rest.len(), |at| raw + 1 + at + close.len());
    }
    let quote = rest.chars().next().filter(|c| matches!(c, '"' | '\''));
    let mut before = None;
    for (at, character) in rest.char_indices().skip(1) {
        match (quote, before, character) {
            (Some(_), Some('\\'), _) => {
                before = None;
                continue;
            }
            (Some(quote), _, found) if found == quote => return at + found.len_utf8(),
            (None, Some('$'), '{') => return at - 1,
            (None, _, '`') => return at + 1,
            _ => {}
        }
        before = Some(character);
    }
    rest.len()
}

/// How long a name is that starts here.
fn name_length(rest: &str) -> usize {
    let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_');
    end.unwrap_or(rest.len()).max(1)
}

/// How long a number is that starts here.
fn number_length(rest: &str) -> usize {
    let bytes = rest.as_bytes();
    let hexadecimal = rest.trim_start_matches('-').starts_with("0x");
    let mut at = usize::from(bytes.first() == Some(&b'-'));
    while let Some(byte) = bytes.get(at) {
        let digit_after = bytes.get(at + 1).is_some_and(u8::is_ascii_digit);
        let exponent = at > 0 && matches!(bytes[at - 1], b'e' | b'E') && !hexadecimal;
        match byte {
            byte if byte.is_ascii_alphanumeric() || *byte == b'_' => {}
            b'.' if digit_after => {}
            b'+' | b'-' if exponent && digit_after => {}
            _ => break,
        }
        at += 1;
    }
    at
}
