//! What cannot be read, in our words.

use crate::diagnostic::Refusal;
use rhai::{LexError, ParseErrorType};

/// What to write instead of a word that the language keeps to itself.
pub(crate) fn kept(word: &str) -> Refusal {
    let refusal = Refusal::new("kept word", format!("`{word}` is a word that the language keeps"));
    match word {
        "switch" | "case" | "match" => refusal.hint("write `if … else if …`, or look it up in a map"),
        "try" | "catch" => refusal.hint("write `if` before it goes wrong, or `require`"),
        "throw" => refusal.hint("write `require`, or `check`"),
        "print" | "debug" => refusal.hint("write `note` or `step`"),
        "eval" => refusal.hint("a script cannot make scripts: write a function"),
        _ => refusal.hint(format!("choose another name, such as `{word}_value`")),
    }
}

/// The message of a script that cannot be read.
pub(crate) fn refusal(kind: &ParseErrorType) -> Refusal {
    let syntax = |message: String| Refusal::new("syntax", message);
    match kind {
        ParseErrorType::BadInput(error) => misspelt(error),
        ParseErrorType::Reserved(word) => reserved(word),
        ParseErrorType::MissingToken(token, what) => missing(token, what),
        ParseErrorType::UnexpectedEOF => {
            syntax("the script ends in the middle of a statement".into()).hint("a bracket, a quote or a `;` is missing")
        }
        ParseErrorType::ExprExpected(_) => syntax("a value is missing here".into()),
        ParseErrorType::VariableExpected => syntax("a name is missing here".into())
            .hint("a name starts with a letter, then letters, digits and `_`: tube_od"),
        ParseErrorType::PropertyExpected => syntax("a name must follow the point".into()).hint("3.5.inch, tube.area"),
        ParseErrorType::UnknownOperator(sign) => {
            syntax(format!("`{sign}` is no sign of arithmetic here")).hint("+ - * / ** < <= > >= == !=")
        }
        ParseErrorType::AssignmentToConstant(name) if !name.is_empty() => {
            syntax(format!("`{name}` keeps the value that it was given"))
                .hint("give the changed value a name of its own")
        }
        ParseErrorType::AssignmentToConstant(_) | ParseErrorType::AssignmentToInvalidLHS(_) => {
            syntax("only a name, an item or a property can be given a new value".into())
        }
        ParseErrorType::DuplicatedProperty(key) => syntax(format!("`{key}` stands twice in this map")),
        ParseErrorType::FnDuplicatedDefinition(name, _) => {
            syntax(format!("the function `{name}` is written twice with as many arguments"))
        }
        ParseErrorType::FnDuplicatedParam(function, name) => {
            syntax(format!("`{function}` has two arguments called `{name}`"))
        }
        ParseErrorType::FnMissingBody(_) => syntax("the function's body is missing".into()).hint("fn name(a, b) { … }"),
        ParseErrorType::FnMissingName | ParseErrorType::FnMissingParams(_) => {
            syntax("a function needs a name and brackets".into()).hint("fn name(a, b) { … }")
        }
        ParseErrorType::WrongFnDefinition => {
            syntax("a function cannot stand inside another, an `if` or a loop".into()).hint("move it to the top level")
        }
        ParseErrorType::WrongDocComment => {
            syntax("`///` describes a function and stands right above one".into()).hint("write `//`")
        }
        ParseErrorType::WrongExport => syntax("`export` stands at the top level only".into()),
        ParseErrorType::ExprTooDeep => Refusal::new("limit", "too many brackets or blocks stand inside one another")
            .hint("give parts a name with `let`"),
        ParseErrorType::TooManyFunctions => Refusal::new("limit", "the script has too many functions"),
        ParseErrorType::LiteralTooLarge(what, most) => {
            Refusal::new("limit", format!("{} is above what is allowed ({most})", lower(what)))
        }
        ParseErrorType::MismatchedType(wanted, found) => {
            let (wanted, found) = (described(wanted), described(found));
            Refusal::new("type", format!("{wanted} is needed here, this is {found}"))
        }
        ParseErrorType::MalformedIndexExpr(message) => not_an_index(message),
        ParseErrorType::LoopBreak => syntax("`break` and `continue` stand inside a loop only".into()),
        other => {
            let message = lower(&other.to_string());
            if message.contains("'this'") {
                return kept("this");
            }
            syntax(message)
        }
    }
}

