//! The order in which the keys of a map were written: the language itself keeps maps in the order of their keys.

use crate::outcome::Value;
use rhai::Expr;

/// The value with the keys of its maps as the expression that made it writes them. A table takes the order of its
/// first row.
pub(crate) fn as_written(value: Value, expression: &Expr) -> Value {
    match (value, expression) {
        (value, Expr::FnCall(call, _)) if matches!(call.name.as_str(), "plus_minus" | "std_dev") => {
            match call.args.first() {
                Some(stated) => as_written(value, stated),
                None => value,
            }
        }
        (Value::Items(items), Expr::Array(rows, _)) => Value::Items(of_rows(items, rows)),
        (Value::Items(items), Expr::Map(fields, _)) => {
            let place = |key: &str| fields.0.iter().position(|(name, _)| name.name == key);
            let mut items: Vec<(String, Value)> = items
                .into_iter()
                .map(|(key, item)| {
                    let field = place(&key).and_then(|at| fields.0.get(at));
                    let item = field.map_or(item.clone(), |(_, field)| as_written(item, field));
                    (key, item)
                })
                .collect();
            items.sort_by_key(|(key, _)| place(key).unwrap_or(usize::MAX));
            Value::Items(items)
        }
        (value, _) => value,
    }
}

fn of_rows(items: Vec<(String, Value)>, rows: &[Expr]) -> Vec<(String, Value)> {
    let Some(first) = rows.first() else { return items };
    let row = |item: Value| as_written(item, first);
    items.into_iter().map(|(key, item)| (key, row(item))).collect()
}
