//! Reading quantities: the page's script reads what the engine reads, to the bit, and refuses it in the same words.

use super::random::Random;
use super::text_cases::{agrees, text_of};
use crankline_engine::diagnostic::{SourceText, ends_line};
use crankline_engine::outcome::{Origin, Spread as Scatter, Value as Shown};
use crankline_engine::quantity::Base;
use crankline_engine::quantity::text::System;
use crankline_engine::quantity::text::{Spread, Values, read_with_signs};
use crankline_engine::quantity::units::{Scale, WrittenUnit, all};
use crankline_engine::report::page::{units_json, writing};
use crankline_engine::script::{Bindings, Given, GivenValue, Library};
use crankline_engine::source::NoSources;
use crankline_engine::tape::Recording;
use serde_json::{Value, json};
use std::rc::Rc;

const NUMBERS: [&str; 46] = [
    "3.2",
    "0",
    "-0",
    "1",
    "-1.5",
    "+2",
    "−3",
    ".5",
    "5.",
    "1e3",
    "1.5e-3",
    "2E+2",
    "1e400",
    "12",
    "11/16",
    "12 11/16",
    "12-11/16",
    "12–3/4",
    "12‑1/2",
    "1 3/8",
    "1 3/3",
    "5/4",
    "41/11",
    "1 2/7",
    "3/0",
    "1/2.5",
    "1.5/2",
    "½",
    "2½",
    "2 ¾",
    "1,5",
    "1,234",
    "48-1/16",
    "11",
    "59.5",
    "60",
    "90",
    "123456789012345678",
    "0.1",
    "2.",
    "1/",
    "/2",
    "-",
    "",
    "3-4",
    "1 1",
];
const SPREADS: [&str; 14] = [
    " ± 0.1",
    " +/- 1",
    " +- 2 mm",
    " plus_minus 0.1 deg",
    " plus minus 5 %",
    " std_dev 0.05",
    " std dev 1 in",
    " ± -1",
    " ± 1/16 in",
    " ± 1/3 mm",
    " ± 1 ± 2",
    " ± 2 K",
    "±5%",
    " ± ",
];
const SIGNS: [(&str, &str); 3] = [("left", "right"), ("tail down", "tail up"), ("up", "not up")];
const WORDS: [&str; 10] = [
    "left",
    "right",
    "LEFT",
    "tail  up",
    "Tail Down",
    "up",
    "not up",
    "down",
    "leftt",
    "nose up",
];
const PRODUCTS: [&str; 40] = [
    "W/(m^2 K)",
    "W/m K",
    "W/(m² K)",
    "N·m",
    "N mm",
    "kN*m",
    "lb ft^2",
    "m/s2",
    "m s^-2",
    "m·s⁻²",
    "1/s",
    "1/K",
    "2/s",
    "(N m)/s",
    "((m))",
    "((((((((m))))))))",
    "(((((((((m)))))))))",
    "m^13",
    "m^0",
    "m^-12",
    "m**2",
    "m2/s",
    "rad m/s",
    "deg/s",
    "degC/m",
    "mm/m/s",
    "kg/",
    "kg//m",
    "*m",
    "m^",
    "m^x",
    "N-m",
    "lb.ft",
    "ohm mm^2/m",
    "um/(m K)",
    "(m",
    "m)",
    "lb ft / s",
    "US gal/min",
    "N m/°",
];
const ODD: [&str; 16] = [
    "foo",
    "mms",
    "Mm",
    "mil",
    "gallons",
    "inchs",
    "x",
    "kilo gram",
    "°",
    "'",
    "\"",
    "''",
    "′",
    "”",
    "é",
    "🔧",
];
const WHOLE: [&str; 64] = [
    "3.2 deg",
    "48-1/16 in",
    "1 3/8\"",
    "4 ft 1-1/2 in",
    "11° 30'",
    "11° 30' 15\"",
    "11° 30′ 15″",
    "3.4 +/- 0.1 deg",
    "3.4° ± 0.1°",
    "(905, 22, -70) mm",
    "(905, 22, -70) +/- 1 mm",
    "(905 mm, 22 mm, -7 cm)",
    "(905 mm, 22 mm, -7 cm) ± 1",
    "(1, 2) mm",
    "(1, 2, 3",
    "(1, 2, 3, 4) mm",
    "(1 mm, 2, 3)",
    "(1 mm, 2 deg, 3 mm)",
    "(20 degC, 20 K, 3 K)",
    "(1/3, 2, 3) in",
    "(1; 2; 3) ft",
    "(1,,2)",
    "()",
    "4'-1 1/2\"",
    "4' 1\"",
    "4'1\"",
    "4 ft - 1 1/2 in",
    "4 ft 13 in",
    "4.5 ft 1 in",
    "4 ft -1 in",
    "-4 ft 1 in",
    "4 ft 1 mm",
    "4 ft 1",
    "3 lb 4 oz",
    "2 h 30 min",
    "2 h 30 min 5 s",
    "2 min 75 s",
    "20 °C",
    "20 degC ± 2 K",
    "20 degC ± 2 degF",
    "68 degF",
    "20 degC ± 5 %",
    "2 mm/m",
    "-2000 mm/m ± 1 mm/m",
    "2 mm/m ± 1",
    "0.3 mm/m ± 0.1 deg",
    "75 %",
    "75 % ± 5 %",
    "0.75 ± 5 %",
    "0.75 ± 0.05",
    "200 lbf ± 5 %",
    "3-4 in",
    "3 - 4 in",
    "3 in -",
    "3 4 in",
    "3 mm 4",
    "1e300 km",
    "1e308 km",
    "-1e200 W ± 1e200 %",
    "0.3° left",
    "-0.3° left",
    "0.3° left ± 0.1° right",
    "\u{85}3 mm\u{feff}",
    "3\u{2003}mm\u{a0}",
];

