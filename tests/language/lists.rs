//! Lists: what they hold, made longer, picked from.

use super::check::{check, run, spoken, step};

#[test]
fn hold_join_and_grow() {
    check(&[
        (
            "{ let a = [1, 2]; a.push(5); a += 7; len(a) * 100 + a[2] * 10 + a[-1] }",
            457.0,
        ),
        ("{ let a = [1, 2] + [3, 4]; a[0] = 9; sum(a) }", 18.0),
        ("{ let a = []; for k in 0..4 { a.push([k, k * k]); } a[3][1] }", 9.0),
        ("{ let m = #{list: [1]}; m.list.push(2); len(m.list) }", 2.0),
        ("sum(map([1, 2, 3], |x| x * x))", 14.0),
        ("sum([1, 2, 3].map(|x| x * x).filter(|x| x > 3))", 13.0),
        ("len(filter([1, 2, 3], |x| x > 7))", 0.0),
        ("{ let by = 10; sum(map([1, 2], |x| x * by)) }", 30.0),
        (
            "if 2 in [1, 2] && !(5 in [1, 2]) && \"a\" in [\"a\"] { 1 } else { 0 }",
            1.0,
        ),
        ("{ let total = 0; for (x, k) in [5, 6] { total += x * k; } total }", 6.0),
    ]);
}

/// What a closure makes of readings stays with them; what is picked by them is a way of the script.
#[test]
fn items_stay_on_the_tape_and_picking_is_a_guard() {
    let script = "
        input loads = [#{name: \"Wipers\", current: 4.A}, #{name: \"Fan\", current: 12.A}];
        let doubled = loads.map(|row| row.current * 2);
        step total = sum(doubled) as A;
    ";
    let ran = run(script);
    assert!((step(&ran, "total") - 32.0).abs() < 1e-12);
    assert!(ran.tape.guards.is_empty());
    let ran = run(&format!(
        "{script} let large = loads.filter(|row| row.current > 5.A); step n = len(large); note large[0].name;"
    ));
    assert!((step(&ran, "n") - 1.0).abs() < 1e-12);
    assert_eq!(spoken(&ran.outcome.notes[0]), "Fan");
    assert_eq!(ran.tape.guards.len(), 2);
    let ran = run("input q = 3.mm; step a = if q in [1.mm, 3.mm, 5.mm] { 1 } else { 0 };");
    assert!((step(&ran, "a") - 1.0).abs() < 1e-12);
    assert_eq!(ran.tape.guards.len(), 2);
}
