//! The sentences of the language's description, one by one.

use super::check::{check, check_errors, found, run, shown, spoken, step};
use crankline_engine::outcome::{CheckKind, Comparison, Origin, Spread, Test, Value};

#[test]
fn clauses_come_in_any_order() {
    let clauses = [
        "from 1.inch to 4.inch",
        ": \"Wall\"",
        "how \"micrometer\"",
        "per \"the drawing\"",
        "as \"in 1/16\"",
        "signs (\"up\", \"down\")",
    ];
    for turn in 0..clauses.len() {
        let mut turned = clauses.to_vec();
        turned.rotate_left(turn);
        let ran = run(&format!(
            "input wall = 3.inch plus_minus 0.1.inch {};",
            turned.join(" ")
        ));
        let input = &ran.outcome.inputs[0];
        assert_eq!(input.label.as_ref().map(spoken).as_deref(), Some("Wall"));
        assert_eq!(input.how.as_ref().map(spoken).as_deref(), Some("micrometer"));
        assert_eq!(input.per.as_ref().map(spoken).as_deref(), Some("the drawing"));
        assert_eq!(
            input.range.map(|(low, high)| (low * 1e4, high * 1e4)),
            Some((254.0, 1016.0))
        );
        let Value::Amount(amount) = &input.value else {
            panic!("{input:?}")
        };
        assert_eq!(amount.style.as_deref(), Some("in 1/16"));
        assert_eq!(amount.signs, Some(("up".to_owned(), "down".to_owned())));
    }
}

#[test]
fn an_assumption_stands_until_changed() {
    let ran = run("assume friction = 0.12 : \"Friction\" per \"common practice\"; input a = 3.mm;");
    let origins: Vec<Origin> = ran.outcome.inputs.iter().map(|input| input.origin).collect();
    assert_eq!(origins, [Origin::Assumed, Origin::Example]);
}

#[test]
fn repeated_steps_have_keys() {
    let ran =
        run("for name in [\"bump\", \"pothole\"] { step stress[name] = len(name) * 1.MPa : `Stress at ${name}`; }");
    let names: Vec<&str> = ran.outcome.steps.iter().map(|step| step.name.as_str()).collect();
    assert_eq!(names, ["stress[bump]", "stress[pothole]"]);
    assert_eq!(
        ran.outcome.steps[1].label.as_ref().map(spoken).as_deref(),
        Some("Stress at pothole")
    );
}

#[test]
fn checks_keep_both_sides() {
    let ran = run("input a = 3.mm;\n check a <= 4.mm;\n prefer a from 1.mm to 2.mm;\n require 2 > 1;\n check true;");
    let checks = &ran.outcome.checks;
    let kinds: Vec<CheckKind> = checks.iter().map(|check| check.kind).collect();
    assert_eq!(
        kinds,
        [
            CheckKind::Check,
            CheckKind::Prefer,
            CheckKind::Require,
            CheckKind::Check
        ]
    );
    match &checks[0].test {
        Test::Sides {
            left: Value::Amount(left),
            comparison: Comparison::AtMost,
            right: Value::Amount(right),
        } => {
            assert_eq!((shown(left).as_str(), shown(right).as_str()), ("3 mm", "4 mm"));
            assert!(left.slot.is_some() && right.slot.is_none());
        }
        other => panic!("{other:?}"),
    }
    match &checks[1].test {
        Test::Between { value, low, high } => assert_eq!((value.si, low.si, high.si), (0.003, 0.001, 0.002)),
        other => panic!("{other:?}"),
    }
    assert_eq!(checks[1].formula, "a from 1.mm to 2.mm");
    assert!(matches!(checks[3].test, Test::Truth(true)));
}

/// A check is no guard: a reading may be on either side of it without the script being run anew.
#[test]
fn a_check_is_no_guard() {
    let ran = run("input a = 3.mm; check a <= 4.mm; prefer a from 1.mm to 2.mm; require a == 3.mm;");
    assert!(ran.tape.guards.is_empty());
    let ran = run("input a = 3.mm; if a <= 4.mm { note \"small\"; } check (a > 1.mm) == true;");
    assert_eq!(ran.tape.guards.len(), 2);
}

