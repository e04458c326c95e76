//! Runs, checks, inputs and steps of two records matched, and what became of each.

use super::pair::{Pair, pair_rest, paired};
use super::record::{Entry, Found, Number, Record, RecordedCheck, RecordedRun};
use crate::diagnostic::Refusal;
use crate::report::Identity;
use crate::study::Verdict;

/// Two records side by side.
#[derive(Clone, Debug)]
pub struct Comparison {
    pub(super) a: Head,
    pub(super) b: Head,
    pub(super) runs: Vec<ComparedRun>,
}

/// What a record is called.
#[derive(Clone, Debug)]
pub(super) struct Head {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) in_job: bool,
}

/// A run of both, or of one alone.
#[derive(Clone, Debug)]
pub(super) struct ComparedRun {
    pub(super) name: String,
    pub(super) a_only: bool,
    pub(super) b_only: bool,
    /// It tries an option, in either record: it decides nothing.
    pub(super) tries: Option<String>,
    pub(super) script: Pair<Identity>,
    pub(super) checks: Vec<ComparedCheck>,
    pub(super) inputs: Vec<ComparedEntry>,
    pub(super) steps: Vec<ComparedEntry>,
}

#[derive(Clone, Debug)]
pub(super) struct ComparedCheck {
    pub(super) sides: Pair<RecordedCheck>,
    pub(super) change: Change,
    /// The verdict is the same, and the margin or the chance is another.
    pub(super) margin_moved: bool,
}

#[derive(Clone, Debug)]
pub(super) struct ComparedEntry {
    pub(super) sides: Pair<Entry>,
    pub(super) change: EntryChange,
}

/// What became of a check from A to B.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Change {
    Worse,
    Better,
    Same,
    OnlyA,
    OnlyB,
}

/// What became of an input or a step from A to B.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum EntryChange {
    Differs,
    /// An input that is linked to the same result in both: it differs because that does.
    Follows,
    Same,
    OnlyA,
    OnlyB,
}

impl Change {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Worse => "worse",
            Self::Better => "better",
            Self::Same => "same",
            Self::OnlyA => "only a",
            Self::OnlyB => "only b",
        }
    }
}

impl EntryChange {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Differs => "differs",
            Self::Follows => "follows",
            Self::Same => "same",
            Self::OnlyA => "only a",
            Self::OnlyB => "only b",
        }
    }
}

impl Comparison {
    /// Whether somebody who relies on A has to look at B: the verdict of a check got worse, one that fails has come, one is
    /// mere advice now, or another version of the script has it no longer. Preferences and runs that try an option decide
    /// nothing.
    #[must_use]
    pub fn got_worse(&self) -> bool {
        let mut runs = self.runs.iter().filter(|run| run.tries.is_none());
        runs.any(|run| run.checks.iter().any(|check| run.got_worse(check)))
    }

    /// What both are about, and what each is called: `car.toml, option "mount lowered"`.
    pub(super) fn called(&self) -> [String; 3] {
        let (a, b) = (&self.a, &self.b);
        if a.title == b.title {
            return [format!("{}, compared", a.title), a.name.clone(), b.name.clone()];
        }
        let own = |head: &Head| match head.title == head.name {
            true => head.name.clone(),
            false => format!("{} ({})", head.name, head.title),
        };
        ["Two compared".to_owned(), own(a), own(b)]
    }

    pub(super) fn in_job(&self) -> bool {
        self.a.in_job || self.b.in_job
    }
}

impl ComparedRun {
    pub(super) const fn is_in_both(&self) -> bool {
        !self.a_only && !self.b_only
    }

    fn got_worse(&self, check: &ComparedCheck) -> bool {
        let fails = |side: &Option<RecordedCheck>| side.as_ref().is_some_and(|side| side.verdict == Verdict::Fails);
        match check.change {
            Change::Worse => check.decides(),
            Change::OnlyA => self.script_changed() && check.decides(),
            Change::OnlyB => self.is_in_both() && check.decides() && fails(&check.sides.b),
            Change::Same | Change::Better => check.is_softened(),
        }
    }

    /// Whether the script is another one, or another version.
    pub(super) fn script_changed(&self) -> bool {
        self.script.both().is_some_and(|(a, b)| !a.is_same(b))
    }
}

