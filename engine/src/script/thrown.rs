//! What stops a run, in our words.

use super::limits::MORE;
use super::misread::lower;
use super::native::{Function, Functions};
use super::source::Script;
use super::value::{described_type, spent};
use super::wording;
use crate::diagnostic::{Refusal, nearest};
use crate::quantity::units;
use crate::tape::is_spent;
use rhai::EvalAltResult;
use std::rc::Rc;

/// The message of an error, without its place. `module`: the imported script in which it happened, if any.
pub(crate) fn refusal(
    error: &EvalAltResult,
    functions: &Functions,
    names: &[String],
    module: Option<&Rc<Script>>,
) -> Refusal {
    match error {
        EvalAltResult::ErrorRuntime(value, _) => value.read_lock::<Refusal>().map_or_else(
            || Refusal::new("thrown", format!("the script stops: {value}")),
            |refusal| refusal.clone(),
        ),
        EvalAltResult::ErrorParsing(kind, _) => super::misread::refusal(kind),
        EvalAltResult::ErrorVariableNotFound(name, _) => no_variable(name, names, module),
        EvalAltResult::ErrorFunctionNotFound(signature, _) => no_function(signature, functions),
        EvalAltResult::ErrorDotExpr(message, _) => no_property(message, functions),
        EvalAltResult::ErrorPropertyNotFound(key, _) => no_key(key),
        EvalAltResult::ErrorIndexNotFound(key, _) => no_key(&key.to_string()),
        EvalAltResult::ErrorArrayBounds(..) | EvalAltResult::ErrorStringBounds(..) => out_of_bounds(error),
        EvalAltResult::ErrorIndexingType(types, _) => not_indexed(types),
        EvalAltResult::ErrorMismatchDataType(wanted, found, _) => {
            let (wanted, found) = (described_type(wanted), described_type(found));
            Refusal::new("type", format!("{wanted} is needed here, this is {found}"))
        }
        EvalAltResult::ErrorFor(_) => Refusal::new("type", "`for … in` needs a list or a range")
            .hint("for row in table { … }, for k in 0..5 { … }"),
        EvalAltResult::ErrorModuleNotFound(name, _) => {
            let refusal = Refusal::new("unknown script", format!("there is no script `{name}` to import"))
                .hint("a script sees its own pack and the packs that its manifest names");
            let plain = |letter: char| letter.is_alphanumeric() || letter == '-' || letter == '_';
            if name.is_empty() || !name.chars().all(plain) {
                return refusal;
            }
            let manifest =
                "a file beside it: put a pack.toml there with three lines, `format = 1`, `name = \"my-shop\"` and";
            refusal.hint(format!(
                "{manifest} `version = \"0.1.0\"`, then import \"my-shop/{name}\""
            ))
        }
        EvalAltResult::ErrorAssignmentToConstant(name, _) => {
            Refusal::new("constant", format!("`{name}` keeps the value that it was given"))
                .hint("give the changed value a name of its own")
        }
        EvalAltResult::ErrorDataRace(..) => {
            let message = "a closure uses the list that is being gone through with it";
            Refusal::new("closure", message).hint("let others = xs; then xs.map(|x| others.map(|other| …))")
        }
        other => limit(other).unwrap_or_else(|| unforeseen(other)),
    }
}

fn limit(error: &EvalAltResult) -> Option<Refusal> {
    let message = match error {
        EvalAltResult::ErrorTerminated(..) if is_spent() => return Some(spent()),
        EvalAltResult::ErrorTooManyOperations(_) => {
            let message = "the script does not come to an end: it did more operations than are allowed";
            return Some(Refusal::new("limit", message).hint(MORE));
        }
        EvalAltResult::ErrorTerminated(..) => {
            return Some(Refusal::new("limit", "the script takes too long and was stopped").hint(MORE));
        }
        EvalAltResult::ErrorStackOverflow(_) => {
            format!(
                "functions call one another too deeply: more than {} inside one another",
                super::limits::CALLS
            )
        }
        EvalAltResult::ErrorDataTooLarge(what, _) => {
            let what = lower(what);
            let what = what
                .strip_prefix("length of ")
                .or(what.strip_prefix("size of "))
                .unwrap_or(&what);
            let what = what
                .replace("array/BLOB", "list")
                .replace("object map", "map")
                .replace("string", "text");
            format!("a {what} grows too large")
        }
        EvalAltResult::ErrorTooManyVariables(_) => "the script has too many names".to_owned(),
        EvalAltResult::ErrorTooManyModules(_) => {
            format!("the script imports more than {} scripts in all", super::limits::MODULES)
        }
        _ => return None,
    };
    Some(Refusal::new("limit", message))
}

fn unforeseen(error: &EvalAltResult) -> Refusal {
    let mut bare = error.to_string();
    if let Some(at) = bare.rfind(" (line ") {
        bare.truncate(at);
    }
    Refusal::new("language", lower(&bare))
}