/// Texts that mean something, or nearly.
fn texts(random: &mut Random) -> Vec<String> {
    let mut units: Vec<&str> = vec![""];
    units.extend(all().flat_map(|unit| unit.spellings.iter().copied().chain([unit.name, unit.symbol])));
    let mut texts: Vec<String> = WHOLE.map(str::to_owned).to_vec();
    // Every spelling of every unit.
    texts.extend(units.iter().map(|unit| format!("{} {unit}", random_number(random))));
    texts.extend(units.iter().map(|unit| format!("2.5{unit} ± 0.1 {unit}")));
    texts.extend(PRODUCTS.iter().chain(&ODD).map(|unit| format!("1.7 {unit}")));
    texts.extend(NUMBERS.map(|number| format!("{number} in")));
    texts.extend(
        [
            "",
            " ",
            "\t",
            &"9".repeat(255),
            &"9".repeat(257),
            &"é".repeat(200),
            "((((((((m12)^12)^12)^12)^12)^12)^12)^12)^12",
        ]
        .map(str::to_owned),
    );
    texts.push("1 ((((((((m12)^12)^12)^12)^12)^12)^12)^12)^12".to_owned());
    for _ in 0..6000 {
        let space = *random.pick(&["", " ", "  "]);
        let unit = match random.below(8) {
            0 => *random.pick(&PRODUCTS),
            1 => *random.pick(&ODD),
            2 => "",
            3 => *random.pick(&["in", "ft", "deg", "mm", "°", "'"]),
            _ => *random.pick(&units),
        };
        let mut text = format!("{}{space}{unit}", random.pick(&NUMBERS));
        if random.below(4) == 0 {
            text = format!(
                "{text} {}{}",
                random.pick(&NUMBERS),
                random.pick(&[" in", "'", "\"", "°", " oz", " s", ""])
            );
        }
        if random.below(3) == 0 {
            text.push_str(SPREADS[random.below(SPREADS.len())]);
        }
        if random.below(4) == 0 {
            text = format!("{text} {}", random.pick(&WORDS));
        }
        texts.push(text);
    }
    let slipped: Vec<String> = (0..8000).map(|_| slip(random, &texts)).collect();
    texts.extend(slipped);
    texts
}