fn misspelt(error: &LexError) -> Refusal {
    let syntax = |message: String| Refusal::new("syntax", message);
    match error {
        LexError::UnterminatedString => {
            syntax("this text does not end".into()).hint("a text ends with the quote that it starts with: \"…\"")
        }
        LexError::UnexpectedInput(found) => {
            let refusal = syntax(format!("`{found}` cannot stand here"));
            if found.chars().all(|c| c.is_ascii_punctuation()) {
                return refusal.hint("is a value or a bracket missing before it?");
            }
            if found.is_ascii() {
                return refusal;
            }
            refusal.hint("names are written with a to z, A to Z, digits and `_`")
        }
        LexError::MalformedEscapeSequence(found) => {
            syntax(format!("`{found}` means nothing in a text")).hint(r"write \\ for one backslash")
        }
        LexError::MalformedNumber(found) => {
            syntax(format!("`{found}` is not a number")).hint("write 1500, 0.083 or 2.1e5")
        }
        LexError::MalformedIdentifier(found) => {
            syntax(format!("`{found}` is no name")).hint("a name starts with a letter, then letters, digits and `_`")
        }
        LexError::MalformedChar(_) => {
            syntax("single quotes hold one character only".into()).hint("write \"…\" for a text")
        }
        LexError::ImproperSymbol(word, message) if message.starts_with("reserved") => reserved(word),
        LexError::ImproperSymbol(_, message) if !message.is_empty() => {
            // Rhai's own remarks on signs of other languages end so.
            let message = message.trim_end_matches('.');
            match message.split_once("Should it be") {
                Some((_, right)) => {
                    let right = right.trim().trim_end_matches('?').trim_matches('\'');
                    let found = message.split('\'').nth(1).unwrap_or("this");
                    syntax(format!("`{found}` is no sign of this language")).hint(format!("write `{right}`"))
                }
                None if message.contains("is not a valid symbol") => {
                    let found = message.split('\'').nth(1).unwrap_or("this");
                    syntax(format!("`{found}` is no sign of this language"))
                }
                None => syntax(message.to_owned()),
            }
        }
        other => syntax(lower(&other.to_string())),
    }
}

fn reserved(word: &str) -> Refusal {
    if word.chars().any(char::is_alphanumeric) {
        return kept(word);
    }
    Refusal::new("syntax", format!("`{word}` means nothing in this language"))
}

/// Rhai says which token is missing, and for what.
fn missing(token: &str, what: &str) -> Refusal {
    let syntax = |message: String| Refusal::new("syntax", message);
    match token {
        ";" => syntax("`;` is missing after this".into()).hint("every statement ends with `;`"),
        "=" if what.contains("'") => {
            let word = what.split('\'').nth(1).unwrap_or("let");
            syntax(format!("`=` and a value must follow the name of this {word}")).hint(format!(
                "{word} NAME = VALUE …: `as`, `:` and the rest come after the value"
            ))
        }
        ")" | "]" | "}" => syntax(format!(
            "`{token}` is missing here: a bracket is not closed, or a `,` is forgotten"
        )),
        "" => syntax("something is missing here".into()),
        _ => syntax(format!("`{token}` is missing here")),
    }
}

/// Rhai's names for what stands in a script, in our words.
fn described(kind: &str) -> &str {
    match kind {
        "a boolean expression" | "a boolean" => "yes or no (a comparison)",
        "a string" => "a text",
        "a number" => "a whole number",
        "a floating-point number" => "a plain number",
        "an array" => "a list",
        "an object map" => "a map",
        "Fn" => "a closure",
        "()" => "nothing",
        "an iterable value" => "a list or a range",
        other => other,
    }
}

fn not_an_index(message: &str) -> Refusal {
    let refusal = |message: &str| Refusal::new("type", message.to_owned());
    if message.starts_with("Array") {
        return refusal("an item of a list has a number, counted from 0").hint("list[0], list[len(list) - 1]");
    }
    if message.starts_with("Object map") {
        return refusal("an entry of a map has a key, a text").hint("map[\"key\"], map.key");
    }
    refusal("this cannot stand in square brackets here")
}

pub(super) fn lower(text: &str) -> String {
    let mut characters = text.chars();
    match characters.next() {
        Some(first) => first.to_lowercase().collect::<String>() + characters.as_str(),
        None => String::new(),
    }
}
