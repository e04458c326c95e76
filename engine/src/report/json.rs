//! The sheet for programs: JSON with SI values at full precision and the values as shown. Keys are stable.

use super::considered::given;
use super::figure;
use super::finding::{Finding, of_run};
use super::lookup::{interval, known, linked, present};
use super::readings;
use super::sheet::{AlteredPack, Identity, Sheet, SheetRun, TakenInput};
use super::written::{self, style};
use crate::job::{ConsideredOption, Fate};
use crate::outcome::{Amount, CheckKind, Comparison, Input, Line, Opened, Origin, Part, Phrase, Spread, Step, Test};
use crate::quantity::text::System;
use crate::quantity::units::WrittenUnit;
use crate::quantity::words;
use crate::script::standard;
use crate::study::{Interval, Uncounted, half_width};
use serde_json::{Map, Value, json};

/// The number of what is written here: a program that reads it asks for it.
pub(super) const FORMAT: u64 = 1;

type Object = Map<String, Value>;

/// The sheet: of a script one object, of a job `{"job": …, "runs": […]}`.
#[must_use]
pub fn json(sheet: &Sheet<'_>) -> Value {
    let mut runs: Vec<Object> = sheet
        .shown()
        .map(|(run, of_sheet)| of_sheet_run(sheet, run, of_sheet))
        .collect();
    let uncounted = uncounted(&sheet.judged.uncounted);
    if !sheet.in_job {
        let mut object = Object::new();
        object.insert("format".to_owned(), json!(FORMAT));
        object.insert("units".to_owned(), json!(system_name(sheet.system)));
        object.extend(runs.pop().unwrap_or_default());
        object.insert("uncounted".to_owned(), uncounted);
        object.insert("altered_packs".to_owned(), altered_packs(sheet));
        return Value::Object(object);
    }
    json!({
        "format": FORMAT,
        "job": {
            "title": sheet.title,
            "about": sheet.about,
            "file": sheet.job_file.as_ref().map(|file| json!({"name": file.name, "sha256": file.sha256})),
            "units": system_name(sheet.system),
            "kept": sheet.kept,
            "doubts": texts(&sheet.doubts, sheet.system),
            "options": sheet.options.iter().map(of_option).collect::<Vec<_>>(),
        },
        "runs": runs,
        "verdict": sheet.verdict().word(),
        "uncounted": uncounted,
        "altered_packs": altered_packs(sheet),
    })
}

/// Which script exactly, with those that it imports.
pub(super) fn identity(script: &Identity) -> Value {
    let mut value = json!({"name": script.name, "pack_version": script.pack_version, "sha256": script.sha256});
    if let Some(imports) = &script.imports {
        value["imports"] = imports.iter().map(identity).collect();
    }
    value
}

/// Packs that are not what somebody sealed, by name, each with what differs.
fn altered_packs(sheet: &Sheet<'_>) -> Value {
    let altered = sheet.altered.iter();
    let altered: Object = altered
        .map(|altered| (altered.name.clone(), json!(altered.difference)))
        .collect();
    Value::Object(altered)
}

/// As `--units` and a job take it.
pub(super) const fn system_name(system: System) -> &'static str {
    match system {
        System::Inch => "inch",
        System::Metric => "metric",
    }
}

/// Samples that cannot be calculated: what the script says of one of a kind, and how many there are.
pub(super) fn uncounted(groups: &[Uncounted]) -> Value {
    let group = |group: &Uncounted| json!({"message": group.message, "samples": group.samples});
    groups.iter().map(group).collect()
}

