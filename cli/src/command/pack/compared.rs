//! Compared scripts, for the screen and for programs.

use crate::listing::in_margin;
use crankline_engine::pack::{ChangedLine, Moved};
use crankline_engine::report::{AID, plain, short_digest};
use serde_json::{Value, json};

/// Where words beside a margin begin.
const COLUMN: usize = 10;

const WORSE: &str =
    "a verdict got worse, what judged is gone or judges no longer, or a worked example does not come out";
const UNSEEN: &str = "no worked example shows what these lines change: look at the scripts that import it";

/// A script and what it was.
#[derive(Default)]
pub(super) struct ComparedScript {
    pub(super) name: String,
    /// What it was; none where it is new.
    pub(super) before: Option<Which>,
    /// What it is; none where it is gone.
    pub(super) now: Option<Which>,
    /// What else there is to be said of it.
    pub(super) note: Option<String>,
    /// Whether it could not be compared.
    pub(super) is_undone: bool,
    pub(super) lines: Vec<ChangedLine>,
    pub(super) cases: Vec<ComparedCase>,
}

/// Which script exactly.
pub(super) struct Which {
    pub(super) script: String,
    pub(super) version: String,
    /// The file or the folder that its pack lies in.
    pub(super) place: String,
    pub(super) sha256: String,
}

/// A worked example run on both.
#[derive(Default)]
pub(super) struct ComparedCase {
    pub(super) title: String,
    pub(super) moved: Vec<Moved>,
    /// Why it could not be calculated before, and now.
    pub(super) error_before: Option<String>,
    pub(super) error: Option<String>,
    /// What it expects and does not get.
    pub(super) broken: Vec<String>,
}

impl ComparedScript {
    /// Whether somebody who relies on it has to look.
    pub(super) fn got_worse(&self) -> bool {
        let is_gone = self.now.is_none();
        is_gone || self.cases.iter().any(ComparedCase::got_worse)
    }

    /// Whether it could not be compared.
    pub(super) fn is_undone(&self) -> bool {
        self.is_undone
    }

    pub(super) fn of(name: String) -> Self {
        Self {
            name,
            ..Self::default()
        }
    }

    /// What was before and what is now, each with the word that stands beside it and the place of its pack.
    fn heads(&self) -> Vec<(&'static str, String, Option<String>)> {
        let head = |word, which: &Option<Which>, none: &str| match which {
            Some(which) => (word, which.words(), Some(which.place.clone())),
            None => (word, none.to_owned(), None),
        };
        let mut heads = vec![
            head("BEFORE", &self.before, "not there"),
            head("NOW", &self.now, "gone"),
        ];
        if self.is_undone {
            heads.clear();
        }
        heads.extend(self.note.iter().map(|note| ("FROM", note.clone(), None)));
        heads
    }

    /// Whether lines changed, and nothing shows what they change.
    fn is_unseen(&self) -> bool {
        !self.lines.is_empty() && self.cases.is_empty()
    }
}

impl Which {
    fn words(&self) -> String {
        let digest = short_digest(&self.sha256);
        format!("{} {}, SHA-256 {digest}…", self.script, self.version)
    }

    fn json(&self) -> Value {
        json!({"script": self.script, "version": self.version, "place": self.place, "sha256": self.sha256})
    }
}

impl ComparedCase {
    /// What differs, a line each; what it expects and does not get first.
    fn lines(&self) -> Vec<String> {
        let broken = self.broken.iter().map(|words| format!("does not come out: {words}"));
        let mut lines: Vec<String> = broken.collect();
        if self.error_before != self.error {
            let said = |error: &Option<String>| error.clone().unwrap_or_else(|| "it can be calculated".to_owned());
            lines.push(format!(
                "now: {}; before: {}",
                said(&self.error),
                said(&self.error_before)
            ));
        } else {
            lines.extend(self.moved.iter().map(words));
        }
        lines
    }

    /// Whether a verdict got worse, or what an example expects does not come out.
    fn got_worse(&self) -> bool {
        !self.broken.is_empty() || self.moved.iter().any(|moved| moved.worse)
    }
}

fn words(moved: &Moved) -> String {
    let what = &moved.what;
    match (&moved.before, &moved.after) {
        (Some(before), Some(after)) => {
            let part = moved.part.map(|part| match part * 100.0 {
                percent if percent.abs() >= 0.01 => format!(" ({percent:+.2} %)"),
                _ => format!(" ({part:+.1e} of it)"),
            });
            let worse = if moved.worse { "; worse" } else { "" };
            format!("{what}: {after}, before {before}{}{worse}", part.unwrap_or_default())
        }
        (Some(before), None) => format!("{what}: gone, before {before}"),
        (None, after) => format!("{what}: {}, new", after.as_deref().unwrap_or("none")),
    }
}

