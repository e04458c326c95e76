//! A pack tried on this machine: whether its worked examples come out, whether they prove anything, and what its scripts
//! lack to be given to others.

use super::{Desk, FoundPack, Patience};
use crate::command::{Proved, proved};
use crate::work::Work;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::pack::{Case, Expectation, asks_closely, read_cases, states_something};
use crankline_engine::script::{Finding, Inspection};

/// What a reviewer asks for without which others cannot rely on a script.
const NEEDED: [&str; 2] = ["label", "source"];

/// What came of it.
#[derive(Default)]
pub(crate) struct Trial {
    /// How many worked examples there are.
    pub(crate) cases: usize,
    /// Those that do not come out, each in words.
    pub(crate) failing: Vec<String>,
    /// Scripts that no worked example proves, each in words.
    pub(crate) unproven: Vec<String>,
    /// What scripts lack that is no matter of numbers, each in words.
    pub(crate) lacking: Vec<String>,
    /// Whether something went over what a script may use up.
    is_limited: bool,
}

impl Trial {
    /// Runs every script of a pack on its own examples, and all worked examples. The desk sees the pack.
    pub(crate) fn of(pack: &FoundPack, desk: &Desk) -> Result<Self, Diagnostic> {
        let mut trial = Self::default();
        let mut patience = Patience::with(pack, desk);
        let scripts = pack.scripts();
        if scripts.is_empty() {
            trial
                .unproven
                .push(format!("{}: there is no script in it", pack.name()));
        }
        for own in scripts {
            let cases = match pack.cases(&own)? {
                Some(text) => read_cases(text)?,
                None => Vec::new(),
            };
            trial.cases += cases.len();
            trial.script(&format!("{}/{own}", pack.name()), &cases, desk, &mut patience)?;
        }
        Ok(trial)
    }

    /// Tries one script.
    fn script(&mut self, script: &str, cases: &[Case], desk: &Desk, patience: &mut Patience) -> Result<(), Diagnostic> {
        patience.in_time()?;
        let outcomes = match Work::open(script, desk).and_then(|work| work.ran()) {
            Ok(ran) => ran.outcomes(),
            Err(error) => {
                self.note(&error);
                let message = error.refusal.message();
                self.failing
                    .push(format!("{script} does not run on its own examples: {message}"));
                return Ok(());
            }
        };
        let mut asks = false;
        for case in cases {
            patience.go_on()?;
            let (proved, ran) = proved(script, case, desk);
            // One that does not come out would not have come out whatever the script calculated.
            asks |= !proved.differences.is_empty() && matches!(case.expectation, Expectation::Results(_));
            match &ran {
                Ok((outcome, _)) => asks |= asks_closely(case, outcome),
                Err(error) => self.note(error),
            }
            self.failing.extend(failure(&proved));
        }
        // Its time begins anew.
        let (_, inspection) = Work::open(script, desk)?.inspected(script, &outcomes)?;
        let shows = |case: &Case| matches!(case.expectation, Expectation::Results(_));
        let has_case = cases.iter().any(shows);
        let states_something = outcomes.iter().any(states_something) || !inspection.unreached.is_empty();
        let unproven = match (has_case, asks) {
            _ if !states_something => None,
            (false, _) => Some("no worked example says what comes out of it"),
            (true, false) => Some(
                "its worked examples would come out whatever it calculated: none asks for a result within a tenth of \
                 itself",
            ),
            (true, true) => None,
        };
        let unproven = unproven.map(|unproven| format!("{script}: {unproven}"));
        self.unproven.extend(unproven);
        self.lacking.extend(lacking(script, &inspection));
        Ok(())
    }

    /// Notes what went wrong because of what a script may use up.
    fn note(&mut self, error: &Diagnostic) {
        self.is_limited |= error.refusal.code() == "limit";
    }

    /// What to do where something went over what a script may use up.
    pub(crate) fn effort(&self) -> Option<String> {
        let hint = "--effort 10 lets its scripts do ten times as much, for this once";
        self.is_limited.then(|| hint.to_owned())
    }
}

/// Labels and sources that are missing, by the text.
fn lacking<'a>(script: &'a str, inspection: &'a Inspection) -> impl Iterator<Item = String> + 'a {
    let findings = inspection.findings.iter();
    let needed = findings.filter(|finding| NEEDED.contains(&finding.diagnostic.refusal.code()));
    needed.map(move |finding| {
        let message = finding.diagnostic.refusal.message();
        format!("{script}{}: {message}", lines(finding))
    })
}

/// `, line 3`, `, lines 3 and 7`
fn lines(finding: &Finding) -> String {
    let first = finding.diagnostic.places.first().map(|place| place.line);
    let lines: Vec<String> = first.iter().chain(&finding.again).map(usize::to_string).collect();
    match lines.as_slice() {
        [] => String::new(),
        [line] => format!(", line {line}"),
        [first @ .., last] => format!(", lines {} and {last}", first.join(", ")),
    }
}

fn failure(proved: &Proved) -> Option<String> {
    let differences = proved.differences.join("; ");
    (!differences.is_empty()).then(|| format!("{}, \"{}\": {differences}", proved.script, proved.title))
}
