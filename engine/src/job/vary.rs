//! Inputs that a study varies: between two values, or among several.

use super::job::Job;
use super::plan::{Overrides, Plan, Programs, trial};
use super::run::Ran;
use crate::diagnostic::{Diagnostic, Refusal};
use crate::outcome::{Amount, Input, Value};
use crate::script::Library;

type Result<T> = std::result::Result<T, Diagnostic>;

/// More combinations of choices than this are a mistake.
const MOST_COMBINATIONS: usize = 1_000;

/// An input that is varied, as somebody wrote it: `mount_up=-20mm..20mm`, `cable_size=4,6,10`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Varied {
    /// Its name: a reading's, or `RUN: NAME`.
    pub name: String,
    /// Its values.
    pub values: Values,
}

/// What a varied input may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Values {
    /// Anything between two.
    Between(String, String),
    /// One of these.
    OneOf(Vec<String>),
}

/// What a job is run on: what is tried in place of its values, and which run is asked for.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// The job.
    pub job: &'a Job,
    /// What scripts are run with.
    pub library: &'a Library,
    /// Where they come from.
    pub programs: &'a Programs<'a>,
    /// What is tried in place of the job's values.
    pub overrides: &'a Overrides,
    /// The one run that is asked for.
    pub only: Option<&'a str>,
}

/// One combination of choices, ready to be asked at any values between the ranges' ends.
pub struct Variant<'a> {
    /// The values chosen, each with its input's name.
    pub chosen: Vec<(String, String)>,
    /// The inputs that move between two values.
    pub ranges: Vec<Range>,
    /// Runs it.
    pub plan: Plan<'a>,
    /// What it yields with every range at its first value.
    pub ran: Ran,
}

/// An input that moves between two values.
#[derive(Clone, Debug)]
pub struct Range {
    /// Its name, as it was written.
    pub name: String,
    /// Which input of the tape it is.
    pub input: usize,
    /// Its first value, SI units.
    pub from: f64,
    /// Its last.
    pub to: f64,
    /// What it is without being varied, where it is known.
    pub now: Option<f64>,
    /// How it is written.
    pub amount: Amount,
}

impl Varied {
    /// Reads `NAME=FROM..TO` or `NAME=A,B,C`; commas in brackets belong to a value.
    ///
    /// # Errors
    /// What is neither.
    pub fn read(text: &str, option: &str) -> std::result::Result<Self, Refusal> {
        let wrong = || {
            let refusal = Refusal::new(
                "vary",
                format!("{option} takes NAME=FROM..TO or NAME=A,B,C, this is `{text}`"),
            );
            refusal.hint(format!("{option} \"mount_up=-20 mm..20 mm\""))
        };
        let (name, values) = text.split_once('=').ok_or_else(wrong)?;
        let (name, values) = (name.trim().to_owned(), values.trim());
        let values = match values.split_once("..") {
            Some((from, to)) => Values::Between(from.trim().to_owned(), to.trim().to_owned()),
            None => Values::OneOf(listed(values)),
        };
        let written = match &values {
            Values::Between(from, to) => !from.is_empty() && !to.is_empty(),
            Values::OneOf(values) => values.iter().all(|value| !value.is_empty()),
        };
        if name.is_empty() || !written {
            return Err(wrong());
        }
        Ok(Self { name, values })
    }
}

/// Values between commas; those in brackets belong together.
fn listed(text: &str) -> Vec<String> {
    let mut values = vec![String::new()];
    let mut depth = 0_usize;
    for letter in text.chars() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        match values.last_mut() {
            Some(value) if letter != ',' || depth > 0 => value.push(letter),
            _ => values.push(String::new()),
        }
    }
    values.into_iter().map(|value| value.trim().to_owned()).collect()
}

/// All combinations of the choices among these, each planned and run once.
///
/// A range over whole numbers is a choice among them.
///
/// # Errors
/// What the job or a script refuses of the values; an input that is no number between two values; too many combinations.
pub fn variants<'a>(asked: Asked<'a>, varied: &[Varied]) -> Result<Vec<Variant<'a>>> {
    let varied = varied
        .iter()
        .map(|varied| counted(asked, varied))
        .collect::<Result<Vec<_>>>()?;
    twice(&varied)?;
    let mut combinations: Vec<Vec<(String, String)>> = vec![Vec::new()];
    for Varied { name, values } in &varied {
        let Values::OneOf(values) = values else { continue };
        if combinations.len() * values.len() > MOST_COMBINATIONS {
            let message = format!("more than {MOST_COMBINATIONS} combinations of choices");
            return Err(Refusal::new("limit", message).hint("vary fewer inputs at once").into());
        }
        combinations = combinations
            .iter()
            .flat_map(|before| {
                values.iter().map(|value| {
                    let mut combination = before.clone();
                    combination.push((name.clone(), value.clone()));
                    combination
                })
            })
            .collect();
    }
    combinations
        .into_iter()
        .map(|chosen| variant(asked, &varied, chosen))
        .collect()
}

