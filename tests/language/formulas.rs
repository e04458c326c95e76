//! Formulas with the numbers put in, so that a reader can do any line again.

use super::check::{Shelf, run, run_in, spoken};
use crankline_engine::outcome::{Opened, Piece};
use crankline_engine::script::Library;
use std::rc::Rc;

#[test]
fn a_formula_shows_lists_and_what_a_function_was_given() {
    let ran = run("
        fn apart(pair, by) { pair.a - pair.b * by }
        input loads = [#{name: \"Fan\", current: 14.A}, #{name: \"Pump\", current: 9.A}];
        let many = linspace(1.mm, 13.mm, 13);
        let pair = #{a: 3.mm, b: 1.mm};
        step all = sum(column(loads, \"current\"));
        step long = sum(many);
        step most = 2 * max(column(loads, \"current\"));
        step between = interpolate([1.0, 2.0], column(loads, \"current\"), 1.5);
        step left = apart(pair, 2);
        step again = apart(#{a: 3.mm, b: 1.mm}, 2) + 1.mm;
    ");
    let shown: Vec<String> = ran.outcome.steps.iter().map(|step| spoken(&step.substituted)).collect();
    let expected = [
        "sum(‹14 A›, ‹9 A›)",
        "sum(‹1 mm›, ‹2 mm›, ‹3 mm›, ‹4 mm›, … 13 in all)",
        "2 × max(‹14 A›, ‹9 A›)",
        "interpolate([1.0, 2.0], [‹14 A›, ‹9 A›], 1.5)",
        "apart((a: ‹3 mm›, b: ‹1 mm›), 2)",
        "(apart((a: ‹3 mm›, b: ‹1 mm›), 2) = ‹1 mm›) + ‹1 mm›",
    ];
    assert_eq!(shown, expected);
}

#[test]
fn a_formula_keeps_the_unit_that_is_written_out() {
    let ran = run("input r = 3.mm; step arc = r * 1.rad + 3.inch - (1/8).inch * 1.turn; step weight = 2.kg * 1.gee;");
    let units = |at: usize| -> Vec<Option<String>> {
        let pieces = ran.outcome.steps[at].substituted.pieces.iter();
        let amounts = pieces.filter_map(|piece| match piece {
            Piece::Amount(amount) => Some(amount.style.clone()),
            Piece::Words(_) => None,
        });
        amounts.collect()
    };
    let named = |name: &str| Some(name.to_owned());
    let expected = [None, named("rad"), named("inch"), named("inch"), named("turn")];
    assert_eq!(units(0), expected);
    // Standard gravity is a number that a calculator needs.
    assert_eq!(units(1), [named("kg"), None]);
}

/// The functions that a step's formula calls, each line as `name = formula = numbers = value`.
fn opened(functions: &[Opened], depth: usize) -> Vec<String> {
    let mut all = Vec::new();
    for function in functions {
        let given = function.given.iter();
        let given: Vec<String> = given.map(|(name, value)| format!("{name} {}", spoken(value))).collect();
        all.push(format!(
            "{}in {}({})",
            "  ".repeat(depth),
            function.function,
            given.join(", ")
        ));
        for line in &function.lines {
            let name = line.name.as_deref().unwrap_or("");
            let (numbers, value) = (spoken(&line.substituted), spoken(&line.value));
            all.push(format!(
                "{}{name} = {} = {numbers} = {value}",
                "  ".repeat(depth + 1),
                line.formula
            ));
            all.extend(opened(&line.opened, depth + 2));
        }
    }
    all
}

#[test]
fn a_function_that_a_formula_calls_is_opened() {
    let ran = run("
        fn half(x) { x / 2.0 }
        fn third_side(a, b) {
            // A comment between.
            let squares = half(a)**2 + b**2;
            sqrt(squares)
        }
        fn larger(a, b) { if a > b { a } else { half(b) } }
        input a = 6.mm; input b = 4.mm;
        step c = third_side(a, b);
        step d = larger(a, b) + 1.mm;
    ");
    let steps = &ran.outcome.steps;
    let expected = [
        "in third_side(a ‹6 mm›, b ‹4 mm›)",
        "  squares = half(a)**2 + b**2 = (half(‹6 mm›) = ‹3 mm›)^2 + (‹4 mm›)^2 = ‹25 mm²›",
        "    in half(x ‹6 mm›)",
        "       = x / 2.0 = ‹6 mm› / 2.0 = ‹3 mm›",
        "   = sqrt(squares) = sqrt(‹25 mm²›) = ‹5 mm›",
    ];
    assert_eq!(opened(&steps[0].opened, 0), expected);
    let expected = [
        "in larger(a ‹6 mm›, b ‹4 mm›)",
        "   = if a > b { a } else { half(b) } = ‹6 mm› = ‹6 mm›",
    ];
    assert_eq!(opened(&steps[1].opened, 0), expected);
}

#[test]
fn what_the_engine_does_is_opened_too() {
    let ran = run("
        input od = 30.mm; input wall = 5.mm;
        let tube = round_tube(od, wall);
        step area = tube.area;
        step bar = flat_bar(od, wall).area;
        step speed = angular_speed(20.Hz);
    ");
    let steps = &ran.outcome.steps;
    let expected = [
        "in tube.area()",
        "   = PI / 4.0 * (section.outside_diameter**2 - section.inside_diameter**2) = π / 4.0 × ((‹30 mm›)^2 - (‹20 mm›)^2) = ‹392.7 mm²›",
    ];
    assert_eq!(opened(&steps[0].opened, 0), expected);
    assert!(steps[1].opened.is_empty());
    let expected = [
        "in angular_speed(rate ‹20 Hz›)",
        "   = rate * 1.turn = ‹20 Hz› × ‹360°› = ‹1200 rpm›",
    ];
    assert_eq!(opened(&steps[2].opened, 0), expected);
}

#[test]
fn only_what_happened_is_opened() {
    // Loops, statements and what another script's constant would make of it.
    let mut shelf = Shelf::default();
    let module = "const SHARE = 0.5; fn part(x) { x * SHARE } fn twice(x) { x * 2.0 } fn four(x) { twice(twice(x)) }";
    shelf.0.insert("parts".to_owned(), module.to_owned());
    let ran = run_in(
        &Library::new(Rc::new(shelf)),
        "
        import \"parts\" as parts;
        const SHARE = 0.25;
        fn summed(x) { let total = 0.mm; for i in 0..3 { total += x; } total }
        fn told(x) { step inner = x + 1.mm; inner }
        input a = 6.mm;
        step b = summed(a);
        step c = told(a);
        step d = parts::part(a);
        step e = parts::four(a);
    ",
    )
    .unwrap_or_else(|error| panic!("{error}"));
    let of = |name: &str| {
        let step = ran.outcome.steps.iter().find(|step| step.name == name).unwrap();
        opened(&step.opened, 0)
    };
    assert!(of("b").is_empty());
    assert!(of("c").is_empty());
    assert!(of("d").is_empty(), "{:?}", of("d"));
    let expected = [
        "in four(x ‹6 mm›)",
        "   = twice(twice(x)) = twice((twice(‹6 mm›) = ‹12 mm›)) = ‹24 mm›",
        "    in twice(x ‹6 mm›)",
        "       = x * 2.0 = ‹6 mm› × 2.0 = ‹12 mm›",
        "    in twice(x ‹12 mm›)",
        "       = x * 2.0 = ‹12 mm› × 2.0 = ‹24 mm›",
    ];
    assert_eq!(of("e"), expected);
}
