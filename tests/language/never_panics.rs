//! Whatever stands in a script, it gives a result or a message: never a panic, and an end within two seconds.

use super::check::{Shelf, run_in};
use crankline_engine::script::Library;
use proptest::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use std::time::{Duration, Instant};

const WORDS: &[&str] = &[
    "input",
    "assume",
    "step",
    "check",
    "prefer",
    "require",
    "heading",
    "note",
    "caution",
    "show",
    "from",
    "to",
    "one_of",
    "as",
    "signs",
    "how",
    "per",
    "plus_minus",
    "std_dev",
    "let",
    "const",
    "fn",
    "if",
    "else",
    "for",
    "in",
    "while",
    "loop",
    "do",
    "until",
    "break",
    "continue",
    "return",
    "import",
    "export",
    "private",
    "this",
    "true",
    "false",
    "a",
    "b",
    "x",
    "f",
    "mm",
    "inch",
    "deg",
    "rpm",
    "PI",
    "root",
    "maximum",
    "integrate",
    "sqrt",
    "sum",
    "min",
    "max",
    "column",
    "write",
    "value_in",
    "quantity",
    "readings",
    "interpolate",
    "linspace",
    "whole",
    "len",
    "keys",
    "sort",
    "if_less",
    "call",
    "curry",
    "Fn",
    "type_of",
    "is_def_var",
    "range",
    "0",
    "1",
    "2",
    "0.5",
    "1e308",
    "9223372036854775807",
    "-9223372036854775808",
    "0xff",
    "3.5.inch",
    "2.deg",
    "20.degC",
    "1.kg",
    "\"text\"",
    "\"mm\"",
    "\"in 1/16\"",
    "`a ${x} b`",
    "'c'",
    "()",
    "[]",
    "#{}",
    "[1, 2]",
    "#{a: 1, b: 2.mm}",
    "|x|",
    "||",
    "|x, y|",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "#{",
    ",",
    ";",
    ";",
    ":",
    "=",
    "==",
    "!=",
    "<",
    "<=",
    ">",
    ">=",
    "+",
    "-",
    "*",
    "/",
    "%",
    "**",
    "^",
    "&&",
    "!",
    ".",
    "..",
    "..=",
    "::",
    "?.",
    "??",
    "=>",
    "+=",
    "-=",
    "*=",
    "/=",
    "**=",
    "<<",
    ">>",
    "&",
    "|",
    "~",
    "@",
    "$",
    "_",
    "//",
    "/*",
    "*/",
    "\n",
    "switch",
    "try",
    "catch",
    "throw",
    "eval",
    "print",
    "debug",
    "é",
    "😀",
    "\u{0}",
    "\u{feff}",
    "\t",
    "`",
    "\"",
    "\\",
];

const SCRIPTS: &[&str] = &[
    "input a = 3.inch plus_minus 0.1.inch from 1.inch to 4.inch : \"A\" how \"rule\" per \"source\" as \"in 1/16\" ;\n\
     assume k = 75.percent : \"Share\" ; step s = a * 2 + sqrt ( a * a ) as mm : `twice ${ a } is ${ a * 2 }` ;\n\
     check s <= 1.m * k : \"Fits\" per \"practice\" ; prefer a from 1.inch to 4.inch ; require true ;",
    "fn f ( x , y ) { let z = x * y ; if z > 3 { z } else { z + 1 } }\n\
     step t = f ( 2 , 3.5 ) ; for k in 0 .. 3 { step q [ k ] = f ( k , 2 ) : `number ${ k }` ; }\n\
     let m = #{ a : 1 , b : [ 1 , 2 , 3 ] } ; m . a += 2 ; m . b [ 1 ] = 5 ; step u = m . b [ 1 ] + m . a ;",
    "let r = root ( | x | x * x - 2 , 0 , 2 ) ; step v = integrate ( | x | x * sin ( x * 1.rad ) , 0 , 1 ) ;\n\
     step w = maximum ( | x | 1 - x * x , - 1 , 1 ) ; while r > 3 { break ; } note `r ${ r }` + \" end\" ;",
    "input loads = [ #{ name : \"Wipers\" , current : 5.A , area : 3.mm2 } , #{ name : \"Fan\" , current : 8.A , area : 2.mm2 } ] ;\n\
     let total = sum ( column ( loads , \"current\" ) ) ; step total_current = total as A ; caution `draws ${ total }` ;\n\
     for load in loads { step j [ load . name ] = load . current / load . area ; }",
    "import \"shelf\" as shelf ; const K = 2 ; step d = shelf :: double ( K ) ; heading \"H\" ; let i = 0 ; do { i += 1 ; } until i > 3 ;\n\
     let c = | x , y | x + y + i ; step e = c . call ( 1 , 2 ) ; input t = 20.degC ; step h = t - 10.degC ; check t > 10.degC ;",
];

thread_local! {
    static STARTED: Cell<Option<Instant>> = const { Cell::new(None) };
    static LIBRARY: Library = patient();
}

