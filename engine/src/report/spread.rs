//! What the ± does, in the long form: for the screen, a folder, a program.

use super::closing::closing;
use super::compared::compared;
use super::finding::{Finding, worst_first};
use super::head::head;
use super::headline::headline;
use super::json::{json as sheet_json, uncounted};
use super::layout::Page;
use super::sheet::{AID, Paint, Sheet};
use super::written::{self, style, with_interval};
use crate::outcome::{Amount, Step};
use crate::study::{Spread, SpreadNumber};
use serde_json::{Map, Value as Json, json};

/// Readings named for a number.
const NAMED: usize = 4;

/// For the screen. The sheet's verdicts are those of the spread: see [`Spread::judged`].
#[must_use]
pub fn spread_text(sheet: &Sheet<'_>, spread: &Spread, seed: u64, paint: Paint) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    page.marked("SAMPLES", "SAMPLES", &drawn(spread, seed));
    page.gap();
    let headline = headline(sheet);
    page.marked(headline.word, &paint(headline.verdict, headline.word), &headline.text);
    page.gap();
    for finding in worst_first(sheet) {
        let word = finding.word();
        page.marked(word, &paint(finding.judged.verdict, word), &check(sheet, finding));
    }
    page.gap();
    for (run, of_run) in sheet.shown() {
        let numbers: Vec<&SpreadNumber> = spread.numbers.iter().filter(|number| number.key.run == run).collect();
        if numbers.is_empty() {
            continue;
        }
        page.line(&of_run.name);
        page.gap();
        for number in numbers {
            let Some((step, amount)) = found(&of_run.outcome.steps, number) else {
                continue;
            };
            let label = step
                .label
                .as_ref()
                .map_or_else(String::new, |label| written::phrase(label, sheet.system));
            page.block(2, &format!("{}: {label}", named(number)));
            for line in said(sheet, number, &amount) {
                page.block(6, &line);
            }
        }
        page.gap();
    }
    closing(&mut page, sheet);
    page.text
}

fn drawn(spread: &Spread, seed: u64) -> String {
    let quantiles = match spread.numbers.iter().find(|number| !number.exact) {
        Some(_) => "; beyond 65536 the ends of intervals come from counts in narrow cells",
        None => "",
    };
    format!(
        "{} samples within the ± of all readings, seed {seed}{quantiles}",
        spread.samples
    )
}

/// `holds in 97.6 of 100: Shaft under drive (as found): 981 rad/s², at most 500 rad/s²`.
fn check(sheet: &Sheet<'_>, finding: Finding<'_>) -> String {
    let compared = compared(sheet, finding);
    let run = sheet.runs.get(finding.run).filter(|_| sheet.in_job);
    let run = run.map_or_else(String::new, |run| format!(" ({})", run.name));
    format!(
        "{} of 100: {}{run}: {}, {}",
        in_hundred(finding.judged.chance),
        finding.label(sheet),
        compared.value,
        compared.limit
    )
}

/// A chance in hundredths, with the figures that tell it from never and always.
fn in_hundred(chance: f64) -> String {
    let hundredths = chance * 100.0;
    match hundredths {
        whole if whole == 0.0 || whole == 100.0 => format!("{whole:.0}"),
        near if !(1.0..=99.0).contains(&near) => format!("{near:.3}"),
        other => format!("{other:.1}"),
    }
}

/// A number's name with its item: `moved_joint.x`.
fn named(number: &SpreadNumber) -> String {
    let items = number.key.items.iter().map(|item| format!(".{item}"));
    format!("{}{}", number.key.step, items.collect::<String>())
}

