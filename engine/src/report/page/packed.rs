//! Long lists of whole numbers in fewer letters, see `script/page_packed.js`: `{"~": "…"}` stands for one, with `"of": 3`
//! for one of lists of three.

use serde_json::{Value, json};

/// The digits that number lists are written in: all that can be seen, without those that JSON or a page has marks for. The
/// first 60 end a number, the others say that more of it follows.
const DIGITS: &[u8; 92] =
    b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!#$%&'()*+,-./:;=>?@[]^_`{|}~ ";
const LAST: u64 = 60;
const MORE: u64 = 32;
/// Shorter lists stay as they are.
const SHORT: usize = 24;

/// The same data with its long lists of whole numbers packed.
pub(super) fn packed(value: Value) -> Value {
    match value {
        Value::Array(items) => list(items),
        Value::Object(members) => members
            .into_iter()
            .map(|(name, member)| (name, packed(member)))
            .collect(),
        other => other,
    }
}

fn list(items: Vec<Value>) -> Value {
    if let Some(numbers) = whole(&items).filter(|numbers| numbers.len() >= SHORT) {
        return json!({"~": text(&numbers)});
    }
    if let Some((numbers, of)) = rows(&items).filter(|(numbers, _)| numbers.len() >= SHORT) {
        return json!({"~": text(&numbers), "of": of});
    }
    items.into_iter().map(packed).collect()
}

/// The numbers of a list that has nothing but whole ones.
fn whole(items: &[Value]) -> Option<Vec<i64>> {
    items.iter().map(Value::as_i64).collect()
}

/// The numbers of lists that have equally many, one list after the other.
fn rows(items: &[Value]) -> Option<(Vec<i64>, usize)> {
    let of = items.first()?.as_array()?.len();
    let mut numbers = Vec::new();
    for item in items {
        let row = item.as_array().filter(|row| row.len() == of)?;
        numbers.extend(whole(row)?);
    }
    (of > 0).then_some((numbers, of))
}

/// Each number as its size times two, one more where it is negative: what is left of it by 32s, and last below 60.
fn text(numbers: &[i64]) -> String {
    let mut text = String::with_capacity(2 * numbers.len());
    let mut digit = |value: u64| {
        let digit = usize::try_from(value).ok().and_then(|value| DIGITS.get(value));
        text.extend(digit.map(|digit| char::from(*digit)));
    };
    for number in numbers {
        let mut rest = number.unsigned_abs() << 1 | u64::from(*number < 0);
        while rest >= LAST {
            digit(LAST + (rest - LAST) % MORE);
            rest = (rest - LAST) / MORE;
        }
        digit(rest);
    }
    text
}
