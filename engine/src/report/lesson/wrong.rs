//! The slips of a line in words.

use super::formula::Expression;
use super::line::{Answer, Line, Wrong};
use super::names::{Names, in_words};
use crate::outcome::{Amount, Opened, Step, Value};
use crate::quantity::Dimension;
use crate::quantity::text::{Digits, System, shown, write_number};
use crate::quantity::units::{Scale, Unit, WrittenUnit, find};
use crate::report::written;
use crate::study::{Slip, SlipKind, SlipLine, Term, Visible, slips};
use crate::tape::Tape;

/// The wrong ways of a step.
pub(super) fn of_step(line: &Line, step: &Step, tape: &Tape, names: &Names, system: System) -> Vec<Wrong> {
    let mut amounts = Vec::new();
    collect(&step.value, &mut amounts);
    let visible = visible(line.letters.expression.as_ref(), &step.opened);
    let known = names.dimensions();
    let mut found = Vec::new();
    for (number, (answer, amount)) in line.answers.iter().zip(amounts).enumerate() {
        let (Some(worth), Some(amount)) = (&answer.worth, amount) else {
            continue;
        };
        let unit = worth.style.shown_unit();
        let asked = SlipLine {
            tape,
            result: amount.slot,
            si: amount.si,
            known: &known,
            readings: &|slot| names.is_reading(slot),
            dimension: amount.dimension,
            unit: &unit,
            visible,
            tolerance: worth.tolerance,
        };
        let words = InWords { names, amount, system };
        found.extend(slips(&asked).iter().map(|slip| words.wrong(slip, number, answer)));
    }
    found
}

fn collect<'a>(value: &'a Value, into: &mut Vec<Option<&'a Amount>>) {
    match value {
        Value::Items(items) => items.iter().for_each(|(_, item)| collect(item, into)),
        Value::Amount(amount) => into.push(Some(amount)),
        _ => into.push(None),
    }
}

/// What a formula shows to be done, in the functions that it calls too; signs are those of the formula itself.
fn visible(formula: Option<&Expression>, opened: &[Opened]) -> Visible {
    let mut all = formula.map(Visible::of).unwrap_or_default();
    let signs = all.signs;
    within(opened, &mut all);
    Visible { signs, ..all }
}

fn within(opened: &[Opened], all: &mut Visible) {
    for line in opened.iter().flat_map(|function| &function.lines) {
        if let Some(expression) = super::formula::of_script(&line.formula) {
            let more = Visible::of(&expression);
            all.trigonometric += more.trigonometric;
            all.roots += more.roots;
            all.powers += more.powers;
            all.twos += more.twos;
        }
        within(&line.opened, all);
    }
}

impl Visible {
    fn of(expression: &Expression) -> Self {
        let called = |names: &'static [&'static str]| move |found: &Expression| matches!(found, Expression::Call { name, .. } if names.contains(&name.as_str()));
        Self {
            trigonometric: expression.count(&called(&["sin", "cos", "tan"])),
            roots: expression.count(&called(&["sqrt", "cbrt", "hypot", "norm"])),
            powers: expression.count(&Expression::is_power),
            twos: expression.count(&Expression::is_two),
            signs: expression.count(&Expression::is_sum),
        }
    }
}

struct InWords<'a> {
    names: &'a Names,
    amount: &'a Amount,
    system: System,
}