/// A library that stops a script after a second, as the program does after some.
fn patient() -> Library {
    let shelf = [("shelf", "const Q = 2; fn double(x) { x * Q } step a = 3;")];
    let shelf = shelf.map(|(path, text)| (path.to_owned(), text.to_owned()));
    let mut library = Library::new(Rc::new(Shelf(shelf.into())));
    library.stop_when(|| {
        STARTED
            .get()
            .is_some_and(|start| start.elapsed() > Duration::from_secs(1))
    });
    library
}

fn survives(script: &str) {
    let start = Instant::now();
    STARTED.set(Some(start));
    let _ = LIBRARY.with(|library| run_in(library, script).map(|ran| ran.outcome.steps.len()));
    let took = start.elapsed();
    assert!(took < Duration::from_secs(2), "took {took:?}:\n{script}");
}

/// A script with some of its words left out, doubled, changed or moved.
fn mutated() -> impl Strategy<Value = String> {
    let slip = (
        0..4_u8,
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        prop::sample::select(WORDS),
    );
    (prop::sample::select(SCRIPTS), prop::collection::vec(slip, 1..5)).prop_map(|(script, slips)| {
        let mut words: Vec<&str> = script.split(' ').collect();
        for (kind, at, other, word) in slips {
            if words.is_empty() {
                break;
            }
            let (at, other) = (at.index(words.len()), other.index(words.len()));
            match kind {
                0 => drop(words.remove(at)),
                1 => words.insert(at, word),
                2 => words[at] = word,
                _ => words.swap(at, other),
            }
        }
        words.join(" ")
    })
}

/// An expression that can be read, of values that need not fit.
fn expression() -> impl Strategy<Value = String> {
    let leaf = prop::sample::select(&[
        "0",
        "1",
        "-1",
        "3",
        "0.5",
        "1e300",
        "9223372036854775807",
        "true",
        "\"mm\"",
        "\"\"",
        "`${q} x`",
        "'c'",
        "()",
        "[]",
        "[1, 2, 3]",
        "#{a: 1, b: [q]}",
        "q",
        "n",
        "t",
        "list",
        "map",
        "words",
        "closure",
        "0..3",
        "1..=2",
        "2.mm",
        "20.degC",
        "30.deg",
        "PI",
        "|x| x",
        "|x| x * x - 1",
    ]);
    leaf.prop_map(str::to_owned).prop_recursive(4, 24, 3, |inner| {
        let sign = prop::sample::select(&[
            "+",
            "-",
            "*",
            "/",
            "%",
            "**",
            "<",
            "<=",
            ">",
            ">=",
            "==",
            "!=",
            "&&",
            "||",
            "in",
            "??",
            "plus_minus",
            "std_dev",
            "..",
            "..=",
            "<<",
            "&",
            "|",
        ]);
        let function = prop::sample::select(&[
            "sqrt",
            "abs",
            "sum",
            "min",
            "max",
            "sort",
            "len",
            "keys",
            "mean",
            "floor",
            "whole",
            "sin",
            "acos",
            "ln",
            "exp",
            "to_string",
            "uncertainty",
            "readings",
            "absolute",
            "hypot",
            "quantity",
            "sign",
            "turn_rate",
            "f",
        ]);
        let pair = prop::sample::select(&[
            "write", "value_in", "column", "contains", "atan2", "min", "quantity", "range",
        ]);
        let triple = prop::sample::select(&[
            "root",
            "maximum",
            "minimum",
            "integrate",
            "clamp",
            "interpolate",
            "linspace",
        ]);
        let link = prop::sample::select(&[
            ".a", ".b[0]", "[0]", "[-1]", "[\"a\"]", "[q]", "[0..2]", ".mm", ".call(1)", ".len()", "?.a", "?[0]",
            ".abs()",
        ]);
        prop_oneof![
            (inner.clone(), sign, inner.clone()).prop_map(|(a, sign, b)| format!("({a} {sign} {b})")),
            (function, inner.clone()).prop_map(|(name, a)| format!("{name}({a})")),
            (pair, inner.clone(), inner.clone()).prop_map(|(name, a, b)| format!("{name}({a}, {b})")),
            (triple, inner.clone(), inner.clone(), inner.clone())
                .prop_map(|(name, a, b, c)| format!("{name}({a}, {b}, {c})")),
            (inner.clone(), link).prop_map(|(a, link)| format!("({a}){link}")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("if {a} {{ {b} }} else {{ {a} }}")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("[{a}, {b}]")),
            inner.clone().prop_map(|a| format!("#{{a: {a}}}")),
            inner.clone().prop_map(|a| format!("`x ${{{a}}} y`")),
            inner.prop_map(|a| format!("-({a})")),
        ]
    })
}

