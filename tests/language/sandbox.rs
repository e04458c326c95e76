//! What a script cannot reach: files, the network, clocks, the environment, chance, and more of this machine than its
//! limits give it.

use super::check::{error, library, run_in};

/// Functions that other languages, and the one that ours is built on, have for such things.
const ELSEWHERE: [&str; 58] = [
    "open",
    "open_file",
    "read",
    "read_file",
    "read_to_string",
    "write_file",
    "save",
    "load",
    "remove_file",
    "delete",
    "path",
    "cwd",
    "chdir",
    "list_dir",
    "glob",
    "include",
    "include_str",
    "env",
    "env_var",
    "getenv",
    "setenv",
    "args",
    "hostname",
    "user",
    "system",
    "exec",
    "spawn",
    "shell",
    "command",
    "exit",
    "abort",
    "kill",
    "http",
    "http_get",
    "fetch",
    "download",
    "connect",
    "socket",
    "listen",
    "send",
    "timestamp",
    "now",
    "today",
    "time",
    "elapsed",
    "sleep",
    "wait",
    "rand",
    "random",
    "rand_float",
    "rand_bool",
    "shuffle",
    "sample",
    "seed",
    "eval",
    "print",
    "debug",
    "parse_json",
];

#[test]
fn there_is_no_function_for_anything_outside() {
    let library = library();
    for name in ELSEWHERE {
        for call in [
            format!("{name}()"),
            format!("{name}(\"/etc/passwd\")"),
            format!("{name}(1)"),
            format!("\"a\".{name}()"),
        ] {
            let message = error(&format!("let a = {call};"));
            let refused = message.contains("there is no function")
                || message.contains("the language keeps")
                || message.contains("a name must");
            // A unit or a word of the language that is written so is refused for what it is given.
            let of_ours = library.functions().described().any(|function| function.name() == name);
            assert!(refused || of_ours, "{call}\n{message}");
        }
    }
}

/// Our own functions, by their names: none of them is for anything outside.
#[test]
fn none_of_our_functions_is_for_anything_outside() {
    let library = library();
    let names: Vec<&str> = library
        .functions()
        .described()
        .map(|function| function.name())
        .collect();
    assert!(names.len() > 150, "{}", names.len());
    for outside in [
        "file",
        "env",
        "http",
        "socket",
        "clock",
        "timestamp",
        "random",
        "rand",
        "shell",
        "process",
        "eval",
    ] {
        let found: Vec<&&str> = names.iter().filter(|name| name.contains(outside)).collect();
        assert!(found.is_empty(), "{outside}: {found:?}");
    }
}

/// The same script gives the same bits, however often and whenever it is run: nothing in it comes from elsewhere.
#[test]
fn a_script_gives_the_same_again() {
    let script = "input a = 3.mm plus_minus 0.1.mm;\nstep b = integrate(|x| exp(x) * sin(a * 1000.0 * x / 1.m * 1.rad), 0, 1);\nnote `It is ${b}.`;\n";
    let once = || {
        let ran = run_in(&library(), script).unwrap_or_else(|error| panic!("{error}"));
        format!("{:?}", ran.outcome)
    };
    let first = once();
    for _ in 0..5 {
        std::thread::sleep(std::time::Duration::from_millis(3));
        assert!(first == once());
    }
}
