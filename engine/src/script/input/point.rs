//! Points and vectors as inputs: three numbers with one ±.

use super::admit::{Result, Taking};
use super::quantity::width_of_repeats;
use super::refused::unfit;
use crate::diagnostic::Refusal;
use crate::outcome::Spread;
use crate::quantity::{Quantity, words};
use crate::script::coordinates::{self, Coordinates};
use crate::script::held::Held;
use crate::script::run::GivenValue;
use crate::script::stated::mean_of_repeats;
use crate::script::{reading, value};
use rhai::Dynamic;

impl Taking<'_, '_> {
    /// A point or a vector: three numbers with one ±.
    pub(super) fn take_coordinates(
        &mut self,
        address: &str,
        example: Coordinates,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        let (mut each, mut spreads) = (example.each, [spread; 3]);
        let job = self.job.take();
        let mut kept = false;
        let (fields, written) = match given {
            None => (no_fields(), None),
            Some(GivenValue::Text(text)) => {
                let (numbers, stated) = self.read_coordinates(address, text, example)?;
                let stated = stated.map(|stated| [stated; 3]);
                let in_job = || job.as_ref().and_then(|job| self.spreads_in_job(address, job, example));
                let spreads = stated.or_else(in_job);
                kept = stated.is_none() && spreads.is_some();
                (no_fields(), Some((numbers, spreads)))
            }
            Some(GivenValue::Repeats(repeats, width)) => {
                let (numbers, spreads) = self.repeated_coordinates(address, repeats, width.as_deref(), example)?;
                (no_fields(), Some((numbers, Some(spreads))))
            }
            Some(GivenValue::List(items)) => (listed_coordinates(address, items)?, None),
            Some(GivenValue::Fields(fields)) => (named_coordinates(address, fields)?, None),
            Some(GivenValue::Tracked(held)) => (held.coordinates(address, example)?, None),
            Some(other) => {
                let refusal = unfit(address, &example.described(), other);
                return Err(refusal.hint("write it so: (905, 22, -70) mm"));
            }
        };
        let first = self.parts.len();
        let mut stated = false;
        if let Some((numbers, widths)) = written {
            each = numbers.map(|number| Quantity::constant(number, example.each[0].dimension()));
            stated = widths.is_some();
            spreads = widths.unwrap_or(spreads);
        }
        let parts = coordinates::NAMES.iter().zip(&mut each).zip(spreads).zip(&fields);
        for (((name, own), spread), field) in parts {
            let address = format!("{address}.{name}");
            let taken = self.take(&address, &Dynamic::from(*own), spread, field.as_ref())?;
            *own = value::quantity(&taken, &format!("`{address}`"))?;
        }
        for part in self.parts.iter_mut().skip(first) {
            part.stated |= stated;
            part.kept |= kept;
        }
        example.with(each)
    }

    /// The ± of each coordinate of the job's value, in whose place another is tried.
    fn spreads_in_job(&self, address: &str, job: &GivenValue, example: Coordinates) -> Option<[Spread; 3]> {
        match job {
            GivenValue::Text(text) => Some([self.read_coordinates(address, text, example).ok()?.1?; 3]),
            GivenValue::Repeats(repeats, width) => {
                let found = self.repeated_coordinates(address, repeats, width.as_deref(), example);
                found.ok().map(|(_, spreads)| spreads)
            }
            _ => None,
        }
    }

    /// "(905, 22, -70) +/- 1 mm"
    fn read_coordinates(&self, address: &str, text: &str, example: Coordinates) -> Result<([f64; 3], Option<Spread>)> {
        let written = reading::read(text, self.declared.signs.as_ref())?;
        let [x, y, z] = written.numbers[..] else {
            let message = format!("`{address}` is three numbers, `{text}` is one");
            return Err(Refusal::new("input", message).hint("write it so: (905, 22, -70) mm"));
        };
        if !written.dimension.is_like(example.each[0].dimension()) {
            let wanted = example.described();
            let found = words::with_article(&words::name_of(written.dimension));
            let message = format!("`{address}` must be {wanted}, the numbers of `{text}` are each {found}");
            return Err(Refusal::new("dimension", message));
        }
        Ok(([x, y, z], written.spread))
    }

    /// Each coordinate's own mean and scatter.
    fn repeated_coordinates(
        &self,
        address: &str,
        repeats: &[String],
        width: Option<&str>,
        example: Coordinates,
    ) -> Result<([f64; 3], [Spread; 3])> {
        let mut numbers: [Vec<f64>; 3] = Default::default();
        for repeat in repeats {
            let (each, _) = self.read_coordinates(address, repeat, example)?;
            for (numbers, number) in numbers.iter_mut().zip(each) {
                numbers.push(number);
            }
        }
        if repeats.is_empty() {
            return Err(Refusal::new("input", format!("there is no reading for `{address}`")));
        }
        let limits = width_of_repeats(address, width, example.each[0])?;
        let [x, y, z] = numbers.map(|numbers| mean_of_repeats(&numbers, limits));
        Ok(([x.0, y.0, z.0], [x.1, y.1, z.1]))
    }
}

impl Held {
    /// The coordinates of a point or a vector that stands on the tape.
    fn coordinates(&self, address: &str, example: Coordinates) -> Result<[Option<GivenValue>; 3]> {
        let found = coordinates::of(&self.value).filter(|found| found.kind == example.kind);
        let Some(found) = found else {
            let (wanted, found) = (example.described(), value::described(&self.value));
            let message = format!("`{address}` must be {wanted}, this is {found}");
            return Err(Refusal::new("input", message));
        };
        Ok(found.each.map(|each| {
            let (value, parts) = (Dynamic::from(each), self.parts.clone());
            Some(GivenValue::Tracked(Self {
                value,
                parts,
                taken_from: None,
            }))
        }))
    }
}

fn no_fields() -> [Option<GivenValue>; 3] {
    [const { None }; 3]
}

/// `front_joint = ["905 mm", "22 mm", "-70 mm"]`
fn listed_coordinates(address: &str, items: &[GivenValue]) -> Result<[Option<GivenValue>; 3]> {
    match items {
        [x, y, z] => Ok([Some(x.clone()), Some(y.clone()), Some(z.clone())]),
        _ => {
            let message = format!("`{address}` is three numbers, this is a list of {}", items.len());
            Err(Refusal::new("input", message).hint("write it so: (905, 22, -70) mm"))
        }
    }
}

/// `front_joint = { x = "905 mm", y = "22 mm", z = "-70 mm" }`
fn named_coordinates(address: &str, fields: &[(String, GivenValue)]) -> Result<[Option<GivenValue>; 3]> {
    if let Some((unknown, _)) = fields
        .iter()
        .find(|(name, _)| !coordinates::NAMES.contains(&name.as_str()))
    {
        let message = format!("`{address}` has x, y and z, no `{unknown}`");
        return Err(Refusal::new("input", message));
    }
    let mut each = no_fields();
    for (name, place) in coordinates::NAMES.iter().zip(&mut each) {
        let field = fields.iter().find(|(found, _)| found == name);
        let lacking = || Refusal::new("input", format!("`{address}` lacks its {name}"));
        *place = Some(field.ok_or_else(lacking)?.1.clone());
    }
    Ok(each)
}
