//! Scripts imported by scripts.

use super::check::{Shelf, run_in, step};
use crankline_engine::script::Library;
use std::rc::Rc;

fn shelf(scripts: &[(&str, &str)]) -> Library {
    let owned = scripts
        .iter()
        .map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    Library::new(Rc::new(Shelf(owned.collect())))
}

/// A script with every kind of statement around its functions.
const CARDAN: &str = "\
//! A joint.
import \"tools\" as tools;
heading \"Card\";
input angle = 3.deg : \"Angle\";
const FACTOR = 2.0;
let t = `x ${angle} { y ${#{a: 1}.a} }`;
if angle > 2.deg { note \"x\"; } else if angle > 1.deg { note \"z\"; } else { note \"y\"; }
step q = 3 + FACTOR : \"Q\";
for k in 0..3 { step r[k] = k; }
fn double(x) { x * FACTOR }
private fn hidden(x) { x * 3 }
fn stepped(x) { step inner = hidden(x); inner }
let f = |x| { x + 1 };
while false { }
do { } until true;
const TREBLE = FACTOR * 1.5;
fn treble(x) { tools::thrice(x, TREBLE) }
{ let inner = 3; }
let m = #{a: 1, b: #{c: 2}};
check q < 100;
caution \"x\"
";
const TOOLS: &str = "const ONE = 1; fn thrice(x, three) { x * three * ONE }";

#[test]
fn give_functions_and_constants_not_statements() {
    let library = shelf(&[("cardan", CARDAN), ("tools", TOOLS)]);
    let script = "import \"cardan\" as cardan; const FACTOR = 7;\n\
                  step a = cardan::double(3); step b = cardan::treble(3); step c = cardan::stepped(2); step d = FACTOR;\n\
                  step e = root(|x| cardan::double(x) - 3, 0, 9);";
    let ran = run_in(&library, script).unwrap();
    assert_eq!(
        (step(&ran, "a"), step(&ran, "b"), step(&ran, "c"), step(&ran, "d")),
        (6.0, 9.0, 6.0, 7.0)
    );
    assert!((step(&ran, "e") - 1.5).abs() < 1e-12);
    assert!(ran.outcome.inputs.is_empty() && ran.outcome.checks.is_empty() && ran.outcome.notes.is_empty());
    let names: Vec<&str> = ran.outcome.steps.iter().map(|step| step.name.as_str()).collect();
    assert_eq!(names, ["a", "b", "inner", "c", "d", "e"]);
    let inner = &ran.outcome.steps[2];
    let place = inner.place.as_ref().unwrap();
    assert_eq!(
        (place.source.name.as_str(), place.line, place.column),
        ("cardan.rhai", 12, 17)
    );
    assert_eq!(
        (inner.formula.as_str(), inner.within.as_deref()),
        ("hidden(x)", Some("stepped"))
    );
}

#[test]
fn a_script_runs_alone_and_as_a_module() {
    let library = shelf(&[("tools", TOOLS)]);
    let ran = run_in(&library, &CARDAN.replace("caution \"x\"", "caution \"x\";")).unwrap();
    assert_eq!(ran.outcome.steps.len(), 4);
}

#[test]
fn what_a_module_keeps_for_itself() {
    let library = shelf(&[("cardan", CARDAN), ("tools", TOOLS)]);
    for (script, expected) in [
        (
            "import \"cardan\" as cardan; step a = cardan::hidden(3);",
            "no function `cardan::hidden`",
        ),
        (
            "import \"cardan\" as cardan; step a = cardan::q;",
            "not its steps and readings",
        ),
        (
            "import \"cardan\" as cardan; step a = tools::thrice(1, 3);",
            "no imported script is called `tools`",
        ),
        (
            "fn f() { cardan::double(1) } step a = f();",
            "no imported script is called `cardan`",
        ),
    ] {
        let error = run_in(&library, script).err().unwrap();
        assert!(error.contains(expected), "{script}\n{error}");
    }
}

#[test]
fn constants_of_a_module_belong_to_each_run() {
    let library = shelf(&[("m", "const T = `three is ${3.mm}`; fn text() { T }")]);
    for _ in 0..2 {
        let ran = run_in(&library, "import \"m\" as m; note `first ${4.mm}`; note m::text();").unwrap();
        assert_eq!(super::check::spoken(&ran.outcome.notes[1]), "three is ‹3 mm›");
    }
}

#[test]
fn a_script_that_imports_itself_is_a_circle() {
    let library = shelf(&[("script", "import \"script\" as s; fn f() { 1 }")]);
    let error = run_in(&library, "import \"script\" as s; step a = s::f();")
        .err()
        .unwrap();
    assert!(error.contains("imports itself in a circle"), "{error}");
}
