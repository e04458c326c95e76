//! A statement being carried out: its parts, and where it stands.

use super::value::amounts;
use crate::diagnostic::{Place, Refusal, refuse_lines};
use crate::outcome::{CheckKind, Phrase, Value};
use crate::script::grammar::{Keyword, Role, Statement, parse};
use crate::script::source::Extent;
use crate::script::{order, reading, run, value, wording};
use crate::tape;
use rhai::{Dynamic, Engine, EvalAltResult, EvalContext, Expr, Expression, Position};

pub(super) type Thrown<T> = Result<T, Box<EvalAltResult>>;

/// Adds the statements to the language.
pub(crate) fn add_statements(engine: &mut Engine) {
    for keyword in Keyword::ALL {
        engine.register_custom_syntax_with_state_raw(
            keyword.word(),
            move |_symbols, ahead, state| parse(keyword, ahead, state),
            keyword.declares(),
            move |context, inputs, state| {
                let Some(statement) = Statement::of(state) else {
                    return Ok(Dynamic::UNIT);
                };
                let mut doing = Doing {
                    context,
                    inputs,
                    statement: &statement,
                };
                doing.run().map_err(|error| doing.placed(error))
            },
        );
    }
}

/// A statement being carried out.
pub(super) struct Doing<'s, 'c, 'a, 'b, 'd, 'e, 'f, 'g> {
    pub(super) context: &'s mut EvalContext<'a, 'b, 'd, 'e, 'f, 'g>,
    pub(super) inputs: &'s [Expression<'c>],
    pub(super) statement: &'s Statement,
}

impl Doing<'_, '_, '_, '_, '_, '_, '_, '_> {
    fn run(&mut self) -> Thrown<Dynamic> {
        if tape::in_closure() {
            let message = format!(
                "a {} cannot stand in a closure that is solved",
                self.statement.keyword.word()
            );
            return Err(value::thrown(
                Refusal::new("closure", message).hint("put it after the root or the maximum"),
            ));
        }
        if tape::is_aside() {
            return self.aside();
        }
        match self.statement.keyword {
            Keyword::Input => self.input(false)?,
            Keyword::Assume => self.input(true)?,
            Keyword::Step => self.step()?,
            Keyword::Check => self.check(CheckKind::Check)?,
            Keyword::Prefer => self.check(CheckKind::Prefer)?,
            Keyword::Require => self.check(CheckKind::Require)?,
            Keyword::Heading | Keyword::Note | Keyword::Caution => self.remark()?,
            Keyword::Show => self.show()?,
        }
        Ok(Dynamic::UNIT)
    }

    /// In a function that is called again only to print a value: a step is a name there, the rest says nothing.
    fn aside(&mut self) -> Thrown<Dynamic> {
        if self.statement.keyword == Keyword::Step && self.expression(Role::Key).is_none() {
            let value = self.needed(Role::Value)?;
            let name = self.name();
            self.context.scope_mut().push_constant_dynamic(name, value);
        }
        Ok(Dynamic::UNIT)
    }

