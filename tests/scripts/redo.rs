//! What `--working` prints can be done again: every line, from nothing but the numbers that stand in it.
//!
//! A line's formula is taken with its numbers as they are printed, six digits and a unit each, and calculated anew; it must
//! come to the value beside it. What stands in a formula by name alone must be a value of a table, a result of the
//! frame, or one that is found by trial.

use super::trial::with_examples;
use crankline_engine::diagnostic::SourceText;
use crankline_engine::outcome::{Amount, Opened, Outcome, Phrase, Piece, Step, Value};
use crankline_engine::quantity::text::{Digits, Style, System, write_number};
use crankline_engine::quantity::{Dimension, Scale, units};
use crankline_engine::script::{Bindings, Library};
use crankline_engine::source::NoSources;
use crankline_engine::tape::Recording;
use crankline_scripts::script_names;
use std::rc::Rc;

/// Tables: materials, threads, grades, cables, tyres. Frames: what the solver finds. Fits. Trials: found by trial, and
/// given back by a line of their own. Readings: what a script's own reading or list holds.
const LOOKED_UP: &[&str] = &[
    // tables
    "E",
    "G",
    "density",
    "yield_strength",
    "yield_beside_weld",
    "ultimate_strength",
    "expansion",
    "proof",
    "stress_area",
    "pitch",
    "pitch_diameter",
    "major",
    "for_thread",
    "outside_diameter",
    "inside_diameter",
    "resistance_per_length",
    "material",
    "thread_form",
    "bolt_grade",
    "road_cable",
    "cable",
    "wire_awg",
    "tyre",
    "round_tube",
    "rim",
    "sidewall",
    "section_width",
    "diameter",
    "resistivity",
    // frames
    "load_case",
    "reaction",
    "reaction_moment",
    "deflection",
    "rotation",
    "solve",
    "frequency",
    // found by trial
    "root",
    "maximum",
    "minimum",
    "integrate",
    "wire_temperature",
    "wire_current_for",
    // parts of readings and lists
    "column",
    "uncertainty",
];

#[test]
fn every_line_of_the_working_can_be_done_again() {
    let library = Library::new(Rc::new(NoSources));
    let mut wrong = Vec::new();
    let mut done = 0;
    for name in script_names() {
        let trial = with_examples(&name);
        for line in lines(trial.outcome()) {
            let mut fault = |what: String| wrong.push(format!("{name}: {}: {what}", line.formula));
            for unknown in line.looked_up(&library) {
                fault(format!("nothing explains `{unknown}`"));
            }
            // As printed, where rounding shows; and with all digits, where nothing else may.
            for (digits, tolerance) in [(PRINTED, 2e-3), (ALL, 1e-9)] {
                let Some(printed) = line.as_script(digits) else {
                    continue;
                };
                match again(&library, &printed) {
                    Ok(found) if line.agrees(&found, tolerance) => done += 1,
                    Ok(found) => fault(format!("{printed} comes to {found:?}, not {:?}", line.value)),
                    Err(error) => fault(format!("{printed}\n{error}")),
                }
            }
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(done > 2000, "only {done} lines were done again");
}

/// Digits of the numbers in a printed formula; all that a number has.
const PRINTED: u8 = 6;
const ALL: u8 = 17;

/// A number of a line's value: in SI units, and what it measures.
type Found = (f64, Dimension);

/// A line of the working.
struct Line<'a> {
    formula: &'a str,
    substituted: &'a Phrase,
    value: Vec<Found>,
    opened: &'a [Opened],
    /// What the function was given, in words: the fields of its maps stand there.
    given: String,
}

fn lines(outcome: &Outcome) -> Vec<Line<'_>> {
    let mut all = Vec::new();
    for step in &outcome.steps {
        all.push(Line {
            formula: &step.formula,
            substituted: &step.substituted,
            value: step_value(step),
            opened: &step.opened,
            given: String::new(),
        });
        inside(&step.opened, &mut all);
    }
    all
}

fn inside<'a>(functions: &'a [Opened], all: &mut Vec<Line<'a>>) {
    for function in functions {
        let given: String = function
            .given
            .iter()
            .flat_map(|(_, value)| &value.pieces)
            .map(words)
            .collect();
        for line in &function.lines {
            all.push(Line {
                formula: &line.formula,
                substituted: &line.substituted,
                value: amounts(&line.value)
                    .map(|amount| (amount.si, amount.dimension))
                    .collect(),
                opened: &line.opened,
                given: given.clone(),
            });
            inside(&line.opened, all);
        }
    }
}

