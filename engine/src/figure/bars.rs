//! Lengths side by side, whole or in parts: loads, utilisations, voltage drops by segment.

use super::axis::Axis;
use super::bounds::fits;
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase};
use crate::quantity::{Quantity, Scale};

/// Bars, one below the other, on one scale.
#[derive(Clone, Debug, Default)]
pub struct Bars {
    /// What it is of.
    pub title: Phrase,
    /// The scale.
    pub scale: Axis,
    /// The bars, in order.
    pub bars: Vec<Bar>,
    /// Limits for all of them.
    pub limits: Vec<(Phrase, Amount)>,
    /// Where each bar ends, for the next part of it.
    ends: Vec<Quantity>,
}

/// A bar: its parts end to end.
#[derive(Clone, Debug)]
pub struct Bar {
    /// What it is.
    pub name: String,
    /// Its parts, from the left.
    pub parts: Vec<Part>,
    /// Its own limit.
    pub limit: Option<Amount>,
}

/// A part of a bar.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is; empty where the bar is whole.
    pub name: String,
    /// Where it begins.
    pub from: Amount,
    /// Where it ends.
    pub to: Amount,
    /// How much it is.
    pub size: Amount,
}

impl Bars {
    /// No bars yet.
    #[must_use]
    pub fn new(title: Phrase) -> Self {
        Self {
            title,
            ..Self::default()
        }
    }

    /// Adds a part at the end of the bar of this name, a new one below the others where there is none.
    ///
    /// # Errors
    /// A number that is not of the kind of the others; too many in all.
    pub fn part(&mut self, bar: &str, name: &str, size: Quantity) -> Result<(), Refusal> {
        let known = self.bars.iter().position(|known| known.name == bar);
        let end = known.and_then(|at| self.ends.get(at)).copied();
        let (from, to) = match end {
            Some(end) => (end, end.add(size)?),
            None => (Quantity::constant(0.0, size.dimension()), size),
        };
        self.push(bar, name, from, to, size)
    }

    /// Adds a bar from here to there.
    ///
    /// # Errors
    /// Numbers that are not of the kind of the others; too many in all.
    pub fn span(&mut self, bar: &str, from: Quantity, to: Quantity) -> Result<(), Refusal> {
        let size = to.sub(from)?;
        self.push(bar, "", from, to, size)
    }

    /// Sets the limit of one bar.
    ///
    /// # Errors
    /// A number that is not of the kind of the others; a bar that is not there; too many in all.
    pub fn bar_limit(&mut self, bar: &str, limit: Quantity) -> Result<(), Refusal> {
        fits(self.count() + 1)?;
        let limit = self.scale.take(limit, "this limit")?;
        let found = self.bars.iter_mut().find(|known| known.name == bar);
        let found = found.ok_or_else(|| Refusal::new("figure", format!("there is no bar `{bar}`")))?;
        found.limit = Some(limit);
        Ok(())
    }

    /// Sets a limit for all bars.
    ///
    /// # Errors
    /// A number that is not of the kind of the others; too many in all.
    pub fn limit(&mut self, name: Phrase, limit: Quantity) -> Result<(), Refusal> {
        fits(self.count() + 1)?;
        let limit = self.scale.take(limit, "this limit")?;
        self.limits.push((name, limit));
        Ok(())
    }

    /// The ends of a bar that is neither counted from nothing nor from where another ends: a range.
    #[must_use]
    pub fn range<'a>(&self, bar: &'a Bar) -> Option<[&'a Amount; 2]> {
        let [only] = bar.parts.as_slice() else { return None };
        let points = only.from.scale == Scale::Point;
        let others = self.bars.iter().flat_map(|bar| &bar.parts);
        let mut ends = others.map(|part| &part.to);
        // The same place of the tape: two numbers that happen to be alike today are not one.
        let same = |end: &Amount| end.slot == only.from.slot && (end.slot.is_some() || end.si == only.from.si);
        let from_nothing = only.from.slot.is_none() && only.from.si == 0.0;
        let counted = !points && (from_nothing || ends.any(same));
        (!counted).then_some([&only.from, &only.to])
    }

    fn push(&mut self, bar: &str, name: &str, from: Quantity, to: Quantity, size: Quantity) -> Result<(), Refusal> {
        fits(self.count() + 3)?;
        let to_amount = self.scale.take(to, "this")?;
        let part = Part {
            name: name.to_owned(),
            from: self.scale.take(from, "this")?,
            to: to_amount,
            size: Amount::of(size),
        };
        match self.bars.iter().position(|known| known.name == bar) {
            Some(at) => {
                self.bars[at].parts.push(part);
                self.ends[at] = to;
            }
            None => {
                self.ends.push(to);
                self.bars.push(Bar {
                    name: bar.to_owned(),
                    parts: vec![part],
                    limit: None,
                });
            }
        }
        Ok(())
    }

    /// How many numbers it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        let parts: usize = self.bars.iter().map(|bar| bar.parts.len()).sum();
        3 * parts + self.bars.len() + self.limits.len()
    }
}