    pub(super) fn expression(&self, role: Role) -> Option<&Expression<'_>> {
        let at = self.statement.roles.iter().position(|found| *found == role)?;
        self.inputs.get(at)
    }

    pub(super) fn evaluate(&mut self, role: Role) -> Thrown<Option<Dynamic>> {
        let Some(place) = self.statement.roles.iter().position(|found| *found == role) else {
            return Ok(None);
        };
        let Some(expression) = self.inputs.get(place) else {
            return Ok(None);
        };
        let position = expression.start_position();
        let value = self.context.eval_expression_tree(expression)?.flatten();
        wording::sound(&value).map_err(|refusal| at(value::thrown(refusal), position))?;
        Ok(Some(value))
    }

    /// A value that the grammar demands.
    pub(super) fn needed(&mut self, role: Role) -> Thrown<Dynamic> {
        self.evaluate(role)?
            .ok_or_else(|| value::thrown(Refusal::new("syntax", "a part of this statement is missing")))
    }

    pub(super) fn name(&self) -> String {
        self.expression(Role::Name)
            .and_then(Expression::get_string_value)
            .unwrap_or_default()
            .to_owned()
    }

    /// A text that says more of something. A blank one says nothing, and is none.
    pub(super) fn said(&mut self, role: Role) -> Thrown<Option<Phrase>> {
        Ok(self.phrase(role)?.filter(|phrase| !phrase.is_blank()))
    }

    pub(super) fn phrase(&mut self, role: Role) -> Thrown<Option<Phrase>> {
        let Some(text) = self.evaluate(role)? else {
            return Ok(None);
        };
        let text = wording::worded(&text).map_err(|refusal| self.thrown_at(role, refusal))?;
        Ok(Some(wording::phrase(&text)))
    }

    /// A map is ordered by its keys; where it was written out in this statement, they keep the order written.
    pub(super) fn as_written(&self, value: Value) -> Value {
        match self.expression(Role::Value) {
            Some(expression) => order::as_written(value, expression),
            None => value,
        }
    }

    /// What follows `as`: a unit's name or a text that `write` takes.
    pub(super) fn style(&mut self, shown: &Value) -> Thrown<Option<String>> {
        let Some(expression) = self.expression(Role::Unit) else {
            return Ok(None);
        };
        let position = expression.position();
        let style = match &**expression {
            Expr::Variable(..) | Expr::StringConstant(..) => expression.get_string_value().map(str::to_owned),
            _ => None,
        };
        let Some(style) = style else {
            let refusal =
                Refusal::new("unit", "what follows `as` must be a unit").hint("as mm, as \"lbf ft\", as \"in 1/16\"");
            return Err(at(value::thrown(refusal), position));
        };
        for quantity in amounts(shown) {
            let checked = reading::style(&style, quantity.dimension(), quantity.scale());
            checked.map_err(|refusal| at(value::thrown(refusal), position))?;
        }
        Ok(Some(style))
    }

    pub(super) fn signs(&self) -> Thrown<Option<(String, String)>> {
        let word = |role| {
            let expression = self.expression(role);
            let word = expression.and_then(|text| text.get_literal_value::<rhai::ImmutableString>());
            let refused = word.as_ref().map(|word| refuse_lines(word, "a word for a sign"));
            match refused {
                Some(Err(refusal)) => Err(self.thrown_at(role, refusal)),
                _ => Ok(word.map(|word| word.to_string())),
            }
        };
        Ok(word(Role::Positive)?.zip(word(Role::Negative)?))
    }

    /// A refusal at the expression of a role.
    pub(super) fn thrown_at(&self, role: Role, refusal: Refusal) -> Box<EvalAltResult> {
        let position = self
            .expression(role)
            .map_or(Position::NONE, |found| found.start_position());
        at(value::thrown(refusal), position)
    }

    /// Where this statement stands.
    pub(super) fn position(&self) -> Position {
        self.inputs
            .first()
            .map_or(Position::NONE, |first| first.start_position())
    }

    /// The statement's extent and place in its script's text.
    pub(super) fn stands(&self) -> (Option<Extent>, Option<Place>) {
        let source = self.context.source().map(str::to_owned);
        let position = self.position();
        let found = run::with(|run| {
            let script = run.script_of(source.as_deref());
            let extent = script.extent_at(position).cloned();
            let place = extent.as_ref().and_then(|extent| script.place_of(extent));
            Ok((extent, place))
        });
        found.unwrap_or((None, None))
    }

    pub(super) fn written(&self, extent: Option<&Extent>) -> String {
        let source = self.context.source().map(str::to_owned);
        let Some(extent) = extent else { return String::new() };
        run::with(|run| Ok(run.script_of(source.as_deref()).written(&extent.value))).unwrap_or_default()
    }

    /// The function that a statement stands in, if any.
    pub(super) fn within(&self, extent: Option<&Extent>) -> Option<String> {
        let source = self.context.source().map(str::to_owned);
        let at = extent?.at;
        run::with(|run| Ok(run.script_of(source.as_deref()).function_at(at).map(str::to_owned))).unwrap_or(None)
    }

    /// An error without a place gets that of this statement.
    pub(super) fn placed(&self, error: Box<EvalAltResult>) -> Box<EvalAltResult> {
        at(error, self.position())
    }

    pub(super) fn role_at(&self, role: Role) -> usize {
        self.statement
            .roles
            .iter()
            .position(|found| *found == role)
            .unwrap_or(0)
    }
}

/// The error with a place, if it has none.
pub(super) fn at(mut error: Box<EvalAltResult>, position: Position) -> Box<EvalAltResult> {
    if error.position().is_none() {
        error.set_position(position);
    }
    error
}