fn step_value(step: &Step) -> Vec<Found> {
    let mut all = Vec::new();
    flat(&step.value, &mut all);
    all
}

#[allow(clippy::cast_precision_loss)]
fn flat(value: &Value, all: &mut Vec<Found>) {
    match value {
        Value::Amount(amount) => all.push((amount.si, amount.dimension)),
        Value::Count(count) => all.push((*count as f64, Dimension::NONE)),
        Value::Items(items) => items.iter().for_each(|(_, item)| flat(item, all)),
        Value::Text(_) | Value::Truth(_) => {}
    }
}

fn amounts(phrase: &Phrase) -> impl Iterator<Item = &Amount> {
    phrase.pieces.iter().filter_map(|piece| match piece {
        Piece::Amount(amount) => Some(amount),
        Piece::Words(_) => None,
    })
}

impl Line<'_> {
    /// The names in the formula that nothing on the page explains. A name behind a point that the engine does not know is
    /// a part of a map or of a table's row.
    fn looked_up(&self, library: &Library) -> Vec<String> {
        let shown: String = self.substituted.pieces.iter().map(words).collect();
        let last = |name: &'_ str| name.rsplit(['.', ':']).next().unwrap_or_default().to_owned();
        let opened: Vec<String> = self.opened.iter().map(|function| last(&function.function)).collect();
        let explained = |(name, behind_point): &(String, bool)| {
            let known = [LOOKED_UP, WRITTEN].iter().any(|list| list.contains(&name.as_str()));
            let engine = library.functions().described().any(|function| function.name() == name);
            let part = *behind_point && (!engine || units::find(name).is_some());
            let shown = shown.contains(name.as_str()) || self.given.contains(&format!("{name}: "));
            known || part || shown || opened.contains(name)
        };
        // What stands in a closure is tried, at many places.
        let formula = self.formula.split('|').next().unwrap_or_default();
        let names = called(formula).into_iter().filter(|name| !explained(name));
        names.map(|(name, _)| name).collect()
    }

    /// The formula as printed, for the language to calculate; nothing where something stands in it by its name.
    fn as_script(&self, digits: u8) -> Option<String> {
        let text = self.substituted.in_words(|amount| written(amount, digits));
        let text = text.replace('×', "*").replace('^', "**").replace('π', "PI");
        // `(a, b, c)` is a vector, `(x: 1)` a map.
        let text = brackets(&text);
        let known = |name: &String| CALCULATOR.contains(&name.as_str());
        let shown: String = self.substituted.pieces.iter().map(words).collect();
        let plain = !shown.contains(['…', '"']) && !shown.contains("too long");
        (plain && called(&text).iter().all(|(name, _)| known(name)) && identifiers(&text).iter().all(known))
            .then_some(text)
    }

    /// Whether it comes to the value printed: to a share of it, or of the largest number of its kind in the formula.
    fn agrees(&self, found: &[Found], tolerance: f64) -> bool {
        let close = |((again, _), (value, dimension)): (&Found, &Found)| {
            let like = amounts(self.substituted).filter(|amount| amount.dimension == *dimension);
            // Six digits of a direction are a millionth of a radian, and of a plain number.
            let least = if [Dimension::ANGLE, Dimension::NONE].contains(dimension) {
                0.1
            } else {
                0.0
            };
            let size = like
                .map(|amount| amount.si.abs())
                .fold(value.abs().max(least), f64::max);
            (again - value).abs() <= tolerance * size
        };
        found.len() == self.value.len() && found.iter().zip(&self.value).all(close)
    }
}

/// What a pocket calculator does, or a pencil; and how vectors are written.
const CALCULATOR: &[&str] = &[
    "abs",
    "acos",
    "asin",
    "atan",
    "atan2",
    "cbrt",
    "ceil",
    "clamp",
    "cos",
    "cosh",
    "sinh",
    "tanh",
    "cross",
    "dot",
    "exp",
    "floor",
    "hypot",
    "if_less",
    "interpolate",
    "ln",
    "log10",
    "max",
    "mean",
    "min",
    "norm",
    "round",
    "sign",
    "sin",
    "sqrt",
    "sum",
    "tan",
    "vector",
    "point",
    "quantity",
    "PI",
    "value_in",
    "degC",
];

/// What a formula with numbers has in another form: `(1 mm, 2 mm, 3 mm)`, `5.67 W/(m² K⁴)`.
const WRITTEN: &[&str] = &["vector", "point", "quantity", "value_in", "len", "x", "y", "z"];

