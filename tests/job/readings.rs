//! Readings, sessions, what is said of each.

use super::bench::{input, job, read, run, run_with, step};
use crankline_engine::job::Fate;
use crankline_engine::outcome::{Origin, Spread};

const SHAFT: &str = "[[run]]\nscript = \"shaft\"\nname = \"shaft\"\n";

#[test]
fn a_later_session_replaces_a_reading_and_keeps_it_in_the_record() {
    let text = format!(
        "[measured]\nlength = \"1200 mm\"\n{SHAFT}
         [[session]]\non = 2026-03-20\nby = \"R.\"\n[session.readings]\nlength = \"1230 mm\"
         [[session]]\non = 2026-03-14\n[session.readings]\nlength = \"1220 mm\"\ntop = \"5000 rpm\""
    );
    let job = job(&text);
    let days: Vec<&str> = job.sessions.iter().map(|session| session.on.as_str()).collect();
    assert_eq!(days, ["2026-03-14", "2026-03-20"]);
    assert_eq!(job.record("length", None).count(), 3);
    assert_eq!(job.in_force().count(), 2);
    let ran = run_with(&job, &[], None).unwrap();
    assert_eq!(step(&ran, 0, "twice_length").0, 2.46);
    assert_eq!(input(&ran, 0, "top").origin, Origin::Measured);
}

#[test]
fn a_reading_says_whether_its_spread_is_its_own() {
    let spread = |reading: &str| {
        let ran = run(&format!("[measured]\nlength = {reading}\n{SHAFT}"));
        let part = &input(&ran, 0, "length").parts[0];
        (part.spread, part.stated)
    };
    assert_eq!(spread("\"1200 mm\""), (Spread::Limits(0.002), false));
    assert_eq!(spread("\"1200 mm +/- 1 mm\""), (Spread::Limits(0.001), true));
    assert_eq!(spread("\"1200 mm +/- 0 mm\""), (Spread::Exact, true));
    assert_eq!(
        spread("{ value = \"1200 mm\", std_dev = \"1 mm\", with = \"tape\" }"),
        (Spread::Standard(0.001), true)
    );
}

#[test]
fn repeats_give_mean_scatter_and_instrument() {
    let ran = run(&format!(
        "[measured]\nlength = {{ readings = [\"1200 mm\", \"1201 mm\", \"1202 mm\"], plus_minus = \"1 mm\", with = \"steel rule\" }}\n{SHAFT}"
    ));
    assert!((step(&ran, 0, "twice_length").0 - 2.402).abs() < 1e-12);
    let Spread::Repeats {
        mean_scatter,
        freedoms,
        limits,
    } = input(&ran, 0, "length").parts[0].spread
    else {
        panic!("no repeats");
    };
    // s = 1 mm of 1200, 1201, 1202 mm; s/√3.
    assert!((mean_scatter - 0.001 / 3.0_f64.sqrt()).abs() < 1e-12);
    assert_eq!((freedoms, limits), (2, 0.001));
}