fn of_sheet_run(sheet: &Sheet<'_>, run: usize, of_sheet: &SheetRun<'_>) -> Object {
    let SheetRun {
        name,
        script,
        outcome,
        tries,
        ..
    } = of_sheet;
    let mut object = Object::new();
    if sheet.in_job {
        object.insert("run".to_owned(), json!(name));
        object.insert("tries".to_owned(), json!(tries));
    }
    let mut script_data = identity(script);
    script_data["pack_state"] = json!(sheet.altered(script).map(AlteredPack::words));
    object.insert("script".to_owned(), script_data);
    let inputs = outcome.inputs.iter().map(|input| of_input(sheet, of_sheet, input));
    object.insert("inputs".to_owned(), inputs.collect());
    let steps = outcome.steps.iter().map(|step| of_step(sheet, run, step));
    object.insert("steps".to_owned(), steps.collect());
    let findings = of_run(sheet, run).into_iter();
    object.insert(
        "checks".to_owned(),
        findings.map(|finding| of_check(sheet, finding)).collect(),
    );
    for (key, phrases) in [
        ("notes", &outcome.notes),
        ("cautions", &outcome.cautions),
        ("doubts", &outcome.doubts),
    ] {
        object.insert(key.to_owned(), texts(phrases, sheet.system));
    }
    let figures = outcome.figures.iter().map(|shown| figure::data(shown, sheet.system));
    object.insert("figures".to_owned(), figures.collect());
    object.insert("verdict".to_owned(), json!(sheet.verdict_of(run).word()));
    object
}

/// A way considered: what it sets as somebody wrote it, and what became of it.
fn of_option(option: &ConsideredOption) -> Value {
    let set = option.set.iter();
    let set: Object = set
        .map(|setting| (setting.name.clone(), json!(given(&setting.given.what))))
        .collect();
    let (state, why) = match &option.fate {
        Fate::Open => ("open", None),
        Fate::Kept(why) => ("kept", why.as_ref()),
        Fate::Rejected(why) => ("rejected", why.as_ref()),
    };
    json!({"name": option.name, "state": state, "why": why, "set": set})
}

fn of_input(sheet: &Sheet<'_>, run: &SheetRun<'_>, input: &Input) -> Value {
    let system = sheet.system;
    let mut object = Object::new();
    object.insert("name".to_owned(), json!(input.name));
    object.insert("label".to_owned(), text(input.label.as_ref(), system));
    value(&mut object, &input.value, system, &mut |object, amount, _path| {
        let part = input.parts.iter().find(|part| Some(part.slot) == amount.slot);
        match part {
            // What another run worked out is no reading: it moves as its step does.
            None if input.taken_from.is_some() => {
                for key in ["plus_minus", "plus_minus_from", "half_width_si"] {
                    object.insert(key.to_owned(), Value::Null);
                }
                moves(object, amount, linked(sheet, amount));
            }
            part => spread(object, amount, part, input.origin, system),
        }
    });
    // A text, a count, yes or no: nothing is off.
    if !object.contains_key("items") {
        object.entry("plus_minus").or_insert(Value::Null);
    }
    object.insert("from".to_owned(), json!(readings::origin(input.origin)));
    object.insert("taken_from".to_owned(), json!(input.taken_from));
    object.insert("taken".to_owned(), run.taken(&input.name).map_or(Value::Null, taken));
    if let Some(option) = run.option_for(&input.name) {
        object.insert("option".to_owned(), json!(option));
    }
    object.insert("per".to_owned(), text(input.per.as_ref(), system));
    Value::Object(object)
}

/// Which reading of the job an input has, and how it was taken.
fn taken(taken: &TakenInput) -> Value {
    json!({
        "reading": taken.reading,
        "for_this_run_alone": taken.own,
        "on": taken.on,
        "by": taken.by,
        "with": taken.with,
        "readings": taken.repeats,
    })
}

/// ± and standard uncertainty of a reading, and whether whoever gave the value gave its ±, or the script's own stands.
fn spread(object: &mut Object, amount: &Amount, part: Option<&Part>, origin: Origin, system: System) {
    let unit = style(amount, system).shown_unit();
    let shown = |width: f64| json!(unit.width_from_si(width, amount.si));
    let spread = part.map_or(Spread::Exact, |part| part.spread);
    let limits = match spread {
        Spread::Limits(width) | Spread::Repeats { limits: width, .. } => shown(width),
        Spread::Exact => json!(0.0),
        Spread::Standard(_) => Value::Null,
    };
    object.insert("plus_minus".to_owned(), limits);
    if let Spread::Standard(deviation) = spread {
        object.insert("std_dev".to_owned(), shown(deviation));
    }
    object.insert("std_uncertainty_si".to_owned(), json!(standard(&spread)));
    object.insert("half_width_si".to_owned(), json!(half_width(&spread)));
    let whose = part.filter(|_| spread != Spread::Exact).map(|part| {
        if part.kept {
            "job"
        } else if readings::has_scripts_spread(origin, part) {
            "script"
        } else {
            "given"
        }
    });
    object.insert("plus_minus_from".to_owned(), json!(whose));
}