fn words(piece: &Piece) -> &str {
    match piece {
        Piece::Words(words) => words,
        Piece::Amount(_) => "",
    }
}

/// The number with so many digits in its usual unit.
fn written(amount: &Amount, digits: u8) -> String {
    let own = amount.style.as_deref();
    let own = own.and_then(|text| Style::parse(text, amount.dimension, amount.scale).ok());
    let style = own.unwrap_or_else(|| Style::usual(amount.dimension, amount.scale, System::Metric, amount.si));
    let number = write_number(style.value(amount.si), Digits::Significant(digits)).replace('−', "-");
    match (style.symbol(), amount.scale) {
        ("", _) => number,
        (_, Scale::Point) => format!("({number}).degC"),
        (symbol, _) => format!("quantity({number}, \"{symbol}\")"),
    }
}

/// Names before a bracket or behind a point, and which of the two.
fn called(text: &str) -> Vec<(String, bool)> {
    let characters: Vec<char> = text.chars().collect();
    let mut all = Vec::new();
    for (start, end) in spans(&characters) {
        let behind_point = start > 0 && characters[start - 1] == '.';
        if behind_point || characters.get(end) == Some(&'(') {
            all.push((characters[start..end].iter().collect(), behind_point));
        }
    }
    all
}

/// All names.
fn identifiers(text: &str) -> Vec<String> {
    // What stands in quotes is a unit.
    let outside: String = text.split('"').step_by(2).collect::<Vec<_>>().join(" ");
    let characters: Vec<char> = outside.chars().collect();
    let spans = spans(&characters);
    let names = spans.into_iter().filter(|(_, end)| characters.get(*end) != Some(&':'));
    names
        .map(|(start, end)| characters[start..end].iter().collect())
        .collect()
}

/// Where names stand: letters, digits and lines, the first one a letter, and no exponent.
fn spans(characters: &[char]) -> Vec<(usize, usize)> {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    let mut found = Vec::new();
    let mut at = 0;
    while at < characters.len() {
        if !part(characters[at]) {
            at += 1;
            continue;
        }
        let start = at;
        while at < characters.len() && part(characters[at]) {
            at += 1;
        }
        if characters[start].is_alphabetic() {
            found.push((start, at));
        }
    }
    found
}

/// `(a, b, c)` that no function stands before is a vector, `(key: a)` a map.
fn brackets(text: &str) -> String {
    let characters: Vec<char> = text.chars().collect();
    let mut written = String::new();
    let mut closers = Vec::new();
    for (at, c) in characters.iter().enumerate() {
        match c {
            '(' => {
                let before: String = characters[..at]
                    .iter()
                    .rev()
                    .take_while(|c| c.is_alphanumeric())
                    .collect();
                let inside = inside_of(&characters, at);
                let (open, close) = match (before.as_str(), inside) {
                    ("", Inside::Map) => ("#{", "}"),
                    ("", Inside::Three) => ("vector(", ")"),
                    // A list's own brackets are left out where it is all that a function is given.
                    ("mus" | "naem" | "xam" | "nim", _) if characters.get(at + 1) != Some(&'[') => ("([", "])"),
                    _ => ("(", ")"),
                };
                written.push_str(open);
                closers.push(close);
            }
            ')' => written.push_str(closers.pop().unwrap_or(")")),
            other => written.push(*other),
        }
    }
    written
}

enum Inside {
    Map,
    Three,
    Other,
}

fn inside_of(characters: &[char], open: usize) -> Inside {
    let (mut depth, mut commas, mut colons) = (0, 0, 0);
    let mut quoted = false;
    for c in &characters[open..] {
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '(' | '[' => depth += 1,
            ')' | ']' => depth -= 1,
            ',' if depth == 1 => commas += 1,
            ':' if depth == 1 => colons += 1,
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    match (colons, commas) {
        (1.., _) => Inside::Map,
        (0, 2) => Inside::Three,
        _ => Inside::Other,
    }
}

fn again(library: &Library, formula: &str) -> Result<Vec<Found>, String> {
    let text = SourceText {
        name: "again.rhai".into(),
        text: format!("step again = {formula};"),
    };
    let program = library.compile(text).map_err(|error| error.to_string())?;
    let recording = Rc::new(Recording::open());
    let finished = library.run(&program, Bindings::new(), &recording, 0, None);
    let finished = finished.map_err(|error| error.to_string())?;
    Ok(step_value(&finished.outcome.steps[0]))
}
