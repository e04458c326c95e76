//! Formulas with the numbers put in, so that a reader can do any line again.

use super::check::{run, spoken};
use crankline_engine::outcome::Piece;

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
