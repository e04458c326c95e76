//! `solve`: where inputs have to be for what is wanted.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Solve};
use crate::disk;
use crate::exit::{DONE, FAILED};
use crate::listing::pretty;
use crate::screen::Io;
use crate::work::{Done, Work};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::{Job, Ran, Variant, Varied, number, number_with_value, size, variants};
use crankline_engine::outcome::{Amount, Outcome};
use crankline_engine::report::{
    AdjustedInput, SolvedSheet, Way, setting_text, solved_json, solved_markdown, solved_text, unpainted,
};
use crankline_engine::study::{Adjusted, Key, Request, Solution, Solved, Target, Verdict, differing, made_of, solve};
use std::path::Path;

type Result<T> = std::result::Result<T, Diagnostic>;

/// A solution with the choices under which it was found, ready to be shown.
struct Found {
    solution: Solution,
    chosen: Vec<(String, String)>,
    done: Done,
    /// What `--least` asks to be small.
    cost: Option<f64>,
}

/// Solves a target.
pub(crate) fn run(options: &Solve, common: &Common, io: &Io<'_>) -> Result<Output> {
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    if let Some(option) = &options.keep {
        may_be_kept(work.job(), option, &options.on.target)?;
    }
    let adjust = options.adjust.iter().map(|text| Varied::read(text, "--adjust"));
    let adjust = adjust.collect::<std::result::Result<Vec<_>, _>>()?;
    let overrides = work.overrides(&options.on.set)?;
    let programs = |name: &str| work.program(name);
    let asked = work.asked(&programs, &overrides, options.on.only.as_deref())?;
    let mut variants = variants(asked, &adjust)?;
    work.study();
    let (mut found, solved, request) = search(options, &work, &variants)?;
    work.in_time()?;
    rank(&mut found);
    let good = found.iter().filter(|found| found.solution.good).count();
    found.truncate(good.clamp(1, MOST));
    let mut remarks = Vec::new();
    if let (0, Some(variant)) = (good, variants.first()) {
        remarks.extend(at_a_point(&request, variant, &found));
    }
    let ways = found.iter().map(|found| {
        Ok(Way {
            sheet: work.sheet(&found.done, common.system())?,
            solution: &found.solution,
            chosen: found.chosen.clone(),
            snapped: !options.step.is_empty(),
        })
    });
    let ranges = variants.first_mut().map(|variant| std::mem::take(&mut variant.ranges));
    let adjusted = ranges.unwrap_or_default().into_iter().map(|range| AdjustedInput {
        name: range.name,
        from: range.amount,
        to: range.to,
    });
    let mut sheet = SolvedSheet {
        adjusted: adjusted.collect(),
        wanted: wanted(options),
        targets: targets(options, variants.first())?,
        starts: if request.adjusted.is_empty() { 0 } else { solved.starts },
        checks: solved.checks,
        beside: solved.beside,
        ways: ways.collect::<Result<_>>()?,
        nearest_only: good == 0,
        remarks,
    };
    if let Some(option) = options.keep.as_ref().filter(|_| good > 0) {
        keep(option, &options.on.set, &sheet, &options.on.target, &io.directory)?;
        sheet.remarks.push(format!(
            "kept in {} as option \"{option}\"; a run with tries = \"{option}\" shows it beside the car as it is",
            options.on.target
        ));
    }
    if options.keep.is_some() && good == 0 {
        sheet
            .remarks
            .push("nothing was kept: nowhere is what is wanted".to_owned());
    }
    let best_holds = sheet.ways.first().is_some_and(|way| verdict(way) == Verdict::Holds);
    Ok(Output {
        text: written(&sheet, common, io),
        code: if good > 0 && best_holds { DONE } else { FAILED },
        also: None,
        why: None,
    })
}

/// Solutions shown at the most.
const MOST: usize = 8;

fn verdict(way: &Way<'_>) -> Verdict {
    of_moved(way.solution)
}

/// The worst verdict of the checks that depend on what was adjusted.
fn of_moved(solution: &Solution) -> Verdict {
    let judged = |(run, check): &(usize, usize)| {
        let run = solution.judged.runs.get(*run)?;
        run.all().nth(*check).map(|check| check.verdict)
    };
    let verdicts = solution.moved.iter().filter_map(judged);
    verdicts.min().unwrap_or(Verdict::Holds)
}

fn written(sheet: &SolvedSheet<'_>, common: &Common, io: &Io<'_>) -> String {
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    match common.format {
        Format::Json => pretty(&solved_json(sheet)),
        Format::Markdown => solved_markdown(sheet),
        Format::Text | Format::Csv | Format::Html => solved_text(sheet, paint),
    }
}

