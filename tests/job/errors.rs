//! What is wrong in a job file, and what its writer is told.

use super::bench::refused;

const SHAFT: &str = "[[run]]\nscript = \"shaft\"\nname = \"front shaft\"\n";

/// A job with loads from a csv file with these lines.
fn csv(lines: &str) -> String {
    format!("format = 1\n[measured]\nloads = {{ csv = \"{lines}\" }}\n[[run]]\nscript = \"loads\"\n")
}

macro_rules! told {
    ($($name:ident: $text:expr;)*) => {
        $(#[test]
        fn $name() {
            insta::assert_snapshot!(stringify!($name), refused(&$text));
        })*
    };
}

/// A job with these lines and the run of a shaft.
fn shaft(lines: &str) -> String {
    format!("format = 1\n{lines}\n{SHAFT}")
}

told! {
    no_toml: "format = 1\ntitle = \"a\n[measured]\n";
    no_format: "title = \"a\"\n";
    newer_format: "format = 2\ntitel = \"a\"\n";
    unknown_key: "format = 1\nmesured = {}\n";
    unknown_key_of_a_run: "format = 1\n[[run]]\nscipt = \"shaft\"\n";
    run_without_script: "format = 1\n[[run]]\nname = \"a\"\n";
    two_runs_of_one_name: shaft(SHAFT);
    unknown_script: "format = 1\n[[run]]\nscript = \"shafts\"\nname = \"a\"\n";
    unknown_run_in_a_section: shaft("[measured.\"front shift\"]\nlength = \"1 m\"");
    misspelt_reading: shaft("[measured]\nlenght = \"1 m\"");
    misspelt_in_a_session: shaft("[measured]\nlength = \"1 m\"\n[[session]]\non = 2026-03-14\n[session.readings]\nlengh = \"1.1 m\"");
    session_without_a_day: shaft("[[session]]\nby = \"R.\"");
    measured_and_chosen: shaft("[measured]\nlength = \"1 m\"\n[chosen]\nlength = \"1 m\"");
    bare_number_for_a_length: shaft("[measured]\nlength = 1200");
    wrong_dimension: shaft("[measured]\nlength = \"3 deg\"");
    unreadable_quantity: shaft("[measured]\nlength = \"1200 mmm\"");
    outside_the_range: shaft("[measured]\nlength = \"12 m\"");
    not_a_number: shaft("[measured]\nlength = nan");
    a_date_for_a_length: shaft("[measured]\nlength = 2026-03-14");
    misspelt_repeats: shaft("[measured]\nlength = { readings = [\"1 m\"], plus_minsu = \"1 mm\" }");
    wrong_repeat: shaft("[measured]\nlength = { readings = [\"1 m\", \"2 deg\"] }");
    unknown_input_in_with: format!("format = 1\n{SHAFT}with = {{ lengths = \"1 m\" }}");
    link_to_a_later_run: format!("format = 1\n{SHAFT}from = {{ top = \"road: shaft\" }}\n[[run]]\nscript = \"road\"\n");
    link_to_itself: format!("format = 1\n{SHAFT}from = {{ top = \"front shaft: allowed\" }}\n");
    link_to_no_run: format!("format = 1\n[[run]]\nscript = \"road\"\n{SHAFT}from = {{ top = \"raod: shaft\" }}\n");
    link_to_no_step: format!("format = 1\n[[run]]\nscript = \"road\"\n{SHAFT}from = {{ top = \"road: shafts\" }}\n");
    link_to_no_reading: format!("format = 1\n[measured]\nshaft_length = \"1 m\"\n{SHAFT}from = {{ length = \"shaft_lenght\" }}\n");
    link_of_another_dimension: format!("format = 1\n[[run]]\nscript = \"road\"\n{SHAFT}from = {{ length = \"road: shaft\" }}\n");
    a_link_and_a_value: format!("format = 1\n{SHAFT}with = {{ top = \"1 rpm\" }}\nfrom = {{ top = \"a: b\" }}\n");
    unlike_dimensions: format!("format = 1\n[measured]\nlength = \"1 m\"\n{SHAFT}[[run]]\nscript = \"angle\"\nname = \"tilt\"\n");
    unlike_dimensions_unmeasured: format!("format = 1\n{SHAFT}[[run]]\nscript = \"angle\"\nname = \"tilt\"\n");
    unlike_labels: format!("format = 1\n[measured]\nlength = \"1 m\"\n{SHAFT}[[run]]\nscript = \"tube\"\n");
    unlike_labels_unmeasured: format!("format = 1\n{SHAFT}[[run]]\nscript = \"tube\"\n");
    without_a_run: "format = 1\n[measured]\nlength = \"1 m\"\n";
    csv_without_rows: csv("name,current\\n");
    bare_number_for_a_choice: "format = 1\n[chosen]\nmaterial = 3\n[[run]]\nscript = \"choices\"\n";
    csv_without_names: csv(",\\nFan,12 A\\n");
    csv_with_a_short_row: csv("name,current\\nFan,12 A\\nHorn\\n");
    csv_with_a_column_twice: csv("name,name\\nFan,12 A\\n");
    csv_with_an_open_quote: csv("name,current\\n\\\"Fan,12 A\\n");
    csv_with_an_unknown_column: csv("name,curent\\nFan,12 A\\n");
    csv_without_units: csv("name,current\\nFan,12\\n");
    misspelt_in_an_option: shaft("[[option]]\nname = \"a\"\nset = { lenght = \"1 m\" }");
    kept_and_rejected: shaft("[[option]]\nname = \"a\"\nset = { length = \"1 m\" }\nkept = true\nrejected = true");
    no_such_units: "format = 1\nunits = \"feet\"\n";
    no_such_csv: "format = 1\n[measured]\nloads = { csv = \"lods.csv\" }\n";
    wrong_cell: "format = 1\n[measured]\nloads = { csv = \"wrong.csv\" }\n[[run]]\nscript = \"loads\"\n";
    wrong_row: "format = 1\n[[run]]\nscript = \"loads\"\n[[measured.loads]]\nname = \"Fan\"\ncurrent = \"12 A\"\n[[measured.loads]]\nname = \"Horn\"\ncurrent = 5\n";
    unknown_column: "format = 1\n[[run]]\nscript = \"loads\"\n[[measured.loads]]\nname = \"Fan\"\ncurent = \"12 A\"\n";
    no_such_choice: "format = 1\n[chosen]\nmaterial = \"steal\"\n[[run]]\nscript = \"choices\"\n";
    half_a_bolt: "format = 1\n[chosen]\nbolts = 2.5\n[[run]]\nscript = \"choices\"\n";
}
