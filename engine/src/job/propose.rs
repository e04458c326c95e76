//! Links among scripts that somebody puts into one job: an input that has the name of a step of an earlier one.

use super::entry::Kind;
use crate::outcome::{Outcome, Phrase, Piece, Step, Value};

/// An input that may take a step of another script.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ProposedLink<'a> {
    /// The number of the script whose input it is.
    pub run: usize,
    /// The name that the input and the step have.
    pub name: &'a str,
    /// The number of the script whose step it is.
    pub from: usize,
}

/// What may be linked.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proposal<'a> {
    /// Links to the nearest earlier script that has such a step, in the order of the inputs.
    pub links: Vec<ProposedLink<'a>>,
    /// The same where input and step share the name, and their labels say two things: somebody has to look.
    pub doubtful: Vec<ProposedLink<'a>>,
    /// Inputs of earlier scripts that a later one would work out, were it put before them.
    pub reversed: Vec<ProposedLink<'a>>,
}

/// Looks for links among scripts, each as it ran on its own examples. What a script takes on trust (`assume`) is not
/// linked: it is for the shop to decide.
#[must_use]
pub fn propose(outcomes: &[Outcome]) -> Proposal<'_> {
    let mut proposal = Proposal::default();
    for (run, outcome) in outcomes.iter().enumerate() {
        for input in outcome.inputs.iter().filter(|input| !input.assumed) {
            let name = input.name.as_str();
            let step = |number: usize| outcomes.get(number).and_then(|other| step(other, name, &input.value));
            let alike = |step: &Step| says_the_same(input.label.as_ref(), step.label.as_ref());
            let earlier = (0..run).rev().find_map(|from| Some((from, step(from)?)));
            let later = (run + 1..outcomes.len()).find_map(|from| Some((from, step(from)?)));
            match (earlier, later) {
                (Some((from, step)), _) if alike(step) => proposal.links.push(ProposedLink { run, name, from }),
                (Some((from, _)), _) => proposal.doubtful.push(ProposedLink { run, name, from }),
                (None, Some((from, step))) if alike(step) => proposal.reversed.push(ProposedLink { run, name, from }),
                _ => {}
            }
        }
    }
    proposal
}

fn step<'a>(outcome: &'a Outcome, name: &str, wanted: &Value) -> Option<&'a Step> {
    let mut steps = outcome.steps.iter();
    steps.find(|step| step.name == name && fits(&step.value, wanted))
}

/// Whether two labels say the same, one perhaps more of it; what has no label is known by its name.
fn says_the_same(one: Option<&Phrase>, other: Option<&Phrase>) -> bool {
    let (Some(one), Some(other)) = (one.map(words), other.map(words)) else {
        return true;
    };
    one.starts_with(&other) || other.starts_with(&one)
}

fn words(phrase: &Phrase) -> String {
    let words = phrase.pieces.iter().filter_map(|piece| match piece {
        Piece::Words(words) => Some(words.to_lowercase()),
        Piece::Amount(_) => None,
    });
    words.collect()
}

/// Whether a value may stand for another: of one kind and dimension.
fn fits(value: &Value, wanted: &Value) -> bool {
    match (value, wanted) {
        (Value::Amount(value), Value::Amount(wanted)) => {
            value.dimension.is_like(wanted.dimension) && value.scale == wanted.scale
        }
        (Value::Items(items), Value::Items(wanted)) => {
            let cells = items.iter().zip(wanted);
            let alike = items.len() == wanted.len() && Kind::of(value) == Kind::of(&Value::Items(wanted.clone()));
            alike && cells.into_iter().all(|((_, value), (_, wanted))| fits(value, wanted))
        }
        _ => Kind::of(value) == Kind::of(wanted),
    }
}