pub(super) fn as_text(scripts: &[ComparedScript]) -> String {
    let mut text = format!("{AID}\n");
    for script in scripts {
        text.push_str(&format!("\n{}\n", script.name));
        for (word, words, place) in script.heads() {
            text.push_str(&in_margin(COLUMN, word, &words));
            if let Some(place) = place {
                // Whole, however long: it may be copied.
                text.push_str(&format!("{:COLUMN$}{place}\n", ""));
            }
        }
        for (nth, line) in script.lines.iter().enumerate() {
            let word = if nth == 0 { "LINES" } else { "" };
            let line = match line {
                ChangedLine::Gone(number, line) => format!("{number:>4} - {line}"),
                ChangedLine::Come(number, line) => format!("{number:>4} + {line}"),
            };
            // Lines of a script stay as they are, however long.
            text.push_str(format!("  {word:<width$}{line}", width = COLUMN - 2).trim_end());
            text.push('\n');
        }
        if script.is_unseen() {
            text.push_str(&in_margin(COLUMN, "RESULTS", UNSEEN));
        }
        let mut same = 0;
        for case in &script.cases {
            let lines = case.lines();
            if lines.is_empty() {
                same += 1;
                continue;
            }
            text.push_str(&in_margin(COLUMN, "RESULTS", &format!("\"{}\"", case.title)));
            for line in lines {
                text.push_str(&in_margin(COLUMN, "", &line));
            }
        }
        if !script.cases.is_empty() {
            let all = script.cases.len();
            let words = format!("{same} of {all} worked examples give the same, to the last bit");
            text.push_str(&in_margin(COLUMN, "SAME", &words));
        }
    }
    if scripts.iter().any(ComparedScript::got_worse) {
        text.push('\n');
        text.push_str(&in_margin(COLUMN, "WORSE", WORSE));
    }
    text
}

/// The same as Markdown.
pub(super) fn as_markdown(scripts: &[ComparedScript]) -> String {
    let mut text = format!("# Packs compared\n\n*{AID}*\n");
    for script in scripts {
        text.push_str(&format!("\n## {}\n\n", plain(&script.name)));
        for (word, words, place) in script.heads() {
            let place = place.map(|place| format!(", {}", plain(&place))).unwrap_or_default();
            text.push_str(&format!("- **{word}** {}{place}\n", plain(&words)));
        }
        if !script.lines.is_empty() {
            text.push_str("\n```diff\n");
            for line in &script.lines {
                let (sign, line) = match line {
                    ChangedLine::Gone(_, line) => ('-', line),
                    ChangedLine::Come(_, line) => ('+', line),
                };
                // Nothing in a fence may close it.
                text.push_str(&format!("{sign} {}\n", line.replace('`', "'")));
            }
            text.push_str("```\n");
        }
        if script.is_unseen() {
            text.push_str(&format!("\n{UNSEEN}.\n"));
        }
        let changed = script.cases.iter().map(|case| (case, case.lines()));
        let changed: Vec<_> = changed.filter(|(_, lines)| !lines.is_empty()).collect();
        for (case, lines) in &changed {
            text.push_str(&format!("\n**{}**\n\n", plain(&case.title)));
            for line in lines {
                text.push_str(&format!("- {}\n", plain(line)));
            }
        }
        if !script.cases.is_empty() {
            let all = script.cases.len();
            let same = all - changed.len();
            text.push_str(&format!(
                "\n{same} of {all} worked examples give the same, to the last bit.\n"
            ));
        }
    }
    if scripts.iter().any(ComparedScript::got_worse) {
        text.push_str(&format!("\n**Worse:** {WORSE}.\n"));
    }
    text
}

pub(super) fn as_json(scripts: &[ComparedScript]) -> Value {
    let line = |line: &ChangedLine| match line {
        ChangedLine::Gone(number, text) => json!({"gone": number, "text": text}),
        ChangedLine::Come(number, text) => json!({"come": number, "text": text}),
    };
    let moved = |moved: &Moved| json!({"what": moved.what, "before": moved.before, "after": moved.after, "part": moved.part, "worse": moved.worse});
    let case = |case: &ComparedCase| {
        json!({
            "title": case.title,
            "moved": case.moved.iter().map(moved).collect::<Vec<_>>(),
            "error_before": case.error_before,
            "error": case.error,
            "broken": case.broken,
        })
    };
    let script = |script: &ComparedScript| {
        json!({
            "script": script.name,
            "before": script.before.as_ref().map(Which::json),
            "now": script.now.as_ref().map(Which::json),
            "note": script.note,
            "compared": !script.is_undone,
            "lines": script.lines.iter().map(line).collect::<Vec<_>>(),
            "cases": script.cases.iter().map(case).collect::<Vec<_>>(),
        })
    };
    let got_worse = scripts.iter().any(ComparedScript::got_worse);
    json!({"format": 1, "got_worse": got_worse, "scripts": scripts.iter().map(script).collect::<Vec<_>>()})
}
