//! Checks: both sides of a comparison are results, and no guard.

use super::doing::{Doing, Thrown, at};
use super::enough::limit;
use super::value::comparable;
use crate::diagnostic::{Refusal, refuse_lines};
use crate::outcome::{Check, CheckKind, Comparison, Test, Value};
use crate::quantity::Quantity;
use crate::script::given_names::new_label;
use crate::script::grammar::Role;
use crate::script::{run, shown, value};
use crate::tape::Relation;
use rhai::{Dynamic, Expr, Expression};

impl Doing<'_, '_, '_, '_, '_, '_, '_, '_> {
    pub(super) fn check(&mut self, kind: CheckKind) -> Thrown<()> {
        let test = if self.expression(Role::From).is_some() {
            self.between()?
        } else {
            let inputs = self.inputs;
            let Some(expression) = inputs.get(self.role_at(Role::Value)) else {
                return Ok(());
            };
            self.test(expression)?
        };
        let (label, per) = (self.said(Role::Label)?, self.said(Role::Per)?);
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
}

fn sides(left: &Dynamic, comparison: Comparison, right: &Dynamic) -> Result<Test, Refusal> {
    let Some((a, b)) = value::as_pair(left, right) else {
        let like = left.is_string() && right.is_string() || left.is_bool() && right.is_bool();
        if !like || !matches!(comparison, Comparison::Same | Comparison::Different) {
            let (left, right) = (value::described(left), value::described(right));
            return Err(Refusal::new("type", format!("{left} cannot be compared with {right}")));
        }
        for side in [left, right].into_iter().filter(|side| side.is_string()) {
            // Shown on one line, texts that differ in their lines would read the same.
            refuse_lines(&value::text(side, "this")?, "a text in a check")?;
        }
        return Ok(Test::Sides {
            left: shown::outcome_value(left)?,
            comparison,
            right: shown::outcome_value(right)?,
        });
    };
    comparable(a, b)?;
    Ok(Test::Sides {
        left: Value::Amount(run::amount(a)),
        comparison,
        right: Value::Amount(run::amount(b)),
    })
}