impl ComparedCheck {
    /// Whether it decides, in either record.
    pub(super) fn decides(&self) -> bool {
        let mut sides = self.sides.a.iter().chain(&self.sides.b);
        sides.any(RecordedCheck::decides)
    }

    /// Whether it decides in A, and is advice in B.
    pub(super) fn is_softened(&self) -> bool {
        self.sides.both().is_some_and(|(a, b)| a.decides() && !b.decides())
    }

    pub(super) fn name(&self) -> &str {
        self.sides.any().map_or("", RecordedCheck::name)
    }

    /// How far the margin went from A to B, over the size of the limit; negative is worse.
    pub(super) fn margin_change(&self) -> f64 {
        let change = |of: &dyn Fn(&RecordedCheck) -> Option<f64>| {
            let (a, b) = self.sides.both()?;
            Some(of(b)? - of(a)?)
        };
        let relative = change(&|check| check.margin);
        relative
            .or_else(|| change(&|check| check.margin_si))
            .unwrap_or_default()
    }
}

/// Puts two records side by side: runs by name, inputs and steps by name and item, checks by label.
///
/// # Errors
/// A script alone beside a job in which none or several runs are of that script.
pub fn compare(a: &Record, b: &Record) -> Result<Comparison, Refusal> {
    let (mut left, mut right) = (a.runs.clone(), b.runs.clone());
    match (a.in_job, b.in_job) {
        (false, true) => of_script(&mut left, &mut right, b)?,
        (true, false) => of_script(&mut right, &mut left, a)?,
        _ => {}
    }
    let pairs = paired(&left, &right, |run| run.name.as_str());
    Ok(Comparison {
        a: head(a),
        b: head(b),
        runs: pairs.iter().map(of_runs).collect(),
    })
}

/// Leaves of a job's runs the one of a script, and gives that its name.
fn of_script(script: &mut [RecordedRun], runs: &mut Vec<RecordedRun>, job: &Record) -> Result<(), Refusal> {
    let Some(script) = script.first_mut() else {
        return Ok(());
    };
    let wanted = script.script.name.clone();
    if job.runs.len() > 1 {
        runs.retain(|run| run.script.name == wanted);
    }
    match runs.as_slice() {
        [run] => {
            script.name.clone_from(&run.name);
            Ok(())
        }
        [] => {
            let message = format!("no run of `{}` is of the script `{wanted}`", job.name);
            Err(Refusal::new("compare", message).hint("--only names the run to compare it with"))
        }
        several => {
            let names: Vec<&str> = several.iter().map(|run| run.name.as_str()).collect();
            let message = format!("{} runs of `{}` are of the script `{wanted}`", names.len(), job.name);
            let hint = format!("--only names one: `{}`", names.join("`, `"));
            Err(Refusal::new("compare", message).hint(hint))
        }
    }
}

fn head(record: &Record) -> Head {
    Head {
        name: record.name.clone(),
        title: record.title.clone(),
        in_job: record.in_job,
    }
}

fn of_runs(pair: &Pair<RecordedRun>) -> ComparedRun {
    let (a, b) = (pair.a.as_ref(), pair.b.as_ref());
    let entries = |of: &dyn Fn(&RecordedRun) -> &[Entry]| -> Vec<ComparedEntry> {
        let pairs = paired(a.map_or(&[], of), b.map_or(&[], of), |entry| entry.address.as_str());
        pairs.into_iter().map(of_entries).collect()
    };
    let checks = |run: Option<&RecordedRun>| run.map(|run| run.checks.clone()).unwrap_or_default();
    let mut pairs = paired(&checks(a), &checks(b), RecordedCheck::name);
    // A label may hold numbers, which differ: its formula does not.
    pair_rest(&mut pairs, |check: &RecordedCheck| check.formula.as_deref());
    ComparedRun {
        name: pair.any().map(|run| run.name.clone()).unwrap_or_default(),
        a_only: b.is_none(),
        b_only: a.is_none(),
        tries: a
            .and_then(|run| run.tries.clone())
            .or(b.and_then(|run| run.tries.clone())),
        script: Pair {
            a: a.map(|run| run.script.clone()),
            b: b.map(|run| run.script.clone()),
        },
        inputs: entries(&|run| &run.inputs),
        steps: entries(&|run| &run.steps),
        checks: pairs.into_iter().map(of_checks).collect(),
    }
}

