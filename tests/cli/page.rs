//! A run as one HTML page.

use super::check::{Folder, in_one_line, run};
use super::html::Html;
use serde_json::Value;

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/demo/car.toml");

fn page(arguments: &[&str]) -> String {
    run(&[&["run"], arguments, &["--format", "html"]].concat()).stdout
}

#[test]
fn every_page_is_sound_and_fetches_nothing() {
    for target in [
        "shaft.rhai",
        "cells.rhai",
        "angles.rhai",
        "car.toml",
        "options.toml",
        DEMO,
    ] {
        let text = page(&[target]);
        let html = Html::read(&text);
        assert!(!html.attributes.contains("src"), "{target}");
        for fetching in ["url(", "@import", "fetch(", "XMLHttpRequest"] {
            // A picture's own patterns are within the page.
            assert!(
                !html.raw.replace("url(#", "").contains(fetching),
                "{target} has {fetching}"
            );
        }
        assert!(text.contains("default-src 'none'"), "{target}");
        assert!(text.contains("<html lang=\"en\">"), "{target}");
        assert!(
            html.words.contains("Calculation aid; does not approve a vehicle."),
            "{target}"
        );
    }
}

#[test]
fn the_page_of_the_demonstration_is_small_enough_to_be_passed_on() {
    let size = page(&[DEMO]).len();
    assert!(size < 2_000_000, "{size} bytes");
}

#[test]
fn markup_in_a_job_is_text_on_the_page() {
    let hostile = "</script></style></title><script>alert(1)</script><!-- <img src=x onerror=alert(1)> &lt; &amp;";
    let quoted = format!("'{hostile}'");
    let folder = Folder::new();
    let script = r#"//! About <b>HOSTILE</b>
heading "Heading HOSTILE";
input wall = 2.mm plus_minus 0.1.mm : "Wall HOSTILE" how "How HOSTILE" per "Source HOSTILE";
input kind = "a HOSTILE" one_of ["a HOSTILE", "b"] : "Kind";
assume share = 0.5 : "Share HOSTILE" per "Practice HOSTILE";
step twice = 2.0 * wall : `Twice HOSTILE ${wall}` per "Step HOSTILE";
step word = "Word HOSTILE";
check twice <= 3.mm : "Check HOSTILE" per "Limit HOSTILE";
check twice <= 30.mm : `Held HOSTILE ${wall}`;
note "Note HOSTILE";
caution "Care HOSTILE";
"#;
    folder.put("hostile.rhai", &script.replace("HOSTILE", hostile));
    let job = r#"format = 1
title = 'Title HOSTILE'
[[session]]
on = 2026-03-14
by = 'By HOSTILE'
[session.readings]
wall = { value = "2 +/- 0.1 mm", with = 'With HOSTILE' }
[[run]]
script = "hostile.rhai"
name = 'Run HOSTILE'
[[option]]
name = 'Option HOSTILE'
set = { wall = "3 mm" }
rejected = 'Because HOSTILE'
"#;
    folder.put("hostile.toml", &job.replace("HOSTILE", hostile));
    let ran = folder.run(&["run", "hostile.toml", "--format", "html"]);
    assert_eq!(ran.code, 1, "{}", ran.stderr);
    let html = Html::read(&ran.stdout);
    let shown = in_one_line(hostile);
    for before in [
        "Title", "By", "With", "Run", "Option", "Because", "Wall", "How", "Source", "a", "Share", "Practice", "Twice",
        "Step", "Word", "Check", "Limit", "Held", "Note", "Care", "Heading",
    ] {
        let text = format!("{before} {shown}");
        assert!(
            html.words.contains(&text),
            "{before} {quoted} does not stand on the page"
        );
    }
    let island: Value = serde_json::from_str(html.island()).unwrap();
    assert_eq!(island["runs"][0]["name"], format!("Run {hostile}"));
    let plain = Html::read(&page(&["car.toml"]));
    for element in &html.elements {
        assert!(
            plain.elements.contains(element) || element == "dl",
            "an element {element} out of a job's text"
        );
    }
    assert!(
        !html
            .attributes
            .iter()
            .any(|name| name.starts_with("on") || name == "src"),
        "{:?}",
        html.attributes
    );
}

