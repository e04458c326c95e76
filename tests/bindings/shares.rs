//! Shares of a whole: shown as they were entered.

use super::check::{given, measured, run, text};
use crankline_engine::outcome::{Amount, Value};
use crankline_engine::quantity::text::System;
use crankline_engine::report::written;

const SCRIPT: &str = r#"
    input share = 30.percent plus_minus 5.percent from 10.percent to 50.percent;
    assume plain = 0.5;
    input rows = [#{part: 5.percent, ratio: 2.85}];
    step doubled = share * 2.0;
"#;

fn shown(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Amount(amount) => found.push(entered(amount)),
        Value::Items(items) => items.iter().for_each(|(_, item)| shown(item, found)),
        other => panic!("{other:?}"),
    }
}

fn entered(amount: &Amount) -> String {
    written::entered(amount, System::Metric)
}

#[test]
fn a_share_in_percent_is_shown_in_percent() {
    let ran = run(SCRIPT);
    let mut found = Vec::new();
    for input in &ran.outcome.inputs {
        shown(&input.value, &mut found);
    }
    assert_eq!(found, ["30 %", "0.5", "5 %", "2.85"]);
    // What is worked out of it is a plain number, unless its step says otherwise.
    assert_eq!(entered(ran.step("doubled")), "0.6");
}

#[test]
fn a_share_given_is_shown_in_percent_too() {
    for (entry, wanted) in [("40 %", "40 %"), ("0.4", "40 %"), ("12.5 % +/- 1 %", "12.5 %")] {
        let ran = given(SCRIPT, measured([("share", text(entry))]));
        let Value::Amount(amount) = &ran.outcome.inputs[0].value else {
            panic!("one number")
        };
        assert_eq!(entered(amount), wanted, "{entry}");
    }
}
