//! What reads one way to a person and another way to the language: found on the words, before anything runs.

use super::grammar::Keyword;
use super::place::kept;
use super::source::{Lexeme, Script};
use crate::diagnostic::{Diagnostic, Refusal};
use crate::quantity::units;

/// The traps of a script, in the order of its text.
pub(crate) fn look(script: &Script) -> impl Iterator<Item = Diagnostic> {
    (0..script.lexemes.len()).filter_map(|at| {
        let found = refused(script, at)
            .or_else(|| kept_word(script, at))
            .or_else(|| caret(script, at))
            .or_else(|| fraction(script, at))
            .or_else(|| negative_power(script, at));
        let (refusal, at) = found?;
        Some(match script.place_at(at) {
            Some(place) => Diagnostic::at(refusal, place),
            None => Diagnostic::nowhere(refusal),
        })
    })
}

fn word(script: &Script, at: usize) -> &str {
    script.lexemes.get(at).map_or("", |lexeme| lexeme.word.as_str())
}

type Found = Option<(Refusal, usize)>;

fn refused(script: &Script, at: usize) -> Found {
    let refusal = script.lexemes.get(at)?.refused.clone()?;
    Some((refusal, at))
}

fn kept_word(script: &Script, at: usize) -> Found {
    let before = at.checked_sub(1).map_or("", |before| word(script, before));
    let found = word(script, at);
    match found {
        "switch" | "try" | "catch" | "eval" | "print" | "debug" if before != "." => Some((kept(found), at)),
        _ if matches!(before, "let" | "const") && is_kept(found) => Some((kept(found), at)),
        // `input step = …`: the name is a word of the language.
        _ if Keyword::of(before).is_some_and(Keyword::declares) && is_kept(found) => Some((kept(found), at)),
        _ => None,
    }
}

/// Words that no name may be.
fn is_kept(word: &str) -> bool {
    Keyword::of(word).is_some()
        || matches!(
            word,
            "as" | "plus_minus" | "std_dev" | "if" | "for" | "fn" | "let" | "const"
        )
}

fn caret(script: &Script, at: usize) -> Found {
    (word(script, at) == "^").then(|| {
        (
            Refusal::new("power", "`^` is no power here").hint("write `**`: x**2"),
            at,
        )
    })
}

/// `1/8.inch` is one over eight inches; who writes it means an eighth of an inch.
fn fraction(script: &Script, at: usize) -> Found {
    let shape = ["0", "/", "0", "."];
    if !shape
        .iter()
        .enumerate()
        .all(|(offset, expected)| word(script, at + offset) == *expected)
    {
        return None;
    }
    let unit = units::find(word(script, at + 4))?;
    let number = |at: usize| number_at(script, &script.lexemes[at]);
    let (top, bottom) = (number(at), number(at + 2));
    // As part of a product it is no fraction, and `/ 1.mm` takes a unit off.
    let before = at.checked_sub(1).map_or("", |before| word(script, before));
    if matches!(before, "*" | "/" | "%" | "**") || matches!(bottom, "1" | "1.0") {
        return None;
    }
    let message = format!("`{top}/{bottom}.{}` is {top} over {bottom} {}", unit.name, unit.words);
    let refusal = Refusal::new("fraction", message).hint(format!(
        "({top}/{bottom}).{0} for a fraction of it, {top}/({bottom}.{0}) if one over it is meant",
        unit.name
    ));
    Some((refusal, at))
}

fn number_at<'a>(script: &'a Script, lexeme: &Lexeme) -> &'a str {
    script.text.text.get(lexeme.start..lexeme.end).unwrap_or("")
}

/// `-x**2` is (-x)² to the language, −(x²) to everybody else.
fn negative_power(script: &Script, at: usize) -> Found {
    if word(script, at) != "**" {
        return None;
    }
    let base = operand_start(script, at)?;
    let two_ways = || Refusal::new("power", "`-x**2` can be read in two ways").hint("write -(x**2) or (-x)**2");
    // The sign of a number is part of it.
    if number_at(script, &script.lexemes[base]).starts_with('-') && word(script, base) == "0" {
        return Some((two_ways(), base));
    }
    let minus = base.checked_sub(1)?;
    if word(script, minus) != "-" {
        return None;
    }
    let before = minus.checked_sub(1).map_or("", |before| word(script, before));
    let unary = matches!(
        before,
        "" | "("
            | "["
            | ","
            | "="
            | "+"
            | "-"
            | "*"
            | "/"
            | "%"
            | "**"
            | ":"
            | ";"
            | "{"
            | "<"
            | "<="
            | ">"
            | ">="
            | "=="
    ) || Keyword::of(before).is_some()
        || matches!(before, "return" | "plus_minus" | "from" | "to" | "|");
    // `(-x)**2` says what it means: there the base starts with its bracket, not with the sign.
    unary.then(|| (two_ways(), minus))
}

/// Where the operand before a sign starts: a name or a number with its properties, calls and items, or a bracket.
fn operand_start(script: &Script, sign: usize) -> Option<usize> {
    let mut at = sign.checked_sub(1)?;
    loop {
        if matches!(word(script, at), ")" | "]") {
            let mut open = 0_usize;
            loop {
                match word(script, at) {
                    ")" | "]" | "}" => open += 1,
                    "(" | "[" | "{" | "#{" => open -= 1,
                    _ => {}
                }
                if open == 0 {
                    break;
                }
                at = at.checked_sub(1)?;
            }
            let before = at.checked_sub(1).map_or("", |before| word(script, before));
            let called = before.chars().all(|c| c.is_alphanumeric() || c == '_') && !before.is_empty();
            if !called || word(script, at) == "(" && Keyword::of(before).is_some() {
                return Some(at);
            }
            at -= 1;
            continue;
        }
        let before = at.checked_sub(1).map_or("", |before| word(script, before));
        if before != "." {
            return Some(at);
        }
        at = at.checked_sub(2)?;
    }
}
