//! What README and book show is true: their scripts run, and the output they print is what the program prints.

use crate::program::{Program, words};
use crankline_engine::diagnostic::SourceText;
use crankline_engine::quantity::text::System;
use crankline_engine::report::{figure_letters, is_drawn, picture};
use crankline_engine::script::{Bindings, Library};
use crankline_engine::tape::Recording;
use crankline_scripts::Shipped;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::rc::Rc;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// README and the book's pages, each with its name.
fn pages() -> Vec<(String, String)> {
    let mut paths = vec![root().join("README.md")];
    let chapters = fs::read_dir(root().join("book/src")).unwrap();
    paths.extend(chapters.map(|entry| entry.unwrap().path()));
    paths.retain(|path| path.extension().is_some_and(|extension| extension == "md"));
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            (
                path.file_name().unwrap().display().to_string(),
                fs::read_to_string(&path).unwrap(),
            )
        })
        .collect()
}

/// The fenced blocks of a kind.
fn blocks(page: &str, kind: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut open: Option<String> = None;
    for line in page.lines() {
        match &mut open {
            None if line.trim_end() == format!("```{kind}") => open = Some(String::new()),
            Some(_) if line.trim_end() == "```" => found.extend(open.take()),
            Some(block) => {
                block.push_str(line);
                block.push('\n');
            }
            None => {}
        }
    }
    found
}

#[test]
fn every_script_on_a_page_runs() {
    let library = Library::new(Rc::new(Shipped));
    let mut count = 0;
    for (page, text) in pages() {
        for script in blocks(&text, "rhai") {
            let source = SourceText {
                name: page.clone(),
                text: script,
            };
            let program = library.compile(source).unwrap_or_else(|error| panic!("{error}"));
            let recording = Rc::new(Recording::open());
            let finished = library.run(&program, Bindings::new(), &recording, 0, None);
            finished.unwrap_or_else(|error| panic!("{error}"));
            count += 1;
        }
    }
    assert!(count >= 2, "README and the first chapter each have a script");
}

fn printed(arguments: &[&str]) -> String {
    printed_in(&root(), Path::new(""), arguments, "")
}

/// What the program prints in a folder, given these lines for its questions; packs lie in a place of their own.
fn printed_in(directory: &Path, packs: &Path, arguments: &[&str], answers: &str) -> String {
    let packs = Some(packs).filter(|packs| packs.is_absolute());
    let program = Program {
        packs: packs.map(Path::to_path_buf).into_iter().collect(),
        answers: answers.as_bytes(),
        ..Program::in_folder(directory)
    };
    let ran = program.run(arguments.iter().copied());
    assert!(ran.stderr.is_empty(), "{}", ran.stderr);
    ran.stdout
}

/// Two hashes change with every word of a script.
fn without_hashes(json: &str) -> String {
    let hide = |line: &str| match line.split_once("\"sha256\": ") {
        Some((before, after)) => format!(
            "{before}\"sha256\": \"…\"{}",
            if after.ends_with(',') { "," } else { "" }
        ),
        None => line.to_owned(),
    };
    json.lines().map(hide).collect::<Vec<_>>().join("\n")
}

#[test]
fn readme_shows_what_the_main_job_prints() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let shown = &blocks(&readme, "text")[0];
    let printed = printed(&["run", "scripts/demo/car.toml"]);
    assert!(
        printed.starts_with(shown.as_str()),
        "README shows:\n{shown}\nthe program prints:\n{printed}"
    );
}

#[test]
fn the_demonstration_job() {
    insta::assert_snapshot!("demonstration", printed(&["run", "scripts/demo/car.toml"]));
    insta::assert_snapshot!(
        "demonstration_working",
        printed(&["run", "scripts/demo/car.toml", "--working", "--all"])
    );
    let json = printed(&["run", "scripts/demo/car.toml", "--format", "json"]);
    let mut record: Value = serde_json::from_str(&json).expect("the record is JSON");
    // The pictures have tests of their own: their lines are most of the record, and nobody would read what moved in it.
    for run in record["runs"].as_array_mut().expect("a job has runs") {
        let figures = run["figures"].as_array_mut().expect("a run has figures");
        figures.iter_mut().for_each(|figure| *figure = figure["title"].take());
    }
    let json = serde_json::to_string_pretty(&record).expect("JSON is written");
    insta::assert_snapshot!("demonstration_json", without_hashes(&json));
}

/// What somebody answered in a dialogue that a page shows: what stands behind `  wall: ` and `  loads, row 1: `.
fn answers(shown: &str) -> String {
    let answered = shown.lines().filter_map(|line| {
        let (asked, answer) = line
            .strip_prefix("  ")?
            .split_once(": ")
            .or(line.strip_prefix("  ")?.split_once(':'))?;
        let name = asked.split(", row ").next()?;
        let is_name = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        (!name.is_empty() && name.chars().all(is_name)).then(|| format!("{answer}\n"))
    });
    answered.collect()
}

