//! A look through scripts for a folder, in Markdown.

use super::looked::{Looked, LookedScript};
use super::words;
use crate::report::markdown::{line, paragraph, plain};
use crate::report::sheet::AID;
use crate::script::Finding;

/// The look as Markdown, of every script what it is made of too.
#[must_use]
pub fn inspected_markdown(looked: &Looked) -> String {
    let mut text = String::new();
    line(&mut text, &format!("# {}", plain(&words::title(looked))));
    paragraph(&mut text, &format!("*{AID}*"));
    findings(&mut text, &looked.findings, "");
    for script in &looked.scripts {
        let counts = words::counts(script.inspection.counts());
        paragraph(&mut text, &format!("## {}: {counts}", plain(&script.script.name)));
        findings(&mut text, &script.inspection.findings, &script.inspection.text.name);
        remarks(&mut text, script, looked);
    }
    text
}

fn findings(text: &mut String, findings: &[Finding], here: &str) {
    for finding in findings {
        let diagnostic = &finding.diagnostic;
        let message = plain(diagnostic.refusal.message());
        paragraph(text, &format!("**{}:** {message}.", words::word(finding)));
        for (nth, place) in diagnostic.places.iter().enumerate() {
            let way = if nth > 0 { "Reached from " } else { "In " };
            paragraph(text, &format!("{way}{}:", plain(&words::place(place, here))));
            if let Some([shown, mark]) = place.marked() {
                paragraph(text, "```text");
                // Nothing in a fence may close it.
                line(text, &shown.replace('`', "'"));
                line(text, &mark);
                line(text, "```");
            }
        }
        let hints = diagnostic.refusal.hints().iter().take(2);
        let more = hints.map(|hint| format!("try: {hint}")).chain(words::again(finding));
        for (nth, more) in more.enumerate() {
            if nth == 0 {
                text.push('\n');
            }
            line(text, &format!("- {}", plain(&more)));
        }
    }
}

fn remarks(text: &mut String, script: &LookedScript, looked: &Looked) {
    let mut all = words::remarks(script, looked.system);
    all.extend(words::gaps(script));
    all.push(("EXAMPLES", words::cases(script)));
    text.push('\n');
    for (word, remark) in all {
        line(text, &format!("- {}: {}", word.to_lowercase(), plain(&remark)));
    }
}
