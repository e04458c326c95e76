//! Every picture is well-formed, and its words do not lie on one another.

use super::look::drawn;
use crate::scripts::with_examples;
use crankline_engine::quantity::text::System;
use crankline_engine::report::{figure_letters, picture};
use crankline_scripts::script_names;
use roxmltree::{Document, Node};

#[test]
fn every_picture_of_every_script_is_well_formed() {
    let mut count = 0;
    for name in script_names() {
        let trial = with_examples(&name);
        for width in [340.0, 420.0, 640.0] {
            for (nth, (svg, scene)) in drawn(&trial, width).into_iter().enumerate() {
                let document = Document::parse(&svg).unwrap_or_else(|error| panic!("{name}, {nth}: {error}\n{svg}"));
                let root = document.root_element();
                assert!(!svg.contains("NaN") && !svg.contains("inf"), "{name}, {nth}");
                assert_eq!(root.attribute("role"), Some("img"), "{name}, {nth}");
                let moving = root.descendants().filter(|node| node.has_attribute("data-e")).count();
                assert_eq!(moving, scene["moving"].as_array().unwrap().len(), "{name}, {nth}");
                for word in ["title", "desc"] {
                    let told = root
                        .children()
                        .find(|node| node.has_tag_name((SVG, word)))
                        .and_then(|node| node.text());
                    assert!(
                        told.is_some_and(|told| !told.trim().is_empty()),
                        "{name}, {nth}: {word}"
                    );
                }
                count += 1;
            }
        }
    }
    assert!(count > 10, "{count}");
}

#[test]
fn words_do_not_lie_on_one_another() {
    let mut wrong = Vec::new();
    for name in script_names() {
        let trial = with_examples(&name);
        for width in [340.0, 420.0, 640.0] {
            for (nth, (svg, _)) in drawn(&trial, width).into_iter().enumerate() {
                let document = Document::parse(&svg).unwrap();
                let rooms: Vec<(String, [f64; 4])> = document.descendants().flat_map(rooms).collect();
                for (at, (words, room)) in rooms.iter().enumerate() {
                    if room[0] < -3.0 || room[2] > width + 3.0 {
                        wrong.push(format!(
                            "{name}, picture {nth} at {width}: `{words}` is off the page: {room:?}"
                        ));
                    }
                    for (other, beside) in &rooms[at + 1..] {
                        let beyond = |side: usize| room[side + 2] <= beside[side] || beside[side + 2] <= room[side];
                        if !beyond(0) && !beyond(1) {
                            wrong.push(format!("{name}, picture {nth} at {width}: `{words}` lies on `{other}`"));
                        }
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const SVG: &str = "http://www.w3.org/2000/svg";

/// The room of each line of a text, by the widths of a common font: digits and most letters are 0.55 of the size wide.
fn rooms(node: Node<'_, '_>) -> Vec<(String, [f64; 4])> {
    if !node.has_tag_name((SVG, "text")) || node.has_attribute("hidden") {
        return Vec::new();
    }
    let [x, y] = place(node);
    let parts: Vec<Node<'_, '_>> = node
        .children()
        .filter(|child| child.has_tag_name((SVG, "tspan")))
        .collect();
    let lines: Vec<String> = if parts.is_empty() {
        vec![words(node)]
    } else {
        parts.into_iter().map(words).collect()
    };
    let mut found = Vec::new();
    for (nth, line) in lines.into_iter().enumerate() {
        let wide: f64 = line.chars().map(wide).sum();
        let left = match node.attribute("text-anchor") {
            Some("middle") => x - wide / 2.0,
            Some("end") => x - wide,
            _ => x,
        };
        #[allow(clippy::cast_precision_loss)]
        let base = y + 15.0 * nth as f64;
        // Capitals and digits reach 0.7 of the size up; two below the line is a tail.
        found.push((line, [left, base - 8.6, left + wide, base + 2.0]));
    }
    found
}

fn wide(letter: char) -> f64 {
    12.0 * match letter {
        'i' | 'j' | 'l' | '.' | ',' | ':' | '\'' | ' ' => 0.28,
        'f' | 't' | 'r' | '(' | ')' | '-' | '/' | '°' => 0.36,
        'm' | 'w' | 'M' | 'W' => 0.85,
        _ => 0.55,
    }
}

fn words(node: Node<'_, '_>) -> String {
    node.descendants()
        .filter_map(|node| node.text().filter(|_| node.is_text()))
        .collect()
}

fn place(node: Node<'_, '_>) -> [f64; 2] {
    let moved = node
        .attribute("transform")
        .and_then(|moved| moved.strip_prefix("translate("));
    let mut numbers = moved
        .unwrap()
        .trim_end_matches(')')
        .split(' ')
        .map(|number| number.parse().unwrap());
    [numbers.next().unwrap(), numbers.next().unwrap()]
}

/// Numbers that should be one number may differ in their last bits: a scale over them has an end all the same, and room.
#[test]
fn a_scale_of_one_number_but_for_its_last_bits() {
    let ran = crate::language::run(
        r#"input k = 0.1.N : "K";
        let sum = k + 0.2.N;
        show chart("lines").line("a", [0.mm, 1.mm], [sum, 0.3.N]);
        show chart("places").line("a", [0.3.N, sum], [1.mm, 2.mm]);
        show chart("points").points("a", [sum, 0.3.N], [sum, 0.3.N]);
        show bars("bars").bar("a", sum).bar("b", 0.3.N);
        show pass_map("map", [0.3.N, sum], [0.3.N, sum], [[1.0, 2.0], [1.0, -1.0]]);
        show dial("dial").hand("a", sum / 1.N * 1.rad).hand("b", 0.3.rad);"#,
    );
    for shown in &ran.outcome.figures {
        let letters = figure_letters(shown, System::Metric).join("\n");
        let svg = picture(shown, System::Metric);
        let title = shown.figure.title().in_words(|_| String::new());
        assert!(letters.len() < 10_000 && svg.len() < 40_000, "{title}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{title}: {svg}");
        Document::parse(&svg).unwrap();
    }
    assert_eq!(ran.outcome.figures.len(), 6);
}
