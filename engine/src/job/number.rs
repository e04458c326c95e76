//! A number of a job under the name that somebody gives it: `RUN: STEP`, `stress[bump]`, `moved_joint.x`.

use super::run::Ran;
use crate::diagnostic::{Refusal, nearest};
use crate::outcome::{Amount, Value};
use crate::quantity::{Scale, words};
use crate::script::read_reading;
use crate::study::Key;

/// Finds a step's number. A plain name is enough where one run alone has it.
///
/// # Errors
/// A name that no run has, or more than one; a step that is no number, with its parts.
pub fn number(ran: &Ran, text: &str) -> Result<(Key, Amount), Refusal> {
    let mut found = Vec::new();
    for (run, of_run) in ran.runs.iter().enumerate() {
        let own = text
            .strip_prefix(of_run.name.as_str())
            .and_then(|rest| rest.strip_prefix(':'))
            .map(str::trim);
        if own.is_none() && !of_run.asked {
            continue;
        }
        let name = own.unwrap_or(text);
        for step in &of_run.outcome.steps {
            let Some(path) = path(&step.name, name) else { continue };
            found.push((
                run,
                step.name.clone(),
                amount(&step.value, path).map_err(|why| why.of(text))?,
            ));
        }
    }
    let named = |run: usize| ran.runs.get(run).map_or("", |run| run.name.as_str());
    match found.len() {
        1 => {}
        0 => return Err(unknown(ran, text)),
        _ => {
            let runs: Vec<String> = found
                .iter()
                .map(|(run, ..)| format!("\"{}: {text}\"", named(*run)))
                .collect();
            let message = format!("more than one run has a step `{text}`");
            return Err(Refusal::new("unknown name", message).hint(runs.join(", ")));
        }
    }
    match found.pop() {
        Some((run, step, (items, amount))) => Ok((Key { run, step, items }, amount)),
        None => Err(unknown(ran, text)),
    }
}

/// `NAME=VALUE`: a step and the value that it is to have, SI units.
///
/// # Errors
/// As [`number`]; a value of another dimension, or none.
pub fn number_with_value(ran: &Ran, text: &str, option: &str) -> Result<(Key, Amount, f64), Refusal> {
    let wrong = || Refusal::new("name", format!("{option} takes NAME=VALUE, this is `{text}`"));
    let (name, value) = text.split_once('=').ok_or_else(wrong)?;
    let (name, value) = (name.trim(), value.trim());
    if name.is_empty() || value.is_empty() {
        return Err(wrong());
    }
    let (key, amount) = number(ran, name)?;
    let wanted = size(&amount, value)?;
    Ok((key, amount, wanted))
}

/// A text as a number like another one, SI units.
///
/// # Errors
/// What is no number, or of another dimension.
pub fn size(like: &Amount, text: &str) -> Result<f64, Refusal> {
    let (numbers, dimension) = read_reading(text, like.signs.as_ref())?;
    let [number] = numbers[..] else {
        return Err(Refusal::new(
            "name",
            format!("`{text}` is three numbers, one is wanted"),
        ));
    };
    // Nothing is nothing in any unit, but for a temperature.
    let nothing = number == 0.0 && dimension.is_none() && like.scale != Scale::Point;
    if !nothing && !dimension.is_like(like.dimension) {
        let wanted = words::with_article(&words::name_of(like.dimension));
        let found = words::with_article(&words::name_of(dimension));
        return Err(Refusal::new(
            "dimension",
            format!("`{text}` is {found}, {wanted} is wanted"),
        ));
    }
    Ok(number)
}

/// What follows a step's name in a text: nothing, `.x`, `[bump]`.
fn path<'a>(step: &str, text: &'a str) -> Option<&'a str> {
    let rest = text.strip_prefix(step)?;
    (rest.is_empty() || rest.starts_with(['.', '['])).then_some(rest)
}

/// Why there is no number.
enum Lacks {
    /// It has parts: their names.
    Parts(Vec<String>),
    Number,
}

impl Lacks {
    fn of(self, text: &str) -> Refusal {
        match self {
            Self::Parts(parts) => {
                let refusal = Refusal::new("name", format!("`{text}` is several numbers"));
                let parts = parts.iter().take(4).map(|part| format!("{text}.{part}"));
                refusal.hint(format!("one of them: {}", parts.collect::<Vec<_>>().join(", ")))
            }
            Self::Number => Refusal::new("name", format!("`{text}` is no number")),
        }
    }
}

fn amount(value: &Value, path: &str) -> Result<(Vec<String>, Amount), Lacks> {
    match value {
        Value::Amount(amount) if path.is_empty() => Ok((Vec::new(), amount.clone())),
        Value::Items(items) if path.is_empty() => Err(Lacks::Parts(items.iter().map(|(key, _)| key.clone()).collect())),
        Value::Items(items) => {
            for (key, item) in items {
                for start in [format!(".{key}"), format!("[{key}]")] {
                    if let Some(rest) = path.strip_prefix(start.as_str())
                        && (rest.is_empty() || rest.starts_with(['.', '[']))
                    {
                        let (mut keys, amount) = amount(item, rest)?;
                        keys.insert(0, key.clone());
                        return Ok((keys, amount));
                    }
                }
            }
            Err(Lacks::Number)
        }
        _ => Err(Lacks::Number),
    }
}

fn unknown(ran: &Ran, text: &str) -> Refusal {
    let in_job = ran.runs.iter().any(|run| !run.name.is_empty());
    let known = ran.runs.iter().flat_map(|run| {
        let steps = run.outcome.steps.iter();
        steps.flat_map(move |step| [step.name.clone(), format!("{}: {}", run.name, step.name)])
    });
    let known: Vec<String> = known.collect();
    let near = nearest(text, known.iter().map(String::as_str)).map(|near| format!("did you mean `{near}`?"));
    let what = if in_job {
        "no run has a step"
    } else {
        "the script has no step"
    };
    Refusal::new("unknown name", format!("{what} `{text}`")).maybe_hint(near)
}
