//! How arguments are taken, and figures as scripts hold them.

use crate::diagnostic::Refusal;
use crate::figure::{Bars, Chart, Dial, Figure, PassMap, Sketch, Table};
use crate::outcome::Phrase;
use crate::quantity::Quantity;
use crate::script::{limits, value, wording};
use crate::tape;
use rhai::Dynamic;
use std::cell::RefCell;
use std::rc::Rc;

type Result<T> = std::result::Result<T, Refusal>;

/// A figure as scripts hold it: all names for it are the same one.
#[derive(Clone, Debug)]
pub(super) struct Handle<T>(Rc<RefCell<T>>);

/// A kind of figure.
pub(super) trait Drawn: Clone + 'static {
    /// How many numbers, or cells, it holds.
    fn numbers(&self) -> usize;
}

impl Drawn for Bars {
    fn numbers(&self) -> usize {
        self.count()
    }
}

impl Drawn for Chart {
    fn numbers(&self) -> usize {
        self.count()
    }
}

impl Drawn for Dial {
    fn numbers(&self) -> usize {
        self.count()
    }
}

impl Drawn for PassMap {
    fn numbers(&self) -> usize {
        self.count()
    }
}

impl Drawn for Sketch {
    fn numbers(&self) -> usize {
        self.count()
    }
}

impl Drawn for Table {
    /// A cell may hold a text, which is longer than a number.
    fn numbers(&self) -> usize {
        4 * self.count()
    }
}

/// What a figure keeps more than before counts as work.
fn keep(more: usize) {
    tape::charge(limits::KEPT.saturating_mul(more as u64));
}

impl<T: Drawn> Handle<T> {
    /// The figure as a value of the language.
    pub(super) fn value(figure: T) -> Dynamic {
        Dynamic::from(Self(Rc::new(RefCell::new(figure))))
    }

    /// The figure as it is now.
    fn now(&self) -> Result<T> {
        self.0.try_borrow().map(|figure| figure.clone()).map_err(|_| in_use())
    }
}

fn in_use() -> Refusal {
    Refusal::new("figure", "this figure is being worked on")
}

/// Changes the figure that a method belongs to, and gives it back. A function that is called again only to print its
/// numbers draws nothing; in a closure that is solved there is no number to draw.
pub(super) fn change<T: Drawn>(a: &[Dynamic], work: impl FnOnce(&mut T) -> Result<()>) -> Result<Dynamic> {
    if tape::in_closure() {
        let refusal = Refusal::new("closure", "a figure cannot be drawn in a closure that is solved");
        return Err(refusal.hint("draw it after the root or the maximum"));
    }
    if !tape::is_aside() {
        let handle: Handle<T> = value::typed(&a[0], "this", "a figure")?;
        let mut figure = handle.0.try_borrow_mut().map_err(|_| in_use())?;
        let before = figure.numbers();
        work(&mut figure)?;
        keep(figure.numbers().saturating_sub(before));
    }
    Ok(a[0].clone())
}

/// Another figure, as this one is now.
pub(super) fn copy<T: Drawn>(a: &[Dynamic]) -> Result<Dynamic> {
    let handle: Handle<T> = value::typed(&a[0], "this", "a figure")?;
    let figure = handle.now()?;
    keep(figure.numbers());
    Ok(Handle::value(figure))
}

/// The figure that a value is, as it is now.
pub(in crate::script) fn figure(value: &Dynamic) -> Result<Figure> {
    let found = now::<Chart>(value, |chart| Figure::Chart(Box::new(chart)))
        .or_else(|| now::<Sketch>(value, Figure::Sketch))
        .or_else(|| now::<Dial>(value, Figure::Dial))
        .or_else(|| now::<Bars>(value, Figure::Bars))
        .or_else(|| now::<PassMap>(value, Figure::PassMap))
        .or_else(|| now::<Table>(value, Figure::Table));
    let wrong = || value::wrong(value, "what is shown", "a figure").hint("chart(title), sketch(title, \"side\")");
    found.ok_or_else(wrong)?
}

fn now<T: Drawn>(value: &Dynamic, of: fn(T) -> Figure) -> Option<Result<Figure>> {
    let handle = value.read_lock::<Handle<T>>()?;
    Some(handle.now().map(of))
}

/// A title, a name, a label: text that may hold quantities.
pub(super) fn words(value: &Dynamic, what: &str) -> Result<Phrase> {
    if !value.is_string() {
        return Err(value::wrong(value, what, "a text"));
    }
    wording::sound(value)?;
    wording::worded(value).map(|text| wording::phrase(&text))
}

/// The same where it may be left out.
pub(super) fn words_or_none(value: Option<&Dynamic>, what: &str) -> Result<Phrase> {
    value.map_or_else(|| Ok(Phrase::default()), |value| words(value, what))
}

/// A unit that may be left out.
pub(super) fn unit(value: Option<&Dynamic>) -> Result<Option<String>> {
    value.map(|value| value::name(value, "the unit of a scale")).transpose()
}

/// A list of quantities.
pub(super) fn numbers(value: &Dynamic, what: &str) -> Result<Vec<Quantity>> {
    let list = value::list(value, what)?;
    let item = |(nth, item): (usize, &Dynamic)| value::quantity(item, &format!("item {nth} of {what}"));
    list.iter().enumerate().map(item).collect()
}
