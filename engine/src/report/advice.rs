//! What would settle a check, and what to do next at the car.

use super::finding::{Finding, worst_first};
use super::readings;
use super::sheet::Sheet;
use super::written::{self, style};
use crate::outcome::{Input, Origin};
use crate::study::{Advice, Verdict, half_width};

/// A share below this is not worth a word.
const WORTH_NAMING: f64 = 0.02;
/// How many readings a verdict is said to rest on.
const NAMED: usize = 3;

/// A margin of this many of its standard uncertainties: no reading can turn the verdict.
const BEYOND_DOUBT: f64 = 5.0;

/// `doubt from length 71 in 100, wall 20`: shares of the margin's variance by input, largest first; nothing where no
/// reading has a ±, or none can change anything.
pub(super) fn doubt_from(finding: Finding<'_>) -> Option<String> {
    let beyond = BEYOND_DOUBT * finding.judged.margin_uncertainty;
    if finding.judged.margin.is_some_and(|margin| margin.abs() > beyond) {
        return None;
    }
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
    (!named.is_empty()).then(|| format!("doubt from {}", named.join(", ")))
}

/// What somebody measures at once: `front_joint` of `front_joint.x`, the row `loads[Wipers]` of `loads[Wipers].current`.
pub(super) fn name_of(address: &str) -> &str {
    let end = match (address.find('['), address.find('.')) {
        // A row's name may have a point in it.
        (Some(open), dot) if dot.is_none_or(|dot| open < dot) => address.rfind(']').map(|close| close + 1),
        (_, dot) => dot,
    };
    end.and_then(|end| address.get(..end)).unwrap_or(address)
}

/// What would settle an unsure check.
pub(super) fn settle(sheet: &Sheet<'_>, finding: Finding<'_>) -> Option<String> {
    Some(match finding.judged.advice.as_ref()? {
        Advice::Again { reading, from, to } => {
            let again = Again::of(sheet, finding.run, reading, to / from)?;
            let Again { from, to, words, .. } = again;
            format!("{reading} to ± {to} instead of ± {from}{words} would settle it")
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

/// A reading to be taken again.
struct Again {
    /// Its ± now, as the reading's own is written.
    from: String,
    /// The ± to aim at.
    to: String,
    /// The same in SI units.
    aim: f64,
    /// What is said of that kind of ±.
    words: &'static str,
}

impl Again {
    /// To this fraction of its ±.
    fn of(sheet: &Sheet<'_>, run: usize, address: &str, fraction: f64) -> Option<Self> {
        let input = input_of(sheet, run, address)?;
        let part = input.parts.iter().find(|part| part.address == address)?;
        let amount = readings::amount_in(&input.value, part.slot)?;
        let style = style(amount, sheet.system);
        let now = half_width(&part.spread);
        let aim = now * fraction;
        Some(Self {
            from: written::half_width(&style, now, amount.si),
            to: written::half_width_to_aim_at(&style, aim, amount.si),
            aim,
            words: readings::certainty(&part.spread),
        })
    }
}

/// The input that an address stands in: of that run, else of another. A link has the name, but it is no reading.
fn input_of<'a>(sheet: &'a Sheet<'_>, run: usize, address: &str) -> Option<&'a Input> {
    let own = sheet.runs.get(run).into_iter();
    let inputs = own.chain(&sheet.runs).flat_map(|run| &run.outcome.inputs);
    let mut readings = inputs.filter(|input| input.taken_from.is_none());
    readings.find(|input| input.parts.iter().any(|part| part.address == address) || input.name == address)
}

/// What to do next at the car, in the order of what it settles.
pub(super) fn next(sheet: &Sheet<'_>) -> Vec<String> {
    let mut lines = again(sheet);
    for finding in worst_first(sheet) {
        for example in &finding.judged.examples {
            if let Some(input) = input_of(sheet, finding.run, example).filter(|input| input.origin == Origin::Example) {
                let line = format!("measure {example}{}", how(input, sheet));
                if !lines.contains(&line) {
                    lines.push(line);
                }
            }
        }
    }
    lines
}

/// Readings to be taken again, each once, to the smallest ± that a check asks of it.
fn again(sheet: &Sheet<'_>) -> Vec<String> {
    let mut found: Vec<(&str, usize, Again)> = Vec::new();
    // What is only preferred sends nobody back to the car.
    for finding in worst_first(sheet).into_iter().filter(|finding| finding.decides()) {
        let (Verdict::Unsure, Some(Advice::Again { reading, from, to })) =
            (finding.judged.verdict, &finding.judged.advice)
        else {
            continue;
        };
        let Some(again) = Again::of(sheet, finding.run, reading, to / from) else {
            continue;
        };
        match found.iter_mut().find(|(known, ..)| known == reading) {
            Some((_, _, known)) if again.aim < known.aim => *known = again,
            Some(_) => {}
            None => found.push((reading, finding.run, again)),
        }
    }
    let lines = found.iter().filter_map(|(reading, run, Again { to, words, .. })| {
        let input = input_of(sheet, *run, reading)?;
        Some(format!(
            "measure {reading} again, to ± {to}{words}{}",
            how(input, sheet)
        ))
    });
    lines.collect()
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
