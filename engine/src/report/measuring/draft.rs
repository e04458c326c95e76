//! A new job file: its runs with their links, and a remark for every reading that waits to be measured.

use super::super::layout::wrapped;
use super::super::{readings, written};
use super::example::example;
use super::groups::{Kind, Measuring};
use super::remarks;
use crate::job::{Entry, Wanted, commented};
use crate::outcome::Phrase;
use crate::quantity::text::System;

/// Columns of a remark's words.
const WORDS: usize = 96;

/// What a new job is made of.
#[derive(Clone, Debug)]
pub struct Draft<'a> {
    /// Its file, as somebody names it on the command line.
    pub file: String,
    /// What it is called.
    pub title: String,
    /// Its units.
    pub system: System,
    /// Its runs, in order.
    pub runs: Vec<DraftRun<'a>>,
    /// What they ask for.
    pub wanted: &'a [Wanted],
}

/// A run of a new job.
#[derive(Clone, Debug)]
pub struct DraftRun<'a> {
    /// Its name.
    pub name: String,
    /// Its script.
    pub script: String,
    /// Inputs that take a step of an earlier run.
    pub links: Vec<DraftLink<'a>>,
}

/// A link of a new job.
#[derive(Clone, Debug)]
pub struct DraftLink<'a> {
    /// The input's name.
    pub name: &'a str,
    /// What the input is.
    pub label: Option<&'a Phrase>,
    /// The run that works it out.
    pub run: String,
    /// Its step.
    pub step: &'a str,
    /// What that step is, where it says something else than the input: then the link is a remark, and somebody has to look.
    pub doubtful: Option<&'a Phrase>,
}

/// The text of a new job file.
#[must_use]
pub fn draft(draft: &Draft<'_>) -> String {
    let units = match draft.system {
        System::Inch => "inch",
        System::Metric => "metric",
    };
    let mut text = head(&draft.file);
    text.push_str(&format!(
        "format = 1\ntitle = {}\nunits = \"{units}\"\n",
        toml(&draft.title)
    ));
    let sheet = Measuring {
        title: draft.title.clone(),
        about: String::new(),
        wanted: draft.wanted,
        cautions: &[],
        sketches: &[],
        system: draft.system,
        in_job: true,
    };
    let groups = sheet.groups();
    for (kind, section, about) in [
        (Kind::Measured, "measured", MEASURED),
        (Kind::Decided, "chosen", CHOSEN),
    ] {
        text.push_str(&format!("\n{}[{section}]\n", remark(0, about)));
        let parts = groups
            .iter()
            .filter(|group| group.kind == kind)
            .flat_map(|group| &group.parts);
        for part in parts {
            text.push_str(&format!("\n# ---- {}\n", part.heading));
            for (_, wanted) in &part.readings {
                text.push_str(&waiting(wanted, draft.system));
            }
        }
    }
    text.push_str(&format!("\n{}", remark(0, RUNS)));
    for (number, run) in draft.runs.iter().enumerate() {
        text.push_str(&of_run(run, number == 0, draft.system));
    }
    text
}

const MEASURED: &str = "What was measured. A reading feeds every run that has an input of its name; one for a single \
                        run stands under [measured.\"NAME OF THE RUN\"]. Without a ± the script's usual one counts.";
const CHOSEN: &str = "What was decided, or read off a plate. What the scripts take as common practice may be changed \
                      here too: `crankline sheet` lists it.";
const RUNS: &str = "The calculations, from the first to the last. A link (`from`) takes what an earlier run works out.";

fn head(file: &str) -> String {
    let file = if file.contains(char::is_whitespace) {
        format!("\"{file}\"")
    } else {
        file.to_owned()
    };
    let purpose = format!(
        "The record of one car: what was measured and chosen, and the calculations on it. A calculation aid; it does not \
         approve a vehicle.\n\nA line that begins with # is a remark. The values in remarks are examples of the scripts, \
         not this car's: nobody has measured them. To enter a reading, take the # before its name away and write your own \
         value with its unit and its ±; or let the program ask for one after the other:\n\
         \n  crankline job ask {file}\n  crankline job missing {file}\n  crankline sheet {file}\n  crankline run {file}\n\n"
    );
    let mut text = String::new();
    for line in purpose.lines() {
        match line.trim_start() {
            "" => text.push_str("#\n"),
            command if line.starts_with("  ") => text.push_str(&format!("#   {command}\n")),
            words => text.push_str(&remark(0, words)),
        }
    }
    text.trim_end_matches("#\n").to_owned()
}

/// What waits for a reading: its label, how it is measured, its example.
fn waiting(wanted: &Wanted, system: System) -> String {
    let mut text = format!("\n{}", remark(0, &readings::label(&wanted.input, system)));
    let users = remarks::users(wanted).filter(|_| wanted.uses.len() > 1);
    let said = [
        remarks::how(wanted, system),
        remarks::all(wanted, system),
        users.map(|runs| format!("for {runs}")),
    ];
    for said in said.into_iter().flatten() {
        text.push_str(&remark(4, &said));
    }
    let value = example(&wanted.input, system).toml();
    text.push_str(&commented(&wanted.name, &value));
    text.push('\n');
    text
}

fn of_run(run: &DraftRun<'_>, is_first: bool, system: System) -> String {
    let gap = if is_first { "" } else { "\n" };
    let mut text = format!(
        "{gap}[[run]]\nscript = {}\nname = {}\n",
        toml(&run.script),
        toml(&run.name)
    );
    if run.links.is_empty() {
        return text;
    }
    text.push_str("[run.from]\n");
    for link in &run.links {
        let label = link.label.map(|label| written::phrase(label, system));
        let label = label.unwrap_or_else(|| link.name.to_owned());
        let target = toml(&format!("{}: {}", link.run, link.step));
        match link.doubtful {
            None => {
                text.push_str(&remark(0, &format!("{label}: as \"{}\" works it out.", link.run)));
                text.push_str(&format!("{} = {target}\n", link.name));
            }
            Some(other) => {
                let other = written::phrase(other, system);
                let told = format!(
                    "{label}: \"{}\" has a step of that name, {other}. Is it the same? Then:",
                    link.run
                );
                text.push_str(&remark(0, &told));
                text.push_str(&format!("{}\n", commented(link.name, &target)));
            }
        }
    }
    text
}

fn toml(text: &str) -> String {
    Entry::Text(text.to_owned()).toml()
}

/// Words as remarks of a file.
fn remark(indent: usize, words: &str) -> String {
    let indent = " ".repeat(indent);
    let lines = wrapped(words, WORDS).into_iter();
    lines.map(|line| format!("# {indent}{line}\n")).collect()
}