fn of_step(sheet: &Sheet<'_>, run: usize, step: &Step) -> Value {
    let system = sheet.system;
    let mut object = Object::new();
    object.insert("name".to_owned(), json!(step.name));
    object.insert("label".to_owned(), text(step.label.as_ref(), system));
    value(&mut object, &step.value, system, &mut |object, amount, path| {
        moves(object, amount, interval(sheet, run, &step.name, path));
        object.insert("present".to_owned(), json!(present(sheet, run, &step.name, path)));
    });
    object.insert("present".to_owned(), json!(present(sheet, run, &step.name, &[])));
    object.insert("formula".to_owned(), json!(step.formula));
    let substituted = written::formula(&step.substituted, system);
    object.insert("substituted".to_owned(), json!(substituted));
    object.insert("opened".to_owned(), opened(&step.opened, system));
    object.insert("line".to_owned(), json!(step.place.as_ref().map(|place| place.line)));
    object.insert("within".to_owned(), json!(step.within));
    object.insert("per".to_owned(), text(step.per.as_ref(), system));
    Value::Object(object)
}

/// The lines of the functions that a formula calls.
fn opened(functions: &[Opened], system: System) -> Value {
    let of_line = |line: &Line| {
        json!({
            "name": line.name,
            "formula": line.formula,
            "substituted": written::formula(&line.substituted, system),
            "value": written::formula(&line.value, system),
            "opened": opened(&line.opened, system),
        })
    };
    let of_function = |function: &Opened| {
        let given = function.given.iter();
        let given = given.map(|(name, value)| (name.clone(), json!(written::formula(value, system))));
        json!({
            "function": function.function,
            "given": given.collect::<Object>(),
            "lines": function.lines.iter().map(of_line).collect::<Vec<Value>>(),
        })
    };
    functions.iter().map(of_function).collect()
}

/// How a number moves with the readings; one that does not move is its own interval.
fn moves(object: &mut Object, amount: &Amount, interval: Option<&Interval>) {
    let [standard, low, high] = match interval {
        Some(interval) => [interval.std_uncertainty, interval.low, interval.high],
        None => [0.0, amount.si, amount.si],
    };
    object.insert("std_uncertainty_si".to_owned(), json!(standard));
    object.insert("low_si".to_owned(), json!(low));
    object.insert("high_si".to_owned(), json!(high));
}

fn of_check(sheet: &Sheet<'_>, finding: Finding<'_>) -> Value {
    let Finding { run, check, judged } = finding;
    let (left, sign, right) = sides(sheet, run, &check.test);
    let shares = judged.rests_on.iter().map(|(name, share)| (name.clone(), json!(share)));
    let rests_on: Object = shares.collect();
    let steady = judged.margin_uncertainty > 0.0;
    json!({
        "label": text(check.label.as_ref(), sheet.system),
        "formula": check.formula,
        "kind": match check.kind {
            CheckKind::Check => "check",
            CheckKind::Prefer => "prefer",
            CheckKind::Require => "require",
        },
        "left": left,
        "op": sign,
        "right": right,
        "margin": relative_margin(&check.test, judged.margin),
        "margin_si": judged.margin,
        "margin_u": judged.margin.filter(|_| steady).map(|margin| margin / judged.margin_uncertainty),
        "margin_std_uncertainty_si": judged.margin_uncertainty,
        "chance": judged.chance,
        "present": judged.present,
        "verdict": judged.verdict.word(),
        "rests_on": rests_on,
        "examples": judged.examples,
        "line": check.place.as_ref().map(|place| place.line),
        "per": text(check.per.as_ref(), sheet.system),
    })
}

/// Both sides as written; a check of yes or no has no right side.
fn sides(sheet: &Sheet<'_>, run: usize, test: &Test) -> (Value, Value, Value) {
    let side = |found: &crate::outcome::Value| {
        let mut object = Object::new();
        let (styled, interval) = match found {
            crate::outcome::Value::Amount(amount) => {
                let (amount, interval) = known(sheet, run, amount);
                (crate::outcome::Value::Amount(amount), interval)
            }
            other => (other.clone(), None),
        };
        value(&mut object, &styled, sheet.system, &mut |object, amount, _| {
            moves(object, amount, interval)
        });
        Value::Object(object)
    };
    let amount = |amount: &Amount| side(&crate::outcome::Value::Amount(amount.clone()));
    match test {
        Test::Sides {
            left,
            comparison,
            right,
        } => (side(left), json!(comparison.sign()), side(right)),
        Test::Between { value, low, high } => {
            let limits = json!({"items": {"from": amount(low), "to": amount(high)}});
            (amount(value), json!("from to"), limits)
        }
        Test::Truth(truth) => (side(&crate::outcome::Value::Truth(*truth)), Value::Null, Value::Null),
    }
}

