//! A script's text read: its words, its tree, and what is found before it runs.

use super::native::Functions;
use super::place::of_parse;
use super::source::Script;
use super::{limits, names, traps, wording};
use crate::diagnostic::{Diagnostic, Place, Refusal, SourceText, refuse_hidden_in};
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
        let text = Arc::new(text);
        if let Err(refused) = refuse_text(&text) {
            return (Rc::new(Script::new(text, Vec::new())), Err(refused));
        }
        let (script, parsed) = self.parse(engine, text);
        let trap = traps::look(&script).chain(unclosed(&script)).next();
        if let Some(trap) = trap {
            return (script, Err(trap));
        }
        let tree = Self::tree(&script, parsed).and_then(|tree| {
            let found = names::look(&tree, &script, &self.functions).into_iter().next();
            found.map_or(Ok(tree), Err)
        });
        (script, tree)
    }

    /// All that would go wrong with a text, as far as it is seen before it runs; its tree where it has one.
    pub(crate) fn inspect(&self, engine: &Engine, text: SourceText) -> (Rc<Script>, Vec<Diagnostic>, Option<AST>) {
        let text = Arc::new(text);
        if let Err(refused) = refuse_text(&text) {
            return (Rc::new(Script::new(text, Vec::new())), vec![refused], None);
        }
        let (script, parsed) = self.parse(engine, text);
        let mut found: Vec<Diagnostic> = traps::look(&script).chain(unclosed(&script)).collect();
        match Self::tree(&script, parsed) {
            Ok(tree) => {
                found.extend(names::look(&tree, &script, &self.functions));
                (script, found, Some(tree))
            }
            Err(error) => {
                // What a trap made unreadable is told already.
                if found.is_empty() {
                    found.push(error);
                }
                (script, found, None)
            }
        }
    }

    fn parse(&self, engine: &Engine, text: Arc<SourceText>) -> (Rc<Script>, Result<AST, ParseError>) {
        self.tokens.borrow_mut().clear();
        let parsed = engine.compile(&text.text);
        let script = Rc::new(Script::new(text, self.tokens.take()));
        (script, parsed)
    }

    fn tree(script: &Script, parsed: Result<AST, ParseError>) -> Result<AST, Diagnostic> {
        let mut tree = parsed.map_err(|error| of_parse(&error, script))?;
        tree.set_source(script.text.name.as_str());
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

fn unclosed(script: &Script) -> Option<Diagnostic> {
    let refusal = || {
        let refusal = Refusal::new("syntax", "this comment never ends, so what follows it is not read");
        refusal.hint("close it with */")
    };
    script.unclosed_comment().map(|place| Diagnostic::at(refusal(), place))
}

/// Beyond this the language no longer counts lines and columns.
const LONGEST: usize = 65_000;

fn refuse_text(source: &Arc<SourceText>) -> Result<(), Diagnostic> {
    let SourceText { name, text } = &**source;
    let limit = |message: String| Refusal::new("limit", message);
    if text.len() > limits::SOURCE {
        return Err(limit(format!("`{name}` is longer than {} bytes", limits::SOURCE)).into());
    }
    if text.lines().count() > LONGEST {
        return Err(limit(format!("`{name}` has more than {LONGEST} lines")).into());
    }
    if let Some(number) = text.lines().position(|line| line.chars().count() > LONGEST) {
        let message = format!("line {} of `{name}` has more than {LONGEST} characters", number + 1);
        return Err(limit(message).into());
    }
    if let Some(at) = text.find(wording::is_mark) {
        let message = "this is a character that Unicode keeps for private use: a script cannot hold it";
        return Err(Diagnostic::at(
            Refusal::new("text", message),
            Place::of_byte(source, at),
        ));
    }
    refuse_hidden_in(source)
}
