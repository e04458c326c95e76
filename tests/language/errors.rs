//! Every error of the language as people see it. A file of `tests/suite` holds pieces, each after a line `//--- name`;
//! its snapshot holds each piece with its message. A piece whose name ends in `.rhai` is no case: the others may import it.

use super::check::{Shelf, run_in};
use crankline_engine::script::Library;
use std::fmt::Write;
use std::rc::Rc;

#[test]
fn read_well() {
    let mut wrong = Vec::new();
    insta::glob!("../suite", "*/*.rhai", |path| {
        let text = std::fs::read_to_string(path).unwrap();
        let pieces = pieces(&text);
        assert!(!pieces.is_empty(), "{} holds no piece", path.display());
        let shelf = pieces.iter().filter_map(|(name, text)| {
            let path = name.strip_suffix(".rhai")?;
            Some((path.to_owned(), text.clone()))
        });
        let mut library = Library::new(Rc::new(Shelf(shelf.collect())));
        library.stop_when(|| false);
        let mut shown = String::new();
        for (name, piece) in pieces.iter().filter(|(name, _)| !name.ends_with(".rhai")) {
            let message = match run_in(&library, piece) {
                Err(message) => message,
                Ok(_) => "it runs\n".to_owned(),
            };
            let plain = !message.contains("crankline") && !message.contains("i64") && message != "it runs\n";
            if !plain {
                wrong.push(format!("{}: {name}\n{piece}{message}", path.display()));
            }
            let source: String = piece
                .lines()
                .fold(String::new(), |all, line| all + "    " + line + "\n");
            writeln!(shown, "--- {name}\n{source}\n{message}").unwrap();
        }
        let settings = {
            let mut settings = insta::Settings::clone_current();
            settings.set_omit_expression(true);
            settings.set_prepend_module_to_snapshot(false);
            settings.set_snapshot_path(path.parent().unwrap());
            settings.remove_snapshot_suffix();
            settings.remove_input_file();
            settings
        };
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        settings.bind(|| insta::assert_snapshot!(name, shown));
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn pieces(text: &str) -> Vec<(String, String)> {
    let mut pieces: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        if let Some(name) = line.strip_prefix("//---") {
            pieces.push((name.trim().to_owned(), String::new()));
        } else if let Some((_, piece)) = pieces.last_mut() {
            piece.push_str(line);
            piece.push('\n');
        }
    }
    pieces
}