fn program() -> impl Strategy<Value = String> {
    let statement = prop::sample::select(&[
        "let v = @;",
        "step s = @;",
        "step s[@] = @;",
        "check @;",
        "check @ < @;",
        "check @ from @ to @;",
        "require @ == @;",
        "note @;",
        "heading `${@}`;",
        "show @;",
        "input i = @;",
        "assume i = @;",
        "input i = @ from @ to @;",
        "input i = @ one_of @;",
        "input i = @ plus_minus @;",
        "step s = @ : @ per @;",
        "step s = @ as mm;",
        "list[@] = @;",
        "map[@] = @;",
        "map.a = @;",
        "map.c = @;",
        "words[@] = @;",
        "n += @;",
        "q *= @;",
        "list += @;",
        "words += @;",
        "for k in @ { n = k; }",
        "for (k, i) in @ { note k; }",
        "while @ { break; }",
        "if @ { note @; }",
        "return @;",
        "const C = @; fn g() { C }",
        "q[0] = @;",
        "n[0] = @;",
        "words[0] = list[0];",
        "list[0][0] = @;",
        "map.b[0].a = @;",
        "import @ as m;",
        "export v2;",
        "f(@);",
        "{ let inner = @; inner }",
    ]);
    let filled = (statement, prop::collection::vec(expression(), 3));
    prop::collection::vec(filled, 1..4).prop_map(|statements| {
        let mut text = String::from(
            "input q = 3.mm plus_minus 0.1.mm; input t = 20.degC; let n = 2; let list = [1.mm, q]; let map = #{a: q, b: [1, #{a: 2}]};\n\
             let words = \"some words\"; let closure = |x| x + q; let v2 = 1; fn f(x) { x }\n",
        );
        for (statement, expressions) in statements {
            let mut expressions = expressions.into_iter();
            for (nth, part) in statement.split('@').enumerate() {
                if nth > 0 {
                    text.push_str(&expressions.next().unwrap_or_default());
                }
                text.push_str(part);
            }
            text.push('\n');
        }
        text
    })
}

fn cases() -> u32 {
    std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|cases| cases.parse().ok())
        .unwrap_or(400)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn on_any_words(words in prop::collection::vec(prop::sample::select(WORDS), 1..40)) {
        survives(&words.join(" "));
    }

    #[test]
    fn on_a_script_with_slips(script in mutated()) {
        survives(&script);
    }

    #[test]
    fn on_values_that_do_not_fit(script in program()) {
        survives(&script);
    }

    #[test]
    fn on_any_characters(text in "\\PC{0,200}") {
        survives(&text);
    }
}

#[test]
fn on_scripts_as_they_are() {
    for script in SCRIPTS {
        let ran = LIBRARY.with(|library| run_in(library, script));
        assert!(ran.is_ok(), "{script}\n{}", ran.err().unwrap_or_default());
    }
}

#[test]
fn on_what_is_nested_deeply() {
    for (open, close) in [
        ("(", ")"),
        ("[", "]"),
        ("#{a: ", "}"),
        ("{", "}"),
        ("if true {", "}"),
        ("-", ""),
        ("!", ""),
        ("|x| ", ""),
    ] {
        for depth in [10, 100, 127, 128, 1_000, 100_000] {
            survives(&format!("let x = {}1{};", open.repeat(depth), close.repeat(depth)));
            survives(&format!("{}1{}", open.repeat(depth), close.repeat(depth)));
        }
    }
    for chain in [
        "a.",
        "a[0].",
        "f(",
        "a + ",
        "a ** ",
        "a && ",
        "`${",
        "a?.",
        "a ?? ",
        "1 < ",
        "x plus_minus ",
        "plus_minus ",
    ] {
        for depth in [100, 1_000, 50_000] {
            survives(&format!("step x = {}1;", chain.repeat(depth)));
        }
    }
}

#[test]
fn on_what_grows() {
    for script in [
        "let a = [1]; loop { a += a; }",
        "let a = [1]; loop { a = [a, a]; }",
        "let a = \"x\"; loop { a += a; }",
        "let a = \"x\"; loop { a = `${a}${a}`; }",
        "let a = #{}; let i = 0; loop { a[`k${i}`] = i; i += 1; }",
        "let a = linspace(0, 1, 10000); loop { let b = a; }",
        "let a = linspace(0, 1, 10000); let b = []; loop { b += [a]; }",
        "let i = 0; loop { step s[i] = i; i += 1; }",
        "let i = 0; input a = 1.mm; loop { note `${a}`; }",
        "input a = 1.mm; let b = a; loop { b = b * 1.0000001; }",
        "input a = 1.mm; loop { if a > 2.mm { } }",
        "input a = 1.mm; let f = |x| root(|y| y - x, 0.mm, 9.mm); loop { f.call(a); }",
        "fn f(n) { f(n + 1) + f(n + 1) } f(0)",
        "fn f(n) { if n > 40 { 1 } else { f(n + 1) + f(n + 1) } } step x = f(0);",
        "let f = |g| g.call(g); f.call(f)",
        "let a = 1; loop { a *= 3; }",
        "step x = 10 ** 400;",
        "step x = 10.0 ** 400;",
        "step x = range(0, 9223372036854775807);",
        "for i in 0..9223372036854775807 { }",
        "for i in range(0, 10, 0) { }",
        "let x = 1; while true { x = -x; }",
        "input x = integrate(|x| integrate(|y| integrate(|z| x*y*z, 0, 1), 0, 1), 0, 1);",
        "import \"shelf\" as a; loop { import \"shelf\" as b; }",
    ] {
        survives(script);
    }
}