impl InWords<'_> {
    fn wrong(&self, slip: &Slip, number: usize, answer: &Answer) -> Wrong {
        let key = if answer.key.is_empty() {
            String::new()
        } else {
            format!("{}: ", answer.key)
        };
        Wrong {
            answer: number,
            words: format!("{key}{}", self.words(slip)),
            working: self.working(slip),
            shown: self.answer(slip),
            si: slip.si,
        }
    }

    /// The wrong answer as a pupil would write it: of a confused unit in that unit.
    fn answer(&self, slip: &Slip) -> String {
        if let SlipKind::OtherUnit { written_as, .. } = slip.kind
            && let Some(unit) = find(written_as)
        {
            let number = write_number(unit.from_si(slip.si), Digits::Significant(4));
            return match unit.symbol {
                "°" => format!("{number}°"),
                symbol => format!("{number} {symbol}"),
            };
        }
        // In the unit of the right answer, however large it is.
        let style = written::style(self.amount, self.system);
        written::signed(&style, self.amount, slip.si, None)
    }

    fn words(&self, slip: &Slip) -> String {
        let operands = || {
            let named: Vec<String> = slip.operands.iter().filter_map(|term| self.name(term)).collect();
            (named.len() == slip.operands.len() && named.len() == 2).then(|| named.join(" and "))
        };
        match slip.kind {
            SlipKind::DegreesAsRadians => "degrees put in as radians".to_owned(),
            SlipKind::RootForgotten => "the root forgotten".to_owned(),
            SlipKind::FourthRootAsSquareRoot => "fourth root taken as square root".to_owned(),
            SlipKind::CubeRootAsSquareRoot => "cube root taken as square root".to_owned(),
            SlipKind::SquareForgotten => match slip.operands.first().and_then(|term| self.name(term)) {
                Some(name) => format!("{name} not squared"),
                None => "a square forgotten".to_owned(),
            },
            SlipKind::ReadingForOffset => "the whole reading taken for the offset: not halved".to_owned(),
            SlipKind::NotHalved => "not halved".to_owned(),
            SlipKind::NotDoubled => "the factor 2 forgotten".to_owned(),
            SlipKind::Added => operands().map_or_else(
                || "a sign turned: added instead of subtracted".to_owned(),
                |both| format!("{both} added instead of subtracted"),
            ),
            SlipKind::Subtracted => operands().map_or_else(
                || "a sign turned: subtracted instead of added".to_owned(),
                |both| format!("{both} subtracted instead of added"),
            ),
            SlipKind::OtherUnit { number_in, written_as } => {
                let words = |name| find(name).map_or(name, |unit| unit.words);
                match find(number_in).is_some_and(|unit| self.is_own(unit)) {
                    true => format!("the right number with {} behind it", words(written_as)),
                    false => format!(
                        "worked out in {}, {} written behind it",
                        words(number_in),
                        words(written_as)
                    ),
                }
            }
        }
    }

    fn is_own(&self, unit: &'static Unit) -> bool {
        written::style(self.amount, self.system).shown_unit() == WrittenUnit::Single(unit)
    }

    fn name(&self, term: &Term) -> Option<String> {
        let (name, _) = self.names.named(term.slot?)?;
        Some(in_words(name))
    }

    /// What the changed operation gives, beside what it should.
    fn working(&self, slip: &Slip) -> Option<String> {
        let number = |term: &Term| self.number(term);
        let (right, wrong) = (number(&slip.right)?, number(&slip.wrong)?);
        let in_place = format!("{wrong} in place of {right}");
        Some(match (slip.kind, slip.operands.as_slice()) {
            (SlipKind::OtherUnit { .. }, _) => return None,
            (SlipKind::DegreesAsRadians, [angle]) => {
                let degrees = write_number(angle.si.to_degrees(), Digits::Significant(6));
                format!("{degrees} taken for radians: {in_place}")
            }
            (SlipKind::Added, [a, b]) => match (number(a), number(b)) {
                (Some(a), Some(b)) => format!("{a} + {} = {in_place}", in_brackets(&b)),
                _ => in_place,
            },
            (SlipKind::Subtracted, [a, b]) => match (number(a), number(b)) {
                (Some(a), Some(b)) => format!("{a} - {} = {in_place}", in_brackets(&b)),
                _ => in_place,
            },
            _ => in_place,
        })
    }

    /// A number as its step has it, else in the usual unit of its kind; nothing where its kind is not known.
    fn number(&self, term: &Term) -> Option<String> {
        if let Some((_, amount)) = term.slot.and_then(|slot| self.names.named(slot)) {
            return Some(written::amount(amount, self.system));
        }
        let dimension = term.dimension?;
        if dimension == self.amount.dimension {
            let like = Amount {
                si: term.si,
                signs: None,
                ..self.amount.clone()
            };
            return Some(written::amount(&like, self.system));
        }
        if dimension == Dimension::NONE {
            return Some(write_number(term.si, Digits::Significant(4)));
        }
        Some(shown(term.si, dimension, Scale::Difference))
    }
}

fn in_brackets(number: &str) -> String {
    if number.starts_with('-') {
        format!("({number})")
    } else {
        number.to_owned()
    }
}
