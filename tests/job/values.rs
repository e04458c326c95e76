//! Values other than single quantities: tables, csv files, texts, counts.

use super::bench::{input, run, step};
use crankline_engine::outcome::{Origin, Spread, Value};

const LOADS: &str = "[[run]]\nscript = \"loads\"\nname = \"harness\"\n";

#[test]
fn a_table_is_written_in_rows() {
    let ran = run(&format!(
        "{LOADS}[[measured.loads]]\nname = \"Fan\"\ncurrent = \"12 A +/- 0.5 A\"\n[[measured.loads]]\nname = \"Horn\"\ncurrent = \"5 A\"\n"
    ));
    assert_eq!(step(&ran, 0, "total").0, 17.0);
    let loads = input(&ran, 0, "loads");
    let addresses: Vec<&str> = loads.parts.iter().map(|part| part.address.as_str()).collect();
    assert_eq!(addresses, ["loads[Fan].current", "loads[Horn].current"]);
    assert_eq!(loads.parts[0].spread, Spread::Limits(0.5));
    assert_eq!(loads.parts[1].spread, Spread::Limits(0.1));
}

#[test]
fn a_table_stands_in_a_csv_file() {
    let ran = run(&format!("[measured]\nloads = {{ csv = \"loads.csv\" }}\n{LOADS}"));
    assert_eq!(step(&ran, 0, "total").0, 16.5);
    let loads = input(&ran, 0, "loads");
    assert_eq!(loads.parts[1].address, "loads[Fan, left].current");
}

#[test]
fn a_table_used_by_two_runs_is_on_the_tape_once() {
    let ran = run(&format!(
        "[measured]\nloads = {{ csv = \"loads.csv\" }}\n{LOADS}[[run]]\nscript = \"loads\"\nname = \"again\"\n"
    ));
    assert_eq!(ran.tape.inputs.len(), 2);
    assert_eq!(step(&ran, 0, "total").0, step(&ran, 1, "total").0);
    assert_eq!(input(&ran, 0, "loads").parts.len(), input(&ran, 1, "loads").parts.len());
}

#[test]
fn texts_counts_and_truths_are_shared_and_linked() {
    let ran = run("
        [chosen]
        material = \"aluminium\"
        sleeved = true
        bolts = 6
        [[run]]
        script = \"choices\"
        name = \"one\"
        [[run]]
        script = \"choices\"
        name = \"two\"
        from = { bolts = \"one: count\" }
        [[run]]
        script = \"choices\"
        name = \"three\"
        from = { bolts = \"two: bolts\" }
    ");
    assert_eq!(input(&ran, 1, "sleeved").value, Value::Truth(true));
    assert_eq!(input(&ran, 1, "bolts").value, Value::Count(12));
    assert_eq!(input(&ran, 1, "bolts").origin, Origin::Linked);
    assert_eq!(input(&ran, 2, "bolts").value, Value::Count(12));
    assert_eq!(input(&ran, 2, "bolts").origin, Origin::Linked);
    assert_eq!(ran.tape.inputs.len(), 0);
}

#[test]
fn a_csv_file_of_any_program_is_read() {
    for lines in [
        "name,current\\r\\nFan,12 A\\r\\n\\r\\nHorn,5 A\\r\\n",
        "marked.csv",
        "\\\"name\\\",\\\"current\\\"\\n\\\"Fan\\\" ,\\\"12 A\\\"\\r\\nHorn,5 A\\n\\n",
        "current,name\\n12 A,Fan\\n5 A,Horn\\n",
    ] {
        let ran = run(&format!("[measured]\nloads = {{ csv = \"{lines}\" }}\n{LOADS}"));
        assert_eq!(step(&ran, 0, "total").0, 17.0, "{lines}");
        assert_eq!(
            input(&ran, 0, "loads").parts[0].address,
            "loads[Fan].current",
            "{lines}"
        );
    }
}

#[test]
fn a_run_named_as_a_reading_takes_nothing_from_it() {
    let ran = run("[measured]\nloads = { csv = \"loads.csv\" }\n[[run]]\nscript = \"loads\"\n");
    assert_eq!(step(&ran, 0, "total").0, 16.5);
}