fn of_checks(sides: Pair<RecordedCheck>) -> ComparedCheck {
    let (change, margin_moved) = match (&sides.a, &sides.b) {
        (Some(a), Some(b)) => (
            of_verdicts(a.verdict, b.verdict),
            a.verdict == b.verdict && has_moved(a, b),
        ),
        (Some(_), None) => (Change::OnlyA, false),
        _ => (Change::OnlyB, false),
    };
    ComparedCheck {
        sides,
        change,
        margin_moved,
    }
}

fn of_verdicts(a: Verdict, b: Verdict) -> Change {
    // Verdicts stand worst first.
    match b.cmp(&a) {
        std::cmp::Ordering::Less => Change::Worse,
        std::cmp::Ordering::Greater => Change::Better,
        std::cmp::Ordering::Equal => Change::Same,
    }
}

/// A chance in hundredths that is not the same.
const CHANCE: f64 = 0.01;

fn has_moved(a: &RecordedCheck, b: &RecordedCheck) -> bool {
    let margin = match (a.margin_si, b.margin_si) {
        (Some(of_a), Some(of_b)) => !is_same(of_a, of_b, [a.margin_uncertainty, b.margin_uncertainty]),
        (None, None) => false,
        _ => true,
    };
    margin || (a.chance - b.chance).abs() >= CHANCE
}

fn of_entries(sides: Pair<Entry>) -> ComparedEntry {
    let change = match (&sides.a, &sides.b) {
        (Some(a), Some(b)) if same_found(&a.found, &b.found) && a.origin == b.origin => EntryChange::Same,
        (Some(a), Some(b)) => match (&a.origin, &b.origin) {
            (Some(of_a), Some(of_b)) if of_a == of_b && of_a.is_linked() => EntryChange::Follows,
            _ => EntryChange::Differs,
        },
        (Some(_), None) => EntryChange::OnlyA,
        _ => EntryChange::OnlyB,
    };
    ComparedEntry { sides, change }
}

fn same_found(a: &Found, b: &Found) -> bool {
    match (a, b) {
        (Found::Number(a), Found::Number(b)) => {
            let widths = [a.half_width.unwrap_or(0.0), b.half_width.unwrap_or(0.0)];
            let uncertainties = [a.std_uncertainty, b.std_uncertainty];
            // Of a vector along one axis the others are what rounding leaves.
            let rounding = (a.si - b.si).abs() <= NOTHING * (a.size + b.size);
            a.dimension == b.dimension
                && (rounding || is_same(a.si, b.si, uncertainties))
                && same_width(a, b, uncertainties)
                && relative(widths[0], widths[1]) <= NOTHING
        }
        (a, b) => a == b,
    }
}

/// Below this share of the larger a difference is what rounding leaves.
const NOTHING: f64 = 1e-9;
/// Below this share of the smaller standard uncertainty a difference tells nothing.
const SHARE: f64 = 0.1;

/// Whether two numbers are the same as far as anybody can tell: a tenth of the smaller of their standard uncertainties
/// apart at the most.
fn is_same(a: f64, b: f64, [of_a, of_b]: [f64; 2]) -> bool {
    let smaller = if of_a < of_b { of_a } else { of_b };
    (a - b).abs() < SHARE * smaller.abs() || relative(a, b) <= NOTHING
}

/// A result that is known better than before, by a tenth, is not the same.
fn same_width(a: &Number, b: &Number, [of_a, of_b]: [f64; 2]) -> bool {
    // What is known to a millionth of its size is known.
    let size = a.size + b.size;
    relative(of_a, of_b) <= SHARE || (of_a < 1e-6 * size && of_b < 1e-6 * size)
}

/// The difference of two numbers over the larger; zero where both are zero.
fn relative(a: f64, b: f64) -> f64 {
    let larger = if a.abs() < b.abs() { b.abs() } else { a.abs() };
    if larger == 0.0 { 0.0 } else { (a - b).abs() / larger }
}