#[test]
fn remarks_come_in_order_and_cautions_once() {
    let ran = run("for k in [1, 2] { note `number ${k}`; caution \"Wear goggles.\"; }");
    let notes: Vec<String> = ran.outcome.notes.iter().map(spoken).collect();
    assert_eq!(notes, ["number 1", "number 2"]);
    assert_eq!(ran.outcome.cautions.len(), 1);
}

#[test]
fn headings_belong_to_what_follows() {
    let ran = run("heading \"Shaft\"; step a = 1; heading \"Joints\"; step b = 2; check b > 1;");
    let heading = |nth: usize| ran.outcome.steps[nth].heading.as_ref().map(spoken);
    assert_eq!(
        (heading(0).as_deref(), heading(1).as_deref()),
        (Some("Shaft"), Some("Joints"))
    );
    assert_eq!(
        ran.outcome.checks[0].heading.as_ref().map(spoken).as_deref(),
        Some("Joints")
    );
}

#[test]
fn what_an_input_may_be() {
    let ran = run(
        "input ratio = 3.54; input teeth = 41; input grade = \"thin\" one_of [\"thin\", \"thick\"]; input open = true;\n\
         input list = [1.mm, 2.mm plus_minus 0.1.mm]; input both = [1.mm, 2.mm] plus_minus 0.2.mm;\n\
         input loads = [#{name: \"Wipers\", current: 5.A}, #{name: \"Fan\", current: 8.A}]; input bare = [#{x: 1.mm}];",
    );
    let parts = |nth: usize| -> Vec<(String, Spread)> {
        let parts = &ran.outcome.inputs[nth].parts;
        parts.iter().map(|part| (part.address.clone(), part.spread)).collect()
    };
    let addresses = |nth: usize| parts(nth).into_iter().map(|(address, _)| address).collect::<Vec<_>>();
    assert_eq!(addresses(0), ["ratio"]);
    assert!(matches!(ran.outcome.inputs[1].value, Value::Count(41)) && parts(1).is_empty());
    assert!(matches!(ran.outcome.inputs[2].value, Value::Text(_)) && ran.outcome.inputs[2].choices.len() == 2);
    assert!(matches!(ran.outcome.inputs[3].value, Value::Truth(true)));
    let spreads = |nth: usize| parts(nth).into_iter().map(|(_, spread)| spread).collect::<Vec<_>>();
    assert!(matches!(spreads(4)[..], [Spread::Exact, Spread::Limits(_)]));
    assert!(matches!(spreads(5)[..], [Spread::Limits(_), Spread::Limits(_)]));
    assert_eq!(addresses(6), ["loads[Wipers].current", "loads[Fan].current"]);
    assert_eq!(addresses(7), ["bare[0].x"]);
}

#[test]
fn columns_keep_the_order_written() {
    let ran = run("input loads = [#{name: \"Fan\", current: 5.A, area: 3.mm2}]; step m = #{z: 1, a: #{y: 2, b: 3}};");
    let keys = |value: &Value| match value {
        Value::Items(items) => items.iter().map(|(key, _)| key.clone()).collect::<Vec<_>>(),
        other => panic!("{other:?}"),
    };
    let Value::Items(rows) = &ran.outcome.inputs[0].value else {
        panic!("no table")
    };
    assert_eq!(keys(&rows[0].1), ["name", "current", "area"]);
    assert_eq!(keys(&found(&ran, "m")), ["z", "a"]);
    let Value::Items(fields) = found(&ran, "m") else {
        panic!("no map")
    };
    assert_eq!(keys(&fields[1].1), ["y", "b"]);
}

#[test]
fn limits_and_standard_uncertainties() {
    let ran = run("input a = 3.mm plus_minus 0.3.mm; input b = 3.mm std_dev 0.1.mm;\n\
         input c = readings([1.mm, 1.2.mm, 1.1.mm], plus_minus 0.06.mm); input sum = 1.mm + 2.mm plus_minus 0.3.mm;\n\
         step ua = uncertainty(a); step ub = uncertainty(b); step uc = uncertainty(c); step us = uncertainty(sum);");
    // GUM 4.3.7: a/√3. GUM 4.2.3: s/√n of 1, 1.2, 1.1 is 0.1/√3, combined with 0.06/√3.
    let root = 3.0_f64.sqrt();
    for (name, expected) in [
        ("ua", 0.3 / root),
        ("ub", 0.1),
        ("uc", (0.01_f64 + 0.0036).sqrt() / root),
        ("us", 0.3 / root),
    ] {
        assert!((step(&ran, name) * 1e3 - expected).abs() < 1e-12, "{name}");
    }
}

