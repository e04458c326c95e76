//! What would settle a check, and what to do next at the car.

use super::finding::{Finding, worst_first};
use super::readings;
use super::sheet::Sheet;
use super::written::{self, style};
use crate::outcome::{Input, Origin};
use crate::study::{Advice, Verdict};

/// A share below this is not worth a word.
const WORTH_NAMING: f64 = 0.02;
/// How many readings a verdict is said to rest on.
const NAMED: usize = 3;

/// `length 71 in 100, wall 20`: by input, largest first; nothing where no reading has a ±.
pub(super) fn rests_on(finding: Finding<'_>) -> Option<String> {
    let mut by_input: Vec<(&str, f64)> = Vec::new();
    for (address, share) in &finding.judged.rests_on {
        let name = name_of(address);
        match by_input.iter_mut().find(|(known, _)| *known == name) {
            Some((_, sum)) => *sum += share,
            None => by_input.push((name, *share)),
        }
    }
    by_input.sort_by(|a, b| b.1.total_cmp(&a.1));
    by_input.retain(|(_, share)| *share >= WORTH_NAMING);
    let named = by_input.iter().take(NAMED).enumerate().map(|(nth, (name, share))| {
        let unit = if nth == 0 { " in 100" } else { "" };
        format!("{name} {:.0}{unit}", share * 100.0)
    });
    let named: Vec<String> = named.collect();
    (!named.is_empty()).then(|| format!("rests on {}", named.join(", ")))
}

/// The input that an address belongs to: `front_joint` of `front_joint.x`.
fn name_of(address: &str) -> &str {
    address.split(['.', '[']).next().unwrap_or(address)
}

/// What would settle an unsure check.
pub(super) fn settle(sheet: &Sheet<'_>, finding: Finding<'_>) -> Option<String> {
    Some(match finding.judged.advice.as_ref()? {
        Advice::Again { reading, from, to } => {
            let (from, to) = widths(sheet, reading, *from, *to)?;
            format!("{reading} to ± {to} instead of ± {from} would settle it")
        }
        Advice::AllAgain { factor } => format!(
            "every reading to {} of its ± would settle it",
            match factor {
                f if *f > 0.4 => "half",
                f if *f > 0.2 => "a quarter",
                f if *f > 0.05 => "a tenth",
                _ => "a thirtieth",
            }
        ),
        Advice::Move => "better readings will not settle it: something has to change".to_owned(),
    })
}

fn widths(sheet: &Sheet<'_>, address: &str, from: f64, to: f64) -> Option<(String, String)> {
    let input = input_of(sheet, address)?;
    let amount = readings::first_amount(&input.value)?;
    let style = style(amount, sheet.system);
    Some((
        written::width(&style, from, amount.si),
        written::width_to_aim_at(&style, to, amount.si),
    ))
}

fn input_of<'a>(sheet: &'a Sheet<'_>, address: &str) -> Option<&'a Input> {
    let mut inputs = sheet.runs.iter().flat_map(|run| &run.outcome.inputs);
    inputs.find(|input| input.parts.iter().any(|part| part.address == address) || input.name == address)
}

/// What to do next at the car, in the order of what it settles.
pub(super) fn next(sheet: &Sheet<'_>) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut add = |line: String| {
        if !lines.contains(&line) {
            lines.push(line);
        }
    };
    // What is only preferred sends nobody back to the car.
    for finding in worst_first(sheet).into_iter().filter(|finding| finding.decides()) {
        if let (Verdict::Unsure, Some(Advice::Again { reading, to, from })) =
            (finding.judged.verdict, &finding.judged.advice)
            && let (Some((_, to)), Some(input)) = (widths(sheet, reading, *from, *to), input_of(sheet, reading))
        {
            add(format!("measure {reading} again, to ± {to}{}", how(input, sheet)));
        }
    }
    for finding in worst_first(sheet) {
        for example in &finding.judged.examples {
            if let Some(input) = input_of(sheet, example).filter(|input| input.origin == Origin::Example) {
                add(format!("measure {example}{}", how(input, sheet)));
            }
        }
    }
    lines
}

/// `: Tube wall; micrometer at a cut end, three places`.
fn how(input: &Input, sheet: &Sheet<'_>) -> String {
    let label = input.label.as_ref().map(|label| written::phrase(label, sheet.system));
    let how = input.how.as_ref().map(|how| written::phrase(how, sheet.system));
    let words: Vec<String> = [label, how].into_iter().flatten().collect();
    if words.is_empty() {
        String::new()
    } else {
        format!(": {}", words.join("; "))
    }
}
