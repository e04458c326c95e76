//! From what the language throws to a message with its place.

use super::native::Functions;
use super::source::Script;
use crate::diagnostic::{Diagnostic, Place, Refusal, nearest};
use rhai::{EvalAltResult, ParseError, ParseErrorType, Position};
use std::rc::Rc;

/// The scripts whose text a message may point into: the one that runs, and what it imported.
pub(crate) struct Texts<'a> {
    pub(crate) main: &'a Rc<Script>,
    pub(crate) others: Vec<Rc<Script>>,
}

impl Texts<'_> {
    fn place(&self, source: Option<&str>, position: Position) -> Option<Place> {
        if position.is_none() {
            return None;
        }
        let script = source
            .and_then(|name| self.others.iter().find(|script| script.text.name == name))
            .unwrap_or(self.main);
        Some(script.place(position))
    }
}

/// The message of a run that stopped.
pub(crate) fn of_run(error: &EvalAltResult, texts: &Texts<'_>, functions: &Functions, names: &[String]) -> Diagnostic {
    let mut places = Vec::new();
    let mut source: Option<String> = None;
    let mut error = error;
    loop {
        match error {
            EvalAltResult::ErrorInFunctionCall(_, inside, inner, position) => {
                places.extend(texts.place(source.as_deref(), *position));
                if !inside.is_empty() {
                    source = Some(inside.clone());
                }
                error = inner;
            }
            EvalAltResult::ErrorInModule(name, inner, position) => {
                places.extend(texts.place(source.as_deref(), *position));
                source = Some(name.clone());
                error = inner;
            }
            _ => break,
        }
    }
    places.extend(texts.place(source.as_deref(), error.position()));
    places.reverse();
    Diagnostic {
        refusal: refusal(error, functions, names),
        places,
    }
}

/// The message of a script that cannot be read.
pub(crate) fn of_parse(error: &ParseError, script: &Script) -> Diagnostic {
    let (kind, position) = (&error.0, error.1);
    let refusal = match &**kind {
        ParseErrorType::BadInput(rhai::LexError::ImproperSymbol(_, message)) if !message.is_empty() => {
            Refusal::new("syntax", message.clone())
        }
        ParseErrorType::Reserved(word) => kept(word),
        ParseErrorType::MissingToken(token, what) => {
            Refusal::new("syntax", format!("`{token}` is missing here ({})", lower(what)))
        }
        ParseErrorType::UnexpectedEOF => Refusal::new("syntax", "the script ends in the middle of a statement"),
        other => Refusal::new("syntax", lower(&other.to_string())),
    };
    if position.is_none() {
        return Diagnostic::nowhere(refusal);
    }
    Diagnostic::at(refusal, script.place(position))
}

/// What to write instead of a word that the language keeps to itself.
pub(crate) fn kept(word: &str) -> Refusal {
    let refusal = Refusal::new("kept word", format!("`{word}` is a word that the language keeps"));
    match word {
        "switch" | "case" | "match" => refusal.hint("write `if … else if …`, or look it up in a map"),
        "try" | "catch" => refusal.hint("write `if` before it goes wrong, or `require`"),
        "print" | "debug" => refusal.hint("write `note` or `step`"),
        "eval" => refusal.hint("a script cannot make scripts: write a function"),
        _ => refusal.hint(format!("choose another name, such as `{word}_value`")),
    }
}

