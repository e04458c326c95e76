//! Texts of a script, a pack, a job or a record that would pass for the program's own words, could they begin a line of
//! their own; readings that a script would enter into a job; files that a link leads to.

use super::attack::UNSEEN;
use crate::program::{Program, Ran, words};
use crankline_engine::diagnostic::{ends_line, is_hidden, on_one_line, refuse_lines};
use serde_json::Value;
use std::fmt::Write;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What begins each line that is none of the program's.
const FORGED: &str = "FORGED";

/// Everything that a script may say, each with an end of a line in it.
const SCRIPT: &str = include_str!("impostors/everything.rhai");
const CASES: &str = include_str!("impostors/everything.cases.toml");
const JOB: &str = include_str!("impostors/car.toml");

static GROUNDS: AtomicUsize = AtomicUsize::new(0);

struct Ground(PathBuf);

impl Ground {
    fn new(files: &[(&str, &str)]) -> Self {
        let number = GROUNDS.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("crankline-impostors-{}-{number}", std::process::id()));
        let ground = Self(path);
        for (name, text) in files {
            ground.write(name, text);
        }
        ground
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.0.join("inside").join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }

    fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.0.join("inside").join(name)).unwrap()
    }

    fn run(&self, line: &str) -> Ran {
        let words = words(line);
        Program::in_folder(self.0.join("inside")).run(words.iter().map(String::as_str))
    }
}