/// Searches under every combination of choices.
fn search(options: &Solve, work: &Work, variants: &[Variant<'_>]) -> Result<(Vec<Found>, Solved, Request)> {
    let outcomes: Vec<Vec<Outcome>> = variants.iter().map(|variant| variant.ran.outcomes()).collect();
    let choices = variants
        .iter()
        .zip(&outcomes)
        .map(|(variant, outcomes)| (&variant.ran.tape, outcomes.as_slice()));
    let also = if variants.len() > 1 {
        differing(&choices.collect::<Vec<_>>())
    } else {
        Vec::new()
    };
    let mut found = Vec::new();
    let mut last = (Solved::default(), Request::default());
    for (variant, outcomes) in variants.iter().zip(&outcomes) {
        let mut request = request(options, variant)?;
        request.also.clone_from(&also);
        let solved = solve(&variant.plan, (&variant.ran.tape, outcomes), &request, work.in_job())?;
        for solution in &solved.solutions {
            let ran = Ran {
                tape: solution.tape.clone(),
                ..variant.ran.clone()
            };
            let done = Done {
                outcomes: solution.outcomes.clone(),
                judged: solution.judged.clone(),
                ran,
                overrides: work.overrides(&options.on.set)?,
            };
            found.push(Found {
                cost: request.least.as_ref().and_then(|key| cost(&done, key)),
                solution: solution.clone(),
                chosen: variant.chosen.clone(),
                done,
            });
        }
        last = (solved, request);
    }
    let (mut solved, request) = last;
    solved.starts *= variants.len();
    Ok((found, solved, request))
}

/// The value of a step.
fn cost(done: &Done, key: &Key) -> Option<f64> {
    let steps = &done.outcomes.get(key.run)?.steps;
    let step = steps.iter().find(|step| step.name == key.step)?;
    step.value.number(&key.items).map(|amount| amount.si)
}

/// What has what is wanted first, of that what holds, of that the largest margin or the smallest cost.
fn rank(found: &mut [Found]) {
    found.sort_by(|a, b| {
        let better = |found: &Found| (!found.solution.good, std::cmp::Reverse(of_moved(&found.solution)));
        let by_cost = match (a.cost, b.cost) {
            (Some(a), Some(b)) => a.total_cmp(&b),
            _ => std::cmp::Ordering::Equal,
        };
        let margin = |found: &Found| found.solution.margin.unwrap_or(f64::INFINITY);
        better(a)
            .cmp(&better(b))
            .then(by_cost)
            .then(margin(b).total_cmp(&margin(a)))
    });
}

/// What is wanted of one combination of choices.
fn request(options: &Solve, variant: &Variant<'_>) -> Result<Request> {
    let mut targets = Vec::new();
    for text in &options.targets {
        let (key, _, value) = number_with_value(&variant.ran, text, "--for")?;
        targets.push(Target { key, value });
    }
    let least = options
        .least
        .as_ref()
        .map(|name| number(&variant.ran, name))
        .transpose()?;
    let mut adjusted = Vec::new();
    for range in &variant.ranges {
        adjusted.push(Adjusted {
            name: range.name.clone(),
            input: range.input,
            low: range.from.min(range.to),
            high: range.from.max(range.to),
            now: range.now,
            snap: None,
        });
    }
    steps(options, variant, &mut adjusted)?;
    let runs = variant.ran.runs.iter().enumerate();
    let left_out = runs
        .filter(|(_, run)| run.tries.is_some() || !run.asked)
        .map(|(number, _)| number);
    Ok(Request {
        adjusted,
        targets,
        least: least.map(|(key, _)| key),
        left_out: left_out.collect(),
        robust: options.robust,
        also: Vec::new(),
    })
}

/// What exists comes in steps: of one input, or of all that are measured alike.
fn steps(options: &Solve, variant: &Variant<'_>, adjusted: &mut [Adjusted]) -> Result<()> {
    for text in &options.step {
        let (name, text) = match text.rsplit_once('=') {
            Some((name, text)) => (Some(name.trim()), text.trim()),
            None => (None, text.trim()),
        };
        let mut taken = false;
        let mut refused = None;
        for (range, adjusted) in variant.ranges.iter().zip(adjusted.iter_mut()) {
            if name.is_some_and(|name| name != range.name) {
                continue;
            }
            match size(&range.amount, text) {
                Ok(size) if size > 0.0 => {
                    adjusted.snap = Some(size);
                    taken = true;
                }
                Ok(_) => {
                    refused = Some(Refusal::new(
                        "step",
                        format!("--step `{text}` is no size above nothing"),
                    ))
                }
                Err(refusal) => refused = Some(refusal),
            }
        }
        if !taken {
            let none = Refusal::new(
                "step",
                format!("--step names no adjusted input: `{}`", name.unwrap_or(text)),
            );
            return Err(refused.unwrap_or(none).into());
        }
    }
    Ok(())
}

/// The targets, as they are written.
fn targets(options: &Solve, variant: Option<&Variant<'_>>) -> Result<Vec<(String, Amount, f64)>> {
    let Some(variant) = variant else { return Ok(Vec::new()) };
    let target = |text: &String| -> Result<(String, Amount, f64)> {
        let (_, amount, value) = number_with_value(&variant.ran, text, "--for")?;
        let name = text.split_once('=').map_or(text.as_str(), |(name, _)| name);
        Ok((name.trim().to_owned(), amount, value))
    };
    options.targets.iter().map(target).collect()
}

/// What was wanted, in words.
fn wanted(options: &Solve) -> Vec<String> {
    let mut lines: Vec<String> = options
        .targets
        .iter()
        .map(|text| {
            text.split_once('=').map_or(text.clone(), |(name, value)| {
                format!("{} = {}", name.trim(), value.trim())
            })
        })
        .collect();
    if let Some(least) = &options.least {
        lines.push(format!("{least} as small as the checks allow"));
    }
    if lines.is_empty() {
        let how = if options.robust {
            ", as far as the readings' own ± leaves it"
        } else {
            ""
        };
        lines.push(format!("every check to hold with the largest margin{how}"));
    }
    lines
}

/// What to aim at in place of a target that comes to a point, where a search by slopes cannot settle.
fn at_a_point(request: &Request, variant: &Variant<'_>, found: &[Found]) -> Vec<String> {
    let elsewhere = variant.ran.outcomes();
    let remark = |target: &Target| {
        let nearest = &found.first()?.done;
        let here = (&nearest.ran.tape, nearest.outcomes.as_slice());
        let parts = made_of(here, (&variant.ran.tape, &elsewhere), &target.key);
        let run = variant.ran.runs.get(target.key.run)?;
        let prefix = if run.name.is_empty() {
            String::new()
        } else {
            format!("{}: ", run.name)
        };
        let parts: Vec<String> = parts.iter().map(|part| format!("--for \"{prefix}{part}=0\"")).collect();
        (!parts.is_empty()).then(|| {
            format!(
                "`{}` comes to a point where it is least and has no slope there, so nothing leads to it; aim at what \
                 it is made of: {}",
                target.key.step,
                parts.join(" ")
            )
        })
    };
    request.targets.iter().filter_map(remark).collect()
}

fn may_be_kept(job: &Job, option: &str, target: &str) -> Result<()> {
    if !crate::shelf::has_extension(target, "toml") {
        let refusal = Refusal::new("keep", "--keep writes an option into a job; this is a script");
        return Err(refusal.hint("put the script into a job file").into());
    }
    if option.trim().is_empty() {
        return Err(Refusal::new("keep", "the name after --keep is empty").into());
    }
    if job.options.iter().any(|known| known.name == option) {
        let refusal = Refusal::new("keep", format!("the job has an option `{option}` already"));
        return Err(refusal.hint("give it another name").into());
    }
    Ok(())
}

/// Adds an option with the best solution's values to the end of the job file.
fn keep(option: &str, set: &[String], sheet: &SolvedSheet<'_>, target: &str, directory: &Path) -> Result<()> {
    let Some(way) = sheet.ways.first() else { return Ok(()) };
    let ranges = sheet.adjusted.iter().zip(&way.solution.at);
    let ranges = ranges.map(|(input, value)| (input.name.clone(), setting_text(input, *value, &way.sheet)));
    // What it was found under belongs to it.
    let under = set.iter().filter_map(|setting| setting.split_once('='));
    let under = under.map(|(name, value)| (name.trim().to_owned(), value.trim().to_owned()));
    let set: Vec<String> = under
        .chain(ranges)
        .chain(way.chosen.iter().cloned())
        .map(|(name, value)| format!("{} = {}", key(&name), quoted(&value)))
        .collect();
    let path = directory.join(target);
    let before = disk::read(&path, target)?;
    let end = if before.text.ends_with('\n') { "" } else { "\n" };
    let text = format!(
        "{}{end}\n[[option]]\nname = {}\nset = {{ {} }}\n",
        before.text,
        quoted(option),
        set.join(", ")
    );
    Ok(disk::replace(&path, target, &before.text, &text)?)
}

/// A name as a key of TOML.
fn key(name: &str) -> String {
    let bare = name
        .chars()
        .all(|letter| letter.is_ascii_alphanumeric() || letter == '_' || letter == '-');
    if bare { name.to_owned() } else { quoted(name) }
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            letter if letter.is_control() => quoted.push_str(&format!("\\u{:04X}", u32::from(letter))),
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}
