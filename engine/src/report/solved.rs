//! Where inputs have to be: each solution with what it does to the checks, for the screen, a folder, a program.

use super::compared::compared;
use super::finding::{Finding, of_run};
use super::json::{FORMAT, json as sheet_json, number_json};
use super::layout::Page;
use super::sheet::{AID, Paint, Sheet};
use super::written::{self, style, written_to};
use crate::outcome::Amount;
use crate::study::{Binding, Solution, Verdict};
use serde_json::{Map, Value, json};

/// All that is known of a search.
pub struct SolvedSheet<'a> {
    /// What was adjusted.
    pub adjusted: Vec<AdjustedInput>,
    /// What was wanted, a line each.
    pub wanted: Vec<String>,
    /// Steps that were to have a value: name, how it is written, the value wanted in SI units.
    pub targets: Vec<(String, Amount, f64)>,
    /// From how many places it was searched.
    pub starts: usize,
    /// How many checks depend on what was adjusted.
    pub checks: usize,
    /// How many of them are in some places only: another branch of a script has them.
    pub beside: usize,
    /// The solutions, the best first.
    pub ways: Vec<Way<'a>>,
    /// What was wanted is had at none: the one way comes nearest.
    pub nearest_only: bool,
    /// What is to be said beside it.
    pub remarks: Vec<String>,
}

/// An input that was adjusted.
#[derive(Clone, Debug)]
pub struct AdjustedInput {
    /// Its name, as it was asked for.
    pub name: String,
    /// Its first value, and how it is written.
    pub from: Amount,
    /// Its last value, SI units.
    pub to: f64,
}

/// A solution and the sheet of its runs.
pub struct Way<'a> {
    /// What the runs yield there.
    pub sheet: Sheet<'a>,
    /// The solution.
    pub solution: &'a Solution,
    /// Choices made, each with its input's name.
    pub chosen: Vec<(String, String)>,
    /// Whether it was moved to what exists.
    pub snapped: bool,
}

impl SolvedSheet<'_> {
    /// `mount_up = 3.5 mm down`, a line for each adjusted input.
    fn settings(&self, way: &Way<'_>) -> Vec<String> {
        let ranges = self.adjusted.iter().zip(&way.solution.at);
        let ranges = ranges.map(|(input, value)| format!("{} = {}", input.name, input.written(*value, &way.sheet)));
        let chosen = way.chosen.iter().map(|(name, value)| format!("{name} = {value}"));
        ranges.chain(chosen).collect()
    }
}

impl AdjustedInput {
    /// A value of it, to between a twentieth and a two-hundredth in a hundred of its range: nobody builds finer.
    fn written(&self, si: f64, sheet: &Sheet<'_>) -> String {
        written_to(&self.from, si, (self.to - self.from.si).abs(), sheet.system)
    }
}

impl Way<'_> {
    /// The checks that depend on what was adjusted.
    fn moved(&self) -> Vec<Finding<'_>> {
        let mut findings: Vec<Finding<'_>> = self
            .solution
            .moved
            .iter()
            .filter_map(|(run, check)| of_run(&self.sheet, *run).into_iter().nth(*check))
            .collect();
        findings.sort_by(|a, b| {
            let rank = |finding: &Finding<'_>| finding.judged.verdict;
            rank(a).cmp(&rank(b)).then(a.judged.chance.total_cmp(&b.judged.chance))
        });
        findings
    }

    /// The worst of them.
    fn verdict(&self) -> Verdict {
        let verdicts = self.moved().into_iter().map(|finding| finding.judged.verdict);
        verdicts.min().unwrap_or(Verdict::Holds)
    }

    /// What holds it there, in words.
    fn binding(&self, solved: &SolvedSheet<'_>) -> Vec<String> {
        let words = |binding: &Binding| match binding {
            Binding::Check { run, check } => {
                let finding = of_run(&self.sheet, *run).into_iter().nth(*check)?;
                Some(self.named(finding))
            }
            Binding::Lowest(number) => Some(format!("{} at its first value", solved.adjusted.get(*number)?.name)),
            Binding::Highest(number) => Some(format!("{} at its last value", solved.adjusted.get(*number)?.name)),
        };
        self.solution.binding.iter().filter_map(words).collect()
    }

    /// A check with its run.
    fn named(&self, finding: Finding<'_>) -> String {
        let label = finding.label(&self.sheet);
        match self.sheet.runs.get(finding.run) {
            Some(run) if self.sheet.in_job => format!("{label} ({})", run.name),
            _ => label,
        }
    }
}

