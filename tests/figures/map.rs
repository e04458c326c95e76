//! A map's edge is where the margin would be nil.

use crate::language::run;
use crankline_engine::quantity::text::System;
use crankline_engine::report::{Drawing, drawing};
use roxmltree::Document;

/// Corners of the region that holds, on the page, and the corners of the whole map.
fn drawn(margins: &str) -> (Vec<[f64; 2]>, [f64; 4]) {
    let ran = run(&format!(
        "let xs = linspace(0.mm, 4.mm, 5); let ys = linspace(0.mm, 8.mm, 9);\n\
         show pass_map(\"t\", xs, ys, ys.map(|y| xs.map(|x| {margins})));"
    ));
    let on = Drawing {
        system: System::Metric,
        width: 640.0,
        name: "f",
        bands: &[],
    };
    let (svg, _) = drawing(&ran.outcome.figures[0], &on, &mut |_, text| maud::html! { (text) });
    let svg = svg.into_string();
    let document = Document::parse(&svg).unwrap();
    // The same look stands in the key: the map itself is the largest.
    let whole = document
        .descendants()
        .filter(|node| node.attribute("class") == Some("cell fails"));
    let number = |node: roxmltree::Node<'_, '_>, name: &str| -> f64 { node.attribute(name).unwrap().parse().unwrap() };
    let whole = whole
        .max_by(|a, b| number(*a, "width").total_cmp(&number(*b, "width")))
        .unwrap();
    let [x, y, width, height] = ["x", "y", "width", "height"].map(|name| number(whole, name));
    let region = document
        .descendants()
        .find(|node| node.has_attribute("d") && node.attribute("class") == Some("cell holds"));
    let places = region.unwrap().attribute("d").unwrap().replace(['M', 'L', 'Z'], "\n");
    let places = places.lines().filter(|line| !line.is_empty()).map(|line| {
        let (across, up) = line.split_once(' ').unwrap();
        [across.parse().unwrap(), up.parse().unwrap()]
    });
    (places.collect(), [x, y, x + width, y + height])
}

fn farthest(places: &[[f64; 2]], which: usize, far: fn(f64, f64) -> f64) -> f64 {
    places.iter().map(|place| place[which]).reduce(far).unwrap()
}

/// Of a margin that is a multiple of the way across, the edge is exactly there, wherever the places are.
#[test]
fn a_straight_margin_is_cut_where_it_is_nil() {
    let (places, [left, top, right, bottom]) = drawn("1.3.mm - x");
    let edge = farthest(&places, 0, f64::max);
    assert!((edge - (left + 1.3 / 4.0 * (right - left))).abs() < 0.11, "{edge}");
    let (places, _) = drawn("y - 5.25.mm");
    let edge = farthest(&places, 1, f64::max);
    assert!((edge - (bottom - 5.25 / 8.0 * (bottom - top))).abs() < 0.11, "{edge}");
}

/// The area of a quarter of a circle about a corner, by the corners of its outline: chords are a little less.
#[test]
fn a_round_margin_is_cut_by_chords() {
    let (places, [left, top, right, bottom]) = drawn("3.mm - hypot(x, y)");
    let scale = [(right - left) / 4.0, (bottom - top) / 8.0];
    let corners: Vec<[f64; 2]> = places
        .iter()
        .map(|place| [(place[0] - left) / scale[0], (bottom - place[1]) / scale[1]])
        .collect();
    let off = corners.iter().map(|[x, y]| x.hypot(*y)).fold(0.0, f64::max);
    assert!(off < 3.05 && off > 2.9, "{off}");
    assert!(corners.iter().all(|[x, y]| *x > -0.01 && *y > -0.01));
}
