//! A record is complete: the calculation is made again from nothing but what stands in it.

use super::check::Folder;
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;

/// A job file made of a record.
#[derive(Default)]
struct Rebuilt {
    /// Readings of a table (`measured`, `measured."a run"`, `chosen`), each under its name.
    tables: BTreeMap<String, BTreeMap<String, String>>,
    runs: String,
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}

fn quoted(text: &str) -> String {
    format!("{text:?}")
}

/// `3.2 deg +/- 0.1 deg`; the script's own ± is the script's to say.
fn quantity(value: &Value) -> String {
    let unit = text(&value["unit"]);
    let written = |number: &Value| format!("{} {unit}", number.as_f64().unwrap()).trim().to_owned();
    let number = written(&value["value"]);
    if value["plus_minus_from"] == "script" {
        return number;
    }
    // What differs from one temperature to another is counted in kelvins.
    let width = |number: &Value| match unit {
        "degC" => format!("{} K", number.as_f64().unwrap()),
        _ => written(number),
    };
    if value.get("std_dev").is_some() {
        return format!("{number} std_dev {}", width(&value["std_dev"]));
    }
    match value["plus_minus"].as_f64() {
        Some(_) => format!("{number} +/- {}", width(&value["plus_minus"])),
        None => number,
    }
}

/// As a job file takes it.
fn toml(value: &Value) -> String {
    if let Some(items) = value["items"].as_object() {
        if let (Some(x), Some(y), Some(z)) = (items.get("x"), items.get("y"), items.get("z"))
            && items.len() == 3
            && x.get("items").is_none()
        {
            let unit = text(&x["unit"]);
            let of = |item: &Value| item["value"].as_f64().unwrap();
            let spread = match x["plus_minus"].as_f64() {
                Some(spread) if x["plus_minus_from"] != "script" => format!(" +/- {spread} {unit}"),
                _ => String::new(),
            };
            return quoted(&format!("({}, {}, {}) {unit}{spread}", of(x), of(y), of(z)));
        }
        let is_row = |item: &Value| item["items"].as_object().is_some_and(|items| items.get("x").is_none());
        let rows = items.values().map(|item| match is_row(item) {
            true => {
                let cells = item["items"].as_object().unwrap().iter();
                let cells = cells.map(|(key, cell)| format!("{} = {}", quoted(key), toml(cell)));
                format!("{{ {} }}", cells.collect::<Vec<_>>().join(", "))
            }
            false => toml(item),
        });
        return format!("[{}]", rows.collect::<Vec<_>>().join(", "));
    }
    match text(&value["dimension"]) {
        "count" => value["value"].to_string(),
        "yes or no" => value["value"].to_string(),
        "text" => quoted(text(&value["value"])),
        _ => quoted(&quantity(value)),
    }
}

/// A reading with how it was taken.
fn reading(input: &Value) -> String {
    let taken = &input["taken"];
    let repeats = taken["readings"].as_array().filter(|repeats| !repeats.is_empty());
    let (value, with) = (toml(input), taken["with"].as_str());
    let with = with
        .map(|with| format!(", with = {}", quoted(with)))
        .unwrap_or_default();
    match repeats {
        Some(repeats) => {
            let unit = if input["unit"] == "degC" {
                "K"
            } else {
                text(&input["unit"])
            };
            let spread = format!("{} {unit}", input["plus_minus"].as_f64().unwrap());
            let repeats: Vec<String> = repeats.iter().map(|repeat| quoted(text(repeat))).collect();
            format!(
                "{{ readings = [{}], plus_minus = {}{with} }}",
                repeats.join(", "),
                quoted(&spread)
            )
        }
        None if !with.is_empty() => format!("{{ value = {value}{with} }}"),
        None => value,
    }
}

impl Rebuilt {
    fn of(record: &Value) -> Self {
        let mut rebuilt = Self::default();
        for run in record["runs"].as_array().unwrap() {
            rebuilt.run(run);
        }
        rebuilt
    }

    fn run(&mut self, run: &Value) {
        let name = text(&run["run"]);
        let (mut from, mut with) = (Vec::new(), Vec::new());
        for input in run["inputs"].as_array().unwrap() {
            let own = text(&input["name"]);
            match (text(&input["from"]), &input["taken"]) {
                ("example" | "assumed", _) => {}
                ("linked", _) => from.push(format!("{own} = {}", quoted(text(&input["taken_from"])))),
                ("measured" | "chosen", taken) if !taken.is_null() => {
                    let (kind, known) = (text(&input["from"]), text(&taken["reading"]));
                    let table = match taken["for_this_run_alone"].as_bool() {
                        Some(true) => format!("{kind}.{}", quoted(name)),
                        _ => kind.to_owned(),
                    };
                    let readings = self.tables.entry(table).or_default();
                    readings.insert(known.to_owned(), reading(input));
                    if known != own {
                        from.push(format!("{own} = {}", quoted(known)));
                    }
                }
                _ => with.push(format!("{own} = {}", toml(input))),
            }
        }
        let script = quoted(text(&run["script"]["name"]));
        self.runs += &format!(
            "[[run]]\nscript = {script}\nname = {}\nwith = {{ {} }}\nfrom = {{ {} }}\n",
            quoted(name),
            with.join(", "),
            from.join(", ")
        );
    }

