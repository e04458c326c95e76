//! The checks of a study in one list of whole numbers, see `script/page_study.js`.
//!
//! A check is its run, line, guard and kind; its test: 0 or 1 of what is settled, 2 between two sides, from 3 on the number
//! of its comparison; each side: 0 and a place, 1 and a number of the list `numbers`, or 2 of what is not known; last how
//! many examples it rests on, and of each how many inputs and which.

use serde_json::{Value, json};

/// Kinds and comparisons, by number.
const KINDS: [&str; 3] = ["check", "prefer", "require"];
const COMPARISONS: [&str; 6] = ["<", "<=", ">", ">=", "==", "!="];

/// The same study with its checks shortened.
pub(super) fn with_short_checks(study: &Value) -> Value {
    let mut study = study.clone();
    let mut short = Short::default();
    for check in study.get("checks").and_then(Value::as_array).into_iter().flatten() {
        short.check(check);
    }
    if let Some(checks) = study.get_mut("checks") {
        *checks = json!({"numbers": short.numbers, "code": short.code});
    }
    study
}

#[derive(Default)]
struct Short {
    numbers: Vec<Value>,
    code: Vec<i64>,
}

impl Short {
    fn check(&mut self, check: &Value) {
        self.whole(check.get("run"));
        list(check.get("at")).iter().for_each(|at| self.whole(Some(at)));
        self.count(place_in(&KINDS, check.get("kind")).unwrap_or_default());
        self.test(check.get("test").unwrap_or(&Value::Null));
        let examples = list(check.get("examples"));
        self.count(examples.len());
        for example in examples {
            self.count(list(Some(example)).len());
            list(Some(example)).iter().for_each(|input| self.whole(Some(input)));
        }
    }

    fn test(&mut self, test: &Value) {
        if let Some(settled) = test.get("settled") {
            self.code.push(i64::from(*settled == Value::Bool(true)));
            return;
        }
        let comparison = place_in(&COMPARISONS, test.get("comparison"));
        self.count(comparison.map_or(2, |comparison| comparison + 3));
        for side in list(test.get("sides")) {
            match (side.get("place"), side.get("value")) {
                (Some(place), _) => {
                    self.code.push(0);
                    self.whole(Some(place));
                }
                (None, Some(value)) if value.is_number() => {
                    self.code.push(1);
                    self.count(self.numbers.len());
                    self.numbers.push(value.clone());
                }
                _ => self.code.push(2),
            }
        }
    }

    fn whole(&mut self, number: Option<&Value>) {
        self.code.push(number.and_then(Value::as_i64).unwrap_or_default());
    }

    fn count(&mut self, count: usize) {
        self.code.extend(i64::try_from(count));
    }
}

fn list(value: Option<&Value>) -> &[Value] {
    value.and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

fn place_in(known: &[&str], word: Option<&Value>) -> Option<usize> {
    let word = word?.as_str()?;
    known.iter().position(|known| *known == word)
}