fn random_number(random: &mut Random) -> String {
    let number = random.number(-3, 4);
    format!("{number}")
}

/// One of the texts with a slip of the hand or two.
fn slip(random: &mut Random, texts: &[String]) -> String {
    let mut letters: Vec<char> = random.pick(texts).chars().take(60).collect();
    let alphabet: Vec<char> = " 0123456789.,/-+±()^*·°'\"²⁻eEmntfikgWKradsleft_%½\u{301}\u{200b}\u{a0}\\\n\u{e000}Ωµİß"
        .chars()
        .collect();
    for _ in 0..=random.below(2) {
        let at = random.below(letters.len() + 1);
        match random.below(3) {
            0 if at < letters.len() => {
                letters.remove(at);
            }
            1 if at + 1 < letters.len() => letters.swap(at, at + 1),
            _ => letters.insert(at, *random.pick(&alphabet)),
        }
    }
    letters.into_iter().collect()
}

/// A place in bytes as one in the units that JavaScript counts in.
fn place(text: &str, bytes: usize) -> usize {
    text.get(..bytes).unwrap_or(text).encode_utf16().count()
}

fn expected(text: &str, signs: Option<(&str, &str)>) -> Value {
    let reading = match read_with_signs(text, signs) {
        Ok(reading) => reading,
        Err(error) => {
            let at = [place(text, error.at.start), place(text, error.at.end)];
            return json!({"message": error.message, "hint": error.hint, "at": at});
        }
    };
    let values: Vec<Value> = match reading.values {
        Values::One(value) => vec![text_of(value)],
        Values::Vector(values) => values.map(text_of).to_vec(),
    };
    let spread = match reading.spread {
        Spread::None => Value::Null,
        Spread::Limits(width) => json!({"kind": "plusMinus", "width": text_of(width)}),
        Spread::StdDev(width) => json!({"kind": "stdDev", "width": text_of(width)}),
    };
    json!({
        "values": values,
        "dimension": Base::ALL.map(|base| reading.dimension.twelfths(base)),
        "point": reading.scale == Scale::Point,
        "symbol": reading.unit.symbol(),
        "spread": spread,
        "word": reading.sign_word,
    })
}

#[test]
fn texts_are_read_as_in_the_engine() {
    let mut random = Random::new(3);
    let mut cases = Vec::new();
    let (mut read, mut refused) = (0, std::collections::BTreeSet::new());
    for (number, text) in texts(&mut random).into_iter().enumerate() {
        let signs = SIGNS.get(number % 6).copied();
        let expected = expected(&text, signs);
        match expected["message"].as_str() {
            Some(message) => {
                refused.insert(
                    message
                        .chars()
                        .filter(|c| c.is_alphabetic())
                        .take(24)
                        .collect::<String>(),
                );
            }
            None => read += 1,
        }
        cases.push(json!({"kind": "read", "text": text, "signs": signs, "expected": expected}));
    }
    assert!(
        read > 3000 && refused.len() > 40,
        "{read} are read, {} kinds refused",
        refused.len()
    );
    agrees(
        "text-reading",
        &json!({"units": units_json(), "specs": [], "cases": cases}),
    );
}

/// What scripts want to know, and the value that they have for an example.
const WANTED: [(&str, &str); 9] = [
    ("20.mm", ""),
    ("20.mm", "from 1.mm to 3.inch"),
    ("3.deg", "signs (\"left\", \"right\")"),
    ("80.degC", ""),
    ("15.delta_degF", ""),
    ("0.75", ""),
    ("30.percent", ""),
    ("300.rad_per_s2", ""),
    ("point(1.mm, 2.mm, 3.mm)", ""),
];