fn refusal(error: &EvalAltResult, functions: &Functions, names: &[String]) -> Refusal {
    match error {
        EvalAltResult::ErrorRuntime(value, _) => value.read_lock::<Refusal>().map_or_else(
            || Refusal::new("thrown", format!("the script stops: {value}")),
            |refusal| refusal.clone(),
        ),
        EvalAltResult::ErrorVariableNotFound(name, _) => {
            let near = nearest(name, names.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?"));
            Refusal::new("unknown name", format!("nothing is called `{name}` here")).maybe_hint(near)
        }
        EvalAltResult::ErrorFunctionNotFound(signature, _) => not_found(signature, functions),
        EvalAltResult::ErrorTooManyOperations(_) => Refusal::new(
            "limit",
            "the script does not come to an end: it did more operations than are allowed",
        ),
        EvalAltResult::ErrorTerminated(_, _) => {
            Refusal::new("limit", "the script takes too long: it was stopped after 10 s")
        }
        EvalAltResult::ErrorStackOverflow(_) => Refusal::new(
            "limit",
            "functions call one another too deeply: more than 64 inside one another",
        ),
        EvalAltResult::ErrorDataTooLarge(what, _) => Refusal::new("limit", format!("{} grows too large", lower(what))),
        EvalAltResult::ErrorDotExpr(message, _) if message.starts_with("Unknown property '") => {
            // Unknown property 'w' - a getter is not registered for type 'T'
            let mut quoted = message.split('\'').skip(1).step_by(2);
            let (name, owner) = (quoted.next().unwrap_or(""), quoted.next().unwrap_or(""));
            no_property(name, owner, functions)
        }
        EvalAltResult::ErrorPropertyNotFound(name, _) => {
            Refusal::new("unknown name", format!("there is no `{name}` in this map"))
        }
        EvalAltResult::ErrorIndexNotFound(key, _) => {
            Refusal::new("unknown name", format!("there is no `{key}` in this map"))
        }
        EvalAltResult::ErrorArrayBounds(count, index, _) => Refusal::new(
            "index",
            format!("this list has {count} items, number {index} is asked for (the first is 0)"),
        ),
        EvalAltResult::ErrorMismatchDataType(wanted, found, _) => {
            Refusal::new("type", format!("a {wanted} is needed here, this is a {found}"))
        }
        EvalAltResult::ErrorModuleNotFound(name, _) => {
            Refusal::new("unknown script", format!("there is no script `{name}` to import"))
                .hint("a script sees its own pack and the packs that its manifest names")
        }
        other => {
            let mut bare = other.to_string();
            if let Some(at) = bare.rfind(" (line ") {
                bare.truncate(at);
            }
            Refusal::new("language", lower(&bare))
        }
    }
}

/// Rhai says `name (type, type)`: what is unknown may be the name or how it is called.
fn not_found(signature: &str, functions: &Functions) -> Refusal {
    let name = signature.split(" (").next().unwrap_or(signature);
    if let Some(property) = name.strip_prefix("get$") {
        let owner = signature.split_once(" (").map_or("", |(_, types)| types);
        return no_property(property, owner.trim_end_matches(')'), functions);
    }
    let owner = signature.split_once(" (").map_or("", |(_, types)| types);
    let owner = owner.split([',', ')']).next().unwrap_or(owner);
    let known = || functions.described().filter(|function| function.name() == name);
    let own = known().find(|function| function.belongs_to(owner));
    if let Some(first) = own.or_else(|| known().next()) {
        let message = match object_refused(name, signature, functions) {
            Some(object) => format!("{object} has no `{name}`"),
            None => format!("`{name}` cannot be called with this many arguments"),
        };
        return Refusal::new("arguments", message).hint(first.signature.as_str());
    }
    let near = nearest(name, functions.names()).map(|near| format!("did you mean `{near}`?"));
    Refusal::new("unknown name", format!("there is no function `{name}` for this")).maybe_hint(near)
}

/// What has properties is told its own; anything else may have wanted a unit.
fn no_property(name: &str, owner: &str, functions: &Functions) -> Refusal {
    let own = functions
        .described()
        .filter(|function| function.is_property() && function.belongs_to(owner));
    let names: Vec<&str> = own.map(super::native::Function::name).collect();
    let is_number = names.contains(&"mm");
    if names.is_empty() || is_number {
        let near = crate::quantity::units::nearest(name).map(|unit| format!("did you mean the unit `{}`?", unit.name));
        return Refusal::new("unknown name", format!("there is no unit or property `{name}` here")).maybe_hint(near);
    }
    let object = super::value::described_type(owner);
    let near = nearest(name, names.iter().copied()).map(|near| format!("did you mean `.{near}`?"));
    let all = format!("there are: .{}", names.join(", ."));
    Refusal::new("unknown name", format!("{object} has no `.{name}`"))
        .maybe_hint(near)
        .hint(all)
}

/// The kind of the first argument, where the number of arguments is right: then the function belongs to other things.
fn object_refused(name: &str, signature: &str, functions: &Functions) -> Option<String> {
    let types = signature.split_once(" (")?.1.trim_end_matches(')');
    let count = types.split(", ").filter(|found| !found.is_empty()).count();
    let fits = |(few, many): (usize, usize)| (few..=many).contains(&count);
    functions
        .described()
        .any(|function| function.name() == name && fits(function.arity()))
        .then(|| super::value::described_type(types.split(", ").next().unwrap_or(types)))
}

fn lower(text: &str) -> String {
    let mut characters = text.chars();
    match characters.next() {
        Some(first) => first.to_lowercase().collect::<String>() + characters.as_str(),
        None => String::new(),
    }
}
