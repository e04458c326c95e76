//! Jobs from an empty folder to a filled file: `job new`, `job missing`, `job ask`.

use super::check::{Folder, Ran};
use crankline_scripts::script_names;
use serde_json::Value;

fn read(folder: &Folder, name: &str) -> String {
    std::fs::read_to_string(folder.0.join(name)).unwrap()
}

fn shown(ran: &Ran) -> String {
    let Ran { code, stdout, stderr } = ran;
    format!("{stdout}(on the error stream)\n{stderr}(exit code {code})\n")
}

fn json(folder: &Folder, arguments: &[&str]) -> Value {
    let ran = folder.run(&[arguments, &["--format", "json"]].concat());
    serde_json::from_str(&ran.stdout).unwrap_or_else(|error| panic!("{error}: {}", ran.stderr))
}

const NEW: [&str; 6] = ["job", "new", "fresh.toml", "shaft.rhai", "cells.rhai", "angles.rhai"];

#[test]
fn a_new_job_explains_itself() {
    let folder = Folder::new();
    let ran = folder.run(&NEW);
    insta::assert_snapshot!(shown(&ran));
    let text = read(&folder, "fresh.toml");
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    insta::assert_snapshot!(text);
    let run = folder.run(&["run", "fresh.toml"]);
    assert_eq!(run.stderr, "");
    assert!(run.stdout.contains("nobody has measured"), "{}", run.stdout);
}

