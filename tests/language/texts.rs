//! Texts that hold quantities: they follow a replay, may be joined and shown, and decide nothing.

use super::check::{check_errors, run, shown, spoken};
use crankline_engine::outcome::Piece;

#[test]
fn a_quantity_stays_one_inside_a_text() {
    let ran =
        run("input a = 3.mm; let t = `a is ${a}`; note t + \", twice \" + a * 2 + ` or ${write(a, \"in 1/16\")}`;");
    let note = &ran.outcome.notes[0];
    assert_eq!(spoken(note), "a is ‹3 mm›, twice ‹6 mm› or ‹3 mm›");
    let slots: Vec<bool> = note
        .pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Amount(amount) => Some(amount.slot.is_some()),
            Piece::Words(_) => None,
        })
        .collect();
    assert_eq!(slots, [true, true, true]);
    let styles: Vec<&str> = note
        .pieces
        .iter()
        .filter_map(|piece| match piece {
            Piece::Amount(amount) => amount.style.as_deref(),
            Piece::Words(_) => None,
        })
        .collect();
    assert_eq!(styles, ["in 1/16"]);
}

#[test]
fn lists_truths_and_numbers_may_be_put_in() {
    let ran = run("note `${[1, 2.mm]} ${true} ${0.5} ${\"x\"}`;");
    assert_eq!(spoken(&ran.outcome.notes[0]), "1, ‹2 mm› yes 0.5 x");
}

/// What cannot be put in is told where the text is shown, wherever the text came from.
#[test]
fn what_cannot_be_put_in_is_an_error() {
    let expected: &[&str] = &["a map cannot be put into a text"];
    check_errors(&[
        ("let m = #{}; note `x ${m}`;", expected),
        ("let m = #{}; let t = `x ${m}`; step a = [t];", expected),
        (
            "let m = #{}; fn f(m) { `x ${m}` } check 1 < 2 : f(m);",
            &["cannot be put into a text"],
        ),
        ("let m = #{}; step a = 3 : `x ${m}`;", expected),
    ]);
}

/// A mark is one character: no cutting of texts makes another quantity of it.
#[test]
fn a_mark_cannot_be_cut_or_made() {
    let ran = run("input a = 3.mm; input b = 4.mm; let t = `${a}`; let u = `${b}`; t[0] = u[0]; note t;");
    assert_eq!(spoken(&ran.outcome.notes[0]), "‹4 mm›");
    check_errors(&[
        ("input a = 3.mm; let t = `${a}`; note t[0];", &["single character"]),
        (
            "input a = 3.mm; for c in `${a}` { if c == \"3\" { note \"three\"; } }",
            &["cannot be compared"],
        ),
        ("note \"\\U000F0000\";", &["private use"]),
        ("input a = \"\u{F0000}\";", &["private use"]),
    ]);
}

#[test]
fn every_kind_of_text_is_shown_in_the_engine_s_own_way() {
    let ran = run("input t = 20.degC; caution `at ${t}`; check t > 10.degC : `above ${10.degC}`;");
    assert_eq!(spoken(&ran.outcome.cautions[0]), "at ‹20 °C›");
    assert_eq!(
        ran.outcome.checks[0].label.as_ref().map(spoken).as_deref(),
        Some("above ‹10 °C›")
    );
    let Some(Piece::Amount(amount)) = ran.outcome.cautions[0].pieces.last() else {
        panic!("no amount")
    };
    assert_eq!(shown(amount), "20 °C");
}

/// Unlike things are no less than different: left to itself, the language would say so and nothing more.
#[test]
fn unlike_things_are_not_compared() {
    check_errors(&[
        (
            "if \"3\" == 3 { note \"a\"; }",
            &["a text cannot be compared with a plain number (3)"],
        ),
        (
            "if 3.mm != \"3 mm\" { note \"a\"; }",
            &["cannot be compared with a text"],
        ),
        ("if true == 1 { note \"a\"; }", &["cannot be compared"]),
        (
            "if [1] == [1] { note \"a\"; }",
            &["a list cannot be compared with a list"],
        ),
    ]);
}