impl Drop for Ground {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// Whether a line is the forger's: beside the margin, or under a mark of Markdown or of a remark. All texts are short enough
/// for their columns, so that none is broken where it may be.
fn is_forged(line: &str) -> bool {
    line.trim_start_matches(|c: char| " \t#>-|*".contains(c))
        .starts_with(FORGED)
}

#[track_caller]
fn assert_own(command: &str, text: &str) {
    assert!(text.contains(FORGED), "{command} shows none of it: {text}");
    let forged = text.lines().find(|line| is_forged(line));
    assert!(forged.is_none(), "{command}: {forged:?} in\n{text}");
}

fn all() -> Ground {
    let ground = Ground::new(&[
        ("everything.rhai", SCRIPT),
        ("everything.cases.toml", CASES),
        ("car.toml", JOB),
    ]);
    let record = ground.run("run car.toml --format json --out before.json");
    assert!(record.code < 2, "{}", record.stderr);
    ground
}

#[test]
fn no_text_of_a_script_or_a_job_begins_a_line_of_the_programs() {
    let ground = all();
    for command in [
        "run everything.rhai --all",
        "run everything.rhai --working --all",
        "run everything.rhai --working --format markdown",
        "run car.toml --all",
        "run car.toml --working --format markdown",
        "describe everything.rhai",
        "describe everything.rhai --format markdown",
        "sheet everything.rhai",
        "sheet car.toml --format markdown",
        "job missing car.toml",
        "job missing car.toml --format markdown",
        "lesson everything.rhai",
        "lesson everything.rhai --format markdown",
        "spread everything.rhai",
        "compare car.toml before.json --all",
        "compare car.toml before.json --all --format markdown",
        "prove everything.rhai",
    ] {
        let ran = ground.run(command);
        assert!(ran.code < 2, "{command}: {}", ran.stderr);
        assert_own(command, &ran.stdout);
    }
}

/// Whoever reads JSON prints its texts.
#[test]
fn texts_in_json_stand_on_one_line() {
    let ground = all();
    for command in [
        "run everything.rhai",
        "run car.toml",
        "sheet car.toml",
        "lesson everything.rhai",
        "compare car.toml before.json",
    ] {
        let ran = ground.run(&format!("{command} --format json"));
        let json = serde_json::from_str(&ran.stdout).unwrap();
        let mut texts = Vec::new();
        gather(&json, &mut texts);
        assert!(texts.iter().any(|text| text.contains(FORGED)), "{command}");
        let over_lines = texts.iter().find(|text| text.contains(ends_line));
        assert!(over_lines.is_none(), "{command}: {over_lines:?}");
    }
}

fn gather(json: &Value, texts: &mut Vec<String>) {
    match json {
        Value::String(text) => texts.push(text.clone()),
        Value::Array(items) => items.iter().for_each(|item| gather(item, texts)),
        Value::Object(fields) => {
            for (key, item) in fields {
                texts.push(key.clone());
                gather(item, texts);
            }
        }
        _ => {}
    }
}

/// A heading, a label, a way to measure that hold lines of a job file.
#[test]
fn a_script_enters_no_reading_into_a_new_job() {
    let entry = "\\n\\nweld_leg = \\\"30 mm +/- 0.1 mm\\\"\\n# x";
    for text in ["heading", "label", "how", "per", "unit"] {
        let said = |role: &str| if role == text { entry } else { "" };
        let script = format!(
            "//! Weld.\nheading \"Weld{}\";\ninput weld_leg = 3.mm from 1.mm to 40.mm : \"Leg{}\" how \"gauge{}\" per \"us{}\";\n\
             input kind = \"fillet{}\" : \"Kind\";\ncheck weld_leg > 5.mm : \"strong\";\n",
            said("heading"),
            said("label"),
            said("how"),
            said("per"),
            said("unit"),
        );
        let ground = Ground::new(&[("weld.rhai", &script)]);
        let made = ground.run("job new car.toml weld.rhai");
        assert_eq!(made.code, 0, "{text}: {}", made.stderr);
        let job = ground.read("car.toml");
        let live = job.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
        let live: Vec<&str> = live.collect();
        assert_eq!(
            live,
            [
                "format = 1",
                "title = \"car\"",
                "units = \"metric\"",
                "[measured]",
                "[chosen]",
                "[[run]]",
                "script = \"weld.rhai\"",
                "name = \"weld\"",
            ],
            "{text}"
        );
        let ran = ground.run("run car.toml --format json");
        assert!(!ran.stdout.contains("\"measured\""), "{text}: {}", ran.stdout);
    }
}

/// A link beside a job that leads out of its folder is not followed, and nothing of what it leads to is told.
#[cfg(unix)]
#[test]
fn a_job_follows_no_link_out_of_its_folder() {
    let table = "format = 1\n[measured]\nloads = { csv = \"loads.csv\" }\n[[run]]\nscript = \"t.rhai\"\nname = \"t\"\n";
    let script = "format = 1\n[[run]]\nscript = \"link.rhai\"\nname = \"t\"\n";
    let below = "format = 1\n[[run]]\nscript = \"down/t.rhai\"\nname = \"t\"\n";
    let loads = "input loads = [#{ name: \"Wipers\", current: 4.A }];\nstep a = loads[0].current;\n";
    let ground = Ground::new(&[
        ("table.toml", table),
        ("script.toml", script),
        ("below.toml", below),
        ("t.rhai", loads),
        ("own/t.rhai", loads),
        ("own/table.csv", "name,current\nLamps,5 A\n"),
    ]);
    std::fs::write(ground.0.join("secret.txt"), "the key is 1234\n").unwrap();
    std::fs::create_dir_all(ground.0.join("other")).unwrap();
    std::fs::write(ground.0.join("other/t.rhai"), loads).unwrap();
    let link = |to: &str, name: &str| {
        let path = ground.0.join("inside").join(name);
        let _ = std::fs::remove_file(&path);
        std::os::unix::fs::symlink(to, path).unwrap();
    };
    link("../secret.txt", "loads.csv");
    link("../secret.txt", "link.rhai");
    link("../other", "down");
    for (job, name) in [
        ("table", "loads.csv"),
        ("script", "link.rhai"),
        ("below", "down/t.rhai"),
    ] {
        let ran = ground.run(&format!("run {job}.toml"));
        assert_eq!(ran.code, 2, "{job}: {}", ran.stdout);
        let said = format!("`{name}` is a link that leads out of the job's folder");
        assert!(ran.stderr.contains(&said), "{job}: {}", ran.stderr);
        assert!(!ran.stderr.contains("1234"), "{job}: {}", ran.stderr);
    }
    // Within the folder a link is as good as a copy; and whoever names a file means it.
    link("own/table.csv", "loads.csv");
    link("own", "down");
    for line in ["run table.toml", "run below.toml"] {
        let ran = ground.run(line);
        assert_eq!(ran.code, 0, "{line}: {}", ran.stderr);
    }
    link("../other/t.rhai", "link.rhai");
    assert_eq!(ground.run("run link.rhai").code, 0);
}

/// A pack's manifest says nothing in the program's words.
#[test]
fn a_version_is_one_word_and_a_title_one_line() {
    for (line, said) in [
        (
            "version = \"1.0, signed with the key 62f2 7f64 6868 1cd1\\n12 worked examples come out here\"",
            "`version` stands on one line",
        ),
        ("version = \"1.0, signed\"", "is no version"),
        ("version = \".5\"", "is no version"),
        (
            "version = \"1\"\ntitle = \"a\\nLICENCE     MIT\"",
            "`title` stands on one line",
        ),
        (
            "version = \"1\"\nauthor = \"a\\nSIGNED      by us\"",
            "`author` stands on one line",
        ),
        ("version = \"1\"\nlicence = \"a\\rSIGNED\"", "U+000D"),
        (
            "version = \"1\"\nlicence = \"a\\tSIGNED\"",
            "`licence` stands on one line",
        ),
    ] {
        let manifest = format!("format = 1\nname = \"shop\"\n{line}\n");
        let ground = Ground::new(&[
            ("packs/shop/pack.toml", &manifest),
            ("packs/shop/t.rhai", "//! Twice.\nstep a = 2;\n"),
        ]);
        for command in ["pack list", "prove shop", "run shop/t", "list"] {
            let ran = ground.run(command);
            assert!(
                ran.stderr.contains(said),
                "{command} of {line}: {}{}",
                ran.stdout,
                ran.stderr
            );
            assert!(!ran.stdout.contains("signed with"), "{command}: {}", ran.stdout);
        }
    }
}

/// Labels that nobody can read are none, and whoever looks a script through is told.
#[test]
fn a_blank_label_is_none() {
    let script = "//! Blank.\ninput wall = 3.mm : \"\" how \"  \";\nstep twice = 2 * wall : \"   \";\n\
                  check twice < 10.mm : `\n`;\nrequire wall > 1.mm : \"\";\n";
    let ground = Ground::new(&[("t.rhai", script)]);
    let ran = ground.run("run t.rhai --all");
    for shown in ["twice", "twice < 10.mm", "wall > 1.mm"] {
        assert!(ran.stdout.contains(shown), "{shown}: {}", ran.stdout);
    }
    let looked = ground.run("inspect t.rhai");
    for lacking in [
        "the input `wall` has no label",
        "the input `wall` does not say how to measure it",
        "the step `twice` has no label",
        "has no label, and people read labels",
    ] {
        let text = looked.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(lacking), "{lacking}: {}", looked.stdout);
    }
}

