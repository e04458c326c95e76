//! What goes wrong, in the words of whoever writes the script.

use super::check::run_on;
use crankline_engine::script::Bindings;

#[test]
fn messages() {
    let table: toml::Table = include_str!("refusals.toml").parse().unwrap();
    for case in table["case"].as_array().unwrap() {
        let script = case["script"].as_str().unwrap();
        let expected = case["message"].as_str().unwrap();
        match run_on(script, Bindings::new(), None) {
            Ok(_) => panic!("{script} was accepted"),
            Err(message) => assert_eq!(message, expected, "{script}"),
        }
    }
}
