//! Readings put into the text of a job file.

use crankline_engine::job::{Entry, Kind, Section, enter};
use crankline_engine::outcome::{Phrase, Value};
use proptest::prelude::*;

fn text(text: &str) -> Entry {
    Entry::Text(text.to_owned())
}

fn measured(job: &str, value: &str) -> String {
    enter(job, "wall", &text(value), &Section::Measured).unwrap()
}

#[test]
fn into_the_section_that_is_there() {
    let job = "format = 1\n[measured]\n# tape\nlength = \"1 m\" # once\n\n# runs\n[[run]]\nscript = 'a'\n";
    assert_eq!(
        measured(job, "2 mm"),
        job.replace("# once\n", "# once\nwall = \"2 mm\"\n")
    );
    let dotted = "format = 1\nmeasured.length = \"1 m\"\n[[run]]\nscript = 'a'\n";
    assert_eq!(
        measured(dotted, "2 mm"),
        dotted.replace("\n[[run]]", "\nmeasured.wall = \"2 mm\"\n[[run]]")
    );
    let inline = "format = 1\nmeasured = { length = \"1 m\" }\n";
    assert_eq!(
        measured(inline, "2 mm"),
        "format = 1\nmeasured = { length = \"1 m\", wall = \"2 mm\" }\n"
    );
    let none = "format = 1\n[[run]]\nscript = 'a'\n";
    assert_eq!(measured(none, "2 mm"), format!("{none}\n[measured]\nwall = \"2 mm\"\n"));
}

/// A reading of one run alone is another one.
#[test]
fn beside_a_section_of_one_run() {
    let job = "format = 1\n[measured.\"front shaft\"]\nwall = \"3 mm\"\n[[run]]\nscript = 'a'\n";
    let entered = measured(job, "2 mm");
    let read: toml::Table = entered.parse().unwrap();
    assert_eq!(read["measured"]["wall"].as_str(), Some("2 mm"));
    assert_eq!(read["measured"]["front shaft"]["wall"].as_str(), Some("3 mm"));
}

#[test]
fn in_the_place_of_a_remark_that_waits() {
    let job = "[measured]\n# Wall\n# wall = \"1 mm\"\n# wall of the other = 3\n\n[chosen]\n#wall = 2\n";
    assert_eq!(
        measured(job, "2 mm"),
        job.replacen("# wall = \"1 mm\"", "wall = \"2 mm\"", 1)
    );
    let list = "[measured]\n# wall = [\n#     \"1 mm\",\n# ]\n# end\n";
    assert_eq!(measured(list, "2 mm"), "[measured]\nwall = \"2 mm\"\n# end\n");
    let elsewhere = "[measured]\na = 1\n[other]\n# wall = 1\n";
    assert_eq!(
        measured(elsewhere, "2 mm"),
        elsewhere.replace("a = 1\n", "a = 1\nwall = \"2 mm\"\n")
    );
}

/// What looks like such a remark within a text is part of that text.
#[test]
fn never_into_a_text_on_several_lines() {
    let job = "[measured]\nnote = '''\n# wall = 1\n'''\n";
    assert_eq!(measured(job, "2 mm"), format!("{job}wall = \"2 mm\"\n"));
}

#[test]
fn in_the_place_of_an_earlier_answer() {
    let job = "[measured]\nwall   =   \"1 mm\"  # gauge\n";
    assert_eq!(measured(job, "2 mm"), "[measured]\nwall   =   \"2 mm\"  # gauge\n");
    let chosen = "[chosen]\nwall = 1\n[measured]\n";
    assert_eq!(measured(chosen, "2 mm"), "[chosen]\nwall = \"2 mm\"\n[measured]\n");
}

#[test]
fn into_the_session_of_a_day() {
    let section = Section::session("2026-03-14", Some("R.")).unwrap();
    let job = "[measured]\nwall = \"1 mm\"\n\n[[session]]\non = 2026-03-01\n[session.readings]\na = 1\n\n[[run]]\nscript = 'a'\n";
    let once = enter(job, "wall", &text("2 mm"), &section).unwrap();
    let session = "\n[[session]]\non = 2026-03-14\nby = \"R.\"\n\n[session.readings]\nwall = \"2 mm\"\n";
    assert_eq!(once, job.replace("a = 1\n", &format!("a = 1\n{session}")));
    let twice = enter(&once, "wall", &text("3 mm"), &section).unwrap();
    assert_eq!(twice, once.replace("2 mm", "3 mm"));
    let other = Section::session("2026-03-14", None).unwrap();
    let other = enter(&once, "wall", &text("3 mm"), &other).unwrap();
    assert_eq!(other.matches("[[session]]").count(), 3);
    assert!(Section::session("14.3.2026", None).is_err() && Section::session("2026-03-14T10:00:00", None).is_err());
}

#[test]
fn what_has_no_room_for_it() {
    let refused = enter("measured = 3\n", "wall", &text("2 mm"), &Section::Measured).unwrap_err();
    assert_eq!(refused.message(), "`measured` in the job file is no table");
    assert!(enter("a = \n", "wall", &text("2 mm"), &Section::Measured).is_err());
}

#[test]
fn answers_as_entries() {
    let quantity = Kind::Quantity;
    assert_eq!(Entry::of_answer(&quantity, " 3.5 ").toml(), "3.5");
    assert_eq!(Entry::of_answer(&quantity, ".5").toml(), "\".5\"");
    assert_eq!(Entry::of_answer(&quantity, "3 1/2\"").toml(), "'3 1/2\"'");
    assert_eq!(
        Entry::of_answer(&quantity, "1 mm; 2 mm ± 0.1 mm").toml(),
        "{ readings = [\"1 mm\", \"2 mm\"], plus_minus = \"0.1 mm\" }"
    );
    assert_eq!(Entry::of_answer(&Kind::YesNo, "Yes").toml(), "true");
    assert_eq!(Entry::of_answer(&Kind::Text, "\"stop\"").toml(), "\"stop\"");
    assert_eq!(Entry::of_answer(&Kind::Text, "17").toml(), "\"17\"");
    assert_eq!(Kind::of(&Value::Text(Phrase::words("a"))), Kind::Text);
}

proptest! {
    /// Whatever is answered, the rest of the file says what it said.
    #[test]
    fn any_answer_leaves_the_rest(answer in "\\PC{1,40}", name in "[a-z][a-z_]{0,8}", day in any::<bool>()) {
        let job = "# a\nformat = 1\n[measured]\nlength_x = \"1 m\" # b\n# wall = [\n#   1,\n# ]\n[[run]]\nscript = 'a'\n# c\n";
        let section = if day { Section::session("2026-03-14", None).unwrap() } else { Section::Measured };
        for kind in [Kind::Quantity, Kind::Text, Kind::Point, Kind::List(Box::new(Kind::Point))] {
            let entered = enter(job, &name, &Entry::of_answer(&kind, &answer), &section).unwrap();
            let mut after: toml::Table = entered.parse().unwrap();
            match day {
                true => { after.remove("session"); }
                false => { after["measured"].as_table_mut().unwrap().remove(&name); }
            }
            prop_assert_eq!(after, job.parse::<toml::Table>().unwrap());
            for line in job.lines().filter(|line| !line.contains(['#']) || line.contains("# c")) {
                prop_assert!(entered.contains(line), "{} is lost: {}", line, entered);
            }
        }
    }
}