#[test]
fn a_new_job_is_never_written_over_another_file() {
    let folder = Folder::new();
    let before = read(&folder, "car.toml");
    let ran = folder.run(&["job", "new", "car.toml", "shaft.rhai"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
    assert_eq!(read(&folder, "car.toml"), before);
}

#[test]
fn what_makes_no_job() {
    let folder = Folder::new();
    folder.put("one.rhai", "input length = 1.m : \"Shaft\"; step twice = 2 * length;");
    let commands: [&[&str]; 8] = [
        &["job", "new", "fresh.txt", "shaft.rhai"],
        &["job", "new", "fresh.toml", "car.toml"],
        &["job", "new", "fresh.toml", "driveline/joint-angle"],
        &["job", "new", "fresh.toml", "shaft.rhai", "one.rhai"],
        &["job", "new", "fresh.toml", "shaft.rhai", "--format", "json"],
        &["job", "ask", "car.toml", "--out", "x"],
        &["job", "ask", "car.toml", "--on", "14 March"],
        &["job", "missing", "shaft.rhai"],
    ];
    let mut text = String::new();
    for command in commands {
        let ran = folder.run(command);
        assert_eq!((ran.code, ran.stdout.as_str()), (2, ""));
        text.push_str(&format!("$ crankline {}\n{}", command.join(" "), ran.stderr));
    }
    insta::assert_snapshot!(text);
    assert!(!folder.0.join("fresh.toml").exists());
}

/// A step with the name of an input is linked where both say the same, and left to be looked at where they do not.
#[test]
fn links_of_a_new_job() {
    let folder = Folder::new();
    folder.put("speed.rhai", "input gear = 3.0 : \"Gear\";\nstep top = gear * 1000.rpm : \"Fastest it turns\";\nstep gap = gear * 1.mm : \"Gap of the gear\";\n");
    folder.put("use.rhai", "input top = 4000.rpm : \"Fastest it turns, shaft\";\ninput gap = 2.mm : \"Gap at the floor\";\ncheck top <= 5000.rpm : \"Slow\";\ncheck gap > 1.mm : \"Free\";\n");
    let ran = folder.run(&["job", "new", "fresh.toml", "speed.rhai", "use.rhai"]);
    let text = read(&folder, "fresh.toml");
    let (_, runs) = text.split_once("# The calculations").unwrap();
    insta::assert_snapshot!(format!("{}{runs}", shown(&ran)));
    let value = json(&folder, &["run", "fresh.toml"]);
    let inputs = &value["runs"][1]["inputs"];
    assert_eq!(
        (&inputs[0]["from"], &inputs[1]["from"]),
        (&"linked".into(), &"example".into())
    );
    let reversed = folder.run(&["job", "new", "other.toml", "use.rhai", "speed.rhai"]);
    assert!(
        reversed
            .stdout
            .contains("ORDER      speed works out top: put before use"),
        "{}",
        reversed.stdout
    );
}

/// A link whose example does not fit the later script is left out, and said so.
#[test]
fn a_link_that_does_not_run_is_left_out() {
    let folder = Folder::new();
    folder.put(
        "speed.rhai",
        "input gear = 3.0 : \"Gear\";\nstep top = gear * 1000.rpm : \"Top\";\n",
    );
    folder.put(
        "use.rhai",
        "input top = 400.rpm from 100.rpm to 500.rpm : \"Top\";\ncheck top <= 500.rpm : \"Slow\";\n",
    );
    let ran = folder.run(&["job", "new", "fresh.toml", "speed.rhai", "use.rhai"]);
    assert!(ran.stdout.contains("NOT LINKED"), "{}", shown(&ran));
    assert_eq!(folder.run(&["run", "fresh.toml"]).stderr, "");
}

#[test]
fn a_new_job_takes_scripts_from_its_folder_and_below() {
    let folder = Folder::new();
    std::fs::create_dir_all(folder.0.join("cars/green")).unwrap();
    std::fs::copy(folder.0.join("shaft.rhai"), folder.0.join("cars/green/shaft.rhai")).unwrap();
    let ran = folder.run(&[
        "job",
        "new",
        "cars/car.toml",
        "./cars/green/shaft.rhai",
        "cars/green/shaft.rhai",
    ]);
    assert_eq!(ran.stderr, "");
    let text = read(&folder, "cars/car.toml");
    assert!(
        text.contains("script = \"green/shaft.rhai\"\nname = \"shaft 2\""),
        "{text}"
    );
    assert_eq!(folder.run(&["run", "cars/car.toml"]).stderr, "");
    let refused = folder.run(&["job", "new", "cars/green/car.toml", "shaft.rhai"]);
    assert_eq!(refused.code, 2);
    insta::assert_snapshot!(refused.stderr);
}

#[test]
fn what_is_missing_in_a_job() {
    let folder = Folder::new();
    let ran = folder.run(&["job", "missing", "car.toml"]);
    assert!(
        ran.stdout.lines().all(|line| line.chars().count() <= 80),
        "{}",
        ran.stdout
    );
    insta::assert_snapshot!(shown(&ran));
    insta::assert_snapshot!(
        folder
            .run(&["job", "missing", "car.toml", "--format", "markdown"])
            .stdout
    );
    let value = json(&folder, &["job", "missing", "car.toml"]);
    assert_eq!(value["readings"][0]["name"], "top");
    assert_eq!(value["readings"][0]["waiting"][0]["run"], "front shaft");
}

#[test]
fn a_job_that_lacks_nothing() {
    let folder = Folder::new();
    folder.put(
        "job.toml",
        "format = 1\n[measured]\napart = \"1 mm\"\nloads = [{ name = \"Fan\", current = \"3 A\", share = 1 }]\n[chosen]\nfuse = \"10 A\"\n[[run]]\nscript = \"cells.rhai\"\n",
    );
    let ran = folder.run(&["job", "missing", "job.toml"]);
    assert_eq!(ran.code, 0);
    assert!(
        ran.stdout.contains("All 3 readings that the runs ask for are there.\n"),
        "{}",
        ran.stdout
    );
    let asked = folder.answering(&["job", "ask", "job.toml"], "");
    assert!(
        asked
            .stdout
            .contains("0 entered; none is missing. Next: crankline run job.toml"),
        "{}",
        asked.stdout
    );
}

/// Every slip is told at once, in the words of the engine, and asked again; `?`, `back`, Enter and `stop` do their work.
#[test]
fn a_dialogue_with_every_slip() {
    let folder = Folder::new();
    folder.run(&NEW);
    let answers = "back\n1 in\n75 kg\n75.9 mm +/- 0.1 mm\n2.1\n2.1 mmm\n?\n2.10 mm; 2.12 mm; 2.08 mm +/- 0.02 mm\n\
                   back\n2.2 mm +/- 0.02 mm\n\n5000 rpm\n\
                   Wipers; 4 A\nWipers; 4 A; 0.5; 1\nWipers; 4 kg; 0.5\nWipers; 4 A; 0.5\nFan; 13 A +/- 0.5 A; 1.0\nHorn; 2 A; 0\nback\n\n\
                   12 A\n10 A\n100 mm\n3.2\n3.2 deg tail out\n3.2 deg tail up\n-3 deg\n(1, 2) mm\n3\n(905, 22, -70) mm\n\
                   4.5\n6\n";
    let ran = folder.answering(&["job", "ask", "fresh.toml"], answers);
    assert!(
        ran.stdout.lines().all(|line| line.chars().count() <= 80),
        "{}",
        ran.stdout
    );
    insta::assert_snapshot!(shown(&ran));
    insta::assert_snapshot!(read(&folder, "fresh.toml"));
    let missing = json(&folder, &["job", "missing", "fresh.toml"]);
    assert_eq!(missing["readings"].as_array().unwrap().len(), 1);
    assert_eq!(missing["readings"][0]["name"], "length");
}

/// What was entered before the end is there; rows too.
#[test]
fn a_dialogue_that_ends_early() {
    let folder = Folder::new();
    folder.run(&NEW);
    let skipped = "\n\n\n\n";
    let ran = folder.answering(&["job", "ask", "fresh.toml"], &format!("{skipped}Wipers; 4 A; 0.5\n"));
    assert_eq!(ran.code, 0);
    assert!(
        ran.stdout
            .ends_with("1 entered; 10 still missing. Next: crankline job missing fresh.toml\n"),
        "{}",
        ran.stdout
    );
    assert!(
        read(&folder, "fresh.toml")
            .contains("\nloads = [\n    { name = \"Wipers\", current = \"4 A\", share = 0.5 },\n]\n")
    );
    let stopped = folder.answering(&["job", "ask", "fresh.toml"], "76 mm\nstop\n3 mm\n");
    assert!(
        stopped.stdout.contains("1 entered; 9 still missing"),
        "{}",
        stopped.stdout
    );
}

/// A day and a person make a session; a second dialogue of the same day goes on with it. What is decided is no reading
/// of a day.
#[test]
fn a_dialogue_of_a_day() {
    let folder = Folder::new();
    folder.run(&["job", "new", "fresh.toml", "shaft.rhai", "cells.rhai"]);
    let ask = ["job", "ask", "fresh.toml", "--on", "2026-03-14", "--by", "R."];
    folder.answering(&ask, "76 mm +/- 0.1 mm\nstop\n");
    folder.answering(&ask, "2.1 mm\nback\n2.2 mm\n\n\n\n10 A\n");
    let text = read(&folder, "fresh.toml");
    assert!(text.contains("# wall: see the sessions below\n"), "{text}");
    assert!(text.contains("\nfuse = \"10 A\"\n"), "{text}");
    let (_, session) = text.split_once("[[session]]").unwrap();
    assert_eq!(
        session,
        "\non = 2026-03-14\nby = \"R.\"\n\n[session.readings]\ntube_od = \"76 mm +/- 0.1 mm\"\nwall = \"2.2 mm\"\n"
    );
    let sheet = folder.run(&["sheet", "fresh.toml"]).stdout;
    assert!(sheet.contains("(measured 2026-03-14 by R.)"), "{sheet}");
}

/// Remarks, order, layout and the ends of lines are somebody's own.
#[test]
fn a_dialogue_leaves_the_rest_of_the_file() {
    let folder = Folder::new();
    let text = "# the green one\r\nformat = 1   # first\r\n\r\n[chosen]\r\n# fuse = \"15 A\"\r\n\r\n[measured] # at the car\r\n\
                apart   =   '1 mm'  # tape\r\nnote_x = \"\"\"\r\n# loads = nothing\r\n\"\"\"\r\n\r\n[[run]]\r\nscript = \"cells.rhai\"\r\n# end\r\n";
    folder.put("job.toml", text);
    let ran = folder.answering(&["job", "ask", "job.toml"], "Fan; 3 A; 1\n\n10 A\n");
    assert_eq!(ran.stderr, "");
    let expected = text.replace("# fuse = \"15 A\"", "fuse = \"10 A\"").replace(
        "\"\"\"\r\n\r\n",
        "\"\"\"\r\nloads = [\r\n    { name = \"Fan\", current = \"3 A\", share = 1 },\r\n]\r\n\r\n",
    );
    assert_eq!(read(&folder, "job.toml"), expected);
}

/// A wall that is too thick for the example's tube is no slip: the tube has not been measured yet.
#[test]
fn a_job_half_measured_can_be_asked() {
    let folder = Folder::new();
    folder.put(
        "half.rhai",
        "input od = 20.mm : \"Outside\";\ninput wall = 2.mm : \"Wall\";\ninput length = 1.m : \"Length\";\n\
         let tube = round_tube(od, wall);\nstep volume = tube.area * length;\ncaution \"Sharp ends.\";\n",
    );
    folder.run(&["job", "new", "fresh.toml", "half.rhai"]);
    let ran = folder.answering(&["job", "ask", "fresh.toml"], "\n12 mm\n2 m\nstop\n");
    assert_eq!(ran.stderr, "");
    let said = ran.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(
        said.matches("written down; the job cannot be calculated with it yet")
            .count(),
        1,
        "{said}"
    );
    let missing = folder.run(&["job", "missing", "fresh.toml"]);
    assert_eq!(missing.code, 1);
    assert!(
        missing.stderr.contains("it is not known yet which checks wait"),
        "{}",
        missing.stderr
    );
    let sheet = folder.run(&["sheet", "fresh.toml"]);
    assert!(
        sheet.stdout.contains("CARE       Sharp ends."),
        "what is not come to is no less a caution"
    );
    assert_eq!(folder.run(&["run", "fresh.toml"]).code, 2);
    let fits = folder.answering(&["job", "ask", "fresh.toml"], "40 mm\n");
    assert!(fits.stdout.contains("none is missing"), "{}", fits.stdout);
    assert_eq!(folder.run(&["run", "fresh.toml"]).stderr, "");
}

/// A script that looks at a table before its last input: rows come one by one, and the rest is asked for all the same.
#[test]
fn a_table_that_is_not_long_enough_yet() {
    let folder = Folder::new();
    folder.put(
        "rows.rhai",
        "input gaps = [1.mm, 2.mm, 3.mm] : \"Gaps\";\nlet third = gaps[2];\ninput play = 1.mm : \"Play\";\n\
         step least = third - play;\n",
    );
    folder.run(&["job", "new", "fresh.toml", "rows.rhai"]);
    let ran = folder.answering(&["job", "ask", "fresh.toml"], "5 mm\n6\n6 mm\n\n2 kg\n2 mm\n");
    assert_eq!(ran.stdout.matches("not taken").count(), 2, "{}", ran.stdout);
    let text = read(&folder, "fresh.toml");
    assert!(
        text.contains("gaps = [\n    \"5 mm\",\n    \"6 mm\",\n]") && text.contains("play = \"2 mm\""),
        "{text}"
    );
    assert_eq!(folder.run(&["job", "missing", "fresh.toml"]).code, 0);
}

/// The lines that somebody would type to enter an example.
fn typed(reading: &Value) -> String {
    let cell = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    let row = |value: &Value| match value.as_object() {
        Some(fields) => fields.values().map(cell).collect::<Vec<_>>().join("; "),
        None => cell(value),
    };
    match reading["example"].as_array() {
        Some(rows) => rows.iter().map(|value| row(value) + "\n").collect::<String>() + "\n",
        None => row(&reading["example"]) + "\n",
    }
}

fn numbers(folder: &Folder, job: &str) -> Vec<(String, f64)> {
    let value = json(folder, &["run", job]);
    let mut found = Vec::new();
    for run in value["runs"].as_array().unwrap() {
        for step in run["steps"].as_array().unwrap() {
            if let Some(si) = step["si"].as_f64() {
                found.push((format!("{}: {}", run["run"], step["name"]), si));
            }
        }
    }
    found
}

/// What is missing in a job: each of its examples.
fn missing(folder: &Folder, job: &str) -> Vec<Value> {
    let missing = json(folder, &["job", "missing", job]);
    let missing = missing["readings"].as_array().unwrap().clone();
    for run in json(folder, &["run", job])["runs"].as_array().unwrap() {
        let inputs = run["inputs"].as_array().unwrap().iter();
        for input in inputs.filter(|input| input["from"] == "example" && input["taken_from"].is_null()) {
            let name = &input["name"];
            assert!(missing.iter().any(|reading| reading["name"] == *name), "{job}: {name}");
        }
    }
    missing
}

fn answered_with_its_examples(folder: &Folder, job: &str) {
    let answers: String = missing(folder, job).iter().map(typed).collect();
    let asked = folder.answering(&["job", "ask", job], &answers);
    assert!(!asked.stdout.contains("not taken"), "{}", asked.stdout);
    assert!(asked.stdout.contains("none is missing"), "{}", asked.stdout);
    assert_eq!(folder.run(&["job", "missing", job]).code, 0);
}

/// A job of each shipped script runs at once, says what it lacks, and answered with every example it lacks nothing and
/// has the numbers of the examples.
#[test]
fn a_job_of_every_shipped_script_answered_with_its_examples() {
    let folder = Folder::new();
    let mut compared = 0;
    for script in script_names() {
        let job = format!("{}.toml", script.replace('/', "-"));
        assert_eq!(folder.run(&["job", "new", &job, &script]).stderr, "", "{script}");
        let before = numbers(&folder, &job);
        answered_with_its_examples(&folder, &job);
        let after = numbers(&folder, &job);
        assert_eq!(after.len(), before.len());
        for ((name, before), (_, after)) in before.iter().zip(&after) {
            assert!(
                (before - after).abs() <= 1e-9 * before.abs(),
                "{name}: {before} became {after}"
            );
            compared += 1;
        }
    }
    assert!(compared > 100);
}

/// All of them in one job, where a reading that several share is asked for once.
#[test]
fn a_job_of_all_shipped_scripts_runs_and_says_what_it_lacks() {
    let folder = Folder::new();
    let names = script_names();
    let scripts = names.iter().map(String::as_str);
    let new: Vec<&str> = ["job", "new", "all.toml"].into_iter().chain(scripts).collect();
    assert_eq!(folder.run(&new).stderr, "");
    assert!(missing(&folder, "all.toml").len() > 50);
}
