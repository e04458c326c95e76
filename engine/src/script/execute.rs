//! What the statements do when the language reaches them.

use super::admissible::{Choices, choices, range};
use super::given_names::new_label;
use super::grammar::{Keyword, Role, Statement, parse};
use super::input::{self, Declared};
use super::run;
use super::source::Extent;
use super::{formula, limits, reading, value, wording};
use crate::diagnostic::{Place, Refusal};
use crate::figure::{FIGURES, NUMBERS_IN_ALL, Shown};
use crate::outcome::{self, Amount, Check, CheckKind, Comparison, Origin, Phrase, Step, Test, Value};
use crate::quantity::{Quantity, Scale};
use crate::tape::{self, Number, Reached, Relation};
use rhai::{Dynamic, Engine, EvalAltResult, EvalContext, Expr, Expression, Position};

type Thrown<T> = Result<T, Box<EvalAltResult>>;

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
struct Doing<'s, 'c, 'a, 'b, 'd, 'e, 'f, 'g> {
    context: &'s mut EvalContext<'a, 'b, 'd, 'e, 'f, 'g>,
    inputs: &'s [Expression<'c>],
    statement: &'s Statement,
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

    fn expression(&self, role: Role) -> Option<&Expression<'_>> {
        let at = self.statement.roles.iter().position(|found| *found == role)?;
        self.inputs.get(at)
    }

    fn evaluate(&mut self, role: Role) -> Thrown<Option<Dynamic>> {
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
    fn needed(&mut self, role: Role) -> Thrown<Dynamic> {
        self.evaluate(role)?
            .ok_or_else(|| value::thrown(Refusal::new("syntax", "a part of this statement is missing")))
    }

    fn name(&self) -> String {
        self.expression(Role::Name)
            .and_then(Expression::get_string_value)
            .unwrap_or_default()
            .to_owned()
    }

    fn phrase(&mut self, role: Role) -> Thrown<Option<Phrase>> {
        let Some(text) = self.evaluate(role)? else {
            return Ok(None);
        };
        let text = wording::worded(&text).map_err(|refusal| self.thrown_at(role, refusal))?;
        Ok(Some(wording::phrase(&text)))
    }

    /// A map is ordered by its keys; where it was written out in this statement, they keep the order written.
    fn as_written(&self, value: Value) -> Value {
        match self.expression(Role::Value) {
            Some(expression) => super::order::as_written(value, expression),
            None => value,
        }
    }

    /// What follows `as`: a unit's name or a text that `write` takes.
    fn style(&mut self, shown: &Value) -> Thrown<Option<String>> {
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

    fn signs(&self) -> Option<(String, String)> {
        let word = |role| {
            self.expression(role)
                .and_then(|text| text.get_literal_value::<rhai::ImmutableString>())
        };
        Some((word(Role::Positive)?.to_string(), word(Role::Negative)?.to_string()))
    }

    /// A refusal at the expression of a role.
    fn thrown_at(&self, role: Role, refusal: Refusal) -> Box<EvalAltResult> {
        let position = self
            .expression(role)
            .map_or(Position::NONE, |found| found.start_position());
        at(value::thrown(refusal), position)
    }

    /// Where this statement stands.
    fn position(&self) -> Position {
        self.inputs
            .first()
            .map_or(Position::NONE, |first| first.start_position())
    }

    /// The statement's extent and place in its script's text.
    fn stands(&self) -> (Option<Extent>, Option<Place>) {
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

    fn written(&self, extent: Option<&Extent>) -> String {
        let source = self.context.source().map(str::to_owned);
        let Some(extent) = extent else { return String::new() };
        run::with(|run| Ok(run.script_of(source.as_deref()).written(&extent.value))).unwrap_or_default()
    }

    /// The function that a statement stands in, if any.
    fn within(&self, extent: Option<&Extent>) -> Option<String> {
        let source = self.context.source().map(str::to_owned);
        let at = extent?.at;
        run::with(|run| Ok(run.script_of(source.as_deref()).function_at(at).map(str::to_owned))).unwrap_or(None)
    }

    /// An error without a place gets that of this statement.
    fn placed(&self, error: Box<EvalAltResult>) -> Box<EvalAltResult> {
        at(error, self.position())
    }

    fn input(&mut self, assumed: bool) -> Thrown<()> {
        let name = self.name();
        let (extent, place) = self.stands();
        if self.context.call_level() > 0 || extent.as_ref().is_some_and(|extent| extent.depth > 0) {
            return Err(value::thrown(not_at_top(self.statement.keyword.word())));
        }
        let example = self.needed(Role::Value)?;
        let own = input::entered_value(&example).map_err(value::thrown)?;
        let style = self.style(&own)?;
        let range = match (self.evaluate(Role::From)?, self.evaluate(Role::To)?) {
            (Some(low), Some(high)) => {
                Some(range(&example, &own, &low, &high).map_err(|refusal| self.thrown_at(Role::From, refusal))?)
            }
            _ => None,
        };
        let choices = match self.evaluate(Role::OneOf)? {
            None => Choices::default(),
            Some(list) => choices(&example, &list).map_err(|refusal| self.thrown_at(Role::OneOf, refusal))?,
        };
        let (label, how, per) = (
            self.phrase(Role::Label)?,
            self.phrase(Role::How)?,
            self.phrase(Role::Per)?,
        );
        new_label("input", label.as_ref(), place.as_ref()).map_err(value::thrown)?;
        let signs = self.signs();
        let declared = Declared {
            name: &name,
            example,
            signs: signs.clone(),
            choices: choices.clone(),
            range,
        };
        let admitted = run::with(|run| {
            run.new_name(&name)?;
            let admitted = input::admit(run, &declared)?;
            run.readings.insert(name.clone(), admitted.value.clone());
            Ok(admitted)
        })
        .map_err(value::thrown)?;
        let heading = run::with(|run| Ok(run.heading.clone())).map_err(value::thrown)?;
        let shown = self.as_written(input::entered_value(&admitted.value).map_err(value::thrown)?);
        let own = self.as_written(own);
        let origin = admitted
            .origin
            .unwrap_or(if assumed { Origin::Assumed } else { Origin::Example });
        let input = outcome::Input {
            name: name.clone(),
            label,
            how,
            per,
            heading,
            value: styled(shown, style.as_ref(), signs.as_ref()),
            parts: admitted.parts,
            origin,
            taken_from: admitted.taken_from,
            assumed,
            own: admitted.origin.map(|_| styled(own, style.as_ref(), signs.as_ref())),
            range: declared
                .range
                .map(|(low, high)| (low.number().shown(), high.number().shown())),
            choices: choices.words(),
            place,
            reached: Reached::default(),
        };
        run::with(|run| {
            let reached = run.recording.reached();
            run.outcome.inputs.push(outcome::Input { reached, ..input });
            limit(run.outcome.inputs.len(), "inputs")
        })
        .map_err(value::thrown)?;
        // What the sheet shows is what later lines calculate with.
        self.context.scope_mut().push_constant_dynamic(name, admitted.value);
        Ok(())
    }

    fn step(&mut self) -> Thrown<()> {
        let name = self.name();
        let key = match self.evaluate(Role::Key)? {
            None => None,
            Some(key) => Some(if let Ok(count) = key.as_int() {
                count.to_string()
            } else {
                value::text(&key, "the key of a step").map_err(|refusal| self.thrown_at(Role::Key, refusal))?
            }),
        };
        let result = self.needed(Role::Value)?;
        let shown = self.as_written(input::outcome_value(&result).map_err(value::thrown)?);
        finite(&shown).map_err(value::thrown)?;
        if let Some(quantity) = result
            .read_lock::<Quantity>()
            .filter(|found| found.dimension().is_motion_with_angle())
        {
            let kind = crate::quantity::words::name_of(quantity.dimension().without_angle());
            let refusal = Refusal::new("dimension", format!("this {kind} still has an angle in it"))
                .hint("rim_speed(omega, r), or / 1.rad, where the length is a radius")
                .hint("turn_rate(n) * c, or / 1.turn, where the length is so much a turn");
            return Err(value::thrown(refusal));
        }
        let style = self.style(&shown)?;
        let (label, per) = (self.phrase(Role::Label)?, self.phrase(Role::Per)?);
        let (extent, place) = self.stands();
        new_label("step", label.as_ref(), place.as_ref()).map_err(value::thrown)?;
        let formula = self.written(extent.as_ref());
        let inputs = self.inputs;
        // Nobody reads the formulas of a sample.
        let read = run::with(|run| Ok(run.sample.as_ref().is_none_or(|sample| sample.read))).unwrap_or(false);
        let (substituted, opened) = match inputs.get(self.role_at(Role::Value)).filter(|_| read) {
            Some(expression) => formula::substituted(self.context, expression),
            None => (Phrase::default(), Vec::new()),
        };
        let address = key
            .as_ref()
            .map_or_else(|| name.clone(), |key| format!("{name}[{key}]"));
        let within = self.within(extent.as_ref());
        let signs = self.signs();
        run::with(|run| {
            run.new_name(&address)?;
            run.results.insert(address.clone(), result.clone());
            let heading = run.heading.clone();
            let value = styled(shown, style.as_ref(), signs.as_ref());
            run.outcome.steps.push(Step {
                name: address,
                label,
                per,
                heading,
                value,
                formula,
                substituted,
                opened,
                within,
                place,
                reached: run.recording.reached(),
            });
            limit(run.outcome.steps.len(), "steps")
        })
        .map_err(value::thrown)?;
        if key.is_none() {
            self.context.scope_mut().push_constant_dynamic(name, result);
        }
        Ok(())
    }

    fn role_at(&self, role: Role) -> usize {
        self.statement
            .roles
            .iter()
            .position(|found| *found == role)
            .unwrap_or(0)
    }

    fn check(&mut self, kind: CheckKind) -> Thrown<()> {
        let test = if self.expression(Role::From).is_some() {
            self.between()?
        } else {
            let inputs = self.inputs;
            let Some(expression) = inputs.get(self.role_at(Role::Value)) else {
                return Ok(());
            };
            self.test(expression)?
        };
        let (label, per) = (self.phrase(Role::Label)?, self.phrase(Role::Per)?);
        let (extent, place) = self.stands();
        new_label("check", label.as_ref(), place.as_ref()).map_err(value::thrown)?;
        let formula = self.written(extent.as_ref());
        run::with(|run| {
            let heading = run.heading.clone();
            run.outcome.checks.push(Check {
                label,
                kind,
                test,
                formula,
                per,
                heading,
                place,
                reached: run.recording.reached(),
            });
            limit(run.outcome.checks.len(), "checks")
        })
        .map_err(value::thrown)
    }

    fn between(&mut self) -> Thrown<Test> {
        let value = self.needed(Role::Value)?;
        let (low, high) = (self.needed(Role::From)?, self.needed(Role::To)?);
        let sides = [
            (&value, "what is checked"),
            (&low, "the lower limit"),
            (&high, "the upper limit"),
        ];
        let mut quantities = Vec::new();
        for (side, what) in sides {
            quantities.push(value::quantity(side, what).map_err(value::thrown)?);
        }
        for limit in &quantities[1..] {
            comparable(quantities[0], *limit).map_err(|refusal| self.thrown_at(Role::From, refusal))?;
        }
        let (low, high) = (quantities[1], quantities[2]);
        low.require(Relation::LessOrEqual, high, || {
            let message = format!(
                "the limits start at {} and end below it, at {}",
                low.shown(),
                high.shown()
            );
            Refusal::new("range", message).hint("the lower limit stands first")
        })
        .map_err(|refusal| self.thrown_at(Role::From, refusal))?;
        let amount = |quantity: Quantity| run::amount(quantity);
        Ok(Test::Between {
            value: amount(quantities[0]),
            low: amount(quantities[1]),
            high: amount(quantities[2]),
        })
    }

    /// Both sides of a comparison are results, and no guard.
    fn test(&mut self, expression: &Expression<'_>) -> Thrown<Test> {
        match &**expression {
            Expr::FnCall(call, position) if call.args.len() == 2 && Comparison::of(&call.name).is_some() => {
                let comparison = Comparison::of(&call.name).unwrap_or(Comparison::Same);
                let left = self.context.eval_expression_tree(&(&call.args[0]).into())?.flatten();
                let right = self.context.eval_expression_tree(&(&call.args[1]).into())?.flatten();
                sides(&left, comparison, &right).map_err(|refusal| at(value::thrown(refusal), *position))
            }
            other => {
                let position = other.position();
                let truth = self.context.eval_expression_tree(expression)?.flatten();
                let truth = truth.as_bool().map_err(|_| {
                    let refusal = value::wrong(&truth, "a check", "a comparison or yes or no").hint("check a <= b");
                    at(value::thrown(refusal), position)
                })?;
                Ok(Test::Truth(truth))
            }
        }
    }

    fn remark(&mut self) -> Thrown<()> {
        let Some(phrase) = self.phrase(Role::Value)? else {
            return Ok(());
        };
        let keyword = self.statement.keyword;
        run::with(|run| {
            let reached = run.recording.reached();
            match keyword {
                Keyword::Heading => run.heading = Some(phrase),
                Keyword::Caution if run.outcome.cautions.contains(&phrase) => {}
                Keyword::Caution => {
                    run.outcome.cautions.push(phrase);
                    run.outcome.cautions_reached.push(reached);
                }
                _ => {
                    run.outcome.notes.push(phrase);
                    run.outcome.notes_reached.push(reached);
                }
            }
            limit(run.outcome.notes.len().max(run.outcome.cautions.len()), "notes")
        })
        .map_err(value::thrown)
    }

    fn show(&mut self) -> Thrown<()> {
        let value = self.needed(Role::Value)?;
        let figure = super::bind::figure(&value).map_err(|refusal| self.thrown_at(Role::Value, refusal))?;
        let label = self.phrase(Role::Label)?;
        let (_, place) = self.stands();
        run::with(|run| {
            run.drawn += figure.amounts().len();
            within(run.drawn, NUMBERS_IN_ALL, "the figures of a run may hold", "numbers")?;
            let heading = run.heading.clone();
            run.outcome.figures.push(Shown {
                label,
                figure,
                heading,
                place,
                reached: run.recording.reached(),
            });
            within(run.outcome.figures.len(), FIGURES, "a run may show", "figures")
        })
        .map_err(value::thrown)
    }
}

/// Refuses more of what there may be so much of.
fn within(count: usize, most: usize, may: &str, what: &str) -> Result<(), Refusal> {
    if count <= most {
        return Ok(());
    }
    Err(Refusal::new("limit", format!("{may} {most} {what} at most")))
}

/// An input, or an assumption, inside braces.
pub(crate) fn not_at_top(word: &str) -> Refusal {
    let message = format!("an `{word}` cannot stand inside a function, an `if` or a loop");
    let hint = "put it at the top level: what a script needs is known without running it";
    Refusal::new("input", message).hint(hint)
}

fn sides(left: &Dynamic, comparison: Comparison, right: &Dynamic) -> Result<Test, Refusal> {
    let Some((a, b)) = value::as_pair(left, right) else {
        let like = left.is_string() && right.is_string() || left.is_bool() && right.is_bool();
        if !like || !matches!(comparison, Comparison::Same | Comparison::Different) {
            let (left, right) = (value::described(left), value::described(right));
            return Err(Refusal::new("type", format!("{left} cannot be compared with {right}")));
        }
        for side in [left, right].into_iter().filter(|side| side.is_string()) {
            value::text(side, "this")?;
        }
        return Ok(Test::Sides {
            left: input::outcome_value(left)?,
            comparison,
            right: input::outcome_value(right)?,
        });
    };
    comparable(a, b)?;
    Ok(Test::Sides {
        left: Value::Amount(run::amount(a)),
        comparison,
        right: Value::Amount(run::amount(b)),
    })
}

/// The last net: nothing that is not a number is ever shown as one.
fn finite(shown: &Value) -> Result<(), Refusal> {
    if amounts(shown)
        .iter()
        .all(|quantity| quantity.number().shown().is_finite())
    {
        return Ok(());
    }
    Err(Refusal::new("not finite", "this gives no finite number"))
}

/// Refuses what cannot be compared; no guard.
pub(super) fn comparable(a: Quantity, b: Quantity) -> Result<(), Refusal> {
    a.here()?.same_sort(b.here()?, "compare")
}

/// All quantities in a value.
pub(super) fn amounts(value: &Value) -> Vec<Quantity> {
    match value {
        Value::Amount(amount) if amount.scale == Scale::Point => {
            vec![Quantity::temperature_point(Number::constant(amount.si))]
        }
        Value::Amount(amount) => vec![Quantity::constant(amount.si, amount.dimension)],
        Value::Items(items) => items.iter().flat_map(|(_, item)| amounts(item)).collect(),
        Value::Count(_) => vec![Quantity::plain(0.0)],
        Value::Text(_) | Value::Truth(_) => Vec::new(),
    }
}

/// The same, to be written in a style and with words for its sign.
fn styled(value: Value, style: Option<&String>, signs: Option<&(String, String)>) -> Value {
    match value {
        Value::Amount(amount) => Value::Amount(Amount {
            style: style.cloned().or(amount.style),
            signs: signs.cloned(),
            ..amount
        }),
        Value::Items(items) => Value::Items(
            items
                .into_iter()
                .map(|(key, item)| (key, styled(item, style, signs)))
                .collect(),
        ),
        other => other,
    }
}

fn limit(count: usize, what: &str) -> Result<(), Refusal> {
    within(count, limits::RESULTS, "a script may have", what)
}

/// The error with a place, if it has none.
fn at(mut error: Box<EvalAltResult>, position: Position) -> Box<EvalAltResult> {
    if error.position().is_none() {
        error.set_position(position);
    }
    error
}