    fn text(&self, units: &str) -> String {
        let mut text = format!("format = 1\nunits = \"{units}\"\n");
        for (table, readings) in &self.tables {
            text += &format!("[{table}]\n");
            for (name, reading) in readings {
                text += &format!("{name} = {reading}\n");
            }
        }
        text + self.runs.as_str()
    }
}

/// All numbers of a run's steps, with the ends of their intervals.
fn numbers(value: &Value, path: &str, found: &mut BTreeMap<String, [f64; 3]>) {
    if let Some(items) = value["items"].as_object() {
        for (key, item) in items {
            numbers(item, &format!("{path}[{key}]"), found);
        }
    } else if let Some(si) = value["si"].as_f64() {
        let end = |key: &str| value[key].as_f64().unwrap_or(si);
        found.insert(path.to_owned(), [si, end("low_si"), end("high_si")]);
    }
}

fn assert_same(one: &Value, other: &Value) {
    let (one, other) = (one["runs"].as_array().unwrap(), other["runs"].as_array().unwrap());
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(other) {
        let name = text(&one["run"]);
        assert_eq!(one["script"], other["script"], "{name}");
        let all = |run: &Value| {
            let mut found = BTreeMap::new();
            for step in run["steps"].as_array().unwrap() {
                numbers(step, text(&step["name"]), &mut found);
            }
            found
        };
        let (of_one, of_other) = (all(one), all(other));
        assert_eq!(
            of_one.keys().collect::<Vec<_>>(),
            of_other.keys().collect::<Vec<_>>(),
            "{name}"
        );
        for (step, values) in &of_one {
            for (a, b) in values.iter().zip(of_other[step]) {
                // Values go through decimal digits of the units shown, and what cancels shows it.
                let size = values.iter().fold(1e-12, |size: f64, value| size.max(value.abs()));
                assert!(
                    (a - b).abs() <= 1e-6 * size,
                    "{name}: {step}: {values:?}, {:?}",
                    of_other[step]
                );
            }
        }
        let verdicts = |run: &Value| {
            let checks = run["checks"].as_array().unwrap().iter();
            checks
                .map(|check| (check["formula"].clone(), check["verdict"].clone()))
                .collect::<Vec<_>>()
        };
        assert_eq!(verdicts(one), verdicts(other), "{name}");
    }
}

fn record(folder: &Folder, job: &str) -> Value {
    let ran = folder.run(&["run", job, "--format", "json"]);
    assert_eq!(ran.stderr, "");
    serde_json::from_str(&ran.stdout).unwrap()
}

#[test]
fn a_job_is_rebuilt_from_its_record() {
    let folder = Folder::new();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scripts/demo/car.toml");
    for job in [demo.to_str().unwrap(), "car.toml"] {
        let before = record(&folder, job);
        let file = &before["job"]["file"];
        assert_eq!(text(&file["sha256"]).len(), 64, "{file}");
        folder.put("again.toml", &Rebuilt::of(&before).text(text(&before["job"]["units"])));
        assert_same(&before, &record(&folder, "again.toml"));
    }
}

/// Who, when, with what, each single reading; digests and versions of all scripts.
#[test]
fn a_record_in_markdown_names_everything() {
    let folder = Folder::new();
    folder.put(
        "job.toml",
        "format = 1\n[[session]]\non = 2026-03-14\nby = \"R.\"\n[session.readings]\n\
         wall = { readings = [\"2.1 mm\", \"2.2 mm\", \"2.15 mm\"], plus_minus = \"0.05 mm\", with = \"micrometer\" }\n\
         [[run]]\nscript = \"driveline/critical-speed\"\nname = \"shaft\"\n",
    );
    let markdown = folder
        .run(&["run", "job.toml", "--format", "markdown", "--working"])
        .stdout;
    for said in [
        "| Taken |",
        "| 2026-03-14 by R., micrometer, 2.1 mm, 2.2 mm, 2.15 mm, each ± 0.05 mm |",
        "## Record",
        "- job job.toml, SHA-256 ",
        "- script driveline/critical-speed 0.1.0, SHA-256 ",
        "- metric units; samples of the ±: ",
    ] {
        assert!(markdown.contains(said), "{said}:\n{markdown}");
    }
}

/// What the text shows of the lines of a function, Markdown shows too.
#[test]
fn functions_are_opened_in_markdown() {
    let folder = Folder::new();
    folder.put(
        "opened.rhai",
        "//! Opened.\nfn area(d) {\n    let r = d / 2.0;\n    PI * r**2\n}\ninput d = 4.mm : \"Diameter\";\n\
         step a = area(d) as mm2 : \"Area\";\nstep b = 2.0 * area(d) as mm2 : \"Twice\";\n",
    );
    let text = folder.run(&["run", "opened.rhai", "--working"]).stdout;
    let markdown = folder
        .run(&["run", "opened.rhai", "--working", "--format", "markdown"])
        .stdout;
    let plain = markdown.replace('\\', "");
    for said in [
        "in area, d = 4 mm:",
        "r = d / 2.0 = 4 mm / 2.0 = 2 mm",
        "in area, d = 4 mm: as above",
    ] {
        assert!(text.contains(said), "{said}:\n{text}");
        assert!(plain.contains(&format!("- {said}")), "{said}:\n{markdown}");
    }
    let without = folder.run(&["run", "opened.rhai", "--format", "markdown"]).stdout;
    assert!(!without.contains("## Working"), "{without}");
}