fn said(sheet: &Sheet<'_>, number: &SpreadNumber, amount: &Amount) -> Vec<String> {
    let interval = number.interval();
    let style = style(amount, sheet.system);
    let mut lines = vec![format!(
        "{}; mean {}, standard deviation {}",
        with_interval(amount, Some(&interval), sheet.system),
        written::signed(
            &style,
            amount,
            number.mean,
            written::support(&style, number.mean, &interval)
        ),
        written::half_width(&style, number.std_dev, number.mean)
    )];
    let shares = by_input(number).into_iter().take(NAMED);
    let shares: Vec<String> = shares
        .map(|(name, share)| format!("{name} {:.0}", share * 100.0))
        .collect();
    if !shares.is_empty() {
        lines.push(format!("shares of its variance, in 100: {}", shares.join(", ")));
    }
    lines
}

/// Shares by what somebody measures at once, largest first.
fn by_input(number: &SpreadNumber) -> Vec<(String, f64)> {
    let mut sums: Vec<(String, f64)> = Vec::new();
    for (address, share) in &number.shares {
        let name = super::advice::name_of(address);
        match sums.iter_mut().find(|(known, _)| known == name) {
            Some((_, sum)) => *sum += share,
            None => sums.push((name.to_owned(), *share)),
        }
    }
    sums.sort_by(|a, b| b.1.total_cmp(&a.1));
    sums
}

/// The step that a number stands in, and the number with its unit.
fn found<'a>(steps: &'a [Step], number: &SpreadNumber) -> Option<(&'a Step, Amount)> {
    let step = steps.iter().find(|step| step.name == number.key.step)?;
    Some((step, step.value.number(&number.key.items)?.clone()))
}

/// For a folder.
#[must_use]
pub fn spread_markdown(sheet: &Sheet<'_>, spread: &Spread, seed: u64) -> String {
    let mut text = format!("# {}\n\n{AID}\n\n{}\n\n", sheet.title, drawn(spread, seed));
    let headline = headline(sheet);
    text.push_str(&format!("**{}:** {}.\n\n", headline.word, headline.text));
    for finding in worst_first(sheet) {
        text.push_str(&format!("- **{}** {}\n", finding.word(), check(sheet, finding)));
    }
    for (run, of_run) in sheet.shown() {
        text.push_str(&format!("\n## {}\n\n", of_run.name));
        for number in spread.numbers.iter().filter(|number| number.key.run == run) {
            let Some((_, amount)) = found(&of_run.outcome.steps, number) else {
                continue;
            };
            text.push_str(&format!(
                "- `{}`: {}\n",
                named(number),
                said(sheet, number, &amount).join("; ")
            ));
        }
    }
    text
}

/// For a program: the JSON of `run`, each moving step with `mean_si`, `std_dev_si`, `p2_5_si`, `p97_5_si`, `shares`.
#[must_use]
pub fn spread_json(sheet: &Sheet<'_>, spread: &Spread, seed: u64) -> Json {
    let mut whole = sheet_json(sheet);
    let shown: Vec<usize> = sheet.shown().map(|(run, _)| run).collect();
    for number in &spread.numbers {
        let Some(place) = shown.iter().position(|run| *run == number.key.run) else {
            continue;
        };
        let of_run = if sheet.in_job {
            &mut whole["runs"][place]
        } else {
            &mut whole
        };
        let Some(steps) = of_run["steps"].as_array_mut() else {
            continue;
        };
        let Some(step) = steps.iter_mut().find(|step| step["name"] == number.key.step.as_str()) else {
            continue;
        };
        let mut at = step;
        for item in &number.key.items {
            at = &mut at["items"][item.as_str()];
        }
        let shares: Map<String, Json> = number
            .shares
            .iter()
            .map(|(name, share)| (name.clone(), json!(share)))
            .collect();
        at["mean_si"] = json!(number.mean);
        at["std_dev_si"] = json!(number.std_dev);
        at["p2_5_si"] = json!(number.low);
        at["p97_5_si"] = json!(number.high);
        at["exact_quantiles"] = json!(number.exact);
        at["shares"] = Json::Object(shares);
    }
    whole["samples"] = json!(spread.samples);
    whole["seed"] = json!(seed);
    whole["uncounted"] = uncounted(&spread.uncounted);
    whole
}
