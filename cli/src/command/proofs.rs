//! What `prove` found, in text, Markdown and JSON.

use super::prove::Proved;
use crankline_engine::report::{AID, plain, wrapped};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// Columns of a message below a case.
const WIDTH: usize = 68;

/// All scripts that were proved.
pub(super) struct Proofs {
    pub(super) scripts: Vec<ProvedScript>,
    /// Whether everything was asked for, and nobody wants to read all that comes out.
    pub(super) briefly: bool,
}

/// A script with its worked examples.
pub(super) struct ProvedScript {
    pub(super) name: String,
    pub(super) cases: Vec<Proved>,
    /// Why nothing can be said of its worked examples: it does not run on its own, or they cannot be read.
    pub(super) refused: Option<String>,
    /// Whether it states something: what states nothing needs no worked example.
    pub(super) states_something: bool,
}

impl ProvedScript {
    pub(super) fn is_sound(&self) -> bool {
        self.refused.is_none() && self.cases.iter().all(|case| case.differences.is_empty())
    }

    /// Whether it states something, and no worked example says what comes out of it.
    fn lacks_cases(&self) -> bool {
        self.cases.is_empty() && self.states_something && self.refused.is_none()
    }
}

impl Proofs {
    pub(super) fn are_sound(&self) -> bool {
        self.scripts.iter().all(ProvedScript::is_sound)
    }

    fn cases(&self) -> impl Iterator<Item = (&ProvedScript, &Proved)> {
        let scripts = self.scripts.iter();
        scripts.flat_map(|script| script.cases.iter().map(move |case| (script, case)))
    }

    /// How many worked examples come out, of how many.
    fn counts(&self) -> (usize, usize) {
        let same = self.cases().filter(|(_, case)| case.differences.is_empty());
        (same.count(), self.cases().count())
    }

    fn lacking(&self) -> Vec<&str> {
        let lacking = self.scripts.iter().filter(|script| script.lacks_cases());
        lacking.map(|script| script.name.as_str()).collect()
    }

    fn wrong(&self) -> Vec<&str> {
        let wrong = self.scripts.iter().filter(|script| !script.is_sound());
        wrong.map(|script| script.name.as_str()).collect()
    }

    /// What is sound first, briefly where everything was asked for; what is not stands at the end, where it is seen.
    pub(super) fn text(&self) -> String {
        let mut text = format!("{AID}\n");
        let (sound, wrong): (Vec<_>, Vec<_>) = self.scripts.iter().partition(|script| script.is_sound());
        if self.briefly && !sound.is_empty() {
            text.push('\n');
        }
        for script in sound {
            match (self.briefly, script.cases.len()) {
                (_, 0) if !script.states_something => {}
                (true, 0) => line(&mut text, "none", &script.name),
                (true, 1) => line(&mut text, "same", &format!("{}, 1 worked example", script.name)),
                (true, count) => line(&mut text, "same", &format!("{}, {count} worked examples", script.name)),
                (false, _) => in_full(&mut text, script),
            }
        }
        wrong.into_iter().for_each(|script| in_full(&mut text, script));
        let _ = match self.counts() {
            (_, 0) => writeln!(text, "\nThere are no worked examples."),
            (1, 1) => writeln!(text, "\nThe one worked example comes out."),
            (_, 1) => writeln!(text, "\nThe one worked example does not come out."),
            (same, all) if same == all => writeln!(text, "\nAll {all} worked examples come out."),
            (same, all) => writeln!(text, "\n{same} of {all} worked examples come out."),
        };
        for (word, names) in [("WRONG", self.wrong()), ("NONE", self.lacking())] {
            let words = match word {
                "NONE" => format!("no worked example: {}", names.join(", ")),
                _ => names.join(", "),
            };
            // One script by itself has been told above.
            if !names.is_empty() && self.scripts.len() > 1 {
                line(&mut text, word, &words);
            }
        }
        text
    }

    pub(super) fn markdown(&self) -> String {
        let (same, all) = self.counts();
        let mut text = format!(
            "# Worked examples\n\n*{AID}*\n\n{same} of {all} come out.\n\n| Script | Worked example | Source | Comes out |\n\
             |---|---|---|---|\n"
        );
        for (script, case) in self.cases() {
            let differences: Vec<String> = case.differences.iter().map(|words| plain(words)).collect();
            let came = match differences.as_slice() {
                [] => "yes".to_owned(),
                differences => format!("**no**: {}", differences.join("; ")),
            };
            let source = case.source.as_deref().unwrap_or_default();
            let cells = [script.name.as_str(), &case.title, source].map(plain);
            let _ = writeln!(text, "| {} | {came} |", cells.join(" | "));
        }
        for script in &self.scripts {
            let name = plain(&script.name);
            if let Some(refused) = &script.refused {
                let _ = writeln!(text, "\n**{name}**: {}", plain(refused));
            }
            if script.lacks_cases() {
                let _ = writeln!(text, "\n{name} has no worked example.");
            }
        }
        text
    }

    pub(super) fn json(&self) -> Value {
        let cases = self.cases().map(|(script, case)| {
            json!({
                "script": script.name,
                "title": case.title,
                "source": case.source,
                "same": case.differences.is_empty(),
                "differences": case.differences,
            })
        });
        let refused = self.scripts.iter().filter_map(|script| {
            let message = script.refused.as_ref()?;
            Some(json!({"script": script.name, "message": message}))
        });
        json!({
            "format": 1,
            "cases": cases.collect::<Vec<_>>(),
            "without_cases": self.lacking(),
            "failing": refused.collect::<Vec<_>>(),
        })
    }
}

/// A script with each of its worked examples.
fn in_full(text: &mut String, script: &ProvedScript) {
    let _ = writeln!(text, "\n{}", script.name);
    if let Some(refused) = &script.refused {
        line(text, "FAILS", refused);
    }
    if script.lacks_cases() {
        line(text, "none", "no worked example says what comes out of it");
    }
    for case in &script.cases {
        let word = if case.differences.is_empty() { "same" } else { "DIFFERS" };
        let source = case.source.as_ref().map(|source| format!(" ({source})"));
        let title = format!("{}{}", case.title, source.unwrap_or_default());
        line(text, word, &title);
        case.differences.iter().for_each(|words| line(text, "", words));
    }
}

fn line(text: &mut String, word: &str, words: &str) {
    for (nth, line) in wrapped(words, WIDTH).into_iter().enumerate() {
        let word = if nth == 0 { word } else { "" };
        let _ = writeln!(text, "  {word:<10}{line}");
    }
}