/// The margin over the size of the limit; the right side is the limit, unless it alone depends on a reading.
fn relative_margin(test: &Test, margin: Option<f64>) -> Option<f64> {
    let limit = match test {
        Test::Sides {
            left: crate::outcome::Value::Amount(left),
            comparison,
            right: crate::outcome::Value::Amount(right),
        } if !matches!(comparison, Comparison::Different) => {
            if left.slot.is_none() && right.slot.is_some() {
                left.si
            } else {
                right.si
            }
        }
        Test::Between { value, low, high } => {
            if value.si - low.si < high.si - value.si {
                low.si
            } else {
                high.si
            }
        }
        _ => return None,
    };
    margin.filter(|_| limit != 0.0).map(|margin| margin / limit.abs())
}

/// Puts a value's keys into an object: `value`, `unit`, `si`, `dimension` (and `signs`, words for its sign, where it
/// has them), or `items`; `more` adds keys to each number.
fn value(
    object: &mut Object,
    found: &crate::outcome::Value,
    system: System,
    more: &mut dyn FnMut(&mut Object, &Amount, &[String]),
) {
    put(object, found, system, more, &mut Vec::new());
}

fn put(
    object: &mut Object,
    found: &crate::outcome::Value,
    system: System,
    more: &mut dyn FnMut(&mut Object, &Amount, &[String]),
    path: &mut Vec<String>,
) {
    use crate::outcome::Value as Found;
    let (shown, unit, si, dimension) = match found {
        Found::Items(items) => {
            let mut inner = Object::new();
            for (key, item) in items {
                let mut of_item = Object::new();
                path.push(key.clone());
                put(&mut of_item, item, system, more, path);
                path.pop();
                inner.insert(key.clone(), Value::Object(of_item));
            }
            object.insert("items".to_owned(), Value::Object(inner));
            return;
        }
        Found::Amount(amount) => {
            let style = style(amount, system);
            (
                json!(style.value(amount.si)),
                json!(name(&style.shown_unit())),
                json!(amount.si),
                words::name_of(amount.dimension),
            )
        }
        Found::Count(count) => (json!(count), Value::Null, json!(count), "count".to_owned()),
        Found::Text(text) => (
            json!(written::phrase(text, system)),
            Value::Null,
            Value::Null,
            "text".to_owned(),
        ),
        Found::Truth(truth) => (json!(truth), Value::Null, Value::Null, "yes or no".to_owned()),
    };
    object.insert("value".to_owned(), shown);
    object.insert("unit".to_owned(), unit);
    object.insert("si".to_owned(), si);
    object.insert("dimension".to_owned(), json!(dimension));
    if let Found::Amount(amount) = found {
        if let Some((positive, negative)) = &amount.signs {
            object.insert("signs".to_owned(), json!([positive, negative]));
        }
        more(object, amount, path);
    }
}

/// One number: `value`, `unit`, `si`, `dimension`.
pub(super) fn number_json(amount: &Amount, system: System) -> Value {
    let mut object = Object::new();
    let found = crate::outcome::Value::Amount(amount.clone());
    value(&mut object, &found, system, &mut |_, _, _| {});
    Value::Object(object)
}

/// A unit as scripts and `--set` take it.
pub(super) fn name(unit: &WrittenUnit) -> &str {
    match unit {
        WrittenUnit::Single(unit) => unit.name,
        other => other.symbol(),
    }
}

fn texts(phrases: &[Phrase], system: System) -> Value {
    phrases.iter().map(|phrase| text(Some(phrase), system)).collect()
}

fn text(phrase: Option<&Phrase>, system: System) -> Value {
    phrase.map_or(Value::Null, |phrase| json!(written::phrase(phrase, system)))
}
