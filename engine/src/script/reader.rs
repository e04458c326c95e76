//! A script's text read: its words, its tree, and what is found before it runs.

use super::native::Functions;
use super::place::of_parse;
use super::source::Script;
use super::{limits, names, traps, wording};
use crate::diagnostic::{Diagnostic, Refusal, SourceText};
use rhai::{AST, Engine, ParseError, Position, Token};
use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;

/// Reads scripts; shared by those that run and those that are imported.
#[derive(Clone)]
pub(crate) struct Reader {
    pub(crate) functions: Rc<Functions>,
    tokens: Rc<RefCell<Vec<(Token, Position)>>>,
}

impl Reader {
    /// A reader that listens to what the engine reads.
    pub(crate) fn new(engine: &mut Engine, functions: Functions) -> Self {
        let tokens: Rc<RefCell<Vec<(Token, Position)>>> = Rc::default();
        let kept = Rc::clone(&tokens);
        #[allow(deprecated, reason = "marked volatile, not deprecated; the minor version is pinned")]
        engine.on_parse_token(move |token, position, _| {
            kept.borrow_mut().push((token.clone(), position));
            token
        });
        Self {
            functions: Rc::new(functions),
            tokens,
        }
    }

    /// Reads a text: its words in any case, and its tree or what cannot be read or would go wrong, with its place.
    pub(crate) fn read(&self, engine: &Engine, text: SourceText) -> (Rc<Script>, Result<AST, Diagnostic>) {
        if let Err(refusal) = refuse_text(&text.text) {
            return (Rc::new(Script::new(Arc::new(text), Vec::new())), Err(refusal.into()));
        }
        self.tokens.borrow_mut().clear();
        let parsed = engine.compile(&text.text);
        let script = Rc::new(Script::new(Arc::new(text), self.tokens.take()));
        let tree = self.look(&script, parsed);
        (script, tree)
    }

    fn look(&self, script: &Script, parsed: Result<AST, ParseError>) -> Result<AST, Diagnostic> {
        traps::look(script)?;
        script.unclosed_comment().map_or(Ok(()), |place| {
            let refusal = Refusal::new("syntax", "this comment never ends, so what follows it is not read");
            Err(Diagnostic::at(refusal.hint("close it with */"), place))
        })?;
        let mut tree = parsed.map_err(|error| of_parse(&error, script))?;
        tree.set_source(script.text.name.as_str());
        names::look(&tree, script, &self.functions)?;
        Ok(tree)
    }

    /// The tree of a script taken as a module: its functions and constants.
    ///
    /// # Errors
    /// What cannot be read: nothing, where the whole script could be.
    pub(crate) fn as_module(&self, engine: &Engine, script: &Script) -> Result<AST, Diagnostic> {
        let parsed = engine.compile(script.as_module());
        self.tokens.borrow_mut().clear();
        let mut tree = parsed.map_err(|error| of_parse(&error, script))?;
        tree.set_source(script.text.name.as_str());
        Ok(tree)
    }
}

/// Beyond this the language no longer counts lines and columns.
const LONGEST: usize = 65_000;

fn refuse_text(text: &str) -> Result<(), Refusal> {
    if text.len() > limits::SOURCE {
        let message = format!("the script is longer than {} bytes", limits::SOURCE);
        return Err(Refusal::new("limit", message));
    }
    if text.lines().count() > LONGEST || text.lines().any(|line| line.chars().count() > LONGEST) {
        let message = format!("the script has more than {LONGEST} lines, or characters in a line");
        return Err(Refusal::new("limit", message));
    }
    if wording::is_marked(text) {
        let message = "the script holds a character that Unicode keeps for private use";
        return Err(Refusal::new("text", message));
    }
    Ok(())
}