#[test]
fn a_section_is_for_its_run_alone() {
    let ran = run("
        [measured]
        length = \"1200 mm\"
        [measured.\"rear shaft\"]
        length = \"900 mm\"
        [[run]]
        script = \"shaft\"
        name = \"front shaft\"
        [[run]]
        script = \"shaft\"
        name = \"rear shaft\"
        with = { top = \"4000 rpm +/- 0 rpm\" }
    ");
    assert_eq!(step(&ran, 0, "twice_length").0, 2.4);
    assert_eq!(step(&ran, 1, "twice_length").0, 1.8);
    assert_eq!(input(&ran, 1, "top").origin, Origin::Chosen);
    assert_eq!(input(&ran, 0, "top").origin, Origin::Example);
}

#[test]
fn what_no_run_uses_is_kept() {
    let ran = run(&format!(
        "[measured]\ntunnel_height = \"310 mm\"\nlength = \"1 m\"\n{SHAFT}"
    ));
    let kept: Vec<&str> = ran.kept.iter().map(|reading| reading.name.as_str()).collect();
    assert_eq!(kept, ["tunnel_height"]);
}

#[test]
fn an_option_is_tried() {
    let job = job(&format!(
        "[measured]\nlength = \"1200 mm\"\n{SHAFT}
         [[option]]\nname = \"shorter\"\nset = {{ length = \"1100 mm\" }}\nrejected = \"the yoke bottoms out\"\n"
    ));
    assert_eq!(
        job.options[0].fate,
        Fate::Rejected(Some("the yoke bottoms out".to_owned()))
    );
    let set = job.option("shorter").unwrap();
    assert_eq!(set["length"].origin, Origin::Trial);
    assert!(job.option("longer").is_none());
}

#[test]
fn a_changed_assumption_is_shown_beside_the_scripts_own() {
    let ran = run(&format!("[chosen]\nmargin = 0.7\n{SHAFT}"));
    let margin = input(&ran, 0, "margin");
    assert!(margin.assumed && margin.own.is_some());
    assert_eq!(margin.origin, Origin::Chosen);
}

#[test]
fn a_run_that_tries_an_option_takes_what_it_sets() {
    let ran = run("
        [measured]
        shaft_length = \"1200 mm\"
        top = \"4800 rpm\"
        [[option]]
        name = \"shorter\"
        set = { length = \"1100 mm\" }
        rejected = \"the tunnel is in the way\"
        [[run]]
        script = \"shaft\"
        from = { length = \"shaft_length\" }
        [[run]]
        script = \"gap\"
        name = \"tried\"
        tries = \"shorter\"
    ");
    assert_eq!(step(&ran, 0, "twice_length").0, 2.4);
    assert_eq!(step(&ran, 1, "half").0, 0.55);
    assert_eq!(ran.runs[1].tries.as_deref(), Some("shorter"));
    let error = read("format = 1\n[[run]]\nscript = \"gap\"\ntries = \"shorter\"\n").unwrap_err();
    assert!(error.to_string().contains("which is no option"), "{error}");
}

#[test]
fn sessions_that_contradict_one_another_are_told() {
    let doubts = |first: &str, second: &str| {
        let ran = run(&format!(
            "[measured]\nlength = \"{first}\"\n[[session]]\non = 2026-03-01\n[session.readings]\nlength = \"{second}\"\n\
             [[run]]\nscript = \"gap\"\n"
        ));
        ran.doubts.len()
    };
    assert_eq!(doubts("1200 mm +/- 1 mm", "1205 mm +/- 1 mm"), 1);
    assert_eq!(doubts("1200 mm +/- 1 mm", "1201.5 mm +/- 1 mm"), 0);
}

/// A repeat more than three of the instrument's bounds from the median is flagged (common practice).
#[test]
fn repeats_that_do_not_agree_are_told() {
    let doubts = |repeats: &str| {
        let ran = run(&format!(
            "[measured]\nlength = {{ readings = [{repeats}], plus_minus = \"0.5 mm\" }}\n[[run]]\nscript = \"gap\"\n"
        ));
        ran.runs[0].outcome.doubts.len()
    };
    assert_eq!(doubts("\"1200 mm\", \"1201 mm\", \"1200.5 mm\""), 0);
    assert_eq!(doubts("\"1200 mm\", \"1201 mm\", \"1200.5 mm\", \"1203 mm\""), 1);
    assert_eq!(doubts("\"1200 mm\", \"1201 mm\""), 1);
}

/// A section that says nothing yet may stand there for any run, and an option may set what no script takes yet.
#[test]
fn what_is_only_prepared_is_no_error() {
    let ran = run("[measured]\n[measured.\"front shaft\"]\n[measured.\"rear shaft\"]
         [[option]]\nname = \"mount lower\"\nset = { mount_up = \"-6 mm\" }
         [[run]]\nscript = \"shaft\"\nname = \"front shaft\"");
    assert_eq!(ran.runs.len(), 1);
}