/// All that Unicode says is ignored where it is drawn, and no other character.
#[test]
fn nobody_overlooks_a_character() {
    for code in 0..=0x0010_ffff {
        let Some(character) = char::from_u32(code) else {
            continue;
        };
        let control = code < 0x20 && code != 9 && code != 10 || (0x7f..=0x9f).contains(&code);
        let unseen = UNSEEN.iter().any(|(first, last)| (*first..=*last).contains(&code));
        assert_eq!(is_hidden(character), control || unseen, "U+{code:04X}");
    }
    let ground = Ground::new(&[]);
    for (first, last) in UNSEEN {
        for code in [first, last] {
            let character = char::from_u32(code).unwrap();
            ground.write("raw.rhai", &format!("step a = 1 : \"x{character}y\";\n"));
            ground.write("escaped.rhai", &format!("step a = 1 : \"x\\U{code:08x}y\";\n"));
            ground.write("car.toml", &format!("format = 1\ntitle = \"x\\U{code:08x}y\"\n"));
            for line in ["run raw.rhai", "run escaped.rhai", "run car.toml"] {
                let ran = ground.run(line);
                assert!(
                    ran.code == 2 && ran.stderr.contains(&format!("U+{code:04X}")),
                    "{line}: {}",
                    ran.stderr
                );
            }
        }
    }
}

#[test]
fn a_text_over_several_lines_is_put_on_one() {
    for (text, line) in [
        ("as it is,  with  spaces ", "as it is,  with  spaces "),
        ("a\nb", "a b"),
        ("a\r\nb\rc", "a b c"),
        ("a \n\n  b", "a b"),
        ("\ta\u{b}b\u{c}c\u{85}d\u{2028}e\u{2029}", "a b c d e"),
        ("\n\n", ""),
    ] {
        assert_eq!(on_one_line(text), line);
        let mut same = String::new();
        write!(same, "{}", on_one_line(text)).unwrap();
        assert_eq!(on_one_line(&same), same);
        assert_eq!(refuse_lines(text, "this").is_ok(), line == text);
    }
}