/// The pack that a chapter makes.
const PACK: &str = "our-shop";

/// A job or a pack that a page makes and goes on with, or a file that it shows.
fn is_of_the_page(arguments: &[String], folder: &Path) -> bool {
    let made = |word: &String| {
        word.ends_with(".toml") && !root().join(word).exists() || word.contains(PACK) || folder.join(word).is_file()
    };
    arguments.iter().any(made)
}

/// What happens on a page, in order: commands with what they print, and files that it shows (```rhai,our-shop/lift.rhai).
enum Event {
    Command(String),
    File(String, String),
}

fn events(page: &str) -> Vec<Event> {
    let mut found = Vec::new();
    let mut open: Option<(&str, String)> = None;
    for line in page.lines() {
        match (&mut open, line.trim_end().strip_prefix("```")) {
            (None, Some(kind)) => open = Some((kind, String::new())),
            (Some((kind, block)), Some("")) => {
                match kind.split_once(',') {
                    Some((_, file)) => found.push(Event::File(file.to_owned(), std::mem::take(block))),
                    None if *kind == "console" => found.push(Event::Command(std::mem::take(block))),
                    None => {}
                }
                open = None;
            }
            (Some((_, block)), _) => {
                block.push_str(line);
                block.push('\n');
            }
            (None, None) => {}
        }
    }
    found
}

#[test]
fn pages_show_what_the_program_prints() {
    let mut count = 0;
    let folder = std::env::temp_dir().join(format!("crankline-book-{}", std::process::id()));
    let packs = folder.join("mine");
    fs::create_dir_all(&packs).unwrap();
    for (page, text) in pages() {
        for event in events(&text) {
            let block = match event {
                Event::Command(block) => block,
                Event::File(file, text) => {
                    let place = if file.starts_with(PACK) { &packs } else { &folder };
                    fs::write(place.join(file), text).unwrap();
                    continue;
                }
            };
            let Some((command, shown)) = block.split_once('\n') else {
                continue;
            };
            let Some(arguments) = command.strip_prefix("$ crankline ") else {
                continue;
            };
            let arguments = words(arguments);
            let directory = if is_of_the_page(&arguments, &folder) {
                folder.clone()
            } else {
                root()
            };
            let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
            let printed = printed_in(&directory, &packs, &arguments, &answers(shown));
            let printed = printed.replace(&packs.display().to_string(), "~/.local/share/crankline/packs");
            let printed = printed.replace(&format!("{}/", folder.display()), "");
            let printed = printed.replace(&folder.display().to_string(), ".");
            assert!(
                printed.starts_with(shown),
                "{page} shows:\n{shown}\nthe program prints:\n{printed}"
            );
            count += 1;
        }
    }
    let _ = fs::remove_dir_all(&folder);
    assert!(count >= 2, "the chapter on comparing has two");
}

/// What a page of pictures shows in letters, and the pictures beside it, are those of its scripts; with
/// `INSTA_UPDATE=always` they are written anew.
#[test]
fn pages_show_the_pictures_of_their_scripts() {
    let path = root().join("book/src/figures.md");
    let page = fs::read_to_string(&path).unwrap();
    let library = Library::new(Rc::new(Shipped));
    let update = std::env::var("INSTA_UPDATE").is_ok_and(|wish| wish == "always");
    let (mut wanted, mut pictures) = (String::new(), 0);
    let mut rest = page.as_str();
    for script in blocks(&page, "rhai") {
        let source = SourceText {
            name: "figures.md".to_owned(),
            text: script.clone(),
        };
        let program = library.compile(source).unwrap_or_else(|error| panic!("{error}"));
        let finished = library.run(&program, Bindings::new(), &Rc::new(Recording::open()), 0, None);
        let figures = finished.unwrap_or_else(|error| panic!("{error}")).outcome.figures;
        let letters: Vec<String> = figures
            .iter()
            .map(|shown| figure_letters(shown, System::Metric).join("\n"))
            .collect();
        let (before, after) = rest.split_once(&script).unwrap();
        let (between, after) = after.split_once("```text\n").unwrap();
        let (_, after) = after.split_once("```\n").unwrap();
        wanted += &format!("{before}{script}{between}```text\n{}\n```\n", letters.join("\n\n"));
        rest = after;
        for shown in figures.iter().filter(|shown| is_drawn(&shown.figure)) {
            pictures += 1;
            let (file, svg) = (format!("figures-{pictures}.svg"), picture(shown, System::Metric) + "\n");
            assert!(page.contains(&file), "the page shows {file}");
            let place = root().join("book/src").join(&file);
            if update {
                fs::write(&place, &svg).unwrap();
            }
            assert_eq!(fs::read_to_string(&place).unwrap_or_default(), svg, "{file} is stale");
        }
    }
    wanted += rest;
    if update {
        fs::write(&path, &wanted).unwrap();
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), wanted);
    assert!(pictures >= 5);
}
