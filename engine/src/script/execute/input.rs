//! Inputs and assumptions.

use super::doing::{Doing, Thrown};
use super::enough::limit;
use super::value::styled;
use crate::diagnostic::Refusal;
use crate::outcome::{self, Origin};
use crate::script::given_names::new_label;
use crate::script::grammar::Role;
use crate::script::input::{self, Choices, Declared, choices, range};
use crate::script::{run, shown, value};
use crate::tape::Reached;

impl Doing<'_, '_, '_, '_, '_, '_, '_, '_> {
    pub(super) fn input(&mut self, assumed: bool) -> Thrown<()> {
        let name = self.name();
        let (extent, place) = self.stands();
        if self.context.call_level() > 0 || extent.as_ref().is_some_and(|extent| extent.depth > 0) {
            return Err(value::thrown(not_at_top(self.statement.keyword.word())));
        }
        let example = self.needed(Role::Value)?;
        let own = shown::entered_value(&example).map_err(value::thrown)?;
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
        let (label, how, per) = (self.said(Role::Label)?, self.said(Role::How)?, self.said(Role::Per)?);
        new_label("input", label.as_ref(), place.as_ref()).map_err(value::thrown)?;
        let signs = self.signs()?;
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
        let shown = self.as_written(shown::entered_value(&admitted.value).map_err(value::thrown)?);
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
}

/// An input, or an assumption, inside braces.
pub(crate) fn not_at_top(word: &str) -> Refusal {
    let message = format!("an `{word}` cannot stand inside a function, an `if` or a loop");
    let hint = "put it at the top level: what a script needs is known without running it";
    Refusal::new("input", message).hint(hint)
}