#[test]
fn a_function_sees_readings_and_constants() {
    let ran = run(
        "fn area() { width * HEIGHT } fn solved() { root(|x| x - width * 2, 0.mm, 90.mm) }\n\
         const HEIGHT = 2.mm; input width = 3.mm; step a = area(); step b = solved();",
    );
    assert!((step(&ran, "a") - 6e-6).abs() < 1e-18 && (step(&ran, "b") - 6e-3).abs() < 1e-12);
}

#[test]
fn statements_in_a_function_name_it() {
    let ran = run(
        "fn strength(w) { step area = w * 2.mm; check area > 1.mm2 : \"Area\"; area } step total = strength(3.mm);",
    );
    let within: Vec<Option<&str>> = ran.outcome.steps.iter().map(|step| step.within.as_deref()).collect();
    assert_eq!(within, [Some("strength"), None]);
}

#[test]
fn numbers_are_as_people_expect() {
    check(&[
        ("7/2", 3.5),
        ("6/2", 3.0),
        ("2**10", 1024.0),
        ("2**-1", 0.5),
        ("(-3)**2", 9.0),
        ("-(3**2)", -9.0),
        ("0 - 3**2", -9.0),
        ("7 % 4", 3.0),
        ("1e17 - 1e17 + 1", 1.0),
        ("(1/8).inch", 0.003_175),
        ("if 1e-17 > 0.0 { 1 } else { 2 }", 1.0),
        ("if 0.1 + 0.2 == 0.3 { 1 } else { 2 }", 2.0),
        ("if !(2 > 3) && true { 1 } else { 2 }", 1.0),
    ]);
}

#[test]
fn formulas_stand_as_written_and_with_numbers_put_in() {
    let ran = run("input a = 3.mm; let r = [#{x: a}]; let i = 0; let minus = -2;\n\
         step one = r[i].x * (a + 2.mm) ** 2 / -a // a comment\n : \"One\";\n\
         step two = 2 - (3 - a / 1.mm); step three = minus ** 2 + a ** 2 / 1.mm2; step four = 2 * (7 % 4);\n\
         step five = len(\"a//b\") + /* c */ 1; step six = len(`x ${1 + 1} y`); step seven = r[i].x.abs() * 1;");
    let steps = &ran.outcome.steps;
    let expected = [
        (
            "r[i].x * (a + 2.mm) ** 2 / -a",
            "‹3 mm› × (‹3 mm› + ‹2 mm›)^2 / (-‹3 mm›)",
        ),
        ("2 - (3 - a / 1.mm)", "2 - (3 - ‹3 mm› / ‹1 mm›)"),
        ("minus ** 2 + a ** 2 / 1.mm2", "(-2)^2 + (‹3 mm›)^2 / ‹1 mm²›"),
        ("2 * (7 % 4)", "2 × (7 % 4)"),
        ("len(\"a//b\") + 1", "4 + 1"),
        ("len(`x ${1 + 1} y`)", "len(…)"),
        ("r[i].x.abs() * 1", "‹3 mm› × 1"),
    ];
    for (step, (formula, substituted)) in steps.iter().zip(expected) {
        assert_eq!(step.formula, formula);
        assert_eq!(spoken(&step.substituted), substituted);
    }
}

#[test]
fn the_description_stands_at_the_top() {
    let library = super::check::library();
    let text = "//! What it is for.\n//! And more.\n\n// not this\ninput a = 3;\nassume b = 2; let m = #{input: 3};"
        .to_owned();
    let name = "described.rhai".to_owned();
    let program = library
        .compile(crankline_engine::diagnostic::SourceText { name, text })
        .unwrap();
    assert_eq!(program.description(), "What it is for.\nAnd more.");
    assert_eq!(program.input_names().collect::<Vec<_>>(), ["a", "b"]);
}

#[test]
fn two_checks_get_a_hint() {
    check_errors(&[("input a = 3; check a < 4 && a > 2;", &["two checks"])]);
}