#[test]
fn inputs_are_refused_in_the_engines_words() {
    let mut random = Random::new(5);
    let texts = texts(&mut random);
    let mut cases = Vec::new();
    for (example, clauses) in WANTED {
        let script = format!("input fall = {example} {clauses};\nstep it = fall;");
        let library = Library::new(Rc::new(NoSources));
        let source = SourceText {
            name: "test".to_owned(),
            text: script,
        };
        let program = library.compile(source).unwrap();
        let run = |text: Option<&str>| {
            let what = text.map(|text| match example.starts_with("point") {
                true => GivenValue::Text(text.to_owned()),
                false => given_value(text, clauses),
            });
            let given = |what| Given {
                what,
                origin: Origin::Measured,
                places: Vec::new(),
            };
            let bindings: Bindings = what.map(|what| ("fall".to_owned(), given(what))).into_iter().collect();
            library.run(&program, bindings, &Rc::new(Recording::open()), 0, None)
        };
        let own = run(None).unwrap().outcome.inputs.remove(0);
        let wanted = wanted(&own.value, clauses);
        for _ in 0..400 {
            let text = random.pick(&texts).as_str();
            // A number without a unit stands in a job without quotes, and no line can end in it.
            if text.contains(ends_line) && text.trim().parse::<f64>().is_ok() {
                continue;
            }
            let (kind, expected) = match run(Some(text)) {
                Ok(finished) => ("wanted", taken(&finished.outcome.inputs[0])),
                // The page finds no unit or no number with such a letter in it, and need not know them all.
                Err(error) if error.refusal.code() == "hidden character" => ("refused", json!({"refused": true})),
                Err(error) => ("wanted", json!({"error": error.refusal.message()})),
            };
            cases.push(json!({"kind": kind, "text": text, "wanted": wanted, "expected": expected}));
        }
    }
    agrees(
        "text-wanted",
        &json!({"units": units_json(), "specs": [], "cases": cases}),
    );
}

/// A bare number is one in a job file too: it stands there without quotes.
fn given_value(text: &str, clauses: &str) -> GivenValue {
    let signs = clauses.starts_with("signs").then_some(("left", "right"));
    let bare = read_with_signs(text, signs)
        .ok()
        .filter(|reading| reading.unit == WrittenUnit::None && reading.spread == Spread::None);
    match bare.map(|reading| reading.values) {
        Some(Values::One(number)) => GivenValue::Number(number),
        _ => GivenValue::Text(text.to_owned()),
    }
}

/// What the page asks for, made of how the input is written.
fn wanted(value: &Shown, clauses: &str) -> Value {
    let amount = match value {
        Shown::Amount(amount) => amount,
        Shown::Items(items) => match &items[0].1 {
            Shown::Amount(amount) => amount,
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    let mut wanted = writing(amount, System::Metric);
    wanted["name"] = json!("fall");
    if matches!(value, Shown::Items(_)) {
        wanted["vector"] = json!("a point");
    }
    if clauses.starts_with("from") {
        let inch = all().find(|unit| unit.name == "inch").map(WrittenUnit::Single).unwrap();
        wanted["range"] = json!({"low": 0.001, "high": inch.to_si(3.0), "words": "1 mm to 3 in"});
    }
    wanted
}

fn taken(input: &crankline_engine::outcome::Input) -> Value {
    let si = match &input.value {
        Shown::Amount(amount) => text_of(amount.si),
        Shown::Items(items) => items
            .iter()
            .map(|(_, item)| match item {
                Shown::Amount(amount) => text_of(amount.si),
                other => panic!("{other:?}"),
            })
            .collect(),
        other => panic!("{other:?}"),
    };
    let part = input.parts.iter().find(|part| part.stated);
    match part.map(|part| part.spread) {
        None => json!({"si": si}),
        Some(Scatter::Exact) => json!({"si": si, "plusMinus": text_of(0.0)}),
        Some(Scatter::Limits(width)) => json!({"si": si, "plusMinus": text_of(width)}),
        Some(Scatter::Standard(width)) => json!({"si": si, "stdDev": text_of(width)}),
        Some(other) => panic!("{other:?}"),
    }
}
