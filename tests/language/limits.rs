//! What a script may use up.

use super::check::{check_errors, library, run_in};
use std::cell::Cell;
use std::rc::Rc;

#[test]
fn a_script_that_does_not_end_is_stopped() {
    check_errors(&[
        ("loop { }", &["does not come to an end"]),
        ("fn f(x) { f(x) } f(1);", &["too deeply"]),
        ("let a = [1]; loop { a += a; }", &["a list grows too large"]),
        ("let a = \"x\"; loop { a += a; }", &["a text grows too large"]),
    ]);
}

/// What is counted ends a run at the same place in every build, within its two seconds in a release build.
#[test]
fn a_script_that_does_too_much_is_stopped() {
    let closure = |name: &str| {
        let inner = format!("{name}(|y| {name}(|z| {name}(|w| x*y*z*w, 0, 1), 0, 1), 0, 1)");
        format!("step a = {name}(|x| {inner}, 0, 1);")
    };
    let spent = &["more work than a run may", "--effort 10 lets it do ten times as much"][..];
    check_errors(&[
        (&closure("integrate"), spent),
        (&closure("maximum"), spent),
        ("let m = #{}; for k in 0..10000000 { m[`k${k}`] = k; }", spent),
        (
            "let b = box(point(0.mm, 0.mm, 0.mm), point(1.mm, 1.mm, 1.mm)); loop { clearance(b, b); }",
            spent,
        ),
        ("let a = linspace(0, 1, 10000); loop { sum(a); }", spent),
        ("let a = []; for k in 0..100000 { a = [a]; }", &["more than 128 deep"]),
        ("step a = linspace(0, 1, 1000000000000);", &["from 2 to 10000"]),
        (
            "let a = [1]; for k in 0..40 { let b = a; for x in b { a.push(x); } }",
            &["a list grows too large"],
        ),
    ]);
}

/// Whoever runs a script can allow it more; it cannot itself.
#[test]
fn more_work_can_be_allowed() {
    let script = "let a = linspace(0, 1, 10000); let k = 0; while k < 1200 { sum(a); k += 1; } step s = k;";
    let mut library = library();
    let error = run_in(&library, script).err().unwrap();
    assert!(error.contains("more work than a run may"), "{error}");
    library.allow(10);
    assert!(run_in(&library, script).is_ok());
}

/// Operations bound neither time nor memory: the host's own clock is asked.
#[test]
fn a_host_can_stop_a_run() {
    let mut library = library();
    let asked = Rc::new(Cell::new(0));
    let count = Rc::clone(&asked);
    library.stop_when(move || {
        count.set(count.get() + 1);
        count.get() > 3
    });
    let error = run_in(&library, "let a = linspace(0, 1, 10000); loop { let b = a; }")
        .err()
        .unwrap();
    assert!(error.contains("takes too long"), "{error}");
    assert_eq!(asked.get(), 4);
}

#[test]
fn texts_beyond_what_is_counted_are_refused() {
    let library = library();
    for text in ["\n".repeat(70_000), "x".repeat(70_000), " ".repeat(1_000_001)] {
        let error = run_in(&library, &text).err().unwrap();
        assert!(
            error.contains("longer than") || error.contains("more than 65000"),
            "{error}"
        );
    }
}

/// After an error the same library runs the next script as if nothing had been.
#[test]
fn an_error_leaves_nothing_behind() {
    let library = library();
    for broken in [
        "step a = exp(1e4);",
        "step a = root(|x| sqrtt(x), 0, 1);",
        "step a = root(|x| if x > 1 { x } else { 1 }, 0, 2);",
        "note \"",
        "input a = 3.mm; let x = a / 0;",
    ] {
        assert!(run_in(&library, broken).is_err());
        let ran = run_in(&library, "input a = 3.mm; step b = a * 2; note `${b}`;").unwrap();
        assert_eq!((ran.outcome.steps[0].value.clone(), ran.tape.inputs.len()), {
            let again = run_in(&library, "input a = 3.mm; step b = a * 2; note `${b}`;").unwrap();
            (again.outcome.steps[0].value.clone(), 1)
        });
    }
}

/// Nested closures are one operation to the language: the host is asked inside it too.
#[test]
fn a_host_can_stop_a_nested_integral() {
    let mut library = library();
    let asked = Rc::new(Cell::new(0));
    let count = Rc::clone(&asked);
    library.stop_when(move || {
        count.set(count.get() + 1);
        count.get() > 3
    });
    let integrand = "integrate(|x| integrate(|y| integrate(|z| integrate(|w| x*y*z*w, 0, 1), 0, 1), 0, 1), 0, 1)";
    let error = run_in(&library, &format!("input a = 1.0; step b = a * {integrand};"))
        .err()
        .unwrap();
    assert!(error.contains("takes too long"), "{error}");
    // It is no worse for the next run.
    library.stop_when(|| false);
    assert!(run_in(&library, "step a = integrate(|x| integrate(|y| x * y, 0, 1), 0, 1);").is_ok());
}

/// A list that holds itself doubles each time: what it holds is counted.
#[test]
fn a_list_that_is_made_longer_stays_within_limits() {
    check_errors(&[
        ("let a = [1]; loop { a.push(a); }", &["a list grows too large"]),
        ("let a = [1]; loop { a.push(1); }", &["a list grows too large"]),
        (
            "let a = linspace(0, 1, 10000); let b = map(a, |x| a);",
            &["a list grows too large"],
        ),
    ]);
}