fn no_variable(name: &str, names: &[String], module: Option<&Rc<Script>>) -> Refusal {
    let refusal = Refusal::new("unknown name", format!("nothing is called `{name}` here"));
    if module.is_some_and(|script| script.input_names().any(|input| input == name)) {
        return refusal.hint(format!(
            "a module's function sees its constants and what it is given: give it `{name}` as an argument"
        ));
    }
    if name.contains("::") {
        return refusal.hint("an imported script gives its functions and constants, not its steps and readings");
    }
    refusal.maybe_hint(nearest(name, names.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?")))
}

fn no_key(key: &str) -> Refusal {
    if wording::is_marked(key) {
        return Refusal::new(
            "text of a quantity",
            "the key is a text made of a quantity: nothing can be looked up by it",
        );
    }
    Refusal::new("unknown name", format!("there is no `{key}` in this map"))
}

fn out_of_bounds(error: &EvalAltResult) -> Refusal {
    let (what, count, index) = match error {
        EvalAltResult::ErrorArrayBounds(count, index, _) => ("list", count, index),
        EvalAltResult::ErrorStringBounds(count, index, _) => ("text", count, index),
        _ => return unforeseen(error),
    };
    let items = match count {
        0 => "is empty".to_owned(),
        1 => "has 1 item".to_owned(),
        _ => format!("has {count} items"),
    };
    let refusal = Refusal::new("index", format!("this {what} {items}, number {index} is asked for"));
    refusal.hint("the first is number 0, the last len(list) - 1")
}

/// `Unknown property 'inchh' - a getter is not registered for type 'i64'`
fn no_property(message: &str, functions: &Functions) -> Refusal {
    let quoted: Vec<&str> = message.split('\'').skip(1).step_by(2).collect();
    let [name, .., kind] = quoted[..] else {
        return Refusal::new("unknown name", lower(message));
    };
    let owner = described_type(kind);
    if message.contains("setter") {
        let message = format!("{owner} keeps its `{name}`: it cannot be given another");
        return Refusal::new("unknown name", message);
    }
    let own = functions
        .described()
        .filter(|function| function.is_property() && function.belongs_to(kind));
    let own: Vec<&str> = own.map(Function::name).collect();
    if own.contains(&"mm") {
        let near = units::nearest(name).map(|unit| format!("did you mean `{}` ({})?", unit.name, unit.words));
        let near = match units::meant(name) {
            [] => near,
            meant => Some(format!("did you mean `{}`?", meant.join("` or `"))),
        };
        return Refusal::new("unknown name", format!("there is no unit `{name}`")).maybe_hint(near);
    }
    let refusal = Refusal::new("unknown name", format!("{owner} has no `.{name}`"));
    if own.is_empty() {
        return refusal;
    }
    let near = nearest(name, own.iter().copied()).map(|near| format!("did you mean `.{near}`?"));
    refusal
        .maybe_hint(near)
        .hint(format!("there are: .{}", own.join(", .")))
}

/// `array [string]`
fn not_indexed(types: &str) -> Refusal {
    let (owner, index) = types.split_once(" [").unwrap_or((types, ""));
    let owner = described_type(owner.trim());
    let index = index.split(']').next().unwrap_or("").trim();
    let message = if index.is_empty() {
        format!("{owner} has no items in square brackets")
    } else {
        format!("{owner} has no item under {}", described_type(index))
    };
    let refusal = Refusal::new("type", message);
    if index.ends_with("Quantity") || index == "f64" {
        return refusal.hint("an item's number is a whole one: list[whole(x)]");
    }
    refusal
}

/// Rhai says `name (type, type)`: what is unknown may be the name or how it is called.
fn no_function(signature: &str, functions: &Functions) -> Refusal {
    let (name, arguments) = signature.split_once(" (").unwrap_or((signature, ""));
    let kinds: Vec<String> = arguments
        .trim_end_matches(')')
        .split(", ")
        .map(described_type)
        .collect();
    if let ("==" | "!=" | "<" | "<=" | ">" | ">=", [left, right]) = (name, &kinds[..]) {
        let refusal = Refusal::new("type", format!("{left} cannot be compared with {right}"));
        return refusal.hint("compare numbers, quantities or texts, one with another");
    }
    let arithmetic = matches!(name, "+" | "-" | "*" | "/" | "%" | "**");
    if let (true, [left, right]) = (arithmetic, &kinds[..]) {
        return Refusal::new("type", format!("`{name}` cannot be done with {left} and {right}"));
    }
    if let Some(only) = kinds.first().filter(|_| arithmetic || name == "!") {
        return Refusal::new("type", format!("`{name}` cannot be done with {only}"));
    }
    if name.starts_with("anon$") {
        let message = "this closure takes another number of arguments than it is given";
        return Refusal::new("arguments", message).hint("one argument for root, maximum, minimum and integrate: |x| …");
    }
    if name.contains("::") {
        let message = format!("the imported script has no function `{name}` with this many arguments");
        return Refusal::new("unknown name", message);
    }
    let known = functions.described().find(|function| function.name() == name);
    if let Some(known) = known {
        // The number of arguments is right, or it would have been noticed before: the object is another.
        let owner = kinds.first().cloned().unwrap_or_default();
        let message = format!("{owner} has no `{name}`");
        return Refusal::new("arguments", message).hint(known.signature.as_str());
    }
    let near = nearest(name, functions.names()).map(|near| format!("did you mean `{near}`?"));
    Refusal::new("unknown name", format!("there is no function `{name}` for this")).maybe_hint(near)
}
