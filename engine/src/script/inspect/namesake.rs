//! Functions of a script that take the place of one of the engine's: whoever reads `sqrt(x)` takes it for the root.

use super::super::native::Functions;
use super::super::source::Script;
use super::graph::{is_name, word};
use super::inspection::Finding;
use crate::diagnostic::Refusal;

/// Looks at the names of functions. Such a script is run as it is: a function that the engine learns later must not end a
/// script that had one of that name before.
pub(super) fn look(script: &Script, functions: &Functions, found: &mut Vec<Finding>) {
    for at in (0..script.lexemes.len().saturating_sub(1)).filter(|at| word(script, *at) == "fn") {
        let name = word(script, at + 1);
        let inside = (at + 2..script.lexemes.len()).take_while(|at| word(script, *at) != ")");
        let parameters = inside.filter(|at| is_name(script, *at)).count();
        let is_replaced = functions.described().any(|known| {
            let (few, many) = known.arity();
            // As a function, or as a method, whose object is not among the parameters.
            let takes = [parameters, parameters + 1]
                .iter()
                .any(|count| (few..=many).contains(count));
            !known.is_property() && known.name() == name && takes
        });
        if is_replaced {
            let message = format!("`{name}` is a function of the engine too, and this one is taken in its place");
            let refusal =
                Refusal::new("namesake", message).hint("give it a name of its own: readers know the other one");
            found.push(Finding::at(refusal, script.place_at(at + 1)));
        }
    }
}