/// One run's worth of settings: what is set, the choices, and one end of every range.
fn planned<'a>(asked: Asked<'a>, chosen: &[(String, String)], ends: &[(&str, &str)]) -> Result<(Plan<'a>, Ran)> {
    let mut overrides = asked.overrides.clone();
    let chosen = chosen.iter().map(|(name, value)| (name.as_str(), value.as_str()));
    for (name, value) in chosen.chain(ends.iter().copied()) {
        overrides.insert(name.to_owned(), trial(value));
    }
    let plan = Plan::new(asked.job, asked.library, asked.programs, &overrides, asked.only)?;
    let ran = plan.run(None)?;
    Ok((plan, ran))
}

fn variant<'a>(asked: Asked<'a>, varied: &[Varied], chosen: Vec<(String, String)>) -> Result<Variant<'a>> {
    let between = varied.iter().filter_map(|varied| match &varied.values {
        Values::Between(from, to) => Some((varied.name.as_str(), from.as_str(), to.as_str())),
        Values::OneOf(_) => None,
    });
    let between: Vec<(&str, &str, &str)> = between.collect();
    let ends = |last: bool| -> Vec<(&str, &str)> {
        let ends = between.iter();
        ends.map(|(name, from, to)| (*name, if last { *to } else { *from }))
            .collect()
    };
    let (plan, ran) = planned(asked, &chosen, &ends(false))?;
    let mut ranges = Vec::new();
    if !between.is_empty() {
        let (_, last) = planned(asked, &chosen, &ends(true))?;
        let (_, now) = planned(asked, &chosen, &[])?;
        for (name, from, to) in &between {
            let Some(found) = numbered(&ran, name) else {
                return Err(no_number(name, from, to).into());
            };
            let at = |ran: &Ran| numbered(ran, name).map(|(_, amount)| amount.si);
            ranges.push(Range {
                name: (*name).to_owned(),
                input: found.0,
                from: found.1.si,
                to: at(&last).unwrap_or(found.1.si),
                now: at(&now),
                amount: found.1,
            });
        }
    }
    if let Some(flat) = ranges.iter().find(|range| range.from == range.to) {
        let message = format!("`{}` is varied between two values that are the same", flat.name);
        return Err(Refusal::new("vary", message).into());
    }
    Ok(Variant {
        chosen,
        ranges,
        plan,
        ran,
    })
}

fn no_number(name: &str, from: &str, to: &str) -> Refusal {
    let message = format!("`{name}` is not one number: it cannot be varied from {from} to {to}");
    Refusal::new("vary", message).hint(format!("one coordinate: {name}.x=FROM..TO; choices: {name}=A,B,C"))
}

/// The tape's input under a name, and the number that it is.
fn numbered(ran: &Ran, name: &str) -> Option<(usize, Amount)> {
    inputs(ran, name).find_map(|(input, address)| {
        let part = input.parts.iter().find(|part| part.address == address)?;
        Some((part.input, amount_of(&input.value, &input.name, address)?))
    })
}

/// The inputs that a name may stand for: of one run, or of any; with the address within it.
fn inputs<'a>(ran: &'a Ran, name: &'a str) -> impl Iterator<Item = (&'a Input, &'a str)> {
    ran.runs.iter().flat_map(move |run| {
        let own = name
            .strip_prefix(run.name.as_str())
            .and_then(|rest| rest.strip_prefix(": "));
        let address = own.unwrap_or(name);
        run.outcome.inputs.iter().map(move |input| (input, address))
    })
}

/// The number at an address within a value: `front_joint.x`.
fn amount_of(value: &Value, name: &str, address: &str) -> Option<Amount> {
    let rest = address.strip_prefix(name)?;
    match value {
        Value::Amount(amount) if rest.is_empty() => Some(amount.clone()),
        Value::Items(items) => items.iter().find_map(|(key, item)| {
            let end = [format!(".{key}"), format!("[{key}]")]
                .into_iter()
                .find(|end| rest.starts_with(end.as_str()))?;
            amount_of(item, "", rest.strip_prefix(end.as_str())?)
        }),
        _ => None,
    }
}

/// A range over an input that counts becomes the choice among its whole numbers.
fn counted(asked: Asked<'_>, varied: &Varied) -> Result<Varied> {
    let Values::Between(from, to) = &varied.values else {
        return Ok(varied.clone());
    };
    let (Ok(first), Ok(last)) = (from.parse::<i64>(), to.parse::<i64>()) else {
        return Ok(varied.clone());
    };
    let (_, ran) = planned(asked, &[], &[(&varied.name, from)])?;
    let counts = inputs(&ran, &varied.name)
        .any(|(input, address)| input.name == address && matches!(input.value, Value::Count(_)));
    if !counts {
        return Ok(varied.clone());
    }
    let numbers = (first.min(last)..=first.max(last)).take(MOST_COMBINATIONS + 1);
    Ok(Varied {
        name: varied.name.clone(),
        values: Values::OneOf(numbers.map(|number| number.to_string()).collect()),
    })
}

fn twice(varied: &[Varied]) -> Result<()> {
    for (number, one) in varied.iter().enumerate() {
        if varied.iter().take(number).any(|other| other.name == one.name) {
            return Err(Refusal::new("vary", format!("`{}` is varied twice", one.name)).into());
        }
    }
    Ok(())
}
