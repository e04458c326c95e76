//! Steps, with their formulas.

use super::doing::{Doing, Thrown};
use super::enough::limit;
use super::value::{amounts, finite, styled};
use crate::diagnostic::Refusal;
use crate::outcome::{Phrase, Step};
use crate::quantity::{Quantity, words};
use crate::script::given_names::new_label;
use crate::script::grammar::Role;
use crate::script::{formula, limits, run, shown, value};
use crate::tape::charge;
use rhai::Dynamic;

impl Doing<'_, '_, '_, '_, '_, '_, '_, '_> {
    pub(super) fn step(&mut self) -> Thrown<()> {
        let name = self.name();
        let key = self.evaluate(Role::Key)?.map(|key| named_by(&key));
        let key = key.transpose().map_err(|refusal| self.thrown_at(Role::Key, refusal))?;
        let result = self.needed(Role::Value)?;
        if result.is_fnptr() {
            let refusal = Refusal::new("type", "a step is a value; this is a function");
            return Err(self.thrown_at(Role::Value, refusal.hint("call it with what it takes: f.call(2.mm)")));
        }
        let shown = self.as_written(shown::outcome_value(&result).map_err(value::thrown)?);
        finite(&shown).map_err(value::thrown)?;
        // It is kept as a result and as what later runs may take.
        charge(2 * limits::KEPT * amounts(&shown).len() as u64);
        if let Some(quantity) = result
            .read_lock::<Quantity>()
            .filter(|found| found.dimension().is_motion_with_angle())
        {
            let kind = words::name_of(quantity.dimension().without_angle());
            let refusal = Refusal::new("dimension", format!("this {kind} still has an angle in it"))
                .hint("rim_speed(omega, r), or / 1.rad, where the length is a radius")
                .hint("turn_rate(n) * c, or / 1.turn, where the length is so much a turn");
            return Err(value::thrown(refusal));
        }
        let style = self.style(&shown)?;
        let (label, per) = (self.said(Role::Label)?, self.said(Role::Per)?);
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
        let signs = self.signs()?;
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
}

/// What stands between the brackets of a step.
fn named_by(key: &Dynamic) -> Result<String, Refusal> {
    if let Ok(count) = key.as_int() {
        return Ok(count.to_string());
    }
    let name = value::name(key, "the key of a step")?;
    if name.trim().is_empty() {
        return Err(Refusal::new("name", "the key of a step is blank").hint("step stress[\"bump\"] = …"));
    }
    Ok(name)
}
