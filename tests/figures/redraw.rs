//! The page's script puts every shape where the picture has it, and moves it.

use super::look::drawn;
use crate::page::run;
use crate::scripts::with_examples;
use crankline_scripts::script_names;
use roxmltree::Document;
use serde_json::{Map, Value, json};

/// With the numbers as they are, nothing moves.
#[test]
fn with_the_numbers_as_they_are_a_picture_stays_as_it_is() {
    let mut cases = Vec::new();
    for name in script_names() {
        let trial = with_examples(&name);
        for (nth, (svg, scene)) in drawn(&trial, 640.0).into_iter().enumerate() {
            let document = Document::parse(&svg).unwrap();
            let elements = document.descendants().filter_map(|node| {
                let number = node.attribute("data-e")?.to_owned();
                let own = node.attributes().map(|own| (own.name().to_owned(), json!(own.value())));
                Some((number, Value::Object(own.collect())))
            });
            let elements: Map<String, Value> = elements.collect();
            let figure = trial
                .outcome()
                .figures
                .iter()
                .filter(|shown| crankline_engine::report::is_drawn(&shown.figure));
            let figure = &figure.collect::<Vec<_>>()[nth].figure;
            let values: Map<String, Value> = figure
                .amounts()
                .iter()
                .filter_map(|amount| Some((amount.slot?.to_string(), json!(amount.si))))
                .collect();
            cases.push(
                json!({"name": format!("{name}, {nth}"), "elements": elements, "scene": scene, "values": values}),
            );
        }
    }
    assert!(cases.len() > 5);
    run("../figures/redraw.mjs", "figures", &json!(cases));
}
