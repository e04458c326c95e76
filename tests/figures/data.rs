//! What a script's figures hold.

use crate::language::{error, run};
use crankline_engine::figure::{Cell, Chart, Figure, Shown};

fn figures(script: &str) -> Vec<Shown> {
    run(script).outcome.figures
}

#[track_caller]
fn chart(script: &str) -> Chart {
    match figures(script).remove(0).figure {
        Figure::Chart(chart) => *chart,
        other => panic!("{}", other.kind()),
    }
}

const LINE: &str = "let c = chart(\"t\").line(\"a\", [1.mm, 2.mm], [1.N, 2.N]);";

#[test]
fn a_second_name_is_the_same_figure_and_a_copy_another() {
    let two = chart(&format!("{LINE} let d = c; d.limit(\"l\", 3.N); show c;"));
    assert_eq!((two.curves.len(), two.levels.len()), (1, 1));
    let one = chart(&format!("{LINE} let d = c.copy(); d.limit(\"l\", 3.N); show c;"));
    assert_eq!(one.levels.len(), 0);
}

#[test]
fn a_figure_is_shown_as_it_is_then_in_loops_and_functions_too() {
    let shown = figures(
        "fn picture(c) { show c : \"in a function\"; }\n\
         let c = chart(\"t\");\n\
         heading \"H\";\n\
         for i in 0..2 { c.limit(`l ${i}`, i * 1.N); show c : `after ${i}`; }\n\
         picture(c);",
    );
    let counts = shown.iter().map(|shown| match &shown.figure {
        Figure::Chart(chart) => chart.levels.len(),
        _ => 0,
    });
    assert_eq!(counts.collect::<Vec<_>>(), [1, 2, 2]);
    let labels = shown
        .iter()
        .map(|shown| shown.label.as_ref().unwrap().in_words(|_| String::new()));
    assert_eq!(labels.collect::<Vec<_>>(), ["after 0", "after 1", "in a function"]);
    assert!(
        shown
            .iter()
            .all(|shown| shown.heading.is_some() && shown.place.is_some())
    );
}

/// A formula that calls a function is printed by calling it again: that must draw nothing.
#[test]
fn a_function_called_again_to_print_its_numbers_draws_nothing() {
    let drawn = chart(
        "fn marked(c, x) { c.mark(\"m\", x, x); x * 2.0 }\n\
         input x = 3.mm;\n\
         let c = chart(\"t\");\n\
         step y = marked(c, x);\n\
         show c;",
    );
    assert_eq!(drawn.marks.len(), 1);
}

/// Side: rear and up. Plan: rear and right. Behind: right and up. Distances and angles are those of the view.
#[test]
fn a_view_shows_two_coordinates_of_three() {
    let seen = |view: &str| {
        let shown = figures(&format!(
            "let p = point(1.mm, 2.mm, 3.mm); let q = point(4.mm, 6.mm, 15.mm);\n\
             show sketch(\"t\", \"{view}\").point(p).dimension(p, q)\n\
                 .angle(vector(1, 0, 0), vector(1, 1, 1), p).exaggerate(10);"
        ));
        let Figure::Sketch(sketch) = &shown[0].figure else {
            panic!()
        };
        let (_, place) = &sketch.points[0];
        let numbers = [
            place.across.si * 1e3,
            place.up.si * 1e3,
            sketch.dimensions[0].distance.si * 1e3,
            sketch.angles[0].between.si.to_degrees(),
        ];
        numbers.map(|number| (number * 1e6).round() / 1e6)
    };
    let root = |square: f64| (square.sqrt() * 1e6).round() / 1e6;
    assert_eq!(seen("side"), [1.0, 3.0, root(153.0), 45.0]);
    assert_eq!(seen("plan"), [1.0, 2.0, 5.0, 45.0]);
    // From behind the first vector is a point: it has no angle, and nothing of it may fail.
    assert_eq!(seen("rear")[..3], [2.0, 3.0, root(160.0)]);
}

#[test]
fn parts_of_a_bar_stand_end_to_end() {
    let shown = figures(
        "input a = 2.A;\n\
         show bars(\"t\").part(\"idle\", \"fan\", a).part(\"cruise\", \"fan\", 1.A).part(\"idle\", \"lamps\", 3.A);",
    );
    let Figure::Bars(bars) = &shown[0].figure else { panic!() };
    let idle = &bars.bars[0];
    let parts = idle
        .parts
        .iter()
        .map(|part| (part.name.as_str(), part.from.si, part.to.si));
    assert_eq!(parts.collect::<Vec<_>>(), [("fan", 0.0, 2.0), ("lamps", 2.0, 5.0)]);
    assert!(idle.parts[1].to.slot.is_some(), "a sum of a reading follows it");
}

/// Counted from the top against the clock, 90° is on the left.
#[test]
fn a_hand_points_where_its_dial_counts_to() {
    let tip = |counts: &str| {
        let shown = figures(&format!("show dial(\"t\", {counts}).hand(\"a\", 90.deg, 2.mm);"));
        let Figure::Dial(dial) = &shown[0].figure else { panic!() };
        let [across, up] = &dial.hands[0].tip;
        [(across.si * 1e6).round() / 1e3, (up.si * 1e6).round() / 1e3]
    };
    assert_eq!(tip("\"top\", \"clockwise\""), [2.0, 0.0]);
    assert_eq!(tip("\"top\", \"counter-clockwise\""), [-2.0, 0.0]);
    assert_eq!(tip("\"right\", \"clockwise\""), [0.0, -2.0]);
    assert_eq!(tip("\"right\", \"counter-clockwise\""), [0.0, 2.0]);
}

#[test]
fn a_map_has_its_rows_upward() {
    let shown = figures(
        "let xs = [1.mm, 2.mm, 3.mm]; let ys = [1.mm, 2.mm];\n\
         show pass_map(\"t\", xs, ys, ys.map(|y| xs.map(|x| x - y)));",
    );
    let Figure::PassMap(map) = &shown[0].figure else {
        panic!()
    };
    let signs = map.rows.iter().map(|row| {
        let sign = |cell: &Cell| matches!(cell, Cell::Margin(margin) if margin.si >= 0.0);
        row.iter().map(sign).collect::<Vec<_>>()
    });
    assert_eq!(
        signs.collect::<Vec<_>>(),
        [vec![true, true, true], vec![false, true, true]]
    );
}

#[test]
fn what_has_no_place_on_a_scale_is_no_error() {
    let drawn = chart("show chart(\"t\").log_x().line(\"a\", [-1.mm, 0.mm, 1.mm], [1.N, 2.N, 3.N]);");
    assert_eq!(drawn.curves[0].xs.len(), 3);
    assert!(error("show chart(\"t\").line(\"a\", 3, 4);").contains("list"));
}
