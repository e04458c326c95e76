//! A lesson walked and a sheet answered in a browser.

use super::super::check::Folder;
use super::{json, list};
use crate::browser::scenario;
use serde_json::json as value;

const TARGET: &str = "lessons/indicator-reading";

#[test]
fn a_lesson_is_walked_by_keyboard() {
    let folder = Folder::new();
    folder.run(&["lesson", TARGET, "--out", "lesson.html"]);
    let Some(found) = scenario("lesson", &value!({"page": folder.0.join("lesson.html")})) else {
        return;
    };
    assert_eq!(found["barriers"], value!([]));
    assert_eq!(found["start"], "9 lines");
    assert_eq!(
        found["rows"],
        value!([
            ["words"],
            ["words", "letters"],
            ["words", "letters", "numbers"],
            ["words", "letters", "numbers", "answer"]
        ])
    );
    assert_eq!(found["place"], value!(["line 1 of 9", "line 2 of 9", "line 1 of 9"]));
    let told = found["told"].as_str().unwrap();
    assert!(told.contains("rounded 0.080 mm below"), "{told}");
    let wrong = found["wrong"].as_str().unwrap();
    assert!(wrong.contains("WRONG") && wrong.contains("0.16 mm below"), "{wrong}");
    assert_eq!(found["end"], "the end");
    // Without a script, and on paper, everything is there.
    assert_eq!(found["without_script"], 0);
    assert_eq!(found["on_paper"], 0);
    assert!(found["wider_than_a_phone"].as_f64().unwrap() <= 390.0, "{found}");
}

#[test]
fn a_sheet_tells_right_wrong_and_which_slip() {
    let folder = Folder::new();
    folder.run(&["lesson", TARGET, "--sheets", "3", "--seed", "7", "--out", "sheets.html"]);
    let expected = json(&["lesson", TARGET, "--sheets", "3", "--seed", "7"]);
    let sheet = &list(&expected, "sheets")[1];
    let question = &list(sheet, "questions")[2];
    let millimetres = |si: &serde_json::Value| si.as_f64().unwrap() * 1000.0;
    let right = millimetres(&list(question, "answers")[0]["si"]);
    let slip = list(question, "slips")
        .iter()
        .find(|slip| slip["words"] == "the root forgotten")
        .unwrap();
    let given = value!({
        "page": folder.0.join("sheets.html"),
        "typed": [
            format!("{right} mm"),
            format!("{} in", right / 25.4),
            format!("{} mm", right * 1.004),
            format!("{} mm", right + 0.5),
            format!("{} mm", millimetres(&slip["si"])),
            format!("{right}"),
            "three deg",
            format!("{} deg", right),
        ],
    });
    let Some(found) = scenario("exercise", &given) else {
        return;
    };
    assert_eq!(found["barriers"], value!([]));
    assert_eq!(found["sheet"], "Exercise sheet 2, seed 7");
    let told: Vec<&str> = list(&found, "told").iter().map(|told| told.as_str().unwrap()).collect();
    for (told, words) in told.iter().zip([
        "Right: ",
        "Right: ",
        "Right: ",
        "Wrong: too large by 0.5 mm",
        "It looks like this slip: the root forgotten",
        "number without a unit",
        "Not read: ",
        "must be a length",
    ]) {
        assert!(told.contains(words), "`{words}` is not in `{told}`");
    }
    assert_eq!(told.len(), 8);
    assert_eq!(found["score"], "1 of 9 right");
    let hints = list(&found, "hints");
    assert!(hints[0].as_str().unwrap().contains("root of"), "{hints:?}");
    assert!(hints[1].as_str().unwrap().starts_with("= root of"), "{hints:?}");
    assert_eq!(found["sheets_on_paper"], 3);
}
