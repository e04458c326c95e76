//! How much a script may do, and who can allow it more: whoever runs it, never a file.

use super::check::{Folder, Ran};

/// More than twice the operations that a run may do, and less than four times.
const LONG: &str = "input a = 3.mm : \"A\";\nlet n = 0;\nfor k in 0..15_000_000 { n += 1; }\nstep b = n * a : \"B\";\n";

fn with_effort(folder: &Folder, arguments: &[&str], effort: &str) -> Ran {
    folder.run(&[arguments, &["--effort", effort]].concat())
}

#[test]
fn more_is_allowed_for_one_run() {
    let folder = Folder::new();
    folder.put("long.rhai", LONG);
    let ran = folder.run(&["run", "long.rhai"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.stderr.contains("did more operations than are allowed"),
        "{}",
        ran.stderr
    );
    assert!(ran.stderr.contains("--effort 10"), "{}", ran.stderr);
    let ran = with_effort(&folder, &["run", "long.rhai", "--all"], "10");
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""), "{}", ran.stdout);
    // The next one is as every other.
    assert_eq!(folder.run(&["run", "long.rhai"]).code, 2);
}

/// Native work is counted apart.
#[test]
fn work_of_functions_too() {
    let folder = Folder::new();
    let nested = "input a = 3.mm : \"A\";\nlet f = |x| integrate(|y| integrate(|z| x * y * z, 0.0, 1.0), 0.0, 1.0);\n\
                  let t = 0.0;\nfor k in 0..100 { t += root(|x| integrate(|y| f.call(x) * y, 0.0, 1.0) - 0.1, 0.0, 4.0); }\n\
                  step b = t * a : \"B\";\n";
    folder.put("nested.rhai", nested);
    let ran = folder.run(&["run", "nested.rhai"]);
    assert_eq!(ran.code, 2, "{}", ran.stdout);
    assert!(
        ran.stderr.contains("--effort 10") || ran.stderr.contains("closure"),
        "{}",
        ran.stderr
    );
}

#[test]
fn every_command_that_runs_scripts_takes_it() {
    let folder = Folder::new();
    folder.put("long.rhai", LONG);
    folder.put(
        "long.cases.toml",
        "format = 1\n[[case]]\ntitle = \"t\"\nsource = \"by hand\"\n[case.expect]\nb = { value = \"45000 m\", within = \"1 m\" }\n",
    );
    for arguments in [
        &["prove", "long.rhai"][..],
        &["describe", "long.rhai"],
        &["sheet", "long.rhai"],
        &["lesson", "long.rhai", "--format", "text"],
    ] {
        let without = folder.run(arguments);
        let with = with_effort(&folder, arguments, "10");
        assert_eq!(with.code, 0, "{arguments:?}: {}{}", with.stdout, with.stderr);
        let said = format!("{}{}", without.stdout, without.stderr);
        // A sheet to measure by needs no result.
        let is_sheet = arguments.first() == Some(&"sheet");
        assert!(
            is_sheet || without.code == 2 && said.contains("than are allowed"),
            "{arguments:?}: {said}"
        );
    }
}

/// Neither a script nor a job nor a pack can ask for it.
#[test]
fn no_file_can_ask_for_it() {
    let folder = Folder::new();
    folder.put("long.rhai", LONG);
    folder.put("job.toml", "format = 1\neffort = 10\n[[run]]\nscript = \"long.rhai\"\n");
    let ran = folder.run(&["run", "job.toml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("`effort`"), "{}", ran.stderr);
    folder.put("job.toml", "format = 1\n[[run]]\nscript = \"long.rhai\"\neffort = 10\n");
    assert_eq!(folder.run(&["run", "job.toml"]).code, 2);
    folder.put("script.rhai", &format!("effort(10);\n{LONG}"));
    let ran = folder.run(&["run", "script.rhai"]);
    assert!(ran.stderr.contains("there is no function `effort`"), "{}", ran.stderr);
    std::fs::create_dir_all(folder.0.join("packs/shop")).unwrap();
    folder.put(
        "packs/shop/pack.toml",
        "format = 1\nname = \"shop\"\nversion = \"0.1.0\"\neffort = 10\n",
    );
    folder.put("packs/shop/long.rhai", LONG);
    let ran = folder.run(&["run", "shop/long"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.contains("`effort`"), "{}", ran.stderr);
}

#[test]
fn how_much_may_be_asked_for() {
    let folder = Folder::new();
    for (effort, code) in [("0", 2), ("1001", 2), ("-1", 2), ("much", 2), ("1", 0), ("1000", 0)] {
        let ran = with_effort(&folder, &["run", "shaft.rhai"], effort);
        assert_eq!(ran.code == 2, code == 2, "{effort}: {}", ran.stderr);
    }
}
