//! Which functions can be called, and with how many arguments.

use super::native::Functions;
use crate::diagnostic::{Refusal, nearest};
use rhai::AST;
use std::collections::BTreeMap;

/// The functions that a script can call: its own and those of the library.
pub(crate) struct Calls {
    known: BTreeMap<String, Vec<Shape>>,
}

struct Shape {
    few: usize,
    many: usize,
    signature: String,
}

/// What the language itself brings: items of a range, and calls of a closure.
const OF_THE_LANGUAGE: [(&str, usize, usize, &str); 3] = [
    ("range", 2, 3, "range(from, to[, step])"),
    ("call", 1, 20, "closure.call(…)"),
    ("curry", 1, 255, ""),
];

impl Calls {
    pub(crate) fn new(tree: &AST, functions: &Functions) -> Self {
        let mut known: BTreeMap<String, Vec<Shape>> = BTreeMap::new();
        let mut add = |name: &str, shape| known.entry(name.to_owned()).or_default().push(shape);
        for function in functions.described().filter(|function| !function.is_property()) {
            let (few, many) = function.arity();
            let signature = function.signature.clone();
            add(function.name(), Shape { few, many, signature });
        }
        for function in tree.iter_fn_def() {
            let count = function.params.len();
            let parameters: Vec<&str> = function.params.iter().map(rhai::ImmutableString::as_str).collect();
            let signature = format!("{}({})", function.name, parameters.join(", "));
            let (few, many) = (count, count);
            add(&function.name, Shape { few, many, signature });
        }
        for (name, few, many, signature) in OF_THE_LANGUAGE {
            let signature = signature.to_owned();
            add(name, Shape { few, many, signature });
        }
        Self { known }
    }

    /// Whether something of this name can be called.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.known.contains_key(name)
    }

    /// Refuses a call of what is unknown, or with too few or too many arguments. A method has an object beside what
    /// it is given.
    pub(crate) fn check(&self, name: &str, given: usize, object: usize) -> Result<(), Refusal> {
        let count = given + object;
        let Some(shapes) = self.known.get(name) else {
            let names = self.known.keys().map(String::as_str).filter(|name| !name.contains('$'));
            let near = nearest(name, names).map(|near| format!("did you mean `{near}`?"));
            let message = format!("there is no function `{name}`");
            let refusal = Refusal::new("unknown name", message);
            match name {
                "append" | "insert" | "add" => return Err(refusal.hint("list.push(item); puts one more into a list")),
                "reduce" | "fold" => return Err(refusal.hint("sum(list), max(list), or for item in list { … }")),
                _ => {}
            }
            return Err(refusal.maybe_hint(near));
        };
        if shapes.iter().any(|shape| (shape.few..=shape.many).contains(&count)) {
            return Ok(());
        }
        let what = if given == 1 {
            "1 argument".to_owned()
        } else {
            format!("{given} arguments")
        };
        let verdict = if shapes.iter().all(|shape| count < shape.few) {
            ": too few"
        } else if shapes.iter().all(|shape| count > shape.many) {
            ": too many"
        } else {
            ""
        };
        let message = format!("`{name}` cannot be called with {what}{verdict}");
        let signatures = shapes.iter().take(2).map(|shape| shape.signature.clone());
        Err(signatures.fold(Refusal::new("arguments", message), Refusal::hint))
    }
}
