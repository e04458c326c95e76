//! Reads a tape as the page does, and stops where an operation, an operand or a part of it is not there.

use serde_json::Value;

/// Reads a whole tape; gives how many places its numbers take.
pub fn places(tape: &Value) -> usize {
    let bodies = list(&tape["bodies"]);
    for (number, body) in bodies.iter().enumerate() {
        let leaves = 1 + whole(&body["captures"]);
        // Those inside others come first.
        let places = program(body, leaves, number, tape);
        assert!(whole(&body["result"]) < places, "a closure's result");
        for term in list(&body["terms"]) {
            assert!(whole(term) < places, "a closure's term");
        }
    }
    for system in list(&tape["systems"]).iter() {
        let size = whole(&system["size"]);
        matrix(&system["places"], size);
        order(&system["order"], size);
    }
    for problem in list(&tape["eigenproblems"]).iter() {
        let size = whole(&problem["size"]);
        matrix(&problem["stiffness"], size);
        matrix(&problem["mass"], size);
        order(&problem["order"], size);
    }
    program(tape, whole(&tape["inputs"]), bodies.len(), tape)
}

/// Reads a program whose closures are the first so many; gives how many places its numbers take.
fn program(json: &Value, leaves: usize, bodies: usize, tape: &Value) -> usize {
    let constants = list(&json["constants"]);
    for constant in constants {
        // JSON has no other word for what is no number.
        assert!(constant.is_null() || constant.as_f64().is_some_and(f64::is_finite), "{constant}");
    }
    let first = leaves + constants.len();
    let mut code = list(&json["code"]).iter().map(|number| number.as_i64().expect("a whole number"));
    let mut next = first;
    while let Some(name) = code.next() {
        let names = list(&json["operations"]);
        let name = names[usize::try_from(name).expect("an operation's number")].as_str().expect("a name");
        let mut number = || usize::try_from(code.next().expect("a number more")).expect("a number from 0");
        let (count, results) = match name {
            "neg" | "sqrt" | "cbrt" | "exp" | "ln" | "sin" | "cos" | "asin" | "acos" | "floor" | "abs" => (1, 1),
            "add" | "sub" | "mul" | "div" | "atan2" | "pow" | "min" | "max" => (2, 1),
            "if_less" => (4, 1),
            "norm" | "interpolate" => (number(), 1),
            "sort" => {
                let count = number();
                (count, count)
            }
            "root" | "maximum" | "integrate" => {
                let body = number();
                assert!(body < bodies, "a closure that is there");
                let count = number();
                let ends = count.checked_sub(whole(&tape["bodies"][body]["captures"]));
                assert!(ends == Some(2), "two ends, and what the closure captures");
                (count, 1)
            }
            "solve_symmetric" => {
                let system = &tape["systems"][number()];
                let count = number();
                let entries = list(&system["places"]).len() / 2;
                (count, count.checked_sub(entries).expect("the entries of a system, and right sides"))
            }
            "eigen_symmetric" => {
                let problem = &tape["eigenproblems"][number()];
                let shape = problem["shape"].as_bool().expect("yes or no");
                (number(), if shape { 1 + whole(&problem["size"]) } else { 1 })
            }
            "gap" => {
                let _corners = number();
                (number(), 1)
            }
            "guard" | "require" => {
                assert!(number() < 6, "a relation");
                (2, 0)
            }
            other => panic!("no operation is called {other}"),
        };
        for _ in 0..count {
            let told = code.next().expect("an operand more");
            let place = match usize::try_from(told) {
                Ok(back) => next.checked_sub(back).filter(|place| *place >= first && back > 0),
                Err(_) => usize::try_from(-1 - told).ok().filter(|place| *place < first),
            };
            assert!(place.is_some(), "{name} has an operand {told} that is not there yet");
        }
        next += results;
    }
    next
}

fn matrix(places: &Value, size: usize) {
    let places = list(places);
    assert!(places.len().is_multiple_of(2) && places.iter().all(|place| whole(place) < size), "a matrix's places");
}

fn order(order: &Value, size: usize) {
    let mut order: Vec<usize> = list(order).iter().map(whole).collect();
    order.sort_unstable();
    assert!(order.into_iter().eq(0..size), "an order of elimination");
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().expect("a list")
}

fn whole(value: &Value) -> usize {
    value.as_u64().and_then(|number| usize::try_from(number).ok()).expect("a whole number")
}