#[test]
fn the_page_says_of_every_check_what_the_terminal_says() {
    for target in ["angles.rhai", "car.toml", "options.toml", DEMO] {
        let html = Html::read(&page(&[target]));
        let record: Value = serde_json::from_str(&run(&["run", target, "--format", "json"]).stdout).unwrap();
        let alone = [record.clone()];
        let runs = record["runs"].as_array().map_or(alone.as_slice(), Vec::as_slice);
        let text = run(&["run", target, "--all"]).stdout;
        let text = in_one_line(&text);
        let mut found = 0;
        for check in runs.iter().flat_map(|run| run["checks"].as_array().unwrap()) {
            let decides = check["kind"] != "prefer";
            let word = match (decides, check["verdict"].as_str().unwrap()) {
                (true, "fails") => "FAILS",
                (true, "holds") => "HOLDS",
                (false, "fails") => "NOT MET",
                (false, "holds") => "MET",
                (false, "unsure") => "PERHAPS",
                (_, "unsure") => "UNSURE",
                (_, "untrusted") => "UNTRUSTED",
                _ => "EXAMPLE",
            };
            let label = check["label"]
                .as_str()
                .unwrap_or_else(|| check["formula"].as_str().unwrap());
            let line = in_one_line(&format!("{word} {label}"));
            assert!(html.words.contains(&line), "{target}: the page has no {line}");
            assert!(text.contains(&line), "{target}: the terminal has no {line}");
            found += 1;
        }
        assert!(found > 0, "{target} has checks");
    }
}

#[test]
fn what_stands_first_is_what_the_terminal_has_first() {
    let html = Html::read(&page(&[DEMO]));
    let first = in_one_line(&run(&["run", DEMO]).stdout);
    let headline = first.split("STOP").nth(1).unwrap().split("FAILS").next().unwrap();
    assert!(
        html.words.contains(&format!("STOP{}", headline.trim_end())),
        "{headline}"
    );
    // Each check that does not hold, with what there is to say of it, worst first.
    let checks = first
        .split("not met, 1 perhaps")
        .nth(1)
        .unwrap()
        .split(" TRIED")
        .next()
        .unwrap();
    let words = ["FAILS", "UNSURE", "EXAMPLE", "NOT MET", "PERHAPS"];
    let place = |words: &str| {
        html.words
            .find(words)
            .unwrap_or_else(|| panic!("no {words} on the page"))
    };
    let mut last = 0;
    let mut rest = checks.trim_start();
    while !rest.is_empty() {
        let word = words.iter().find(|word| rest.starts_with(**word)).unwrap();
        let after = &rest[word.len()..];
        let end = words
            .iter()
            .filter_map(|word| after.find(&format!(" {word} ")))
            .min()
            .unwrap_or(after.len());
        let label = after[..end].split(" (").next().unwrap();
        let at = place(&format!("{word}{label}"));
        assert!(at > last, "{label} stands too early");
        last = at;
        rest = after[end..].trim_start();
    }
}

#[test]
fn a_page_with_a_value_tried_says_so_at_its_head_and_on_every_printed_page() {
    let html = Html::read(&page(&["shaft.rhai", "--set", "wall=0.095 in"]));
    assert!(html.words.contains("TRIAL wall"), "{}", html.words);
    assert!(html.words.contains("With wall = 2.413 mm"), "{}", html.words);
    let html = Html::read(&page(&["shaft.rhai"]));
    assert!(html.words.contains("Not measured tube_od, wall"), "{}", html.words);
}

#[test]
fn the_record_says_who_measured_what_when_and_which_scripts_it_is() {
    let html = Html::read(&page(&[DEMO]));
    let record: Value = serde_json::from_str(&run(&["run", DEMO, "--format", "json"]).stdout).unwrap();
    for run in record["runs"].as_array().unwrap() {
        let script = &run["script"];
        for key in ["name", "sha256", "pack_version"] {
            assert!(html.words.contains(script[key].as_str().unwrap()), "{script}");
        }
    }
    assert!(html.words.contains("measured 2026-03-21 by J."), "a session's reading");
    assert!(
        html.words.contains("mean of 3.4 deg, 3.5 deg, 3.3 deg"),
        "a reading taken three times"
    );
    assert!(html.words.contains("Measured 2026-05-16 by M."), "the record");
    assert!(
        html.words.contains("crankline 0.1.0, format 1: crankline run"),
        "what made it"
    );
}