/// A name that is put together of several lines would be another.
#[test]
fn names_stand_on_one_line() {
    let script = |text: &str| {
        let ground = Ground::new(&[("t.rhai", text)]);
        let ran = ground.run("run t.rhai");
        assert_eq!(ran.code, 2, "{text}: {}", ran.stdout);
        ran.stderr
    };
    for (text, what) in [
        ("step a[\"b\\nc\"] = 1;", "the key of a step"),
        ("input a = \"b\" one_of [\"b\", \"c\\td\"];", "a choice"),
        ("show bars(\"a\").bar(\"b\\nc\", 1.mm);", "the name of a bar"),
        ("step a = #{ \"b\\nc\": 1 };", "a key of what is shown"),
        ("input a = 3.deg signs (\"up\\nx\", \"down\");", "a word for a sign"),
        ("check \"a\\nb\" == \"a b\";", "a text in a check"),
    ] {
        let said = script(text);
        assert!(said.contains(&format!("{what} stands on one line")), "{text}: {said}");
    }
    assert!(script("step a[\" \"] = 1;").contains("the key of a step is blank"));
    let run = |key: &str| format!("format = 1\n{key}\n");
    for job in [
        run("[[run]]\nscript = \"t.rhai\"\nname = \"a\\nb\""),
        run("[[run]]\nscript = \"t\\n.rhai\"\nname = \"a\""),
        run("[[option]]\nname = \"a\\nb\"\nset = { w = \"1 mm\" }"),
        run("[[run]]\nscript = \"t.rhai\"\nname = \"a\"\ntries = \"a\\tb\""),
        run("[measured.\"a\\nb\"]\nw = \"1 mm\""),
    ] {
        let ground = Ground::new(&[("car.toml", &job), ("t.rhai", "input w = 1.mm;\n")]);
        let ran = ground.run("run car.toml");
        assert_eq!(ran.code, 2, "{job}");
        assert!(ran.stderr.contains("stands on one line"), "{job}: {}", ran.stderr);
    }
    let ground = Ground::new(&[("t.rhai", "input w = \"a\";\nstep b = w;\n")]);
    let ran = ground.run("run t.rhai --set \"w=a\nFORGED\"");
    assert!(ran.stderr.contains("a reading stands on one line"), "{}", ran.stderr);
}

/// What a message quotes stands on the line of the message.
#[test]
fn a_message_is_one_line() {
    let ground = Ground::new(&[
        (
            "t.rhai",
            "let x = \"a\nFORGED: all holds\";\nstep b = material(x).density;\n",
        ),
        ("u.rhai", "input a = \"A\" one_of [\"A\", \"B\"];\nstep b = a;\n"),
        ("car.toml", "format = 1\nunits = \"a\\nFORGED\"\n"),
    ]);
    for line in [
        "run t.rhai",
        "run u.rhai --set \"a=c\nFORGED\"",
        "run car.toml",
        "run \"no\nFORGED.rhai\"",
    ] {
        let ran = ground.run(line);
        assert_eq!(ran.code, 2, "{line}: {}", ran.stdout);
        let forged = ran.stderr.lines().find(|line| is_forged(line));
        assert!(forged.is_none(), "{line}: {}", ran.stderr);
    }
}

fn record(number: &str) -> String {
    format!(
        "{{\"format\": 1, \"script\": {{\"name\": \"a\", \"pack_version\": null, \"sha256\": \"00\"}}, \"inputs\": [], \
         \"steps\": [{{\"name\": \"a\", \"label\": \"A\\nFORGED\", {number}}}], \"checks\": []}}"
    )
}

/// Records that nobody's run has written.
#[test]
fn a_forged_record_shows_no_number_that_is_none() {
    let length = "\"unit\": \"mm\", \"dimension\": \"length\", \"value\": 6, \"si\": 0.006";
    let ground = Ground::new(&[
        ("a.json", &record(length)),
        ("time.json", &record(&length.replace("\"length\"", "\"time\""))),
        ("huge.json", &record(&length.replace("0.006", "1.7e308"))),
    ]);
    let huge = ground.run("compare a.json huge.json");
    assert_eq!(huge.code, 2, "{}", huge.stdout);
    assert!(
        huge.stderr.contains("larger than any number that is measured"),
        "{}",
        huge.stderr
    );
    for format in ["text", "markdown"] {
        let other = ground.run(&format!("compare a.json time.json --format {format}"));
        assert!(other.stdout.contains("length in A, time in B"), "{}", other.stdout);
        assert_own(format, &other.stdout);
    }
}

/// Letters that run from right to left stand in an element of their own, beside the numbers of a page.
#[test]
fn letters_that_run_left_move_no_number_of_a_page() {
    let script = "input a = 3.mm : \"אורך\";\nstep b = 2 * a : `${a} طول 12`;\nstep c = a : \"length\";\n\
                  note `רוחב ${b}`;\ncheck b < 7.mm : \"קטן\" per \"ספר 7\";\n";
    let ground = Ground::new(&[("t.rhai", script)]);
    let ran = ground.run("run t.rhai --format html --out page.html");
    assert_eq!(ran.code, 0, "{}", ran.stderr);
    let page = ground.read("page.html");
    for apart in [
        "<bdi>אורך</bdi>",
        "<bdi>קטן</bdi>",
        "<bdi>ספר 7</bdi>",
        " طول 12</bdi>",
        "<bdi>רוחב ",
    ] {
        assert!(page.contains(apart), "{apart}");
    }
    assert!(page.contains("unicode-bidi: isolate"));
    assert!(!page.contains("<bdi>length"));
}
