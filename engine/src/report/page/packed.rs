//! Long lists of whole numbers in fewer letters: `{"~": "…"}` stands for one, see `script/page_packed.js`.

use serde_json::{Value, json};

/// The digits that number lists are written in; the later half says that more of the number follows.
const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
/// Shorter lists stay as they are.
const SHORT: usize = 24;

/// The same data with its long lists of whole numbers packed.
pub(super) fn packed(value: Value) -> Value {
    match value {
        Value::Array(items) => match whole(&items) {
            Some(numbers) => json!({"~": text(&numbers)}),
            None => items.into_iter().map(packed).collect(),
        },
        Value::Object(members) => members
            .into_iter()
            .map(|(name, member)| (name, packed(member)))
            .collect(),
        other => other,
    }
}

/// The numbers of a long list that has nothing but whole ones.
fn whole(items: &[Value]) -> Option<Vec<i64>> {
    let numbers = || items.iter().map(Value::as_i64).collect::<Option<Vec<i64>>>();
    if items.len() < SHORT { None } else { numbers() }
}

/// Each number as its size times two, one more where it is negative, in digits of 32, the lowest first.
fn text(numbers: &[i64]) -> String {
    let mut text = String::with_capacity(2 * numbers.len());
    for number in numbers {
        let mut rest = number.unsigned_abs() << 1 | u64::from(*number < 0);
        loop {
            let more = if rest > 31 { 32 } else { 0 };
            let digit = DIGITS.get((rest & 31) as usize | more);
            text.extend(digit.map(|digit| char::from(*digit)));
            rest >>= 5;
            if more == 0 {
                break;
            }
        }
    }
    text
}