#[test]
fn a_formula_shows_what_its_calls_gave_beside_the_tape() {
    let script = "
        fn doubled(x) { step inner = 2 * x; inner }
        input a = 3.mm;
        let list = [1.mm, 2.mm];
        step b = a + interpolate([0.mm, 10.mm], [0.mm, 20.mm], a);
        step c = if a > 2.mm { a * PI } else { a / 2 };
        step d = sqrt(a * a) + list[1];
        step f = doubled(a) + 1.mm;
        step e = root(|x| x * x - a * a, 0.mm, 1.m) + max(a, 1.mm);
    ";
    let ran = run(script);
    let shown: Vec<String> = ran.outcome.steps.iter().map(|step| spoken(&step.substituted)).collect();
    let expected = [
        "‹3 mm› + interpolate([‹0 mm›, ‹10 mm›], [‹0 mm›, ‹20 mm›], ‹3 mm›)",
        "‹3 mm› × π",
        "sqrt(‹3 mm› × ‹3 mm›) + ‹2 mm›",
        "2 × ‹3 mm›",
        "(doubled(‹3 mm›) = ‹6 mm›) + ‹1 mm›",
        "‹3 mm› + max(‹3 mm›, ‹1 mm›)",
    ];
    assert_eq!(shown, expected);
    // What is worked out to be shown leaves nothing on the tape: one root, as the script has it.
    let roots = ran
        .tape
        .graph
        .nodes()
        .iter()
        .filter(|node| node.op.name() == "root")
        .count();
    assert_eq!(roots, 1);
}

#[test]
fn quantities_to_choose_from() {
    let ran =
        run("input fuse = 15.A plus_minus 0.5.A one_of [10.A, 15.A, 20000.mA]; input share = 0.5 one_of [0.5, 1.0];");
    assert_eq!(ran.outcome.inputs[0].choices, ["10 A", "15 A", "20000 mA"]);
    assert_eq!(ran.outcome.inputs[1].choices, ["0.5", "1"]);
    check_errors(&[
        (
            "input fuse = 12.A one_of [10.A, 15.A];",
            &["`fuse` cannot be `12 A`", "10 A, 15 A"],
        ),
        (
            "input fuse = 10.A one_of [10.A, 15.V];",
            &["electric current", "voltage"],
        ),
    ]);
}

#[test]
fn two_statements_on_a_line_are_two() {
    run("input a = 3.mm : \"One\"; input b = 4.mm : \"Two\";");
    check_errors(&[
        (
            "input a = 3.mm : \"Gap\"; input b = 4.mm : \"Gap\";",
            &["the label \"Gap\" stands in line 1 already"],
        ),
        (
            "step a = 3.mm : \"Gap\"; step b = 4.mm : \"Gap\";",
            &["the label \"Gap\" stands in line 1 already"],
        ),
    ]);
}

#[test]
fn what_is_meant_by_a_unit_and_by_a_place() {
    check_errors(&[
        ("step a = 5 mm;", &["a unit stands after a point", "5.mm"]),
        ("let a = 3 mil;", &["3.thou"]),
        ("let a = 3 gal;", &["3.gal_us or 3.gal_imp"]),
        ("let a = 3.gal;", &["`gal_us` or `gal_imp`"]),
        ("step a = quantity(\"3 mil\");", &["thou"]),
        (
            "input a = 3.mm from 1.mm to 5.mm plus_minus 0.1.mm;",
            &["right after its value", "3.mm plus_minus 0.1.mm from"],
        ),
        (
            "step t = wire_temperature(road_cable(\"4\"), #{curent: 4.A, ambient: 20.degC});",
            &["`curent`", "did you mean `current`?"],
        ),
        (
            "import \"helper\" as helper;",
            &["pack.toml", "`name = \"my-shop\"`", "`version = \"0.1.0\"`"],
        ),
    ]);
}

#[test]
fn one_over_a_unit_is_no_division_of_a_rule() {
    let ran = run("input r = 2.mm; step bent = 3.0 / r as \"1/mm\"; step part = r as \"in 1/16\";");
    let Value::Amount(bent) = &ran.outcome.steps[0].value else {
        panic!("a number")
    };
    assert_eq!((bent.si, bent.style.as_deref()), (1500.0, Some("1/mm")));
}
