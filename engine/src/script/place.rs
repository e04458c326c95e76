//! From what the language throws to a message with its place.

use super::native::Functions;
use super::source::Script;
use super::{misread, thrown};
use crate::diagnostic::{Diagnostic, Place, Refusal};
use crate::quantity::units;
use rhai::{EvalAltResult, ParseError, ParseErrorType, Position};
use std::rc::Rc;

pub(crate) use misread::kept;

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

/// The message of a run that stopped. Rhai wraps an error once for each call and import on its way out, and gives
/// the place of the call with the source of what was called: walked from outside in.
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
    places.dedup();
    places.reverse();
    // Deep recursion: who called first and last is enough.
    if places.len() > MOST_PLACES {
        let last = places.split_off(places.len() - 1);
        places.truncate(MOST_PLACES - 1);
        places.extend(last);
    }
    let module = source.and_then(|name| texts.others.iter().find(|script| script.text.name == name));
    Diagnostic {
        refusal: thrown::refusal(error, functions, names, module),
        places,
    }
}

/// How many places a message shows: itself and how it came there.
const MOST_PLACES: usize = 6;

/// The message of a script that cannot be read.
pub(crate) fn of_parse(error: &ParseError, script: &Script) -> Diagnostic {
    let (kind, position) = (&*error.0, error.1);
    let refusal = misread::refusal(kind);
    if matches!(kind, ParseErrorType::UnexpectedEOF) || position.is_none() {
        return match script.end() {
            Some(place) => Diagnostic::at(refusal, place),
            None => Diagnostic::nowhere(refusal),
        };
    }
    // `step a = 5 mm`: the word that cannot follow is a unit.
    if matches!(kind, ParseErrorType::BadInput(_))
        && let Some((number, place)) = script.before(position)
        && let Some(refusal) = unit_after(script, number)
    {
        return Diagnostic::at(refusal, place);
    }
    // What is missing is missing after the word before, which often stands a line above.
    let place = match kind {
        ParseErrorType::MissingToken(token, _) if token == ";" => script.before(position),
        _ => None,
    };
    let refusal = match &place {
        Some((at, _)) => meant(script, *at).unwrap_or(refusal),
        None => refusal,
    };
    Diagnostic::at(
        refusal,
        place.map_or_else(|| script.place(position), |(_, place)| place),
    )
}

/// `3,5` and `3 inch`: the end of a statement is not what is missing.
fn meant(script: &Script, at: usize) -> Option<Refusal> {
    let (number, next) = (script.lexemes.get(at)?, script.lexemes.get(at + 1)?);
    if number.word != "0" {
        return None;
    }
    if next.word == "," {
        let message = "a `,` cannot stand here";
        return Some(Refusal::new("syntax", message).hint("the decimal sign is a point: 3.5"));
    }
    unit_after(script, at)
}

/// A number with a unit beside it, `3 inch`, and how it is written.
fn unit_after(script: &Script, at: usize) -> Option<Refusal> {
    let (number, next) = (script.lexemes.get(at)?, script.lexemes.get(at + 1)?);
    if number.word != "0" {
        return None;
    }
    let number = script.text.text.get(number.start..number.end)?;
    let names = match units::find_written(&next.word) {
        Some(unit) => vec![unit.name],
        None => units::meant(&next.word).to_vec(),
    };
    let names: Vec<String> = names.iter().map(|name| format!("{number}.{name}")).collect();
    let message = format!("a unit stands after a point: `{number} {}` cannot be read", next.word);
    (!names.is_empty()).then(|| Refusal::new("syntax", message).hint(names.join(" or ")))
}