#[test]
fn only_a_run_and_a_lesson_are_written_as_html() {
    for command in [
        ["list"].as_slice(),
        &["spread", "shaft.rhai"],
        &["sweep", "shaft.rhai", "--vary", "wall=2 mm..3 mm"],
    ] {
        let ran = run(&[command, &["--format", "html"]].concat());
        assert_eq!(ran.code, 2);
        assert!(
            ran.stderr
                .contains("only a run, a lesson and a sheet are written as html"),
            "{}",
            ran.stderr
        );
    }
}

#[test]
fn the_body_of_a_page() {
    let text = page(&["shaft.rhai", "--set", "wall=0.095 in"]);
    let body = text.split_once("<body>").unwrap().1.split_once("<script").unwrap().0;
    // Digests change with every word of a script.
    let mut lines = String::new();
    for line in body.replace('<', "\n<").lines() {
        let digest = |word: &str| word.len() >= 16 && word.chars().all(|c| c.is_ascii_hexdigit());
        let (tag, words) = line.split_once('>').unwrap_or((line, ""));
        let words: Vec<&str> = words
            .split(' ')
            .map(|word| if digest(word) { "…" } else { word })
            .collect();
        match (tag.starts_with("</"), words.join(" ")) {
            (true, words) if words.is_empty() => {}
            (true, words) => lines.push_str(&format!("{words}\n")),
            (false, words) => lines.push_str(&format!("{tag}>{words}\n")),
        }
    }
    insta::assert_snapshot!(lines);
}

#[test]
fn a_folder_gets_the_run_in_every_format_all_or_nothing() {
    let folder = Folder::new();
    let ran = folder.run(&["run", "driveline/joint-angles", "--out", "kept/"]);
    assert_eq!(ran.code, 1, "{}", ran.stderr);
    let read = |name: &str| std::fs::read_to_string(folder.0.join("kept").join(name)).unwrap();
    Html::read(&read("sheet.html"));
    assert!(read("sheet.md").starts_with("# driveline/joint-angles"));
    let record: Value = serde_json::from_str(&read("record.json")).unwrap();
    assert_eq!(record["script"]["name"], "driveline/joint-angles");
    let names: Vec<&str> = ran
        .stdout
        .lines()
        .map(|line| line.strip_prefix("written to kept/").unwrap())
        .collect();
    let pictures: Vec<&&str> = names.iter().filter(|name| name.ends_with(".svg")).collect();
    assert_eq!(pictures.len(), record["figures"].as_array().unwrap().len(), "{names:?}");
    for picture in pictures {
        assert!(read(picture).starts_with("<svg "), "{picture}");
    }
    // Again, and nothing is written: a run gets a folder of its own, or one killed midway would leave a part of it.
    let again = folder.run(&["run", "driveline/joint-angles", "--out", "kept/"]);
    assert_eq!(again.code, 2);
    for said in [
        "`kept/record.json` is there already",
        "crankline compare kept/record.json driveline/joint-angles",
    ] {
        assert!(again.stderr.contains(said), "{}", again.stderr);
    }
    std::fs::remove_file(folder.0.join("kept/record.json")).unwrap();
    let again = folder.run(&["run", "driveline/joint-angles", "--out", "kept/"]);
    assert!(
        again
            .stderr
            .contains("`kept/` is there already, and a run into a folder makes one of its own"),
        "{}",
        again.stderr
    );
    std::fs::create_dir(folder.0.join("other")).unwrap();
    for name in ["other", ".", "shaft.rhai/"] {
        let other = folder.run(&["run", "shaft.rhai", "--out", name]);
        assert!(
            other.stderr.contains(&format!("`{name}` is there already")),
            "{}",
            other.stderr
        );
    }
    assert_eq!(std::fs::read_dir(folder.0.join("other")).unwrap().count(), 0);
    let within = folder.run(&["run", "shaft.rhai", "--out", "other/shaft"]);
    assert_eq!(within.stderr, "");
    let format = folder.run(&["run", "shaft.rhai", "--out", "new/", "--format", "json"]);
    assert!(
        format.stderr.contains("a folder gets the run in every format"),
        "{}",
        format.stderr
    );
    assert!(!folder.0.join("new").exists());
}
