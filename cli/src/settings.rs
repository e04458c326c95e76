//! Values tried with `--set`.

use crankline_engine::diagnostic::{Refusal, nearest};
use crankline_engine::outcome::Origin;
use crankline_engine::script::{Bindings, Given, GivenValue, Program};

/// Names listed where none is near.
const LISTED: usize = 12;

/// The values after `--set`, for the inputs of one script.
pub(crate) fn read(settings: &[String], program: &Program) -> Result<Bindings, Refusal> {
    let mut bindings = Bindings::new();
    for setting in settings {
        let (name, value) = split(setting)?;
        if !program.input_names().any(|known| known == name) {
            return Err(unknown(name, program));
        }
        let given = Given {
            what: GivenValue::Text(value.to_owned()),
            origin: Origin::Trial,
            places: Vec::new(),
        };
        if bindings.insert(name.to_owned(), given).is_some() {
            return Err(Refusal::new("set", format!("--set names `{name}` twice")));
        }
    }
    Ok(bindings)
}

fn split(setting: &str) -> Result<(&str, &str), Refusal> {
    match setting.split_once('=') {
        Some((name, value)) if !name.trim().is_empty() && !value.trim().is_empty() => Ok((name.trim(), value.trim())),
        _ => Err(
            Refusal::new("set", format!("--set takes NAME=VALUE, this is `{setting}`")).hint("--set \"wall=0.095 in\""),
        ),
    }
}

fn unknown(name: &str, program: &Program) -> Refusal {
    let refusal = Refusal::new("set", format!("{} has no input `{name}`", program.name()));
    match nearest(name, program.input_names()) {
        Some(near) => refusal.hint(format!("did you mean `{near}`?")),
        None => {
            let names: Vec<&str> = program.input_names().take(LISTED).collect();
            refusal.hint(format!("its inputs are {}", names.join(", ")))
        }
    }
}
