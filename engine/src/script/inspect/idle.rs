//! What is given and never used, and lines whose result goes nowhere.

use super::super::grammar::Keyword;
use super::super::source::Script;
use super::graph::{Graph, is_name, word};
use super::inspection::Finding;
use crate::diagnostic::Refusal;
use std::collections::BTreeMap;

/// Looks at names and lines.
pub(super) fn look(script: &Script, graph: &Graph, found: &mut Vec<Finding>) {
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    for at in (0..script.lexemes.len()).filter(|at| is_name(script, *at)) {
        *times.entry(word(script, at)).or_default() += 1;
    }
    // A name that stands once in a script stands where it is given.
    for at in 0..script.lexemes.len() {
        let Some(what) = declaration(script, at) else { continue };
        let name = word(script, at + 1);
        if times.get(name) == Some(&1) && !name.starts_with('_') {
            let refusal = Refusal::new("unused", format!("the {what} `{name}` is never used"));
            let hint = match what {
                "input" | "assumption" => "use it, or take it out: nobody should measure for nothing",
                _ => "use it, or take it out; a name that begins with `_` is kept for what it refuses",
            };
            found.push(Finding::at(refusal.hint(hint), script.place_at(at + 1)));
        }
    }
    for statement in &graph.statements {
        if goes_nowhere(script, &statement.words) {
            let written = script.written(&(statement.words.start..statement.words.end.saturating_sub(1)));
            let refusal = Refusal::new("unused", format!("what `{written}` works out goes nowhere"));
            let hint = "step NAME = … shows it, let NAME = … keeps it";
            found.push(Finding::at(refusal.hint(hint), script.place_at(statement.words.start)));
        }
    }
}

/// What a word declares, where the next word is its name.
fn declaration(script: &Script, at: usize) -> Option<&'static str> {
    let before = at.checked_sub(1).map_or("", |before| word(script, before));
    let starts = matches!(before, "" | ";" | "{" | "}");
    match word(script, at) {
        "input" if starts => Some("input"),
        "assume" if starts => Some("assumption"),
        "let" => Some("name"),
        // Of an import the name behind `as`; units stand behind that word too.
        "as" if word(script, at.checked_sub(2)?) == "import" => Some("imported script"),
        _ => None,
    }
}

/// An arithmetic line that neither gives nor calls nor changes anything.
fn goes_nowhere(script: &Script, words: &std::ops::Range<usize>) -> bool {
    const STARTS: [&str; 12] = [
        "let", "const", "fn", "private", "export", "import", "if", "for", "while", "loop", "do", "{",
    ];
    let first = word(script, words.start);
    let acts = |at: usize| matches!(word(script, at), "=" | "+=" | "-=" | "*=" | "/=" | "%=" | "**=" | "(");
    !STARTS.contains(&first)
        && Keyword::of(first).is_none()
        && words.len() > 1
        && !words.clone().any(acts)
        && word(script, words.end - 1) == ";"
}