/// A word for each way: verdicts have words of their own.
fn word(way: &Way<'_>, nearest: bool) -> &'static str {
    match way.verdict() {
        _ if nearest => "NEAREST",
        Verdict::Holds => "HOLDS",
        Verdict::Fails => "FAILS",
        Verdict::Unsure => "UNSURE",
        Verdict::Untrusted => "UNTRUSTED",
        Verdict::Unmeasured => "EXAMPLE",
    }
}

/// For the screen.
#[must_use]
pub fn solved_text(solved: &SolvedSheet<'_>, paint: Paint) -> String {
    let mut page = Page::default();
    let Some(first) = solved.ways.first() else {
        return String::new();
    };
    page.line(&first.sheet.title);
    page.block(0, &first.sheet.about);
    page.line(AID);
    page.gap();
    marked_lines(&mut page, "ADJUSTED", &adjusted_lines(solved, &first.sheet));
    marked_lines(&mut page, "WANTED", &solved.wanted);
    page.marked("SEARCHED", "SEARCHED", &searched(solved));
    page.gap();
    if solved.nearest_only {
        page.marked(
            "NONE",
            "NONE",
            "nowhere in the ranges is what is wanted; this comes nearest:",
        );
        page.gap();
    }
    for (number, way) in solved.ways.iter().enumerate() {
        let word = word(way, solved.nearest_only);
        let shown = paint(way.verdict(), word);
        let number = if solved.ways.len() > 1 {
            format!("{}. ", number + 1)
        } else {
            String::new()
        };
        page.marked(word, &shown, &format!("{number}{}", solved.settings(way).join(", ")));
        for line in said(solved, way) {
            page.marked("", "", &line);
        }
        page.gap();
    }
    for remark in &solved.remarks {
        page.marked("NEXT", "NEXT", remark);
    }
    page.text
}

fn marked_lines(page: &mut Page, word: &str, lines: &[String]) {
    for (nth, line) in lines.iter().enumerate() {
        let word = if nth == 0 { word } else { "" };
        page.marked(word, word, line);
    }
}

fn adjusted_lines(solved: &SolvedSheet<'_>, sheet: &Sheet<'_>) -> Vec<String> {
    let lines = solved.adjusted.iter().map(|input| {
        format!(
            "{} from {} to {}",
            input.name,
            input.written(input.from.si, sheet),
            input.written(input.to, sheet)
        )
    });
    lines.collect()
}

fn searched(solved: &SolvedSheet<'_>) -> String {
    let places = match solved.starts {
        0 => "every combination".to_owned(),
        starts => format!("from {starts} places"),
    };
    let beside = match (solved.beside, solved.checks) {
        (0, _) => "",
        (1, 1) => ", in some places only",
        (beside, _) => &format!(", {beside} of them in some places only"),
    };
    match solved.checks {
        0 => format!("{places}; no check depends on what is adjusted"),
        1 => format!("{places}; 1 check depends on what is adjusted{beside}"),
        checks => format!("{places}; {checks} checks depend on what is adjusted{beside}"),
    }
}

/// What a way does, a line each.
fn said(solved: &SolvedSheet<'_>, way: &Way<'_>) -> Vec<String> {
    let findings = way.moved();
    let (good, bad): (Vec<Finding<'_>>, Vec<Finding<'_>>) = findings.into_iter().partition(|finding| finding.holds());
    let mut lines = Vec::new();
    if way.snapped {
        lines.push("as it can be had, checked again there".to_owned());
    }
    let missed = way.snapped || !way.solution.met;
    for ((name, amount, wanted), miss) in solved.targets.iter().zip(&way.solution.misses).filter(|_| missed) {
        let there = Amount {
            si: wanted + miss,
            ..amount.clone()
        };
        lines.push(format!("{name} = {}", written::amount(&there, way.sheet.system)));
    }
    if !bad.is_empty() {
        let verb = if bad.len() == 1 { "does" } else { "do" };
        lines.push(format!(
            "{} of its {} checks {verb} not hold:",
            bad.len(),
            bad.len() + good.len()
        ));
    } else if !good.is_empty() {
        lines.push(match good.len() {
            1 => "its one check holds".to_owned(),
            count => format!("all {count} of its checks hold"),
        });
    }
    for finding in &bad {
        let compared = compared(&way.sheet, *finding);
        let chance = match finding.judged.verdict {
            Verdict::Unsure => format!("; holds in {:.0} of 100", finding.judged.chance * 100.0),
            _ => String::new(),
        };
        lines.push(format!(
            "{}: {}, {}{chance}",
            way.named(*finding),
            compared.value,
            compared.limit
        ));
    }
    let worth_saying = |margin: &f64| *margin >= 0.0 || solved.nearest_only;
    if let Some(margin) = way.solution.margin.filter(worth_saying) {
        let binding = way.binding(solved);
        let by = if binding.is_empty() {
            String::new()
        } else {
            format!(": {}", binding.join("; "))
        };
        lines.push(format!("smallest margin {:.0} in 100 of its limit{by}", margin * 100.0));
    }
    let others = others(way);
    if !others.is_empty() {
        lines.push(format!("not touched by this: {others}"));
    }
    lines
}

/// `3 fail, 2 unsure`, among the checks that do not depend on what was adjusted.
fn others(way: &Way<'_>) -> String {
    let runs = way.sheet.shown().filter(|(_, run)| run.tries.is_none());
    let untouched = runs.flat_map(|(run, _)| {
        let findings = of_run(&way.sheet, run).into_iter().enumerate();
        findings.filter(move |(check, _)| !way.solution.moved.contains(&(run, *check)))
    });
    let rest: Vec<Finding<'_>> = untouched
        .map(|(_, finding)| finding)
        .filter(|finding| finding.decides())
        .collect();
    let count = |verdict, words: &str| {
        let count = rest.iter().filter(|finding| finding.judged.verdict == verdict).count();
        (count > 0).then(|| format!("{count} {words}"))
    };
    let counts = [
        count(Verdict::Fails, "fail"),
        count(Verdict::Untrusted, "not to be trusted"),
        count(Verdict::Unsure, "unsure"),
        count(Verdict::Unmeasured, "on an example"),
    ];
    counts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// For a folder.
#[must_use]
pub fn solved_markdown(solved: &SolvedSheet<'_>) -> String {
    let Some(first) = solved.ways.first() else {
        return String::new();
    };
    let mut text = format!("# {}\n\n{AID}\n\n", first.sheet.title);
    let mut list = |head: &str, lines: &[String]| {
        text.push_str(&format!("**{head}:** {}\n\n", lines.join("; ")));
    };
    list("Adjusted", &adjusted_lines(solved, &first.sheet));
    list("Wanted", &solved.wanted);
    list("Searched", &[searched(solved)]);
    if solved.nearest_only {
        text.push_str("Nowhere in the ranges is what is wanted; this comes nearest.\n\n");
    }
    for (number, way) in solved.ways.iter().enumerate() {
        let settings = solved.settings(way).join(", ");
        text.push_str(&format!(
            "## {}. {}: {settings}\n\n",
            number + 1,
            word(way, solved.nearest_only)
        ));
        for line in said(solved, way) {
            text.push_str(&format!("- {line}\n"));
        }
        text.push('\n');
    }
    for remark in &solved.remarks {
        text.push_str(&format!("Next: {remark}\n"));
    }
    text
}

/// For a program: `{"solutions": [{"adjusted": {…}, "margin": …, "outcome": {…}}], "binding": […]}`.
#[must_use]
pub fn solved_json(solved: &SolvedSheet<'_>) -> Value {
    let solutions: Vec<Value> = solved.ways.iter().map(|way| of_way(solved, way)).collect();
    let binding = solved.ways.first().map(|way| way.binding(solved)).unwrap_or_default();
    json!({
        "format": FORMAT,
        "solutions": if solved.nearest_only { Vec::new() } else { solutions.clone() },
        "nearest": if solved.nearest_only { solutions } else { Vec::new() },
        "binding": binding,
        "wanted": solved.wanted,
        "starts": solved.starts,
        "checks": solved.checks,
        "checks_in_some_places": solved.beside,
    })
}

fn of_way(solved: &SolvedSheet<'_>, way: &Way<'_>) -> Value {
    let mut adjusted = Map::new();
    for (input, value) in solved.adjusted.iter().zip(&way.solution.at) {
        let amount = Amount {
            si: *value,
            ..input.from.clone()
        };
        adjusted.insert(input.name.clone(), number_json(&amount, way.sheet.system));
    }
    for (name, value) in &way.chosen {
        adjusted.insert(name.clone(), json!(value));
    }
    json!({
        "adjusted": adjusted,
        "margin": way.solution.margin,
        "met": way.solution.met,
        "verdict": way.verdict().word(),
        "binding": way.binding(solved),
        "snapped": way.snapped,
        "outcome": sheet_json(&way.sheet),
    })
}

/// A value of an adjusted input as a job file takes it: `-7.6 mm`, to a ten-thousandth of its range.
#[must_use]
pub fn setting_text(input: &AdjustedInput, si: f64, sheet: &Sheet<'_>) -> String {
    let plain = Amount {
        signs: None,
        ..input.from.clone()
    };
    let style = style(&plain, sheet.system);
    let number = style.number(si, Some((input.to - input.from.si).abs() / 5_000.0));
    match style.shown_unit() {
        unit if unit.symbol().is_empty() => number,
        unit => format!("{number} {}", unit_name(&unit)),
    }
}

/// A unit as a reading takes it.
fn unit_name(unit: &crate::quantity::units::WrittenUnit) -> String {
    match unit {
        crate::quantity::units::WrittenUnit::Single(unit) => unit.name.to_owned(),
        other => other.symbol().to_owned(),
    }
}
